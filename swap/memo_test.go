package swap

import (
	"context"
	"testing"
)

// Somebody who gives up does not spoil the question for whoever asks it next, and what
// was found once is not looked for again.
func TestAnErrorIsNotRemembered(t *testing.T) {
	var m memo
	asked := 0
	ask := func(err error) (int, error) {
		return remembered(&m, question("one"), func() (int, error) { asked++; return asked, err })
	}
	if _, err := ask(context.Canceled); err == nil {
		t.Error("no error the first time")
	}
	for range 2 {
		if found, err := ask(nil); found != 2 || err != nil {
			t.Errorf("%d, %v; want what the second look found", found, err)
		}
	}
	if other, _ := remembered(&m, drift{1}, func() (string, error) { return "drift", nil }); other != "drift" {
		t.Errorf("another kind of question got %q", other)
	}
}
