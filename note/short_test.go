package note

import (
	"fmt"
	"strings"
	"testing"

	"github.com/clipperhouse/displaywidth"

	"swapworth/note/render"
	"swapworth/quantity"
	"swapworth/swap"
	"swapworth/swap/last"
)

// crowded is a result that says all that a result can say, and every text at length.
func crowded(t *testing.T, cases int) swap.Result {
	t.Helper()
	r := storedResult(t)
	long := strings.Repeat("something at 12.5 mm that would change the answer and is told at length ", 6)
	value := 12.5
	ratio := swap.Range{Low: 0.95, Nominal: 0.968, High: 0.998}
	r.Stiffness = nil
	for i := range cases {
		r.Stiffness = append(r.Stiffness, swap.Stiffness{Case: fmt.Sprintf("case number %d with a name of many words", i), Direction: "z",
			Old: &value, New: &value, Ratio: &ratio, OldDeflection: &value, NewDeflection: &value, OldSafetyFactor: &value, NewSafetyFactor: &value})
	}
	for i := range 8 {
		r.Reasons = append(r.Reasons, fmt.Sprint("reason ", i, ": ", long))
		r.Warnings = append(r.Warnings, fmt.Sprint("warning ", i, ": ", long))
		r.Lasting = append(r.Lasting, last.Finding{Part: last.Redesign, Says: fmt.Sprint("finding ", i, ": ", long), Why: long, Change: long})
	}
	if r.Fit == nil {
		r.Fit = &swap.Fit{}
	}
	r.Fit.Blocking = []string{long}
	r.Remembered = &swap.Remembered{File: "machine.toml", Fields: []string{"moving-mass 1200g", "hourly-value 25", "drive-limited force"}}
	r.NextStep = "Weigh the stock part with all hardware off on a scale that resolves 1 g or better, and give --old-weight; it decides between steel and aluminium."
	return r
}

func TestTheShortAnswerFitsOneScreenWhateverThereIsToSay(t *testing.T) {
	for _, units := range []quantity.System{quantity.Metric, quantity.Imperial} {
		for _, cases := range []int{1, 3, 8} {
			r := crowded(t, cases)
			r.Units = units
			text := string(rendered(t, render.Terminal, Short(r)))
			if n := strings.Count(text, "\n"); n > 45 || n < 30 {
				t.Errorf("%v, %d load cases: %d lines:\n%s", units, cases, n, text)
			}
			for _, line := range strings.Split(text, "\n") {
				if displaywidth.String(line) > 80 {
					t.Errorf("%d columns: %s", displaywidth.String(line), line)
				}
			}
			for _, want := range []string{"Verdict", "warning 0", "Next step", "From your machine file"} {
				if !strings.Contains(text, want) {
					t.Errorf("%v, %d load cases: no %q in\n%s", units, cases, want, text)
				}
			}
		}
	}
}

// What a screen of a terminal has no room for stands whole on the page.
func TestNothingIsCutOnThePage(t *testing.T) {
	r := crowded(t, 1)
	r.Warnings = []string{strings.Repeat("the longest warning of all ", 20) + "ends here"}
	for name, doc := range map[string]render.Document{"terminal": Short(r), "page": OnPage(r)} {
		text := strings.Join(strings.Fields(string(rendered(t, render.Terminal, doc))), " ")
		if whole := strings.Contains(text, "ends here"); whole != (name == "page") {
			t.Errorf("%s: the warning stands whole: %v", name, whole)
		}
	}
}
