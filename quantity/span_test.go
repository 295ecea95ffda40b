package quantity

import (
	"strings"
	"testing"
)

func TestASpanIsReadWithItsUnitOnceOrTwice(t *testing.T) {
	for text, want := range map[string]Span[Hours]{
		"2..4h": {2, 4}, "2h..4h": {2, 4}, " 90min .. 3h ": {1.5, 3}, "30..90 min": {0.5, 1.5},
		"2.5h": {2.5, 2.5}, "1.5..2,5": {1.5, 2.5}, "3..3h": {3, 3},
	} {
		var got Span[Hours]
		if err := got.UnmarshalText([]byte(text)); err != nil || got != want {
			t.Errorf("%q: %v, %v; want %v", text, got, err, want)
		}
		var again Span[Hours]
		if err := again.UnmarshalText([]byte(got.String())); err != nil || again != got {
			t.Errorf("%q is written %q and read %v, %v", text, got, again, err)
		}
	}
	var load Span[Force]
	if err := load.UnmarshalText([]byte("15..25N")); err != nil || load != (Span[Force]{15, 25}) || load.Middle() != 20 {
		t.Errorf("15..25N: %v, %v", load, err)
	}
}

func TestASpanThatMakesNoSenseSaysWhatWasExpected(t *testing.T) {
	for text, want := range map[string]string{
		"4..2h": "lower bound first, as in 2h..4h", "2..4N": "expected a time such as", "..4h": "expected a time",
		"2..": "expected a time", "2..3..4h": "expected a time", "-1..2h": "cannot be negative", "": "expected a time", "2g..4h": "g",
	} {
		got := Span[Hours]{1, 1}
		if err := got.UnmarshalText([]byte(text)); err == nil || !strings.Contains(err.Error(), want) || got != (Span[Hours]{1, 1}) {
			t.Errorf("%q: %v, %v; want an error with %q", text, got, err, want)
		}
	}
}
