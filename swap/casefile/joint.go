package casefile

import (
	"cmp"
	"errors"
	"fmt"

	"swapworth/materials"
	"swapworth/swap"
	"swapworth/swap/joint"
)

// defaultClass is the strength class of a bolt that nobody looked at: what a
// hardware shop sells (common practice).
const defaultClass = "8.8"

// bolted returns the joint to judge, nil where no bolt was named.
func (j Joint) bolted(table *materials.Table) (*swap.Bolted, error) {
	if j == (Joint{}) {
		return nil, nil
	}
	if j.Bolt == nil {
		return nil, errors.New("the joint needs its bolt: give --bolt, such as M5")
	}
	class, err := joint.ParseClass(defaultClass)
	if err != nil {
		return nil, err
	}
	b := &swap.Bolted{
		Thread: *j.Bolt, Class: given(j.Class, class), Hole: int(given(j.Hole, 0)),
		Engagement: float64(given(j.Engagement, 0)),
		Axial:      float64(given(j.Tension, 0)), Shear: float64(given(j.Shear, 0)),
		Repeats: given(j.Repeats, false), Ratio: float64(given(j.Ratio, 0)),
	}
	if b.Hole < 0 {
		return nil, fmt.Errorf("--bolt-hole %d: expected a number from 1", b.Hole)
	}
	if err := cmp.Or(notBelowZero("engagement", j.Engagement), notBelowZero("bolt-tension", j.Tension),
		notBelowZero("bolt-shear", j.Shear)); err != nil {
		return nil, err
	}
	if b.Ratio < -1 || b.Ratio > 1 {
		return nil, fmt.Errorf("--load-ratio %g: expected -1 (reversed) to 1 (steady)", b.Ratio)
	}
	if j.TappedIn != nil {
		m, err := table.Find(*j.TappedIn)
		if err != nil {
			return nil, fmt.Errorf("--tapped-in: %w", err)
		}
		b.TappedIn = &m
	}
	return b, nil
}
