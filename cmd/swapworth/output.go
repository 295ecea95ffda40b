package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"swapworth/internal/files"
	"swapworth/mesh"
	"swapworth/mesh/repair"
	"swapworth/note"
	"swapworth/note/render"
	"swapworth/quantity"
	"swapworth/swap"
)

// output holds the flags that every command shares about where a result goes.
type output struct {
	format    string
	path      string
	overwrite bool
	quiet     bool
	figures   string
	full      bool
	units     quantity.System
	meshes    bool // a name that ends in .stl takes the mesh
	recalled  *swap.Remembered
}

// registerFigures adds the flag of commands that draw.
func (o *output) registerFigures(cmd *cobra.Command) {
	cmd.Flags().StringVar(&o.figures, "figures", "", "write every figure into `FOLDER` too, as SVG and PNG; Markdown shows them from there")
}

// registerFull adds the flag of commands whose whole note takes more than one screen.
func (o *output) registerFull(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&o.full, "full", false, "print everything, as files have it, instead of what fits one screen")
}

// unitsFlag is the system of units that results are written in. The keys of JSON name
// their units and stay metric.
const (
	unitsFlag = "units"
	unitsHelp = "write results in metric or imperial units: inches, ounces and pounds, lbf, ksi; JSON, whose keys name their units, stays metric"
)

func (o *output) register(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&o.format, "format", "table", "output format: "+render.Formats()+"; the ending of -o FILE decides if not given")
	f.StringVarP(&o.path, "output", "o", "", "write to `FILE` instead of the terminal, which is -")
	f.BoolVar(&o.overwrite, "overwrite", false, "replace FILE if it exists")
	f.BoolVarP(&o.quiet, "quiet", "q", false, "do not say what was written to FILE")
	if f.Lookup(unitsFlag) == nil { // a case has it too
		f.Var(&o.units, unitsFlag, unitsHelp)
	}
	if f.Lookup(noMachine) == nil {
		registerNoMachine(f)
	}
	cmd.PreRunE = func(cmd *cobra.Command, args []string) (err error) {
		if o.recalled, err = recallFlags(cmd); err != nil {
			return err
		}
		return o.ready(cmd, args)
	}
}

// ready says before any work is done why its result could not be written.
func (o *output) ready(cmd *cobra.Command, args []string) error {
	if o.path == "" || o.path == "-" {
		return nil
	}
	for _, name := range args {
		files.Spare(name)
	}
	for _, name := range []string{"case", "materials", "mill-profile"} {
		for _, path := range flagWords(cmd, name) {
			files.Spare(path)
		}
	}
	if !o.holdsMesh() {
		if _, err := o.chosen(cmd); err != nil {
			return usageError{err}
		}
	}
	return files.Check(o.path, o.overwrite)
}

// holdsMesh reports whether the file is to hold a mesh and not the result.
func (o *output) holdsMesh() bool {
	return o.meshes && strings.EqualFold(filepath.Ext(o.path), ".stl")
}

// write sends a result out: JSON is the result itself, every other format is
// rendered from the document, with what reproduces it at its end.
func (o *output) write(cmd *cobra.Command, result any, doc render.Document) error {
	format, err := o.chosen(cmd)
	if err != nil {
		return usageError{err}
	}
	doc.Blocks = append(doc.Blocks, note.RememberedBlocks(o.recalled)...)
	if doc.Units == quantity.Metric {
		doc.Units = o.units
		for _, name := range cmd.Flags().Args() {
			doc.Names = append(doc.Names, name, filepath.Base(name))
		}
	}
	if o.figures != "" || format != render.Terminal { // a terminal shows nothing of it
		doc = doc.MadeBy(origin(cmd))
	}
	if o.figures != "" {
		var wrote string
		if doc, wrote, err = doc.WriteFigures(o.figures, filepath.Dir(o.path), o.overwrite); err != nil {
			return err
		}
		if !o.quiet {
			fmt.Fprintln(cmd.ErrOrStderr(), wrote)
		}
	}
	wrote, err := render.Write(cmd.OutOrStdout(), render.Target{
		Format: format, Path: o.path, Overwrite: o.overwrite,
	}, result, doc)
	if err == nil && o.path != "" {
		if !o.quiet {
			fmt.Fprintln(cmd.ErrOrStderr(), wrote)
		}
		nameLeftovers(cmd, o.path)
	}
	return err
}

// chosen is the format that was asked for, by name or by the ending of the file. A
// path of - is the terminal.
func (o *output) chosen(cmd *cobra.Command) (render.Format, error) {
	format, err := render.ParseFormat(o.format)
	if err != nil {
		return format, err
	}
	if o.path == "-" {
		o.path = ""
	}
	if cmd.Flags().Changed("format") {
		return format, nil
	}
	return ofEnding(o.path, format)
}

// writeFitting writes what fits one screen where it goes to one, unless everything was
// asked for, and the whole anywhere else.
func (o *output) writeFitting(cmd *cobra.Command, result any, short, whole func() render.Document) error {
	if !o.full && o.onScreen(cmd) {
		return o.write(cmd, result, short())
	}
	return o.write(cmd, result, whole())
}

// onScreen reports whether the result goes to the terminal as text alone.
func (o *output) onScreen(cmd *cobra.Command) bool {
	format, err := o.chosen(cmd)
	return err == nil && format == render.Terminal && o.path == "" && o.figures == ""
}

// drawn reports whether what is written shows pictures, or everything.
func (o *output) drawn(cmd *cobra.Command) bool {
	format, err := o.chosen(cmd)
	return o.figures != "" || err == nil && (format == render.JSON || format == render.HTML || format == render.PDF)
}

// ofEnding returns the format that the name of a file asks for: -o note.pdf is a
// PDF without saying so twice. A name without an ending asks for nothing.
func ofEnding(path string, otherwise render.Format) (render.Format, error) {
	named, ok := render.FormatOfFile(path)
	ending := filepath.Ext(path)
	switch {
	case ok:
		return named, nil
	case ending == "" || strings.HasPrefix(path, "/dev/"):
		return otherwise, nil
	}
	return "", fmt.Errorf("-o %s: %s is the ending of no format: expected %s, or --format", path, ending, render.Endings())
}

// nameLeftovers says which unfinished files lie beside the one that was written.
func nameLeftovers(cmd *cobra.Command, path string) {
	for _, name := range files.Leftovers(path) {
		fmt.Fprintf(cmd.ErrOrStderr(), "left by a run that was ended by force, to be removed: %s\n", files.Show(name))
	}
}

// input holds the flags that every command which reads a mesh shares.
type input struct {
	unit   string
	repair bool
	join   *quantity.Length
	cmd    *cobra.Command
}

func (in *input) register(cmd *cobra.Command) {
	in.cmd = cmd
	f := cmd.Flags()
	f.StringVar(&in.unit, "unit", "mm", "unit of the STL coordinates: mm, cm, m or in")
	f.BoolVar(&in.repair, "repair", false, "close small or planar gaps, and say what was added")
	registerJoin(f, &in.join)
}

// load reads one mesh with the shared flags.
func (in *input) load(path string) (*mesh.Loaded, error) {
	return reading(in, path, mesh.LoadContext)
}

// reading reads a file in the way of read, with the shared flags, until the
// person gives up.
func reading[T any](in *input, path string, read func(context.Context, string, mesh.Options) (T, error)) (result T, err error) {
	unit, err := mesh.ParseUnit(in.unit)
	if err != nil {
		return result, usageError{fmt.Errorf("--unit: %w", err)}
	}
	join, err := joinWithin(in.join, in.repair)
	if err != nil {
		return result, err
	}
	seen := newProgress(in.cmd, "reading")
	defer seen.done()
	return read(in.cmd.Context(), path, mesh.Options{Unit: unit, Repair: repair.When(in.repair, join), Progress: seen.set})
}

// registerJoin adds the flag that says how far apart corners may lie.
func registerJoin(f *pflag.FlagSet, join **quantity.Length) {
	textFlag(f, join, "join", "length", "with --repair: how far apart corners at gaps may lie that are made one (default unit mm)")
}

// joinWithin returns the length of --join in mm, 0 where it was not given.
func joinWithin(join *quantity.Length, repair bool) (float64, error) {
	switch {
	case join == nil:
		return 0, nil
	case !repair:
		return 0, usageError{errors.New("--join goes with --repair: add it, for joining corners changes the part")}
	case *join <= 0:
		return 0, usageError{fmt.Errorf("--join %s: expected more than nothing", *join)}
	}
	return float64(*join), nil
}
