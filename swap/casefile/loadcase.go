package casefile

import (
	"errors"
	"fmt"
	"maps"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/quantity"
	"swapworth/swap"
)

// LoadCase is a named set of loads that act together, with the places it acts on
// and is held at; places that are left out are those of Load.
type LoadCase struct {
	Name         string                       `toml:"name"`
	Fix          []string                     `toml:"fix,omitempty"`
	LoadAt       []string                     `toml:"load-at,omitempty"`
	NewFix       []string                     `toml:"new-fix,omitempty"`
	NewLoadAt    []string                     `toml:"new-load-at,omitempty"`
	Force        *quantity.ForceVector        `toml:"force"`
	Moment       *quantity.MomentVector       `toml:"moment"`
	Pressure     *quantity.Stress             `toml:"pressure"`
	Acceleration *quantity.AccelerationVector `toml:"acceleration"`
	Masses       map[string]quantity.Mass     `toml:"masses"` // that ride along, by place
}

func (c LoadCase) loadCase() swap.LoadCase {
	out := swap.LoadCase{
		Name:   c.Name,
		Places: swap.Places{Fix: c.Fix, LoadAt: c.LoadAt, NewFix: c.NewFix, NewLoadAt: c.NewLoadAt},
		Loads:  loads(c.Force, c.Moment, c.Pressure, c.Acceleration),
	}
	for _, place := range slices.Sorted(maps.Keys(c.Masses)) {
		out.Riders = append(out.Riders, swap.Rider{Place: place, Grams: float64(c.Masses[place])})
	}
	return out
}

func loads(force *quantity.ForceVector, moment *quantity.MomentVector, pressure *quantity.Stress, acceleration *quantity.AccelerationVector) swap.Loads {
	return swap.Loads{
		Force: r3.Vec(given(force, quantity.ForceVector{})), Moment: r3.Vec(given(moment, quantity.MomentVector{})),
		Pressure:     float64(given(pressure, 0)),
		Acceleration: r3.Vec(given(acceleration, quantity.AccelerationVector{})),
	}
}

// sizeOf returns the size of a load, N, and its bounds where it has some; its sign
// changes no size.
func sizeOf(s *quantity.Span[quantity.Force]) (float64, *swap.Range) {
	if s == nil {
		return 0, nil
	}
	size := *within(s)
	if size.Nominal < 0 {
		size = size.Scale(-1)
	}
	if size.Low == size.High {
		return size.Nominal, nil
	}
	return size.Nominal, &size
}

// loading returns how the parts are held and loaded, with the named cases.
func (f File) loading() (swap.Loading, error) {
	l := f.Load
	force, open := sizeOf(l.Force)
	out := swap.Loading{
		Span: l.Span, Along: l.Along, Support: l.Support,
		Force: force, ForceRange: open,
		AttachedMass: float64(given(l.AttachedMass, 0)),
		Method:       swap.Method(given(l.Check, string(swap.Auto))),
		Places:       swap.Places{Fix: l.Fix, LoadAt: l.LoadAt, NewFix: l.NewFix, NewLoadAt: l.NewLoadAt},
		Loads:        loads(l.ForceVector, l.Moment, l.Pressure, l.Acceleration),
	}
	if len(l.LoadAt) > 0 && out.AttachedMass > 0 {
		out.Riders = []swap.Rider{{Place: l.LoadAt[0], Grams: out.AttachedMass}}
	}
	for _, c := range f.LoadCases {
		out.Cases = append(out.Cases, c.loadCase())
	}
	switch {
	case l.Force != nil && (l.Force.Low == 0 || l.Force.High == 0 || (l.Force.Low < 0) != (l.Force.High < 0)):
		return out, fmt.Errorf("--load %s: expected a force other than zero", *l.Force)
	case l.ForceVector != nil && (l.Force != nil || len(l.Along) > 0):
		return out, errors.New("--force and --load or --load-along exclude each other: --force names axis and size at once")
	case out.Method != swap.Auto && out.Method != swap.ByBeam && out.Method != swap.BySolid:
		return out, fmt.Errorf("--check %q: expected auto, beam or solid", out.Method)
	case l.Support != nil && len(l.Fix) > 0:
		return out, errors.New("--fix and --support exclude each other: the places that are fixed hold the part")
	}
	return out, nil
}
