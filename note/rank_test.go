package note

import (
	"strings"
	"testing"

	"swapworth/internal/golden"
	"swapworth/mesh"
	"swapworth/note/render"
	"swapworth/swap"
)

func TestEveryRedesignHasAColumnBestFirst(t *testing.T) {
	one, two := storedResult(t), storedResult(t)
	one.Verdict, one.New.File = swap.Swap, "parts/light.stl"
	two.Verdict, two.New.File = swap.Keep, "parts/heavy.stl"
	cases := make([]swap.Case, 2)
	for i, path := range []string{two.New.File, one.New.File} { // as they were named
		cases[i].New.Loaded = &mesh.Loaded{Path: path, SHA256: "hash of " + path}
	}
	doc := Rank(swap.Ranking{Old: one.Old, Redesigns: []swap.Result{one, two}}, cases)
	text := string(rendered(t, render.Terminal, doc))
	if !strings.HasPrefix(text, "Best of 2: light.stl. Verdict: swap\n") {
		t.Errorf("the best does not come first:\n%s", text)
	}
	table := rankTable(swap.Ranking{Old: one.Old, Redesigns: []swap.Result{one, two}})
	if got := strings.Join(table.Header, "|"); got != "|stock part|light.stl|heavy.stl" {
		t.Errorf("the columns are %s", got)
	}
	for _, r := range table.Rows {
		if len(r) != 4 {
			t.Errorf("row %q has %d cells", r[0], len(r))
		}
	}
	golden.Check(t, "rank_table.txt", []byte(text))
	markdown := string(rendered(t, render.Markdown, doc))
	if a, b := strings.Index(markdown, "hash of parts/light.stl"), strings.Index(markdown, "hash of parts/heavy.stl"); a < 0 || b < a {
		t.Errorf("the files are not listed in the order of the columns:\n%s", markdown)
	}
	for _, f := range []render.Format{render.HTML, render.PDF} {
		if len(rendered(t, f, doc)) < 1000 {
			t.Errorf("%v is empty", f)
		}
	}
}

func TestATableOfManyRedesignsIsDrawnInParts(t *testing.T) {
	var all []swap.Result
	for range 12 {
		all = append(all, storedResult(t))
	}
	text := string(rendered(t, render.Terminal, Rank(swap.Ranking{Old: all[0].Old, Redesigns: all}, []swap.Case{{New: swap.Side{Loaded: &mesh.Loaded{}}}})))
	if n := strings.Count(text, "\nverdict "); n < 2 {
		t.Errorf("the rows are named %d times, want once a part:\n%s", n, text)
	}
}

// What misses says what would do it, and a cost that was asked leads.
func TestARankingSaysWhatWouldDoAndWhatACostBuys(t *testing.T) {
	total, limit := 64.2, 80.0
	best := swap.Result{Verdict: swap.Swap, Cost: &swap.Cost{Total: &total, Currency: "EUR"}}
	best.New.File, best.Saving.Total.Nominal = "best.stl", 31
	miss := swap.Result{Verdict: swap.Keep, Needed: &swap.Needed{Says: []string{"about 2.1 mm thicker", "5 EUR cheaper"}}}
	miss.New.File = "miss.stl"
	r := swap.Ranking{Redesigns: []swap.Result{best, miss}, Goal: swap.Lighter, MaxCost: &limit,
		Refused: []swap.Refused{{File: "parts/blank.stl", Why: "--fix hole:1: it has no match"}}}
	if lead := ShortRank(r).Lead; lead[len(lead)-1].Text != "Not compared: blank.stl: --fix hole:1: it has no match." {
		t.Errorf("led by %v", lead)
	}
	if got := withinCost(r); len(got) != 1 || got[0].Text != "Largest saving within a cost of 80 EUR: 31.0 g in all for 64.2 EUR." {
		t.Errorf("led by %v", got)
	}
	if got := needs(miss); len(got) != 1 || got[0] != "What would do it: about 2.1 mm thicker, and 5 EUR cheaper" {
		t.Errorf("says %q", got)
	}
	if r.Redesigns[0] = miss; withinCost(r) != nil || needs(best) != nil {
		t.Error("a saving is promised of what is no swap, or a swap needs something")
	}
}
