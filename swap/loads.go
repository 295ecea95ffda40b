package swap

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/beam"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/solid"
)

// Method names how stiffness is found.
type Method string

// The methods: three-dimensional elasticity on the part itself, refined only as
// far as the answer needs; the same at the full budget; and beam theory on cuts
// of the part.
const (
	Auto    Method = "auto"
	BySolid Method = "solid"
	ByBeam  Method = "beam"
)

// Loading is how the parts are held and loaded.
type Loading struct {
	Span         *mesh.Axis // nil: the longest side of the stock part's box
	Along        []mesh.Axis
	Support      *beam.Support // nil: cantilever
	Force        float64       // N
	ForceRange   *Range        // N, around Force; nil: exactly that
	AttachedMass float64       // g
	Method       Method

	Places // of every case that names none of its own
	Loads  // beside a force along an axis
	Cases  []LoadCase
}

// Size is the force along an axis as a range, in N; zero where nobody said.
func (l Loading) Size() Range {
	if l.ForceRange != nil {
		return *l.ForceRange
	}
	return materials.Exactly(l.Force)
}

// Places are where a part is held and loaded, in the words of solid.ParsePlace:
// Fix and LoadAt on the stock part, in its file; NewFix and NewLoadAt on the
// redesign, in its own file, where its place cannot be found from the stock
// part's or is another one. An empty list was not given.
type Places struct {
	Fix, LoadAt       []string
	NewFix, NewLoadAt []string
}

// none reports whether no place was named.
func (p Places) none() bool {
	return len(p.Fix) == 0 && len(p.LoadAt) == 0 && len(p.NewFix) == 0 && len(p.NewLoadAt) == 0
}

// over returns the places with those of base where a list was not given.
func (p Places) over(base Places) Places {
	pick := func(own, usual []string) []string {
		if len(own) > 0 {
			return own
		}
		return usual
	}
	if len(p.Fix) == 0 { // what the base says of the redesign belongs to its own places
		p.NewFix = pick(p.NewFix, base.NewFix)
	}
	if len(p.LoadAt) == 0 {
		p.NewLoadAt = pick(p.NewLoadAt, base.NewLoadAt)
	}
	p.Fix, p.LoadAt = pick(p.Fix, base.Fix), pick(p.LoadAt, base.LoadAt)
	return p
}

// Loads are the loads of a case, by the stock part's axes. The zero value loads
// nothing.
type Loads struct {
	Force, Moment r3.Vec  // N, N mm: shared by the loaded places
	Pressure      float64 // MPa, on each of them
	Acceleration  r3.Vec  // m/s2, of the whole part
	Riders        []Rider
}

// turned returns the loads by the axes that a motion brings the file's to.
func (l Loads) turned(t mesh.Transform) Loads {
	l.Force, l.Moment, l.Acceleration = t.Turn(l.Force), t.Turn(l.Moment), t.Turn(l.Acceleration)
	return l
}

// Rider is a mass in g that the part carries along at a place.
type Rider struct {
	Place string
	Grams float64
}

func (l Loads) none() bool { return l.solid(nil).None() }

func (l Loads) solid(riding []solid.Mass) solid.Loads {
	return solid.Loads{Force: l.Force, Moment: l.Moment, Pressure: l.Pressure, Acceleration: l.Acceleration, Masses: riding}
}

// name says what acts, for loads that were given no name.
func (l Loads) name() string {
	out := ""
	for _, one := range []struct {
		given bool
		name  string
	}{
		{l.Force != r3.Vec{}, "force"}, {l.Moment != r3.Vec{}, "moment"},
		{l.Pressure != 0, "pressure"}, {l.Acceleration != r3.Vec{}, "acceleration"},
	} {
		if one.given && out != "" {
			out += " + "
		}
		if one.given {
			out += one.name
		}
	}
	return out
}

// LoadCase is a named way of holding and loading both parts. Places that it does
// not name are those of Loading.
type LoadCase struct {
	Name string
	Places
	Loads
}

// named reports whether the loads are all stated, so that no direction is assumed.
func (l Loading) named() bool {
	return (!l.Loads.none() || len(l.Cases) > 0) && l.Force == 0
}

// supportOpen reports whether some case is held at the ends of the span in a way
// that nobody stated.
func (l Loading) supportOpen() bool {
	return l.Support == nil && l.some(func(p Places) bool { return len(p.Fix) == 0 })
}

// usesEnds reports whether the span matters to some case.
func (l Loading) usesEnds() bool {
	return l.some(func(p Places) bool { return len(p.Fix) == 0 || len(p.LoadAt) == 0 })
}

// some reports whether the places of any case are so.
func (l Loading) some(so func(Places) bool) bool {
	if len(l.Cases) == 0 || !l.Loads.none() || l.Force > 0 || len(l.Along) > 0 {
		if so(l.Places) {
			return true
		}
	}
	return slices.ContainsFunc(l.Cases, func(c LoadCase) bool { return so(c.Places.over(l.Places)) })
}
