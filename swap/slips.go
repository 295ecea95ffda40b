package swap

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mass"
	"swapworth/materials"
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

// slipsOf looks for what a hurried person gets wrong: a unit, a file taken twice, two
// files in the wrong order.
func slipsOf(c Case, m measured) []slip {
	var out []slip
	for _, found := range []*slip{unitsApart(m), noSuchPart(m), noSuchDensity(c.Old, c.New, c.Table, m), samePart(c.Old, c.New, m), wrongOrder(c.Limits, m)} {
		if found != nil {
			out = append(out, *found)
		}
	}
	return out
}

// unitsApart compares the sides of both boxes, sorted: two of the three ratios near
// one factor between units.
func unitsApart(m measured) *slip {
	old, new := sortedSides(m.old.made.Mesh.Bounds().Size()), sortedSides(m.new.made.Mesh.Bounds().Size())
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
func noSuchPart(m measured) *slip {
	for side, p := range []part{m.old, m.new} {
		computed := p.known.density.Nominal * p.volume.Nominal * 1e-6
		flag := [2]string{"--old-unit", "--new-unit"}[side]
		switch {
		case computed < lightestPart:
			return &slip{fmt.Sprintf("The %s would weigh %s g: its file is hardly in mm", sideName(side), number(computed)),
				fmt.Sprintf("Find out the unit of the %s's file and compare again with %s in, cm or m", sideName(side), flag), sideKeys[side]}
		case computed > heaviestPart:
			return &slip{fmt.Sprintf("The %s would weigh %s kg: its unit is hardly right", sideName(side), number(computed/1000)),
				fmt.Sprintf("Find out the unit of the %s's file and compare again with %s", sideName(side), flag), sideKeys[side]}
		}
	}
	return nil
}

// noSuchDensity doubts a unit by a weighed density that no material has, but that one
// has if the file is in another unit.
func noSuchDensity(old, new Side, table *materials.Table, m measured) *slip {
	for side, of := range []Side{old, new} {
		if of.Weight == nil {
			continue
		}
		density := mass.DensityOf(of.Weight.Range(), []part{m.old, m.new}[side].volume)
		if len(fitting(mass.Identify(density, table, of.Observed))) > 0 {
			continue
		}
		for _, u := range unitFactors {
			scale := 1 / (u.factor * u.factor * u.factor)
			if len(fitting(mass.Identify(density.Scale(scale), table, of.Observed))) == 0 {
				continue
			}
			return &slip{
				fmt.Sprintf("The %s weighs what no material of its volume does, and would be %s g/cm3 if its file is in %s",
					sideName(side), number(density.Nominal*scale/1000), u.unit),
				fmt.Sprintf("Compare again with %s %s", [2]string{"--old-unit", "--new-unit"}[side], u.unit), sideKeys[side]}
		}
	}
	return nil
}

// samePart says that nothing was changed, unless the same shape is meant to be cut from
// another material, or what the scale or a magnet says is the louder news.
func samePart(old, new Side, m measured) *slip {
	if new.Weight != nil || contradicted(m.old.known, m.new.known) {
		return nil
	}
	if o, n := old.Material, new.Material; n != nil && (o == nil || o.Name != n.Name) {
		return nil
	}
	a, b := m.old.made.Mesh, m.new.loaded.Mesh
	if old.Bar || len(a.Faces) != len(b.Faces) || !slices.Equal(a.Vertices, b.Vertices) || !slices.Equal(a.Faces, b.Faces) {
		return nil
	}
	return &slip{"Both files hold the same part", "Compare the stock part's file with the redesign's", ""}
}

// wrongOrder doubts the order of two files that fill one box, of which the second is
// the heavier and has less cut out of it.
func wrongOrder(l Limits, m measured) *slip {
	old, new := sortedSides(m.old.made.Mesh.Bounds().Size()), sortedSides(m.new.made.Mesh.Bounds().Size())
	for i := range old {
		if math.Abs(new[i]/old[i]-1) > 0.01 {
			return nil
		}
	}
	if !l.lighter() || m.new.volume.Low <= 1.02*m.old.volume.High || len(m.old.made.Features.Faces) <= len(m.new.made.Features.Faces) {
		return nil
	}
	return &slip{
		fmt.Sprintf("The second part has %s %% more material in the same box, and less cut out of it: are the files in the wrong order?",
			number(100*(m.new.volume.Nominal/m.old.volume.Nominal-1))),
		"Name the stock part first and the redesign second", ""}
}

// contradicted reports whether something was seen or weighed of a part that what it is
// said to be cannot show.
func contradicted(old, new knowledge) bool { return old.contradiction != "" || new.contradiction != "" }
