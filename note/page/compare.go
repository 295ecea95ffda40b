package page

import (
	"bytes"
	"context"
	"errors"
	"net/http"
	"regexp"

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

// flagWord matches a flag without a value, as the texts of the program name it.
var flagWord = regexp.MustCompile(`--([a-z]+(?:-[a-z]+)*)([^a-z=-]|$)`)

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
