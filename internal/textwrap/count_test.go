package textwrap

import "testing"

func TestACountHasItsNoun(t *testing.T) {
	for want, got := range map[string]string{
		"0 holes": Counted(0, "hole"), "1 hole": Counted(1, "hole"), "2 holes": Counted(2, "hole"), "1 pass": Counted(1, "pass"), "3 passes": Counted(3, "pass"),
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
