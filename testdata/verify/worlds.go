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

// runWorlds draws n worlds for plain bars and as many for unseen parts.
func runWorlds(ctx context.Context, n int, seed uint64, write bool) error {
	told := func(what string) func(int) {
		return func(k int) { fmt.Fprintf(os.Stderr, "\r%s: %d ", what, k) }
	}
	made, err := worlds.Parts(ctx, seed, pairs, told("pairs"))
	if err != nil {
		return err
	}
	var text strings.Builder
	text.WriteString("| parts | worlds | saving held, % | ratio held, % | safety held, % | swap | keep | check first | firm and wrong, % | weighed: check first, % |\n")
	text.WriteString("| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |\n")
	for _, set := range []struct {
		name  string
		pairs []worlds.Pair
	}{{fmt.Sprintf("%d plain bars, as beams", len(worlds.Bars())), worlds.Bars()}, {fmt.Sprintf("%d unseen parts of seed %d", len(made), seed), made}} {
		t, err := worlds.Run(ctx, set.pairs, n, seed, told(set.name))
		if err != nil {
			return err
		}
		fmt.Fprintf(&text, "| %s | %d | %.1f | %.1f | %.1f | %d | %d | %d | %.2f | %.0f |\n", set.name, t.Worlds,
			100*t.Saving.Share(), 100*t.Ratio.Share(), 100*t.Safety.Share(), t.Swaps, t.Keeps, t.Checks,
			100*float64(t.Wrong())/float64(t.Firm()), 100*float64(t.WeighedChecks)/float64(t.Weighed))
	}
	fmt.Fprintln(os.Stderr)
	if !write {
		_, err := fmt.Print(text.String())
		return err
	}
	return intoPage("docs/evidence.md", "worlds", text.String())
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
