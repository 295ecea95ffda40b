package page

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http"
	"os"
	"regexp"
	"strings"

	"swapworth/note"
	"swapworth/swap"
)

// compare answers a sent form: with the whole page, or for the page's script
// with the answer alone.
func (s *server) compare(w http.ResponseWriter, r *http.Request) {
	u, err := receive(w, r, s.MaxUpload)
	if u.folder != "" {
		defer os.RemoveAll(u.folder)
	}
	v := view{Values: u.values, Alone: r.URL.Query().Has("alone")}
	var a answer
	if err == nil {
		a, err = s.answer(r.Context(), u)
	}
	if err == nil {
		v.Answer, err = note.HTMLFragment(a.doc)
	}
	if err != nil {
		v.Error = oneLine(err)
		s.show(w, http.StatusUnprocessableEntity, v)
		return
	}
	v.ID = s.kept.put(a)
	s.show(w, http.StatusOK, v)
}

// answer decides the question of a form. Only one is worked on at a time.
func (s *server) answer(ctx context.Context, u upload) (answer, error) {
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
		return answer{}, errors.New("another comparison is still at work; try again in a minute")
	}
	words := flags(u.values)
	c, err := s.Ask(u.path("old"), u.path("new"), words)
	if err != nil {
		return answer{}, u.inOwnWords(err)
	}
	// The note names the files as the person does, not as they are kept here.
	c.Old.Loaded.Path, c.New.Loaded.Path = u.names["old"], u.names["new"]
	r, err := swap.Decide(ctx, c)
	if err != nil {
		if ctx.Err() != nil {
			err = fmt.Errorf("the comparison took longer than %v and was stopped; the command line has no such limit", s.MaxTime)
		}
		return answer{}, u.inOwnWords(err)
	}
	origin := note.Origin{Version: s.Version, Command: command(u.names["old"], u.names["new"], words)}
	return answer{r, note.Compare(r, c).MadeBy(origin)}, nil
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

// command is the command line that comes to the same answer.
func command(oldName, newName string, words []string) string {
	out := []string{"swapworth", "compare"}
	for _, w := range append([]string{oldName, newName}, words...) {
		out = append(out, quoted(w))
	}
	return strings.Join(out, " ")
}

// plainWord matches what a POSIX shell takes as it is.
var plainWord = regexp.MustCompile(`^[A-Za-z0-9_@%+=:,./-]+$`)

func quoted(w string) string {
	if plainWord.MatchString(w) {
		return w
	}
	return "'" + strings.ReplaceAll(w, "'", `'\''`) + "'"
}

func oneLine(err error) string { return strings.Join(strings.Fields(err.Error()), " ") }

// download writes a kept note in the format of the asked-for name.
func (s *server) download(w http.ResponseWriter, r *http.Request) {
	a, ok := s.kept.get(r.PathValue("id"))
	name := r.PathValue("name")
	format, named := note.FormatOfFile(name)
	if !ok || !named || name != "note"+format.Extension() {
		http.Error(w, "there is no such note here any more; compare again", http.StatusNotFound)
		return
	}
	var b bytes.Buffer
	if err := note.Render(&b, format, false, a.result, a.doc); err != nil {
		s.Log.Printf("note in %v: %v", format, err)
		http.Error(w, "the note cannot be written in this format", http.StatusInternalServerError)
		return
	}
	h := w.Header()
	h.Set("Content-Type", contentTypes[format])
	h.Set("Content-Disposition", `attachment; filename="`+name+`"`)
	_, _ = w.Write(b.Bytes()) // a browser that has gone away needs no answer
}

var contentTypes = map[note.Format]string{
	note.HTML: "text/html; charset=utf-8", note.PDF: "application/pdf",
	note.Markdown: "text/markdown; charset=utf-8", note.CSV: "text/csv; charset=utf-8",
	note.JSON: "application/json", note.Terminal: "text/plain; charset=utf-8",
}
