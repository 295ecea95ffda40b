package grid

import (
	"cmp"
	"math"
	"slices"
)

// Wishes are coordinates at which places want grid lines: firm ones where they
// begin and end, soft ones around a flat face, which are left out where another
// line is close. The slots are those of the part.
type Wishes struct {
	Firm, Soft [3][]float64
	Slots      [3][]Slot
	Stretch    [3]float64 // how much longer cells may be along an axis
}

// bridged is the width of a slot in cells below which no cell need lie wholly in
// it: between lines one cell apart one and three quarters fit for certain, for a
// line may be moved by a seventh of a cell at either wall.
const bridged = 1.75

// Fit lays a grid with cells of about a size in mm, longer where that is wished,
// into the box of the surface.
// Lines go through the ends of the box, through the wanted coordinates (the
// edges of places), and through flat faces, the largest first, unless a line
// is nearer than a seventh of a cell, a twelfth for a large face. Both walls of a
// slot that cells could bridge have their lines however near these are.
func Fit(s *Surface, flats [3][]Plane, wanted Wishes, size float64) *Grid {
	g := &Grid{}
	for a := range 3 {
		h := size * wanted.Stretch[a]
		fixed := []float64{s.Low[a], s.High[a]}
		add := func(v, gap float64) {
			if v <= s.Low[a] || v >= s.High[a] {
				return
			}
			for _, w := range fixed {
				if math.Abs(v-w) < gap {
					return
				}
			}
			fixed = append(fixed, v)
		}
		byArea := slices.Clone(flats[a])
		slices.SortStableFunc(byArea, func(p, q Plane) int { return cmp.Compare(q.Area, p.Area) })
		for _, v := range wanted.Slots[a] {
			if v.Hi-v.Lo < bridged*h {
				add(v.Lo, narrowest*s.Tol/2)
				add(v.Hi, narrowest*s.Tol/2)
			}
		}
		for _, v := range wanted.Firm[a] {
			add(v, 10*s.Tol)
		}
		for _, v := range wanted.Soft[a] {
			add(v, h/12)
		}
		for _, p := range byArea {
			switch {
			case p.Area >= 2*h*h:
				add(p.At, h/12)
			case p.Area >= 0.25*h*h:
				add(p.At, h/7)
			}
		}
		slices.Sort(fixed)
		var counts []int
		for i := 1; i < len(fixed); i++ {
			counts = append(counts, max(1, int(math.Round((fixed[i]-fixed[i-1])/h))))
		}
		g.SetAxis(a, fixed, counts)
	}
	return g
}
