package swap

import (
	"context"
	"errors"
	"path/filepath"
	"testing"
	"time"

	"swapworth/materials"
	"swapworth/mesh"
)

// Whoever waits may leave at any moment; the work then ends within a second or two,
// however far it has come.
func TestADecisionEndsSoonAfterItsAskerLeft(t *testing.T) {
	if testing.Short() {
		t.Skip("seconds")
	}
	load := func(name string) *mesh.Loaded {
		l, err := mesh.Load(filepath.Join("..", "testdata", name), mesh.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	c := Case{Table: materials.Default(), Limits: DefaultLimits(), Count: 1}
	c.Old.Loaded, c.New.Loaded = load("arm_old.stl"), load("arm_new.stl")
	for _, after := range []time.Duration{0, 300 * time.Millisecond, time.Second} {
		ctx, leave := context.WithTimeout(t.Context(), after)
		start := time.Now()
		_, err := Decide(ctx, c)
		late := time.Since(start) - after
		leave()
		if err == nil {
			return // it was done before that
		}
		if !errors.Is(err, context.DeadlineExceeded) && !errors.Is(err, context.Canceled) {
			t.Errorf("left after %v: %v", after, err)
		}
		if late > 10*time.Second { // on a machine that others use too
			t.Errorf("left after %v, the work went on for %v", after, late)
		}
		t.Logf("left after %v: ended %v later", after, late)
	}
}
