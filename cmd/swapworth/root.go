package main

import "github.com/spf13/cobra"

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
