// Command verify runs the solid room on parts whose stiffness finite elements of
// another program have found, and writes docs/evidence.md. Run it from the
// project's root:
//
//	go run ./testdata/verify                 # the tables, on the small budget
//	go run ./testdata/verify -write          # into docs/evidence.md
//	go run ./testdata/verify -full           # on the full budget
//	go run ./testdata/verify -part crank     # parts whose names hold a word
//	go run ./testdata/verify -blind 7        # parts nobody has seen, against four
//	                                         # times the full budget
//	go run ./testdata/verify -worlds 2000    # whether the odds of compare are those one
//	                                         # could bet on; -seeds 1,2,3 for others
package main

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"io"
	"log"
	"os"
	"os/signal"
	"strconv"
	"strings"

	"swapworth/internal/evidence"
	"swapworth/solid"
)

func main() {
	log.SetFlags(0)
	log.SetPrefix("verify: ")
	var r run
	flag.StringVar(&r.folder, "from", "testdata/verify", "read parts from `FOLDER`")
	flag.StringVar(&r.only, "part", "", "only parts whose names hold `WORD`")
	full := flag.Bool("full", false, "solve on the full budget")
	write := flag.Bool("write", false, "write the tables into docs/evidence.md")
	blind := flag.Int64("blind", -1, "make new parts from `SEED` and solve those")
	count := flag.Int("count", 16, "how many parts -blind makes")
	worlds := flag.Int("worlds", 0, "draw `N` worlds and count how often the stated ranges hold the truth")
	seeds := []uint64{11}
	flag.Func("seeds", "`LIST` of seeds with commas, of the parts and worlds of -worlds (default 11)", func(text string) (err error) {
		seeds, err = parseSeeds(text)
		return err
	})
	flag.Parse()
	r.options = solid.Quick()
	if *full {
		r.options = solid.Options{}
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	var err error
	switch {
	case *worlds > 0:
		err = runWorlds(ctx, *worlds, seeds, *write)
	case *blind >= 0:
		err = r.blind(ctx, uint64(*blind), *count)
	case *write:
		err = r.update(ctx, "docs/evidence.md", *full)
	default:
		err = r.tables(ctx, os.Stdout)
	}
	if err != nil {
		log.Fatal(err)
	}
}

// run is what was asked for.
type run struct {
	folder, only string
	options      solid.Options
}

// tables solves every part and writes the tables.
func (r run) tables(ctx context.Context, w io.Writer) error {
	parts, err := evidence.Read(r.folder)
	if err != nil {
		return err
	}
	var rows []evidence.Row
	var tones []evidence.Tone
	var peaks []evidence.PeakRow
	for _, p := range parts {
		if !strings.Contains(p.Name, r.only) {
			continue
		}
		fmt.Fprintln(os.Stderr, p.Name)
		s, err := p.Open()
		if err != nil {
			return err
		}
		found, err := s.Stiffness(ctx, r.options)
		if err != nil {
			return err
		}
		rings, err := s.Tones(ctx, r.options)
		if err != nil {
			return err
		}
		hot, err := s.Peaks(ctx, r.options)
		if err != nil {
			return err
		}
		rows, tones, peaks = append(rows, found...), append(tones, rings...), append(peaks, hot...)
	}
	if err := evidence.WriteTones(w, tones); err != nil {
		return err
	}
	fmt.Fprintln(w)
	if err := evidence.WritePeaks(w, peaks); err != nil {
		return err
	}
	fmt.Fprintln(w)
	return evidence.WriteRows(w, rows)
}

// update puts the tables into a page, between the marks of the budget.
func (r run) update(ctx context.Context, page string, full bool) error {
	var tables bytes.Buffer
	if err := r.tables(ctx, &tables); err != nil {
		return err
	}
	name := "small"
	if full {
		name = "full"
	}
	return intoPage(page, name, tables.String())
}

// parseSeeds reads seeds between commas.
func parseSeeds(text string) ([]uint64, error) {
	var out []uint64
	for _, t := range strings.Split(text, ",") {
		seed, err := strconv.ParseUint(strings.TrimSpace(t), 10, 64)
		if err != nil {
			return nil, err
		}
		out = append(out, seed)
	}
	return out, nil
}

// blind solves parts made from a seed and prints how many errors cover.
func (r run) blind(ctx context.Context, seed uint64, count int) error {
	parts, err := evidence.BlindParts(seed, count)
	if err != nil {
		return err
	}
	var rows []evidence.Row
	for _, p := range parts {
		fmt.Fprintln(os.Stderr, p.Name, p.Family)
		found, err := p.Solve(ctx, r.options)
		if err != nil {
			return err
		}
		rows = append(rows, found...)
	}
	return evidence.WriteRows(os.Stdout, rows)
}
