package worlds

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/asmade"
	"swapworth/swap"
)

// Bars returns pairs of plain bars, whose truth is a formula: mass b t L, stiffness of a
// cantilever 3 E I/L3 with I = b t3/12, stress at its root 6 F L/(b t2) (beam tables).
// They are compared as beams, which takes milliseconds.
func Bars() []Pair {
	type bar struct {
		length, width, thick float64
		alloy                string
	}
	var out []Pair
	for _, p := range []struct{ old, new bar }{
		{bar{120, 20, 5, "S235"}, bar{120, 20, 7, "6061-T6"}},
		{bar{120, 20, 6, "6061-T6"}, bar{120, 20, 5.5, "7075-T6"}},
		{bar{200, 25, 8, "304"}, bar{200, 25, 12, "6082-T6"}},
		{bar{150, 30, 10, "6082-T6"}, bar{150, 26, 10, "6082-T6"}},
	} {
		one := Pair{
			Name: fmt.Sprintf("bar %g x %g x %g %s, %g x %g x %g %s", p.old.length, p.old.width, p.old.thick, p.old.alloy,
				p.new.length, p.new.width, p.new.thick, p.new.alloy),
			OldAlloy: p.old.alloy, NewAlloy: p.new.alloy, Span: mesh.X, Along: mesh.Z, Method: swap.ByBeam,
		}
		one.Old, one.OldTruth = barOf(p.old.length, p.old.width, p.old.thick)
		one.New, one.NewTruth = barOf(p.new.length, p.new.width, p.new.thick)
		one.Force = 100 / one.NewTruth.Stress(0, 0) // MPa: a safety factor of 2.4 to 4.6
		out = append(out, one)
	}
	return out
}

func barOf(length, width, thick float64) (*mesh.Loaded, Piece) {
	m := mesh.Cuboid(r3.Vec{}, r3.Vec{X: length, Y: width, Z: thick})
	size := func(depth, outline float64) (l, b, t float64) {
		off := func(v, share float64) float64 {
			d, err := asmade.Medium.Deviation(v)
			if err != nil {
				panic(err) // the bars above have sizes that the class covers
			}
			return v + share*d
		}
		return off(length, outline), off(width, outline), off(thick, depth)
	}
	return &mesh.Loaded{Path: "bar.stl", Mesh: m, Triangles: len(m.Faces), Report: mesh.Check(m)}, Piece{
		Volume: func(depth, outline float64) float64 {
			l, b, t := size(depth, outline)
			return l * b * t
		},
		Stiffness: func(depth, outline float64) float64 {
			l, b, t := size(depth, outline)
			return b * t * t * t / (4 * l * l * l)
		},
		Stress: func(depth, outline float64) float64 {
			l, b, t := size(depth, outline)
			return 6 * l / (b * t * t)
		},
	}
}
