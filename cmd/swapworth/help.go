package main

import (
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// groupKey is the annotation of a flag that says under which heading help shows
// it; a flag without one goes under "Flags".
const groupKey = "group"

// group registers flags under a heading of their own.
func group(cmd *cobra.Command, heading string, register func(*pflag.FlagSet)) {
	set := pflag.NewFlagSet(heading, pflag.ContinueOnError)
	set.SortFlags = false
	register(set)
	set.VisitAll(func(f *pflag.Flag) {
		f.Annotations = map[string][]string{groupKey: {heading}}
	})
	cmd.Flags().AddFlagSet(set)
}

const helpWidth = 80 // columns

// groupedFlags writes the flags of a command for help, heading by heading in the
// order in which they were registered.
func groupedFlags(all *pflag.FlagSet) string {
	var headings []string
	sets := map[string]*pflag.FlagSet{}
	all.VisitAll(func(f *pflag.Flag) {
		heading := "Flags"
		if g := f.Annotations[groupKey]; len(g) > 0 {
			heading = g[0]
		}
		if sets[heading] == nil {
			headings = append(headings, heading)
			sets[heading] = pflag.NewFlagSet(heading, pflag.ContinueOnError)
			sets[heading].SortFlags = false
		}
		sets[heading].AddFlag(f)
	})
	var b strings.Builder
	for _, h := range headings {
		b.WriteString("\n" + h + ":\n" + sets[h].FlagUsagesWrapped(helpWidth))
	}
	return strings.TrimSpace(b.String())
}

// withGroupedHelp makes a command and those below it show their flags in groups.
func withGroupedHelp(root *cobra.Command) {
	for _, cmd := range root.Commands() {
		cmd.Flags().SortFlags = false
	}
	cobra.AddTemplateFunc("groupedFlags", groupedFlags)
	t := root.UsageTemplate()
	t = strings.Replace(t, "Flags:\n{{.LocalFlags.FlagUsages | trimTrailingWhitespaces}}", "{{groupedFlags .LocalFlags}}", 1)
	root.SetUsageTemplate(t)
}
