package main

import (
	"context"
	"errors"
	"fmt"
	"os"

	"github.com/charmbracelet/huh"
	"github.com/spf13/cobra"
	"golang.org/x/term"

	"swapworth/swap/ask"
)

// terminalForm asks in a terminal.
type terminalForm struct{ plain bool }

// newForm returns a form in the terminal that the person sits at; ok is false where
// there is none.
func newForm(cmd *cobra.Command) (f form, ok bool) {
	for _, end := range []any{cmd.InOrStdin(), cmd.OutOrStdout()} {
		file, isFile := end.(*os.File)
		if !isFile || !term.IsTerminal(int(file.Fd())) {
			return nil, false
		}
	}
	return terminalForm{plain: os.Getenv("ACCESSIBLE") != "" || os.Getenv("TERM") == "dumb"}, true
}

const notKnown = "I do not know"

func (f terminalForm) ask(ctx context.Context, q ask.Question) (string, error) {
	if q.Choices == nil {
		return f.line(ctx, fmt.Sprintf("Such as %s; nothing: %s", q.Example, notKnown), "", func(text string) error {
			_, err := q.Answer(text)
			return err
		})
	}
	options := huh.NewOptions(q.Choices...)
	options = append(options, huh.NewOption(notKnown, ""))
	answer := "" // what is chosen at first
	err := f.run(ctx, huh.NewSelect[string]().Title("Choose").Options(options...).Value(&answer))
	return answer, err
}

func (f terminalForm) name(ctx context.Context, text, proposed string, check func(string) error) (string, error) {
	return f.line(ctx, text, proposed, check)
}

// line asks for a line of text; nothing is always an answer.
func (f terminalForm) line(ctx context.Context, title, proposed string, check func(string) error) (string, error) {
	answer := proposed
	err := f.run(ctx, huh.NewInput().Title(title).Value(&answer).Validate(func(text string) error {
		if text == "" {
			return nil
		}
		return check(text)
	}))
	return answer, err
}

func (f terminalForm) run(ctx context.Context, field huh.Field) error {
	err := huh.NewForm(huh.NewGroup(field)).WithAccessible(f.plain).WithTheme(huh.ThemeBase()).WithWidth(helpWidth).RunWithContext(ctx)
	if errors.Is(err, huh.ErrUserAborted) || ctx.Err() != nil {
		return errStopped
	}
	return err
}
