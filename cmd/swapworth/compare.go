package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"swapworth/note"
	"swapworth/note/render"
	"swapworth/swap"
	"swapworth/swap/casefile"
)

// newCompare builds the main command: two parts in, a table with a verdict out.
func newCompare() *cobra.Command {
	var c caseFlags
	var out output
	cmd := &cobra.Command{
		Use:   "compare OLD.stl NEW.stl [NEW.stl ...]",
		Short: "The table and the verdict: is the redesign worth making?",
		Long: "compare weighs the stock part against the redesign: mass, stiffness, strength,\n" +
			"what the saving buys, whether it still bolts on and can be milled, and which\n" +
			"unchecked assumption would turn the answer over. The verdict is swap, keep or\n" +
			"check first.\n\n" +
			"Two meshes alone are enough to begin with: what was assumed is said, and so is\n" +
			"what each missing input would add. Several redesigns, or a folder of them, get\n" +
			"a column each, best first. The terminal gets what fits one screen; --full and\n" +
			"every file have the whole note.\n\n" + cautionText,
		Example: "  swapworth compare testdata/arm_old.stl testdata/arm_new.stl\n" +
			"  swapworth compare old.stl new.stl --old-material S235 --old-weight 65g \\\n" +
			"    --new-material 6061-T6 --moving-mass 1.2kg --load 20N\n" +
			"  swapworth compare --case arm.toml --format html -o note.html",
		RunE: func(cmd *cobra.Command, args []string) error {
			meshes, err := expanded(args)
			if err != nil {
				return err
			}
			if len(meshes) > 2 {
				return compareSeveral(cmd, &c, &out, meshes)
			}
			if len(c.paths) > 0 {
				f, err := c.merged(meshes)
				if err != nil {
					return err
				}
				if len(f.Pairs) > 0 {
					return compareTogether(cmd, &c, &out, f, meshes)
				}
			}
			question, err := c.load(cmd.Context(), meshes)
			if err != nil {
				return err
			}
			bar := newProgress(cmd, "comparing")
			question.Progress, question.Figures = bar.set, out.drawn(cmd)
			result, err := swap.Decide(cmd.Context(), question)
			bar.done()
			if err != nil {
				return err
			}
			return out.writeFitting(cmd, result,
				func() render.Document { return note.Short(result) },
				func() render.Document { return note.Compare(result, question) })
		},
	}
	c.register(cmd)
	out.register(cmd)
	out.registerFull(cmd)
	out.registerFigures(cmd)
	return cmd
}

// compareSeveral holds several redesigns against one stock part.
func compareSeveral(cmd *cobra.Command, c *caseFlags, out *output, meshes []string) error {
	f, err := c.merged(meshes[:2])
	if err != nil {
		return err
	}
	options, err := c.reading(cmd.Context())
	if err != nil {
		return err
	}
	f, from, err := c.remembering(f)
	if err != nil {
		return err
	}
	cases, err := f.Cases(meshes[1:], options)
	if err != nil {
		return err
	}
	for i := range cases {
		cases[i].Remembered = from
	}
	bar := newProgress(cmd, "comparing")
	ranking, err := swap.Rank(cmd.Context(), cases, bar.set)
	bar.done()
	if err != nil {
		return err
	}
	return out.write(cmd, ranking, note.Rank(ranking, cases))
}

// compareTogether holds several pairs of one machine against one another.
func compareTogether(cmd *cobra.Command, c *caseFlags, out *output, f casefile.File, meshes []string) error {
	if len(meshes) > 0 {
		return usageError{errors.New("the case lists its pairs: name no files beside it, or a case without [[pair]]")}
	}
	options, err := c.reading(cmd.Context())
	if err != nil {
		return err
	}
	f, from, err := c.remembering(f)
	if err != nil {
		return err
	}
	separate, err := f.Separate()
	if err != nil {
		return err
	}
	var pairs []swap.Member
	for _, one := range separate {
		question, err := one.File.CaseWith(options)
		if err != nil {
			return fmt.Errorf("%s: %w", one.Name, err)
		}
		question.Remembered, question.Figures = from, out.drawn(cmd)
		pairs = append(pairs, swap.Member{Name: one.Name, Case: question})
	}
	bar := newProgress(cmd, "comparing")
	together, err := swap.DecideTogether(cmd.Context(), pairs, bar.set)
	bar.done()
	if err != nil {
		return err
	}
	return out.writeFitting(cmd, together,
		func() render.Document { return note.TogetherShort(together) },
		func() render.Document { return note.Together(together, pairs) })
}

// expanded puts the STL files of a folder in place of its name.
func expanded(args []string) ([]string, error) {
	var out []string
	for i, arg := range args {
		info, err := os.Stat(arg)
		if i == 0 || err != nil || !info.IsDir() {
			out = append(out, arg) // what cannot be read is said by the reader
			continue
		}
		inside, err := os.ReadDir(arg)
		if err != nil {
			return nil, err
		}
		before := len(out)
		for _, e := range inside {
			if strings.EqualFold(filepath.Ext(e.Name()), ".stl") {
				out = append(out, filepath.Join(arg, e.Name()))
			}
		}
		if len(out) == before {
			return nil, errors.New("folder " + arg + ": no .stl file in it; name the redesigns")
		}
		slices.Sort(out[before:])
	}
	return out, nil
}
