package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"
	"swapworth/mesh"
	"swapworth/note"
)

// newMesh builds the command that says whether a mesh is sound.
func newMesh() *cobra.Command {
	var in input
	var out output
	var stream bool
	cmd := &cobra.Command{
		Use:   "mesh PART.stl",
		Short: "Is the mesh sound? Mend it with --repair -o OUT.stl",
		Long: "mesh says whether a file bounds a solid, and if not, what is wrong and where.\n" +
			"PART.stl is binary or ASCII STL, plain or packed with gzip; - is standard input.\n\n" +
			"With -o OUT.stl the mesh that was read, in mm and after --repair, is written as\n" +
			"binary STL and the report still goes to the terminal. Any other name after -o\n" +
			"takes the report.\n\n" +
			"--stream measures a file larger than memory in one pass: volume, area, box, and\n" +
			"whether the edges match, but not where they do not.",
		Example: "  swapworth mesh part.stl\n" +
			"  swapworth mesh part.stl --repair -o part_mended.stl\n" +
			"  swapworth mesh part.stl --format json",
		Args: usage(cobra.ExactArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			if stream && in.repair {
				return usageError{errors.New("--stream holds no mesh that --repair could mend: leave one of them out")}
			}
			if stream {
				s, err := reading(&in, args[0], mesh.Stream)
				if err != nil {
					return err
				}
				report := note.NewStreamReport(s)
				return out.write(cmd, report, report.Document())
			}
			l, err := in.load(args[0])
			if err != nil {
				return err
			}
			if out.holdsMesh() {
				if err := l.WriteFile(out.path, out.overwrite); err != nil {
					return err
				}
				fmt.Fprintf(cmd.ErrOrStderr(), "wrote %s, in mm%s\n", out.path, in.rereading())
				nameLeftovers(cmd, out.path)
				out.path = ""
			}
			report := note.NewMeshReport(l)
			return out.write(cmd, report, report.Document())
		},
	}
	in.register(cmd)
	out.meshes = true
	out.register(cmd)
	cmd.Flags().BoolVar(&stream, "stream", false, "measure in one pass, for files larger than memory")
	return cmd
}

// rereading says how to read a file in mm again where the unit is another one now.
func (in input) rereading() string {
	if unit, err := mesh.ParseUnit(in.unit); err != nil || unit == mesh.Millimetre {
		return ""
	}
	return ": read it with --unit mm"
}
