package mesh

import (
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Band is the interval Low..High of a coordinate, in mm.
type Band struct{ Low, High float64 }

// Stretch returns the part with its extent along an axis changed to size mm.
// The low end stays where it is. What lies within a rigid band keeps its
// length, so that a cross hole stays round; everything between the bands is
// scaled by one common factor. It fails when the rigid bands leave nothing to
// scale, or when size is not larger than what they take.
func Stretch(m *Mesh, a Axis, size float64, rigid []Band) (*Mesh, error) {
	box := m.Bounds()
	low, high := a.Of(box.Min), a.Of(box.Max)
	bands := merged(rigid, low, high)
	kept := 0.0
	for _, b := range bands {
		kept += b.High - b.Low
	}
	free := high - low - kept
	if free <= 1e-9*(high-low) || size <= kept {
		return nil, fmt.Errorf("cannot make the part %g mm along %s: %g of its %g mm are taken by holes across", size, a, kept, high-low)
	}
	k := (size - kept) / free
	out := &Mesh{Vertices: make([]r3.Vec, len(m.Vertices)), Faces: slices.Clone(m.Faces)}
	for i, v := range m.Vertices {
		out.Vertices[i] = a.with(v, low+stretched(a.Of(v)-low, low, k, bands))
	}
	return out, nil
}

// stretched maps the distance d from the low end: 1:1 in a band, 1:k outside.
func stretched(d, low, k float64, bands []Band) float64 {
	rigid := 0.0
	for _, b := range bands {
		rigid += min(max(d-(b.Low-low), 0), b.High-b.Low)
	}
	return k*(d-rigid) + rigid
}

// merged clips bands to low..high and joins those that overlap.
func merged(bands []Band, low, high float64) []Band {
	sorted := slices.Clone(bands)
	slices.SortFunc(sorted, func(a, b Band) int {
		switch {
		case a.Low < b.Low:
			return -1
		case a.Low > b.Low:
			return 1
		}
		return 0
	})
	var out []Band
	for _, b := range sorted {
		b = Band{max(b.Low, low), min(b.High, high)}
		switch last := len(out) - 1; {
		case b.High <= b.Low:
		case last >= 0 && b.Low <= out[last].High:
			out[last].High = max(out[last].High, b.High)
		default:
			out = append(out, b)
		}
	}
	return out
}

// with returns v with its coordinate along the axis replaced.
func (a Axis) with(v r3.Vec, value float64) r3.Vec {
	switch a {
	case X:
		v.X = value
	case Y:
		v.Y = value
	default:
		v.Z = value
	}
	return v
}
