package solid

import (
	"swapworth/materials"

	"gonum.org/v1/gonum/spatial/r3"
)

// Loads act together on several places. The zero value loads nothing.
type Loads struct {
	Force        r3.Vec  // N, shared by the places alike
	Moment       r3.Vec  // N mm, shared alike, each share about its place's centre
	Pressure     float64 // MPa, on every place in full, against the surface where above zero
	Acceleration r3.Vec  // m/s2, of the part and of what rides on it
	Masses       []Mass  // that ride along
}

// None reports whether nothing loads.
func (l Loads) None() bool {
	return l.Force == r3.Vec{} && l.Moment == r3.Vec{} && l.Pressure == 0 && l.Acceleration == r3.Vec{}
}

// At returns the load case of the loads on the given places.
func (l Loads) At(name string, places []Place) Case {
	c := Case{Name: name, Acceleration: l.Acceleration}
	if l.Acceleration != (r3.Vec{}) {
		c.Masses = l.Masses
	}
	if l.Force == (r3.Vec{}) && l.Moment == (r3.Vec{}) && l.Pressure == 0 {
		return c
	}
	share := 1 / float64(len(places))
	for _, p := range places {
		c.Loads = append(c.Loads, Load{
			Place: p, Force: r3.Scale(share, l.Force), Moment: r3.Scale(share, l.Moment), Pressure: l.Pressure,
		})
	}
	return c
}

// Locate finds every place of a problem on the body, without solving anything. It
// fails where one is not there, and for what Check refuses before it solves.
func (b *Body) Locate(e materials.Elastic, p Problem) error {
	if err := validate(e, p); err != nil {
		return err
	}
	return (&check{body: b, e: e, p: p}).locate()
}
