package page

import (
	"context"
	"errors"
	"fmt"
	"html/template"
	"runtime/debug"

	"swapworth/note/render"
	"swapworth/swap"
)

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

// namesOf are the redesigns' files in the form's order.
func namesOf(cases []swap.Case) (names []string) {
	for _, c := range cases {
		names = append(names, c.New.Loaded.Path)
	}
	return names
}

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
