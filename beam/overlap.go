package beam

import (
	"slices"

	"swapworth/beam/internal/gauss"
	"swapworth/mesh/cut"
)

// sharedArea is the area that two regions have in common, in mm2. Between the
// levels of their corners it is integrated with two points, which is exact where
// no side of one crosses a side of the other.
func sharedArea(a, b cut.Region) (area float64) {
	var levels []float64
	for _, r := range []cut.Region{a, b} {
		for _, loop := range r.Loops() {
			for _, v := range loop {
				levels = append(levels, v.Y)
			}
		}
	}
	slices.Sort(levels)
	levels = slices.Compact(levels)
	for i := 0; i+1 < len(levels); i++ {
		for _, g := range gauss.Two(levels[i], levels[i+1]) {
			area += g.W * common(chordsAt(a, g.X), chordsAt(b, g.X))
		}
	}
	return area
}

// chordsAt returns where a level line enters and leaves a region, in order.
func chordsAt(r cut.Region, y float64) []float64 {
	var at []float64
	for _, loop := range r.Loops() {
		for i, p := range loop {
			q := loop[(i+1)%len(loop)]
			if (p.Y > y) != (q.Y > y) {
				at = append(at, p.X+(q.X-p.X)*(y-p.Y)/(q.Y-p.Y))
			}
		}
	}
	slices.Sort(at)
	return at
}

// common is the length that two sets of intervals share.
func common(a, b []float64) (length float64) {
	for i, j := 0, 0; i+1 < len(a) && j+1 < len(b); {
		length += max(min(a[i+1], b[j+1])-max(a[i], b[j]), 0)
		if a[i+1] < b[j+1] {
			i += 2
		} else {
			j += 2
		}
	}
	return length
}

// apartFrom is the share of the smaller of two sections that lies outside the
// larger one.
func apartFrom(a, b *cutSection) float64 {
	return 1 - sharedArea(a.Region, b.Region)/min(a.Section.Area, b.Section.Area)
}
