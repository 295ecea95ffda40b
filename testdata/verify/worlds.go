package main

import (
	"context"
	"fmt"
	"os"
	"strings"

	"swapworth/internal/evidence"
	"swapworth/internal/worlds"
)

// pairs is how many pairs of unseen parts the worlds go round.
const pairs = 12

// runWorlds draws n worlds a seed for plain bars, and as many for unseen parts of that
// seed. The last rows count those of all seeds.
func runWorlds(ctx context.Context, n int, seeds []uint64, write bool) error {
	var text strings.Builder
	text.WriteString("| parts | worlds | saving held, % | ratio held, % | safety held, % | swap | keep | check first | firm and wrong, % | weighed: check first, % |\n")
	text.WriteString("| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |\n")
	var bars, unseen worlds.Tally
	for _, seed := range seeds {
		t, err := worlds.Run(ctx, worlds.Bars(), n, seed, told("bars"))
		if err != nil {
			return err
		}
		bars.Add(t)
		made, err := worlds.Parts(ctx, seed, pairs, told("pairs"))
		if err != nil {
			return err
		}
		name := fmt.Sprintf("%d unseen parts of seed %d", len(made), seed)
		if t, err = worlds.Run(ctx, made, n, seed, told(name)); err != nil {
			return err
		}
		unseen.Add(t)
		text.WriteString(row(name, t))
	}
	fmt.Fprintln(os.Stderr)
	if len(seeds) > 1 {
		text.WriteString(row("all of these", unseen))
	}
	text.WriteString(row(fmt.Sprintf("%d plain bars, as beams", len(worlds.Bars())), bars))
	if !write {
		_, err := fmt.Print(text.String())
		return err
	}
	return intoPage("docs/evidence.md", "worlds", text.String())
}

// told says how far the worlds are.
func told(what string) func(int) {
	return func(k int) { fmt.Fprintf(os.Stderr, "\r%s: %d ", what, k) }
}

func row(name string, t worlds.Tally) string {
	return fmt.Sprintf("| %s | %d | %.1f | %.1f | %.1f | %d | %d | %d | %.2f | %.0f |\n", name, t.Worlds,
		100*t.Saving.Share(), 100*t.Ratio.Share(), 100*t.Safety.Share(), t.Swaps, t.Keeps, t.Checks,
		100*float64(t.Wrong())/float64(t.Firm()), 100*float64(t.WeighedChecks)/float64(t.Weighed))
}

// intoPage puts a text into a page between its marks.
func intoPage(page, name, text string) error {
	old, err := os.ReadFile(page)
	if err != nil {
		return err
	}
	out, err := evidence.Between(string(old), name, text)
	if err != nil {
		return fmt.Errorf("%s: %w", page, err)
	}
	return os.WriteFile(page, []byte(out), 0o644)
}
