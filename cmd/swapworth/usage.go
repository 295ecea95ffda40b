package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// usage marks a failed argument check as wrong usage.
func usage(check cobra.PositionalArgs) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		err := check(cmd, args)
		switch {
		case err == nil:
			return nil
		case cmd.HasSubCommands(): // it names an unknown command
			return usageError{err}
		}
		return usageError{fmt.Errorf("wrong number of arguments (%d): expected %s", len(args), cmd.UseLine())}
	}
}

// plainly says once which flag got which value and what was expected.
func plainly(err error) error {
	var wrong *pflag.InvalidValueError
	if !errors.As(err, &wrong) {
		return err
	}
	name, expected := "--"+wrong.GetFlag().Name, "a whole number such as 2"
	var number *strconv.NumError
	if !errors.As(wrong.Unwrap(), &number) {
		return fmt.Errorf("%s: %w", name, wrong.Unwrap())
	}
	if number.Func == "ParseBool" {
		expected = "true or false"
	}
	return fmt.Errorf("%s: %q: expected %s", name, wrong.GetValue(), expected)
}

// oneLine keeps an error on one line, whatever a library put into it.
func oneLine(err error) string {
	return strings.Join(strings.Fields(err.Error()), " ")
}
