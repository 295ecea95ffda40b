package main

import (
	"fmt"
	"math"
	"os"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"swapworth/beam"
	"swapworth/mass"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/feature"
	"swapworth/note/render"
	"swapworth/quantity"
	"swapworth/swap/casefile"
)

// completer offers what may stand where the shell asks.
type completer = cobra.CompletionFunc

// withCompletion tells the shell what each flag and each argument takes.
func withCompletion(root *cobra.Command) {
	for _, cmd := range root.Commands() {
		cmd.Flags().VisitAll(func(f *pflag.Flag) {
			if _, done := cmd.GetFlagCompletionFunc(f.Name); done {
				return
			}
			if c := completerOf(f.Name); c != nil {
				_ = cmd.RegisterFlagCompletionFunc(f.Name, c) // fails only where there is one already
			}
		})
		if cmd.ValidArgsFunction == nil && strings.Contains(cmd.Use, ".stl") {
			cmd.ValidArgsFunction = fileEndings("stl", "gz")
		}
	}
}

// completerOf returns what the flag of a name takes, nil where nobody can know. A name
// means the same with every command.
func completerOf(name string) completer {
	switch name {
	case "material", "old-material", "new-material", "try-material", "tapped-in", "instead":
		return completeMaterial
	case "fix", "load-at":
		return completePlace(0)
	case "new-fix", "new-load-at":
		return completePlace(1)
	case "bolt-hole":
		return completeHole
	case "format":
		return words(strings.Split(strings.Replace(render.Formats(), " or ", ", ", 1), ", ")...)
	case "support":
		return words(beam.Supports()...)
	case "unit", "old-unit", "new-unit":
		return words("mm", "cm", "m", "in")
	case "units":
		return words("metric", "imperial")
	case "span", "load-along", "pivot-axis", "thickness-axis":
		return words("x", "y", "z")
	case "check":
		return words("auto", "solid", "beam")
	case "goal":
		return words("lighter", "stiffer", "cheaper")
	case "drive-limited":
		return words("force", "speed", "unknown")
	case "magnet", "old-magnet":
		return words("yes", "no")
	case "colour", "old-colour":
		return words(mass.ColourNames()...)
	case "tolerance":
		return words("f", "m", "c", "v")
	case "bolt-class":
		return words("8.8", "10.9", "12.9", "A2-70", "A4-80")
	case "bolt":
		return words("M3", "M4", "M5", "M6", "M8", "M10", "M12")
	case "case", "materials", "mill-profile":
		return fileEndings("toml")
	case "accept":
		return fileEndings("json")
	case "figures":
		return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return nil, cobra.ShellCompDirectiveFilterDirs
		}
	}
	return nil
}

func words(all ...string) completer {
	return cobra.FixedCompletions(all, cobra.ShellCompDirectiveNoFileComp)
}

// fileEndings offers the files of some endings.
func fileEndings(endings ...string) completer {
	return cobra.FixedCompletions(endings, cobra.ShellCompDirectiveFilterFileExt)
}

// completeMaterial offers the names of the tables, own ones included, and the families.
func completeMaterial(cmd *cobra.Command, _ []string, _ string) ([]string, cobra.ShellCompDirective) {
	kept, _, err := recall(cmd)
	if err != nil {
		kept = casefile.Kept{} // said as soon as the command runs
	}
	table, err := materials.Open(append(kept.Materials, flagWords(cmd, "materials")...)...)
	if err != nil {
		table = materials.Default()
	}
	var names []string
	for _, m := range table.All() {
		names = append(names, fmt.Sprintf("%s\t%s", m.Name, m.Family))
	}
	for _, f := range table.Families() {
		names = append(names, fmt.Sprintf("%s\tany of the family", f.Name))
	}
	return names, cobra.ShellCompDirectiveNoFileComp
}

// completePlace offers the holes and ends of the part that an argument names, the first
// for the stock part; where only one part is named it is that.
func completePlace(argument int) completer {
	return func(cmd *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
		var out []string
		for i, h := range holesOf(cmd, args, argument) {
			out = append(out, fmt.Sprintf("hole:%d\t%s", i+1, holeWords(h)))
		}
		return append(out, "end:low\tthe flat face at the low end of the span", "end:high\tthe flat face at its high end"),
			cobra.ShellCompDirectiveNoFileComp
	}
}

// completeHole offers the hole numbers of the redesign.
func completeHole(cmd *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	var out []string
	for i, h := range holesOf(cmd, args, 1) {
		out = append(out, fmt.Sprintf("%d\t%s", i+1, holeWords(h)))
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

func holeWords(h feature.Hole) string {
	at := func(v float64) string { return quantity.Short(v+0, 3) } // no minus before a nothing
	c := h.Centre
	for _, v := range []*float64{&c.X, &c.Y, &c.Z} {
		*v = math.Round(100**v) / 100
	}
	return fmt.Sprintf("%.3g mm, %s, at %s, %s, %s", h.Diameter, h.Kind, at(c.X), at(c.Y), at(c.Z))
}

// largestCompleted bounds the file, in bytes, that is read while a person waits for the
// shell.
const largestCompleted = 20 << 20

// holesOf finds the holes of a part that is named on the command line or in its case
// files, none where it cannot be read.
func holesOf(cmd *cobra.Command, args []string, argument int) []feature.Hole {
	path, unit := "", mesh.Millimetre
	if len(args) > argument {
		path = args[argument]
	}
	var f casefile.File
	for _, name := range flagWords(cmd, "case") {
		next, err := casefile.Read(name)
		if err != nil {
			return nil
		}
		f = f.Over(next)
	}
	part := []casefile.Part{f.Old, f.New}[argument]
	if path == "" && part.Mesh != nil {
		path = *part.Mesh
	}
	for _, u := range []*mesh.Unit{f.Unit, part.Unit} {
		if u != nil {
			unit = *u
		}
	}
	if typed := flagWords(cmd, "unit"); len(typed) > 0 {
		if u, err := mesh.ParseUnit(typed[0]); err == nil {
			unit = u
		}
	}
	if info, err := os.Stat(path); err != nil || !info.Mode().IsRegular() || info.Size() > largestCompleted {
		return nil
	}
	l, err := mesh.Load(path, mesh.Options{Unit: unit})
	if err != nil || !l.Report.Closed {
		return nil
	}
	return feature.Find(l.Mesh).Holes
}
