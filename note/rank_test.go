package note

import (
	"strings"
	"testing"

	"swapworth/swap"
)

func TestEveryRedesignHasAColumnBestFirst(t *testing.T) {
	one, two := storedResult(t), storedResult(t)
	one.Verdict, one.New.File = swap.Swap, "parts/light.stl"
	two.Verdict, two.New.File = swap.Keep, "parts/heavy.stl"
	doc := Rank(swap.Ranking{Old: one.Old, Redesigns: []swap.Result{one, two}}, About{})
	text := string(rendered(t, Terminal, doc))
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
	golden(t, "rank_table.txt", []byte(text))
	for _, f := range []Format{HTML, PDF} {
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
	text := string(rendered(t, Terminal, Rank(swap.Ranking{Old: all[0].Old, Redesigns: all}, About{})))
	if n := strings.Count(text, "\nverdict "); n < 2 {
		t.Errorf("the rows are named %d times, want once a part:\n%s", n, text)
	}
}
