package swap

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mass"
)

// slip is something that looks like a mistake in the files rather than a property of
// the parts: no verdict is firm before it is settled.
type slip struct {
	reason, next string
	unitOf       string // the part whose unit is in doubt, old or new; empty for none
}

// The factors between the units that STL files come in, with the unit that a file
// is in when it was read as mm and comes out that much too small.
var unitFactors = []struct {
	factor float64
	unit   string
}{{10, "cm"}, {25.4, "in"}, {1000, "m"}}

const (
	// alikeSides is how far the ratios of the three sides of two boxes may lie from one
	// factor for it to be a unit rather than a redesign: a plate may be made half or
	// twice as thick, but its outline stays.
	alikeSides = 1.12

	lightestPart = 0.1   // g: a nut of M2
	heaviestPart = 100e3 // g: more than two people lift
)

// slips looks for what a hurried person gets wrong: a unit, a file taken twice, two
// files in the wrong order.
func (s *situation) slips() []slip {
	var out []slip
	for _, find := range []func() *slip{s.unitsApart, s.noSuchPart, s.noSuchDensity, s.samePart, s.wrongOrder} {
		if found := find(); found != nil {
			out = append(out, *found)
		}
	}
	return out
}

// unitsApart compares the sides of both boxes, sorted: two of the three ratios near
// one factor between units.
func (s *situation) unitsApart() *slip {
	old, new := sortedSides(s.old.made.Mesh.Bounds().Size()), sortedSides(s.new.made.Mesh.Bounds().Size())
	for _, u := range unitFactors {
		larger, smaller := 0, 0
		for i := range old {
			if near(new[i]/old[i], u.factor) {
				larger++
			}
			if near(old[i]/new[i], u.factor) {
				smaller++
			}
		}
		switch {
		case larger >= 2:
			return &slip{
				fmt.Sprintf("The redesign is %s times as large as the stock part: one of the files is in another unit", number(new[2]/old[2])),
				fmt.Sprintf("Compare again with --old-unit %s, if the stock part's file is in %s", u.unit, u.unit), "old"}
		case smaller >= 2:
			return &slip{
				fmt.Sprintf("The stock part is %s times as large as the redesign: one of the files is in another unit", number(old[2]/new[2])),
				fmt.Sprintf("Compare again with --new-unit %s, if the redesign's file is in %s", u.unit, u.unit), "new"}
		}
	}
	return nil
}

func near(ratio, factor float64) bool {
	off := ratio / factor
	return off < alikeSides && off > 1/alikeSides
}

func sortedSides(size r3.Vec) []float64 {
	sides := []float64{size.X, size.Y, size.Z}
	slices.Sort(sides)
	return sides
}

// noSuchPart doubts a unit by what a part would weigh.
func (s *situation) noSuchPart() *slip {
	for side, in := range []partInputs{s.old.inputs(s.c.Old, s.c.Machine), s.new.inputs(s.c.New, s.c.Machine)} {
		computed := in.density.Nominal * in.volume.Nominal * 1e-6
		flag := [2]string{"--old-unit", "--new-unit"}[side]
		switch {
		case computed < lightestPart:
			return &slip{fmt.Sprintf("The %s would weigh %s g: its file is hardly in mm", sideName(side), number(computed)),
				fmt.Sprintf("Find out the unit of the %s's file and compare again with %s in, cm or m", sideName(side), flag), sideKey(side)}
		case computed > heaviestPart:
			return &slip{fmt.Sprintf("The %s would weigh %s kg: its unit is hardly right", sideName(side), number(computed/1000)),
				fmt.Sprintf("Find out the unit of the %s's file and compare again with %s", sideName(side), flag), sideKey(side)}
		}
	}
	return nil
}

// noSuchDensity doubts a unit by a weighed density that no material has, but that one
// has if the file is in another unit.
func (s *situation) noSuchDensity() *slip {
	for side, c := range []Side{s.c.Old, s.c.New} {
		if c.Weight == nil {
			continue
		}
		density := mass.DensityOf(c.Weight.Range(), s.part(side).volume)
		if len(fitting(mass.Identify(density, s.c.Table, c.Observed))) > 0 {
			continue
		}
		for _, u := range unitFactors {
			scale := 1 / (u.factor * u.factor * u.factor)
			if len(fitting(mass.Identify(density.Scale(scale), s.c.Table, c.Observed))) == 0 {
				continue
			}
			return &slip{
				fmt.Sprintf("The %s weighs what no material of its volume does, and would be %s g/cm3 if its file is in %s",
					sideName(side), number(density.Nominal*scale/1000), u.unit),
				fmt.Sprintf("Compare again with %s %s", [2]string{"--old-unit", "--new-unit"}[side], u.unit), sideKey(side)}
		}
	}
	return nil
}

// samePart says that nothing was changed, unless the same shape is meant to be cut from
// another material, or what the scale or a magnet says is the louder news.
func (s *situation) samePart() *slip {
	if s.c.New.Weight != nil || s.contradicted() {
		return nil
	}
	if o, n := s.c.Old.Material, s.c.New.Material; n != nil && (o == nil || o.Name != n.Name) {
		return nil
	}
	a, b := s.old.made.Mesh, s.new.loaded.Mesh
	if s.c.Old.Bar || len(a.Faces) != len(b.Faces) || !slices.Equal(a.Vertices, b.Vertices) || !slices.Equal(a.Faces, b.Faces) {
		return nil
	}
	return &slip{"Both files hold the same part", "Compare the stock part's file with the redesign's", ""}
}

// wrongOrder doubts the order of two files that fill one box, of which the second is
// the heavier and has less cut out of it.
func (s *situation) wrongOrder() *slip {
	old, new := sortedSides(s.old.made.Mesh.Bounds().Size()), sortedSides(s.new.made.Mesh.Bounds().Size())
	for i := range old {
		if math.Abs(new[i]/old[i]-1) > 0.01 {
			return nil
		}
	}
	if !s.c.Limits.lighter() || s.new.volume.Low <= 1.02*s.old.volume.High || len(s.old.made.Features.Faces) <= len(s.new.made.Features.Faces) {
		return nil
	}
	return &slip{
		fmt.Sprintf("The second part has %s %% more material in the same box, and less cut out of it: are the files in the wrong order?",
			number(100*(s.new.volume.Nominal/s.old.volume.Nominal-1))),
		"Name the stock part first and the redesign second", ""}
}
