package main

import (
	"errors"
	"fmt"
	"strconv"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// newRoot builds the command tree. Each command lives in the file of its name.
func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:     "swapworth",
		Short:   "Is a milled redesign of a machine part worth making?",
		Version: version,
		Long: "swapworth reads STL meshes of the stock part and of the redesign and says\n" +
			"whether the swap is worth making, before any stock is cut.\n\n" + cautionText,
		Example:       "  swapworth compare testdata/arm_old.stl testdata/arm_new.stl",
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          usage(cobra.NoArgs),
		RunE:          func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return usageError{plainly(err)} })
	root.AddCommand(
		// commands are added here, in the order a person meets them
		newCompare(),
		newMass(),
		newIdentify(),
		newMesh(),
		newSection(),
		newBeam(),
		newSolid(),
		newFit(),
		newVary(),
		newMaterials(),
		newInit(),
		newAsk(),
		newMachine(),
		newServe(),
		newMan(),
	)
	withGroupedHelp(root)
	withCompletion(root)
	return root
}

const cautionText = "An estimate, not a proof. Parts whose failure can hurt someone go to a\n" +
	"qualified engineer and the local code."

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
