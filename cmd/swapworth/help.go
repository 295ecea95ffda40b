package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// groupKey is the annotation of a flag that says under which heading help shows
// it; a flag without one goes under "Other flags".
const groupKey = "group"

// otherFlags is the heading of flags that belong to no group.
const otherFlags = "Other flags"

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

// first are the flags of the commands with many, those that matter most to most people
// first: what help shows unless it is asked for more.
var first = map[string][]string{
	"compare": {"old-weight", "new-material", "old-material", "load", "load-along", "fix", "moving-mass", "case", "output", "full"},
	"vary":    {"try-thickness", "try-material", "old-weight", "new-material", "old-material", "load", "load-along", "min-stiffness-ratio", "case", "output"},
	"ask":     {"old-weight", "new-material", "old-material", "load", "load-along", "fix", "moving-mass", "case", "output", "overwrite"},
	"solid":   {"material", "load", "load-along", "span", "support", "fix", "load-at", "attached-mass", "unit", "output"},
	"beam":    {"material", "section", "length", "load", "load-along", "span", "support", "at", "unit", "output"},
}

// helpAllFlag shows all flags, or those of one group.
const helpAllFlag = "help-all"

// helpAll is the value of that flag: given, it asks for help.
type helpAll struct {
	cmd   *cobra.Command
	shown string // everything, or the key of a group
}

const everything = "everything"

func (h *helpAll) Set(text string) error {
	keys := append([]string{everything}, groupKeys(h.cmd.Flags())...)
	if !slices.Contains(keys, strings.ToLower(text)) {
		return fmt.Errorf("%q: expected %s", text, strings.Join(keys, ", "))
	}
	h.shown = strings.ToLower(text)
	return h.cmd.Flags().Set("help", "true")
}

func (h *helpAll) String() string { return h.shown }
func (h *helpAll) Type() string   { return "group" }

// sections are the flags of a command, heading by heading in the order in which they
// were registered.
type sections struct {
	headings []string
	sets     map[string]*pflag.FlagSet
}

func sectionsOf(all *pflag.FlagSet) sections {
	s := sections{sets: map[string]*pflag.FlagSet{}}
	all.VisitAll(func(f *pflag.Flag) {
		heading := otherFlags
		if g := f.Annotations[groupKey]; len(g) > 0 {
			heading = g[0]
		}
		if s.sets[heading] == nil {
			s.headings = append(s.headings, heading)
			s.sets[heading] = pflag.NewFlagSet(heading, pflag.ContinueOnError)
			s.sets[heading].SortFlags = false
		}
		s.sets[heading].AddFlag(f)
	})
	return s
}

// keyOf is the word by which a person asks for a group: the first of its heading that
// says something.
func keyOf(heading string) string {
	for _, word := range strings.Fields(strings.ToLower(heading)) {
		if word != "the" && word != "as" {
			return word
		}
	}
	return ""
}

func groupKeys(all *pflag.FlagSet) []string {
	var out []string
	for _, h := range sectionsOf(all).headings {
		out = append(out, keyOf(h))
	}
	return out
}

// flagsHelp writes the flags of a command: of one with many those that matter first and
// how to see the rest, unless more was asked for.
func flagsHelp(cmd *cobra.Command) string {
	all := cmd.LocalFlags()
	asked := ""
	if f := all.Lookup(helpAllFlag); f != nil {
		asked = f.Value.String()
	}
	names, many := first[cmd.Name()]
	s := sectionsOf(all)
	var b strings.Builder
	switch {
	case asked != "":
		for _, h := range s.headings {
			if asked == everything || asked == keyOf(h) {
				b.WriteString("\n" + h + ":\n" + s.sets[h].FlagUsagesWrapped(helpWidth))
			}
		}
	case many:
		chosen := pflag.NewFlagSet(cmd.Name(), pflag.ContinueOnError)
		chosen.SortFlags = false
		for _, name := range names {
			chosen.AddFlag(all.Lookup(name))
		}
		b.WriteString("Flags that matter first:\n" + chosen.FlagUsagesWrapped(helpWidth))
		b.WriteString("\n" + moreFlags(s, len(names)))
	default:
		b.WriteString("Flags:\n" + all.FlagUsagesWrapped(helpWidth))
	}
	return strings.TrimSpace(b.String())
}

// moreFlags says how many flags there are beside those that are shown, and where.
func moreFlags(s sections, shown int) string {
	count := -shown
	var keys []string
	for _, h := range s.headings {
		s.sets[h].VisitAll(func(*pflag.Flag) { count++ })
		keys = append(keys, keyOf(h))
	}
	text := fmt.Sprintf("%d more with --%s", count, helpAllFlag)
	if len(keys) > 1 {
		text += fmt.Sprintf(", or by group with --%s=GROUP:\n%s", helpAllFlag, strings.Join(keys, ", "))
	}
	return text
}

// withGroupedHelp makes the commands show the flags that matter first, and all by group
// where they are asked to.
func withGroupedHelp(root *cobra.Command) {
	for _, cmd := range root.Commands() {
		cmd.Flags().SortFlags = false
		if _, many := first[cmd.Name()]; many {
			cmd.Flags().Var(&helpAll{cmd: cmd}, helpAllFlag, "show every flag, or with =GROUP those of a group")
			cmd.Flags().Lookup(helpAllFlag).NoOptDefVal = everything
		}
	}
	cobra.AddTemplateFunc("flagsHelp", flagsHelp)
	t := root.UsageTemplate()
	t = strings.Replace(t, "Flags:\n{{.LocalFlags.FlagUsages | trimTrailingWhitespaces}}", "{{flagsHelp .}}", 1)
	root.SetUsageTemplate(t)
}
