package asmade

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"swapworth/mesh"
	"swapworth/mesh/feature"
	"swapworth/mesh/reach"

	"gonum.org/v1/gonum/spatial/r3"
)

// Part is a drawn part with the features found in it.
type Part struct {
	Mesh     *mesh.Mesh
	Features feature.Features
	Square   feature.Square

	round []int32            // index into Features.Rounds for every face, -1 for one on none
	view  func() *reach.View // made when first asked for; nil in a part put together by hand
}

// Read finds what the variants need to know of a part.
func Read(m *mesh.Mesh) Part {
	f := feature.Find(m)
	p := Part{Mesh: m, Features: f, Square: feature.Axes(m, f.Faces), round: sureRounds(m, f)}
	p.view = sync.OnceValue(func() *reach.View { return reach.Look(p.Mesh, p.Features, p.Square) })
	return p
}

// View returns the part as a cutter sees it.
func (p Part) View() *reach.View {
	if p.view == nil {
		return reach.Look(p.Mesh, p.Features, p.Square)
	}
	return p.view()
}

// sureRounds returns the round of every face as far as it holds for faces that
// are to move along its radius. A chamfer in small triangles between two planes
// passes for an arc of a few chords; but only strips of the planes are in it,
// while the flats of a round wall lie in it whole. The first triangle of a chamfer
// around a bore may lie near enough to its wall too, but leans more than a facet.
func sureRounds(m *mesh.Mesh, f feature.Features) []int32 {
	const whole, fewest = 0.9, 2
	const leaning = 0.42 // sine of 25 degrees: a facet in 12 chords leans by 20
	skin := f.Skin
	out := make([]int32, len(m.Faces))
	area := func(g int32) float64 {
		a, b, c := m.Triangle(int(g))
		return r3.Norm(r3.Cross(r3.Sub(b, a), r3.Sub(c, a))) / 2
	}
	for g := range out {
		out[g] = -1
	}
	for id, r := range f.Rounds {
		within := map[int32]float64{}
		for _, g := range r.Faces {
			within[skin.Patch[g]] += area(g)
		}
		flats := 0
		for patch, share := range within {
			if share >= whole*skin.Patches[patch].Area {
				flats++
			}
		}
		for _, g := range r.Faces {
			patch := skin.Patch[g]
			if flats >= fewest && within[patch] >= whole*skin.Patches[patch].Area && math.Abs(r3.Dot(skin.Patches[patch].Normal, r.Axis)) < leaning {
				out[g] = int32(id)
			}
		}
	}
	return out
}

// Variant is the part as it would come off the mill.
type Variant struct {
	Name string // what was done differently, for a person
	Mesh *mesh.Mesh

	// Added is the volume over the drawn part's, mm3, negative for less. Error
	// bounds how far it may be off for the shape that Name describes; it is zero
	// where only planar faces and round walls moved.
	Added, Error float64

	Notes []string // what a person should know of how it was done
}

// Absent is the error of a variant that would be the part as drawn, for it has no
// such feature; it says which.
type Absent string

func (a Absent) Error() string { return string(a) }

// Unmade is the error of a departure that this mesh does not allow. AtMost bounds
// what it would have added, mm3.
type Unmade struct {
	Why    error
	AtMost float64
}

// Error is the reason.
func (u Unmade) Error() string { return u.Why.Error() }

// Unwrap is the reason, for package errors.
func (u Unmade) Unwrap() error { return u.Why }

// Side parses the name of a side of the part, such as +z or -x.
func Side(name string) (r3.Vec, error) {
	if len(name) == 2 && (name[0] == '+' || name[0] == '-') {
		if a, err := mesh.ParseAxis(name[1:]); err == nil {
			if name[0] == '-' {
				return r3.Scale(-1, a.Unit()), nil
			}
			return a.Unit(), nil
		}
	}
	return r3.Vec{}, fmt.Errorf("side %q: expected +x, -x, +y, -y, +z or -z", name)
}

// sideName is the inverse of Side where that is possible.
func sideName(d r3.Vec) string {
	for a := mesh.X; a <= mesh.Z; a++ {
		switch c := a.Of(d); {
		case c > 1-1e-9:
			return "+" + a.String()
		case c < -1+1e-9:
			return "-" + a.String()
		}
	}
	return fmt.Sprintf("(%.2f, %.2f, %.2f)", d.X, d.Y, d.Z)
}

// MillAxis returns the direction from which the part is milled first: of the
// directions in which it is square, the one along which most of what needs a
// cutter is seen, and of its two senses the one with more pocket floor.
func MillAxis(p Part) r3.Vec {
	v := p.View()
	best := v.Ways[v.Main()]
	back := r3.Scale(-1, best)
	if from, to := floors(Pockets(p, best)), floors(Pockets(p, back)); to > from || to == from && !slices.Contains(p.Square[:], best) {
		return back
	}
	return best
}

// floors returns the floor area of the pockets, mm2.
func floors(pockets []Pocket) float64 {
	sum := 0.0
	for _, p := range pockets {
		sum += p.Area
	}
	return sum
}
