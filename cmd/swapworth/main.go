// Command swapworth says whether a milled redesign of a machine part is worth
// making: what the stock part is made of, what the new one will weigh, how
// stiff both are, what the swap buys and costs, and what to check first.
//
// # Reading order
//
// From the top down, each file calling into those after it:
//
//	program   main.go root.go
//	commands  serve.go compare.go vary.go ask.go init.go machine.go fit.go solid.go
//	          beam.go section.go identify.go mass.go mesh.go man.go
//	flags     straight.go elastic.go materials.go completion.go case.go loads.go
//	answers   output.go remembered.go progress.go flags.go
//	words     usage.go help.go askform.go about.go
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"strings"
	"syscall"
	"time"

	"swapworth/internal/files"
	"swapworth/internal/parallel"
	"swapworth/note/render"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	go leaveAfter(ctx)
	code := run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	files.RemoveAll()
	os.Exit(code)
}

// patience is how long work that was told to stop may take to put down its tools.
const patience = 3 * time.Second

// leaveAfter ends the program some time after it was told to stop, whatever it is
// at, and leaves nothing half done behind.
func leaveAfter(ctx context.Context) {
	<-ctx.Done()
	time.Sleep(patience)
	files.RemoveAll()
	fmt.Fprintln(os.Stderr, "swapworth: "+errStopped.Error())
	os.Exit(1)
}

var errStopped = errors.New("stopped before the end; nothing was written")

// run executes one command line and returns the exit code: 0, 1 for bad input or a
// fault of the program, 2 for wrong usage.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	return guarded(stderr, func() int { return execute(ctx, args, stdout, stderr) })
}

// guarded turns a panic in work into one line and exit code 1.
func guarded(stderr io.Writer, work func() int) (code int) {
	defer func() {
		if fault := recover(); fault != nil {
			stack := debug.Stack()
			if f, ok := fault.(*parallel.Fault); ok {
				stack = f.Stack
			}
			fmt.Fprintln(stderr, "swapworth: "+oneLine(faultError(fault, stack)))
			code = 1
		}
	}()
	return work()
}

func execute(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	root := newRoot()
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(stderr)
	root.Annotations = map[string]string{typedCommand: render.CommandLine(args...)}
	err := root.ExecuteContext(ctx)
	if err == nil {
		return 0
	}
	if ctx.Err() != nil {
		err = errStopped
	}
	fmt.Fprintln(stderr, "swapworth: "+oneLine(err))
	var usage usageError
	if errors.As(err, &usage) {
		return 2
	}
	return 1
}

// faultError is what a person is told of a fault of the program itself. Where it
// happened is the one thing that whoever mends it needs besides the input.
func faultError(fault any, stack []byte) error {
	return fmt.Errorf("a fault of this program, not of your input: %v%s; please report it with this line, the command and its files (swapworth %s)",
		fault, placeOf(stack), version)
}

// placeOf returns the first function of this program below the panic of a stack, as
// " in mass.Principal", or "".
func placeOf(stack []byte) string {
	text := string(stack)
	if i := strings.LastIndex(text, "panic("); i >= 0 {
		text = text[i:]
	}
	for line := range strings.Lines(text) {
		place, ok := strings.CutPrefix(strings.TrimSpace(line), "swapworth/")
		if ok {
			if end := strings.LastIndex(place, "("); end > 0 {
				place = place[:end]
			}
			return " in " + place
		}
	}
	return ""
}

// usageError is a mistake in the command line itself.
type usageError struct{ error }

func (e usageError) Unwrap() error { return e.error }
