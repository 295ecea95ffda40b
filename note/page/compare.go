package page

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"html/template"
	"net/http"
	"regexp"
	"runtime/debug"
	"strings"

	"swapworth/internal/files"
	"swapworth/note"
	"swapworth/note/render"
	"swapworth/swap"
)

// asked answers a sent form: with the whole page, or for the page's script with
// the answer alone.
func (s *server) asked(c command) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		u, err := receive(w, r, s.MaxUpload)
		if u.folder != "" {
			defer files.Remove(u.folder)
		}
		v := view{Values: u.values, Alone: r.URL.Query().Has("alone")}
		var a answer
		if err == nil {
			a, err = s.guarded(r.Context(), c, u)
		}
		if err == nil {
			v.Answer, err = render.HTMLFragment(a.doc)
		}
		if err != nil {
			v.Error = inFormWords(oneLine(err))
			s.show(w, http.StatusUnprocessableEntity, v)
			return
		}
		v.Answer = template.HTML(inFormWords(string(v.Answer))) // labels are our own
		v.ID = s.kept.put(a)
		s.show(w, http.StatusOK, v)
	}
}

// guarded is answer with a fault of the program told as an error: the page goes on.
func (s *server) guarded(ctx context.Context, c command, u upload) (a answer, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			s.Log.Printf("%s: a fault of this program: %v\n%s", c.name, fault, debug.Stack())
			err = fmt.Errorf("a fault of this program, not of your files: %v; please report it with the files and version %s", fault, s.Version)
		}
	}()
	return s.answer(ctx, c, u)
}

// command is one of the two things a form may ask for.
type command struct {
	name   string
	decide func(context.Context, Question) (result any, doc render.Document, err error)
}

var compare = command{"compare", func(ctx context.Context, q Question) (any, render.Document, error) {
	q.Case.Figures = true
	r, err := swap.Decide(ctx, q.Case)
	if err != nil {
		return nil, render.Document{}, err
	}
	return r, note.Compare(r, q.Case), nil
}}

var vary = command{"vary", func(ctx context.Context, q Question) (any, render.Document, error) {
	r, err := swap.Vary(ctx, q.Case, q.Variation)
	if err != nil {
		return nil, render.Document{}, err
	}
	return r, note.Vary(r, q.Case), nil
}}

// answer decides the question of a form. Only one is worked on at a time.
func (s *server) answer(ctx context.Context, c command, u upload) (answer, error) {
	for _, f := range []struct{ name, title string }{{"old", "stock part"}, {"new", "redesign"}} {
		if u.names[f.name] == "" {
			return answer{}, fmt.Errorf("there is no file of the %s: drop an STL file on its field", f.title)
		}
	}
	ctx, cancel := context.WithTimeout(ctx, s.MaxTime)
	defer cancel()
	select {
	case s.turn <- struct{}{}:
		defer func() { <-s.turn }()
	case <-ctx.Done():
		return answer{}, errors.New("another question is still at work; try again in a minute")
	}
	words := flags(u.values, c.name == vary.name)
	q, err := s.Ask(ctx, u.path("old"), u.path("new"), words)
	if err != nil {
		return answer{}, u.inOwnWords(err)
	}
	// The note names the files as the person does, not as they are kept here.
	q.Case.Old.Loaded.Path, q.Case.New.Loaded.Path = u.names["old"], u.names["new"]
	r, doc, err := c.decide(ctx, q)
	if err != nil {
		if ctx.Err() == context.DeadlineExceeded {
			err = fmt.Errorf("it took longer than %v and was stopped; the command line has no such limit", s.MaxTime)
		}
		return answer{}, u.inOwnWords(err)
	}
	line := append([]string{"swapworth", c.name, u.names["old"], u.names["new"]}, words...)
	return answer{r, doc.MadeBy(render.Origin{Version: s.Version, Command: render.CommandLine(line...)})}, nil
}

// inOwnWords puts the names of the files as they came in place of where they are
// kept.
func (u upload) inOwnWords(err error) error {
	text := err.Error()
	for _, name := range []string{"old", "new"} {
		text = strings.ReplaceAll(text, u.path(name), u.names[name])
	}
	return errors.New(text)
}

// flagWord matches a flag without a value, as the texts of the program name it.
var flagWord = regexp.MustCompile(`--([a-z]+(?:-[a-z]+)*)([^a-z=-]|$)`)

// inFormWords puts the labels of the form in place of the flags that an answer
// names. The command line that reproduces it has values and stays as it is.
func inFormWords(text string) string {
	return flagWord.ReplaceAllStringFunc(text, func(m string) string {
		part := flagWord.FindStringSubmatch(m)
		if label := labelOf(part[1]); label != "" {
			return "\u201c" + label + "\u201d" + part[2]
		}
		return m
	})
}

func oneLine(err error) string { return strings.Join(strings.Fields(err.Error()), " ") }

// download writes a kept note in the format of the asked-for name.
func (s *server) download(w http.ResponseWriter, r *http.Request) {
	a, ok := s.kept.get(r.PathValue("id"))
	name := r.PathValue("name")
	format, named := render.FormatOfFile(name)
	if !ok || !named || name != "note"+format.Extension() {
		http.Error(w, "there is no such note here any more; compare again", http.StatusNotFound)
		return
	}
	var b bytes.Buffer
	if err := render.Render(&b, format, false, a.result, a.doc); err != nil {
		s.Log.Printf("note in %v: %v", format, err)
		http.Error(w, "the note cannot be written in this format", http.StatusInternalServerError)
		return
	}
	h := w.Header()
	h.Set("Content-Type", format.MediaType())
	h.Set("Content-Disposition", `attachment; filename="`+name+`"`)
	_, _ = w.Write(b.Bytes()) // a browser that has gone away needs no answer
}
