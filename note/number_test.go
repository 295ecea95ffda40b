package note

import (
	"testing"

	"swapworth/materials"
)

func TestIntervalsAreRoundedForReading(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{optional(nil, 3), missing},
		{interval(materials.Range{Low: 61.9, Nominal: 64.5, High: 67.25}, 3), "64.5 (61.9\u00a0to\u00a067.2)"},
		{interval(materials.Exactly(2), 3), "2.00"},
		{interval(materials.Range{Low: -1.234, Nominal: 0.5, High: 12.34}, 3), "0.5 (-1.2\u00a0to\u00a012.3)"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func TestAWordLongerThanItsRoomIsCutItself(t *testing.T) {
	for text, want := range map[string]string{"carbon-fibre plate": "carbon-fibre ...", "17-4PH condition A": "17-4PH ...", "6061-T6": "6061-T6"} {
		if got := clipped(text, 16); got != want {
			t.Errorf("%q is clipped to %q, want %q", text, got, want)
		}
	}
}
