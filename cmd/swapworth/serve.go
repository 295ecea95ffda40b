package main

import (
	"context"
	"errors"
	"fmt"
	"log"
	"net"
	"reflect"
	"slices"
	"strconv"

	"github.com/spf13/cobra"

	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/note/page"
	"swapworth/quantity"
	"swapworth/swap/casefile"
)

// newServe builds the command that shows the comparison on a local page.
func newServe() *cobra.Command {
	var port int
	var tables []string
	var without bool
	cmd := &cobra.Command{
		Use:   "serve",
		Short: "The same on a local page: drop two files, click where they are held",
		Long: "serve shows compare and vary on a page of this machine: drop two STL files, turn\n" +
			"them, click where they are held and loaded, and read, print or save the same\n" +
			"table, figures and note. Case files are opened and saved. The page answers on\n" +
			"the loopback address only, nothing leaves the machine, and uploads are removed\n" +
			"with the answer. Stop it with Ctrl-C.\n\n" + cautionText,
		Example: "  swapworth serve\n  swapworth serve --port 8080",
		Args:    usage(cobra.NoArgs),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if port < 0 || port > 65535 {
				return usageError{fmt.Errorf("--port %d: expected 0 to 65535", port)}
			}
			kept, _, err := recall(cmd)
			if err != nil {
				return err
			}
			table, err := materials.Open(slices.Concat(kept.Materials, tables)...)
			if err != nil {
				return err
			}
			l, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
			if err != nil {
				return fmt.Errorf("port %d of this machine is not free: choose another with --port, or 0 for any: %w", port, err)
			}
			fmt.Fprintf(cmd.OutOrStdout(), "Open http://%s in a browser on this machine; Ctrl-C stops it.\n", l.Addr())
			return page.Serve(cmd.Context(), l, pageConfig(table, tables, without, log.New(cmd.ErrOrStderr(), "swapworth: ", 0)))
		},
	}
	f := cmd.Flags()
	f.IntVar(&port, "port", 0, "port on the loopback address; 0 takes any that is free")
	f.BoolVar(&without, noMachine, false, "leave out what swapworth machine keeps")
	f.StringArrayVar(&tables, "materials", nil, "add a table of your own materials from a TOML `FILE`")
	return cmd
}

// pageConfig is what the page needs of the command line.
func pageConfig(table *materials.Table, tables []string, without bool, to *log.Logger) page.Config {
	return page.Config{
		Ask:       asker(tables, without),
		Load:      partReader(without),
		Case:      caseWriter,
		Materials: names(table),
		Version:   version,
		Log:       to,
	}
}

// mostTriangles bounds a file from the page: a million fit the largest upload,
// and a compressed file must not unpack to more.
const mostTriangles = 2_000_000

// asker reads the flags of compare and vary as if they were typed.
func asker(tables []string, without bool) func(context.Context, page.Asked) (page.Question, error) {
	return func(ctx context.Context, a page.Asked) (q page.Question, err error) {
		var c caseFlags
		var v varyFlags
		if err := parsed(&c, &v, without, a.Flags); err != nil {
			return q, err
		}
		c.file.Materials = append(slices.Clone(tables), c.file.Materials...)
		f, err := c.merged(append([]string{a.Old}, a.New...)) // a bar has no file
		if err != nil {
			return q, err
		}
		if f.LoadCases, err = furtherCases(a.LoadCases); err != nil {
			return q, err
		}
		f, from, err := c.remembering(f)
		if err != nil {
			return q, err
		}
		options, err := c.reading(ctx)
		if err != nil {
			return q, err
		}
		options.MaxTriangles = mostTriangles
		if q.Cases, err = f.Cases(a.New, options); err != nil {
			return q, err
		}
		for i := range q.Cases {
			q.Cases[i].Remembered = from
		}
		q.Variation, err = v.variation(q.Cases[0].Table)
		return q, err
	}
}

// parsed fills flags of compare and vary from words.
func parsed(c *caseFlags, v *varyFlags, without bool, words []string) error {
	cmd := &cobra.Command{Use: "serve"}
	c.register(cmd)
	v.register(cmd.Flags())
	if without {
		words = append(slices.Clone(words), "--"+noMachine)
	}
	return plainly(cmd.Flags().Parse(words))
}

// furtherCases reads load cases as a case file has them.
func furtherCases(text string) ([]casefile.LoadCase, error) {
	f, err := casefile.Parse([]byte(text))
	if err != nil {
		return nil, fmt.Errorf("--load-case: %w", err)
	}
	cases := f.LoadCases
	if f.LoadCases = nil; !reflect.DeepEqual(f, casefile.File{}) {
		return nil, errors.New("--load-case: expected [[load-case]] and its keys alone")
	}
	return cases, nil
}

// caseWriter writes what the page asks as a case file.
func caseWriter(a page.Asked) ([]byte, error) {
	f, err := askedFile(a)
	if err != nil {
		return nil, err
	}
	return f.TOML(".")
}

// askedFile is what the page asks as a case file has it.
func askedFile(a page.Asked) (f casefile.File, err error) {
	var c caseFlags
	if err := parsed(&c, new(varyFlags), false, a.Flags); err != nil {
		return f, err
	}
	f = c.file
	if a.Old != "" {
		f.Old.Mesh = &a.Old
	}
	if len(a.New) > 0 {
		f.New.Mesh = &a.New[0]
	}
	f.LoadCases, err = furtherCases(a.LoadCases)
	return f, err
}

// partReader reads one part with the unit and the repair that flags ask for.
func partReader(without bool) func(context.Context, string, bool, []string) (*mesh.Loaded, quantity.System, error) {
	return func(ctx context.Context, path string, redesign bool, flags []string) (*mesh.Loaded, quantity.System, error) {
		var c caseFlags
		if err := parsed(&c, new(varyFlags), without, flags); err != nil {
			return nil, quantity.Metric, err
		}
		f, _, err := c.remembering(c.file)
		if err != nil {
			return nil, quantity.Metric, err
		}
		units := quantity.Metric
		if f.Units != nil {
			units = *f.Units
		}
		options, err := c.reading(ctx)
		if err != nil {
			return nil, units, err
		}
		options.MaxTriangles = mostTriangles
		own := f.Old.Unit
		if redesign {
			own = f.New.Unit
		}
		for _, u := range []*mesh.Unit{f.Unit, own} {
			if u != nil {
				options.Unit = *u
			}
		}
		l, err := mesh.Load(path, options)
		return l, units, err
	}
}

func names(t *materials.Table) []string {
	var out []string
	for _, m := range t.All() {
		out = append(out, m.Name)
	}
	return out
}
