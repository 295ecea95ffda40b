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
// the share that is done, line by line, and then the answer alone.
func (s *server) asked(c command) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		u, err := receive(w, r, s.MaxUpload)
		if u.folder != "" {
			defer files.Remove(u.folder)
		}
		v := view{Values: u.values}
		if r.URL.Query().Has("steps") {
			s.inSteps(w, r, c, u, err)
			return
		}
		if err == nil {
			err = s.fill(r.Context(), &v, c, u, func(float64) {})
		}
		if err != nil {
			v.Error = inFormWords(oneLine(err))
			s.show(w, http.StatusUnprocessableEntity, v)
			return
		}
		s.show(w, http.StatusOK, v)
	}
}

// landmark is a section of the short answer that the whole note has too.
var landmark = regexp.MustCompile(`<section aria-labelledby="first-[^"]*">`)

// fill answers a form and lays the answer out.
func (s *server) fill(ctx context.Context, v *view, c command, u upload, progress func(float64)) error {
	a, err := s.guarded(ctx, c, u, progress)
	if err != nil {
		return err
	}
	if a.short != nil {
		if v.Short, err = render.HTMLFragment(*a.short, "first-"); err != nil {
			return err
		}
	}
	if v.Answer, err = render.HTMLFragment(a.doc, ""); err != nil {
		return err
	}
	// Labels are our own. Two landmarks of one name would be told apart by nobody.
	v.Short = template.HTML(landmark.ReplaceAllString(inFormWords(string(v.Short)), "<section>"))
	v.Answer = template.HTML(inFormWords(string(v.Answer)))
	v.ID = s.kept.put(a)
	for i, d := range a.drawn {
		v.Drawn = append(v.Drawn, d.head(i))
	}
	return nil
}

// guarded is answer with a fault of the program told as an error: the page goes on.
func (s *server) guarded(ctx context.Context, c command, u upload, progress func(float64)) (a answer, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			s.Log.Printf("%s: a fault of this program: %v\n%s", c.name, fault, debug.Stack())
			err = fmt.Errorf("a fault of this program, not of your files: %v; please report it with the files and version %s", fault, s.Version)
		}
	}()
	return s.answer(ctx, c, u, progress)
}

// command is one of the two things a form may ask for.
type command struct {
	name   string
	decide func(context.Context, Question, func(float64)) (answer, error)
}

var compare = command{"compare", func(ctx context.Context, q Question, progress func(float64)) (answer, error) {
	for i := range q.Cases {
		q.Cases[i].Figures = true
	}
	if len(q.Cases) > 1 {
		r, err := swap.Rank(ctx, q.Cases, progress) // which tells of whole redesigns
		if err != nil {
			return answer{}, err
		}
		short := note.ShortRank(r)
		return answer{result: r, doc: note.Rank(r, q.Cases), short: &short, drawn: drawings(namesOf(q.Cases), r.Redesigns...)}, nil
	}
	q.Cases[0].Progress = progress
	r, err := swap.Decide(ctx, q.Cases[0])
	if err != nil {
		return answer{}, err
	}
	short := note.OnPage(r)
	return answer{result: r, doc: note.Compare(r, q.Cases[0]), short: &short, drawn: drawings(namesOf(q.Cases), r)}, nil
}}

// namesOf are the redesigns' files in the form's order.
func namesOf(cases []swap.Case) (names []string) {
	for _, c := range cases {
		names = append(names, c.New.Loaded.Path)
	}
	return names
}

var vary = command{"vary", func(ctx context.Context, q Question, progress func(float64)) (answer, error) {
	if len(q.Cases) > 1 {
		return answer{}, errors.New("thickness and material are varied of one redesign: choose one file")
	}
	q.Variation.Progress = progress
	r, err := swap.Vary(ctx, q.Cases[0], q.Variation)
	if err != nil {
		return answer{}, err
	}
	return answer{result: r, doc: note.Vary(r, q.Cases[0])}, nil
}}

// answer decides the question of a form. Only one is worked on at a time. progress is
// told the share that is done; it may be called from several goroutines.
func (s *server) answer(ctx context.Context, c command, u upload, progress func(float64)) (answer, error) {
	old, redesigns := u.of("old"), u.of("new")
	switch {
	case len(old) == 0 && u.values["old-section"] == "":
		return answer{}, errors.New("there is no file of the stock part: drop an STL file on its field")
	case len(redesigns) == 0:
		return answer{}, errors.New("there is no file of the redesign: drop an STL file on its field")
	}
	ctx, cancel := context.WithTimeout(ctx, s.MaxTime)
	defer cancel()
	select {
	case s.turn <- struct{}{}:
		defer func() { <-s.turn }()
	case <-ctx.Done():
		return answer{}, errors.New("another question is still at work; try again in a minute")
	}
	asked := u.asked(c.name == vary.name)
	q, err := s.Ask(ctx, asked)
	if err != nil {
		return answer{}, u.inOwnWords(err)
	}
	// The note names the files as the person does, not as they are kept here.
	for i := range q.Cases {
		if len(old) > 0 {
			q.Cases[i].Old.Loaded.Path = old[0].name
		}
		q.Cases[i].New.Loaded.Path = redesigns[i].name
	}
	a, err := c.decide(ctx, q, progress)
	if err != nil {
		if ctx.Err() == context.DeadlineExceeded {
			err = fmt.Errorf("it took longer than %v and was stopped; the command line has no such limit", s.MaxTime)
		}
		return answer{}, u.inOwnWords(err)
	}
	a.doc = a.doc.MadeBy(render.Origin{Version: s.Version, Command: render.CommandLine(u.commandLine(c)...)})
	return a, nil
}

// asked is the question of a form as the program around the page takes it.
func (u upload) asked(varied bool) Asked {
	a := Asked{Flags: flags(u.values, varied), LoadCases: u.values["load-case"]}
	for _, f := range u.files {
		switch f.field {
		case "old":
			a.Old = f.path
		case "new":
			a.New = append(a.New, f.path)
		default:
			a.Flags = append(a.Flags, "--"+f.field+"="+f.path)
		}
	}
	return a
}

// commandLine is what asks the same in a terminal, with the files' own names.
func (u upload) commandLine(c command) []string {
	line := []string{"swapworth", c.name}
	for _, f := range append(u.of("old"), u.of("new")...) {
		line = append(line, f.name)
	}
	line = append(line, flags(u.values, c.name == vary.name)...)
	for _, f := range u.files {
		if isFileField(f.field) {
			line = append(line, "--"+f.field+"="+f.name)
		}
	}
	if u.values["load-case"] != "" {
		line = append(line, "--case="+savedCase) // which has them
	}
	return line
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
