// Command swapworth says whether a milled redesign of a machine part is worth
// making: what the stock part is made of, what the new one will weigh, how
// stiff both are, what the swap buys and costs, and what to check first.
package main

import (
	"errors"
	"fmt"
	"os"
	"strings"
)

func main() { os.Exit(run(os.Args[1:])) }

// run executes one command line and returns the exit code: 0, 1 for bad input,
// 2 for wrong usage.
func run(args []string) int {
	root := newRoot()
	root.SetArgs(args)
	err := root.Execute()
	if err == nil {
		return 0
	}
	fmt.Fprintln(os.Stderr, "swapworth: "+oneLine(err))
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
