package solid

import (
	"errors"
	"fmt"
	"math"

	"swapworth/mesh"
	"swapworth/mesh/feature"

	"gonum.org/v1/gonum/spatial/r3"
)

// sameFeature is how far in mm the centres of one feature may lie apart when it is
// looked up again after a rigid motion: the rounding of float32 coordinates up to
// three metres, the largest part that is taken without a warning, tenfold.
const sameFeature = 10 * 3000.0 / (1 << 23)

// Carried returns a place of one part on the same part after a motion. Numbers of
// holes and rims follow coordinates, so they are looked up anew: from are the
// features of the part before the motion, to those after it. Ends and sections are
// those of the span after the motion. A box cannot turn out of the axes.
func (p Place) Carried(t mesh.Transform, from, to feature.Features) (Place, error) {
	switch p.kind {
	case washer, bore:
		if p.hole > len(from.Holes) {
			return p, fmt.Errorf("there are %d holes; fit lists them", len(from.Holes))
		}
		n, err := lookedUp(t.Apply(from.Holes[p.hole-1].Centre), to.Holes, func(h feature.Hole) r3.Vec { return h.Centre })
		return p.Numbered(n), err
	case rim:
		before, after := from.Rims(), to.Rims()
		if p.hole > len(before) {
			return p, fmt.Errorf("there are %d outer round walls that go fully round", len(before))
		}
		n, err := lookedUp(t.Apply(before[p.hole-1].Centre), after, func(r feature.Round) r3.Vec { return r.Centre })
		return p.Numbered(n), err
	case flatFace:
		p.point, p.normal = t.Apply(p.point), t.Turn(p.normal)
	case insideBox:
		return p.boxCarried(t)
	}
	return p, nil
}

// lookedUp returns the number, from 1, of the item that lies at a point.
func lookedUp[T any](at r3.Vec, items []T, centre func(T) r3.Vec) (int, error) {
	number, far := 0, math.Inf(1)
	for i, item := range items {
		if d := r3.Norm(r3.Sub(centre(item), at)); d < far {
			number, far = i+1, d
		}
	}
	if !(far < sameFeature) {
		return 0, errors.New("it is not found again after the part was moved")
	}
	return number, nil
}

func (p Place) boxCarried(t mesh.Transform) (Place, error) {
	const along = 1e-6 // sine of the least turn that counts
	for _, row := range t.Rotation {
		for _, c := range row {
			if a := math.Abs(c); a > along && a < 1-along {
				return p, errors.New("the part lies askew, and a box does not turn with it: name a face or a hole")
			}
		}
	}
	a, b := t.Apply(p.box.Min), t.Apply(p.box.Max)
	p.box = mesh.Box{
		Min: r3.Vec{X: min(a.X, b.X), Y: min(a.Y, b.Y), Z: min(a.Z, b.Z)},
		Max: r3.Vec{X: max(a.X, b.X), Y: max(a.Y, b.Y), Z: max(a.Z, b.Z)},
	}
	return p, nil
}
