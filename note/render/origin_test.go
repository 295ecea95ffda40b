package render

import "testing"

func TestACommandLineSplitsAgainAsItWas(t *testing.T) {
	got := CommandLine("swapworth", "compare", "it's old.stl", "new.stl", "--load=20 N")
	if want := `swapworth compare 'it'\''s old.stl' new.stl '--load=20 N'`; got != want {
		t.Errorf("got %s", got)
	}
}
