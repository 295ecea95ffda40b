package swap

import (
	"fmt"

	"swapworth/mesh"
	"swapworth/quantity"
)

// mostTimesPart is how many times the largest side of the redesign a length may be
// that a person states of it: far more than any stock, strip or thickness, far less
// than what makes a grid or a stretched mesh of no use.
const mostTimesPart = 10

// checkLengths refuses lengths that have nothing to do with the part's own size.
func checkLengths(m Making, redesign *mesh.Mesh) error {
	largest := largestSide(redesign)
	type stated struct {
		flag string
		mm   float64
	}
	list := []stated{{"wall-stock", m.WallStock}, {"floor-stock", m.FloorStock}, {"origin-error", m.OriginError},
		{"plate-thickness", m.Plan.BlankThickness}}
	for _, n := range m.NotFaced {
		list = append(list, stated{"not-faced " + n.Name, n.Stock})
	}
	for _, l := range m.Lesser {
		if l.Trim != nil {
			list = append(list, stated{"trim " + l.Trim.Name, l.Trim.Stock})
		}
		if l.Drill != nil {
			list = append(list, stated{"drill", l.Drill.Diameter})
		}
	}
	if m.Bolted != nil {
		list = append(list, stated{"engagement", m.Bolted.Engagement})
	}
	for _, l := range list {
		if err := withinReach(l.flag, l.mm, largest); err != nil {
			return err
		}
	}
	return nil
}

// withinReach refuses a length that is out of all proportion to the largest side
// of a part, both in mm.
func withinReach(flag string, mm, largest float64) error {
	if mm <= mostTimesPart*largest {
		return nil
	}
	return fmt.Errorf("--%s %s mm: the largest side of the redesign is %s mm: expected at most %d times that",
		flag, quantity.Short(mm, 4), quantity.Short(largest, 4), mostTimesPart)
}

// largestSide returns the largest side of a mesh's box, mm.
func largestSide(m *mesh.Mesh) float64 {
	size := m.Bounds().Size()
	return max(size.X, size.Y, size.Z)
}
