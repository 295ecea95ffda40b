package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"swapworth/internal/files"
	"swapworth/internal/textwrap"
	"swapworth/materials"
	"swapworth/note"
	"swapworth/note/render"
	"swapworth/swap"
	"swapworth/swap/ask"
	"swapworth/swap/casefile"
)

// newAsk builds the command that asks what matters and then answers.
func newAsk() *cobra.Command {
	var c caseFlags
	var path string
	var overwrite bool
	cmd := &cobra.Command{
		Use:   "ask OLD.stl NEW.stl",
		Short: "The questions that matter, then the answer and a case file",
		Long: "ask compares the two parts, asks what could turn the verdict, the question that\n" +
			"could turn it most first, and says after each answer what is known so far. When\n" +
			"nothing is left that could turn it, it gives the answer and writes a case file\n" +
			"that compare reads. \"I do not know\" is an answer to every question.\n\n" +
			"What is given by flags, a case file or swapworth machine is not asked. With the\n" +
			"environment variable ACCESSIBLE set, the questions are plain lines of text.",
		Example: "  swapworth ask old.stl new.stl\n" +
			"  swapworth ask old.stl new.stl --new-material 6061-T6 -o arm.toml",
		Args: usage(cobra.MaximumNArgs(2)),
		RunE: func(cmd *cobra.Command, args []string) error {
			form, ok := newForm(cmd)
			if !ok {
				return usageError{errors.New("ask needs a terminal to ask in: give what you know as flags to swapworth compare, or fill in a case file from swapworth init")}
			}
			if err := sparePath(args, path, overwrite); err != nil {
				return err
			}
			t := talk{caseFlags: &c, form: form, out: cmd.OutOrStdout()}
			if err := t.begin(args); err != nil {
				return err
			}
			result, err := t.hold(cmd.Context())
			if err != nil {
				return err
			}
			if _, err := render.Write(t.out, render.Target{}, result, note.Short(result)); err != nil {
				return err
			}
			return t.keep(cmd, path, overwrite)
		},
	}
	cmd.Flags().StringVarP(&path, "output", "o", "", "write the case to `FILE`.toml (default: asked for at the end)")
	cmd.Flags().BoolVar(&overwrite, "overwrite", false, "replace FILE if it exists")
	c.register(cmd)
	return cmd
}

// sparePath says before anything is asked why the case could not be written.
func sparePath(meshes []string, path string, overwrite bool) error {
	for _, m := range meshes {
		files.Spare(m)
	}
	if path == "" {
		return nil
	}
	if !strings.EqualFold(filepath.Ext(path), ".toml") {
		return usageError{fmt.Errorf("-o %s: ask writes a case file: expected a name that ends in .toml", path)}
	}
	return files.Check(path, overwrite)
}

// talk is what was said so far.
type talk struct {
	*caseFlags
	known casefile.File // without the machine that lies below it
	table *materials.Table
	asked []string
	form  form
	out   io.Writer

	unknown int // of the questions that were asked
}

// form puts one question to the person. Text is empty where the person does not know.
type form interface {
	ask(ctx context.Context, q ask.Question) (text string, err error)
	name(ctx context.Context, text, proposed string, check func(string) error) (string, error)
}

func (t *talk) begin(args []string) (err error) {
	t.known, err = t.merged(args)
	return err
}

// hold asks until nothing is left that could turn the verdict, and returns the last
// answer.
func (t *talk) hold(ctx context.Context) (swap.Result, error) {
	r, err := t.decide(ctx)
	if err != nil {
		return r, err
	}
	t.say(t.inUnits(r, ask.Known(r)...)...)
	for {
		q, ok := ask.Next(t.known, r, t.table, t.asked)
		if !ok {
			t.say(t.end())
			return r, nil
		}
		t.asked = append(t.asked, q.Key)
		fmt.Fprintf(t.out, "%d. %s\n", len(t.asked), q.Text)
		t.say(t.inUnits(r, q.Why, "Where you do not know: "+q.Unknown+".")...)
		text, err := t.form.ask(ctx, q)
		if err != nil {
			return r, err
		}
		if text == "" {
			t.say("Not known.")
			t.unknown++
			continue
		}
		said, err := q.Answer(text)
		if err != nil {
			return r, err
		}
		before := t.known
		t.known = t.known.Over(said)
		after, err := t.decide(ctx)
		if err != nil { // an answer that does not go with the rest is taken back
			if ctx.Err() != nil {
				return r, err
			}
			t.say(text+" does not go with the rest: "+oneLine(err), "It is left out.")
			t.known = before
			continue
		}
		t.say(append([]string{"Answered: " + text}, t.inUnits(after, append(ask.Changed(r, after), ask.Known(after)...)...)...)...)
		r = after
	}
}

// end says why nothing more is asked.
func (t *talk) end() string {
	if t.unknown == 0 {
		return "Nothing is left that could turn the verdict."
	}
	return fmt.Sprintf("Everything that could turn the verdict was asked; %d of %d answers are not known.", t.unknown, len(t.asked))
}

// decide compares with what is known.
func (t *talk) decide(ctx context.Context) (swap.Result, error) {
	f, from, err := t.remembering(t.known)
	if err != nil {
		return swap.Result{}, err
	}
	options, err := t.reading(ctx)
	if err != nil {
		return swap.Result{}, err
	}
	question, err := f.CaseWith(options)
	if err != nil {
		return swap.Result{}, err
	}
	t.table = question.Table
	bar := newProgress(t.cmd, "comparing")
	question.Progress, question.Remembered, question.Explore = bar.set, from, true
	r, err := swap.Decide(ctx, question)
	bar.done()
	return r, err
}

// inUnits writes texts in the units that the person asked for.
func (t *talk) inUnits(r swap.Result, texts ...string) []string {
	for i := range texts {
		texts[i] = r.Units.Text(texts[i])
	}
	return texts
}

// say prints paragraphs of at most a screen's width, set in.
func (t *talk) say(texts ...string) {
	for _, text := range texts {
		if text != "" {
			fmt.Fprintln(t.out, "   "+strings.Join(textwrap.Columns(text, helpWidth-3), "\n   "))
		}
	}
	fmt.Fprintln(t.out)
}

// keep writes the case to the file that was named, or that the person names now.
func (t *talk) keep(cmd *cobra.Command, path string, overwrite bool) (err error) {
	fmt.Fprintln(t.out)
	if path == "" {
		free := func(path string) error { return sparePath(nil, path, overwrite) }
		path, err = t.form.name(cmd.Context(), "Write the case to which file? (nothing: none)", t.proposed(free), free)
		if err != nil || path == "" {
			return err
		}
	}
	text, err := t.known.TOML(filepath.Dir(path))
	if err != nil {
		return err
	}
	use := "swapworth compare --case " + render.CommandLine(path)
	if err := render.WriteFile(path, append([]byte("# Written by swapworth ask; run it with\n#\n#     "+use+"\n\n"), text...), overwrite); err != nil {
		return err
	}
	fmt.Fprintf(t.out, "wrote %s; run it with\n  %s\n", files.Show(path), use)
	return nil
}

// proposed is a name that is free: that of the redesign's file with a number behind it
// where it must be.
func (t *talk) proposed(free func(string) error) string {
	const most = 100
	base := "swap"
	if m := t.known.New.Mesh; m != nil && *m != "-" {
		base = strings.TrimSuffix(filepath.Base(*m), filepath.Ext(*m))
	}
	for i := range most {
		name := base + ".toml"
		if i > 0 {
			name = fmt.Sprintf("%s-%d.toml", base, i+1)
		}
		if free(name) == nil {
			return name
		}
	}
	return ""
}
