// Command swapworth says whether a milled redesign of a machine part is worth
// making: what the stock part is made of, what the new one will weigh, how
// stiff both are, what the swap buys and costs, and what to check first.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"

	"swapworth/note"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// run executes one command line and returns the exit code: 0, 1 for bad input,
// 2 for wrong usage.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	root := newRoot()
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(stderr)
	root.Annotations = map[string]string{typedCommand: note.CommandLine(args...)}
	err := root.ExecuteContext(ctx)
	if err == nil {
		return 0
	}
	if ctx.Err() != nil {
		err = errors.New("stopped before the end; nothing was written")
	}
	fmt.Fprintln(stderr, "swapworth: "+oneLine(err))
	var usage usageError
	if errors.As(err, &usage) {
		return 2
	}
	return 1
}

// oneLine keeps an error on one line, whatever a library put into it.
func oneLine(err error) string {
	return strings.Join(strings.Fields(err.Error()), " ")
}

// usageError is a mistake in the command line itself.
type usageError struct{ error }

func (e usageError) Unwrap() error { return e.error }
