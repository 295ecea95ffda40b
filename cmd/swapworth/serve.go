package main

import (
	"context"
	"fmt"
	"log"
	"net"
	"slices"
	"strconv"

	"github.com/spf13/cobra"

	"swapworth/materials"
	"swapworth/note/page"
)

// newServe builds the command that shows the comparison on a local page.
func newServe() *cobra.Command {
	var port int
	var tables []string
	var without bool
	cmd := &cobra.Command{
		Use:   "serve",
		Short: "The same on a local page: drop two files, read the table",
		Long: "serve shows compare and vary on a page of this machine: drop two STL files, set\n" +
			"materials, weights and the load, and read or save the same table, figures and\n" +
			"note. The page answers on the loopback address only, nothing\n" +
			"leaves the machine, and uploads are removed with the answer. Stop it with\n" +
			"Ctrl-C.\n\n" + cautionText,
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
			return page.Serve(cmd.Context(), l, page.Config{
				Ask:       asker(tables, without),
				Materials: names(table),
				Version:   version,
				Log:       log.New(cmd.ErrOrStderr(), "swapworth: ", 0),
			})
		},
	}
	f := cmd.Flags()
	f.IntVar(&port, "port", 0, "port on the loopback address; 0 takes any that is free")
	f.BoolVar(&without, noMachine, false, "leave out what swapworth machine keeps")
	f.StringArrayVar(&tables, "materials", nil, "add a table of your own materials from a TOML `FILE`")
	return cmd
}

// mostTriangles bounds a file from the page: a million fit the largest upload,
// and a compressed file must not unpack to more.
const mostTriangles = 2_000_000

// asker reads the flags of compare and vary as if they were typed.
func asker(tables []string, without bool) func(ctx context.Context, oldPath, newPath string, flags []string) (page.Question, error) {
	return func(ctx context.Context, oldPath, newPath string, flags []string) (q page.Question, err error) {
		var c caseFlags
		var v varyFlags
		cmd := &cobra.Command{Use: "serve"}
		c.register(cmd)
		v.register(cmd.Flags())
		if without {
			flags = append(flags, "--"+noMachine)
		}
		if err := cmd.Flags().Parse(flags); err != nil {
			return q, plainly(err)
		}
		c.file.Materials = tables
		f, err := c.merged([]string{oldPath, newPath})
		if err != nil {
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
		if q.Case, err = f.CaseWith(options); err != nil {
			return q, err
		}
		q.Case.Remembered = from
		q.Variation, err = v.variation(q.Case.Table)
		return q, err
	}
}

func names(t *materials.Table) []string {
	var out []string
	for _, m := range t.All() {
		out = append(out, m.Name)
	}
	return out
}
