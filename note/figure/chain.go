package figure

import (
	"cmp"
	"math"
	"slices"
)

// chains joins lines that share ends into long ones, so that an edge which the
// mesh splits is drawn as one stroke. Ends within half a pixel are the same.
func chains(lines []flatLine, pixel float64) [][]flatPoint {
	lines = distinct(lines, pixel)
	at := map[[2]int64][]int{} // lines by the places of their ends
	for i, l := range lines {
		for _, p := range []flatPoint{l.a, l.b} {
			k := gridCell(p, pixel)
			at[k] = append(at[k], i)
		}
	}
	used := make([]bool, len(lines))
	// next takes an unused line that touches the end p and returns its other end.
	next := func(p flatPoint) (flatPoint, bool) {
		k := gridCell(p, pixel)
		for _, i := range at[k] {
			if used[i] {
				continue
			}
			used[i] = true
			if gridCell(lines[i].a, pixel) == k {
				return lines[i].b, true
			}
			return lines[i].a, true
		}
		return flatPoint{}, false
	}
	var out [][]flatPoint
	for i, l := range lines {
		if used[i] {
			continue
		}
		used[i] = true
		forth, back := []flatPoint{l.b}, []flatPoint{l.a}
		for p, ok := next(l.b); ok; p, ok = next(p) {
			forth = append(forth, p)
		}
		for p, ok := next(l.a); ok; p, ok = next(p) {
			back = append(back, p)
		}
		slices.Reverse(back)
		out = append(out, straighten(append(back, forth...), pixel/8))
	}
	return out
}

// distinct leaves out lines whose ends are those of an earlier one: the walls of
// a hole, seen along it, lie on top of each other.
func distinct(lines []flatLine, pixel float64) []flatLine {
	seen := map[[4]int64]bool{}
	var out []flatLine
	for _, l := range lines {
		a, b := gridCell(l.a, pixel), gridCell(l.b, pixel)
		if a[0] > b[0] || a[0] == b[0] && a[1] > b[1] {
			a, b = b, a
		}
		key := [4]int64{a[0], a[1], b[0], b[1]}
		if a != b && !seen[key] {
			seen[key] = true
			out = append(out, l)
		}
	}
	return out
}

// gridCell is the cell of a grid of half pixels that a point falls into.
func gridCell(p flatPoint, pixel float64) [2]int64 {
	return [2]int64{int64(math.Round(2 * p.u / pixel)), int64(math.Round(2 * p.v / pixel))}
}

// straighten leaves out the points that lie within tol of the line without them
// (Douglas and Peucker, 1973).
func straighten(points []flatPoint, tol float64) []flatPoint {
	if len(points) < 3 {
		return points
	}
	first, last := points[0], points[len(points)-1]
	far, split := tol, -1
	for i, p := range points[1 : len(points)-1] {
		if d := distanceToLine(p, first, last); d > far {
			far, split = d, i+1
		}
	}
	if split < 0 {
		return []flatPoint{first, last}
	}
	left := straighten(points[:split+1], tol)
	return append(left[:len(left)-1:len(left)-1], straighten(points[split:], tol)...)
}

// distanceToLine is the distance of p to the stretch from a to b.
func distanceToLine(p, a, b flatPoint) float64 {
	du, dv := b.u-a.u, b.v-a.v
	length2 := du*du + dv*dv
	t := 0.0
	if length2 > 0 {
		t = min(max(((p.u-a.u)*du+(p.v-a.v)*dv)/length2, 0), 1)
	}
	return math.Hypot(p.u-a.u-t*du, p.v-a.v-t*dv)
}

// tracing remembers the pixels that lines of a view have passed.
type tracing struct {
	*depthImage
	passed []bool
}

func newTracing(d *depthImage) *tracing {
	return &tracing{d, make([]bool, d.width*d.height)}
}

// shortestRun is the least length of a line beside which no other runs, in
// pixels; overrun is by how much it is drawn on, so that it meets the others.
const shortestRun, overrun = 4, 2

// fresh returns the stretches of lines that do not run along others, the nearest
// first.
func (t *tracing) fresh(lines [][]flatPoint) [][]flatPoint {
	slices.SortStableFunc(lines, func(a, b []flatPoint) int { return cmp.Compare(nearness(b), nearness(a)) })
	var out [][]flatPoint
	for _, l := range lines {
		steps := t.steps(l)
		alone := make([]bool, len(steps))
		var drawn []flatPoint
		for i, p := range steps {
			alone[i] = !t.nearPassed(t.pixelOf(p))
		}
		for from := 0; from < len(steps); from++ {
			to := from
			for to < len(steps) && alone[to] {
				to++
			}
			if to-from >= min(shortestRun, len(steps)) {
				first, last := max(from-overrun, 0), min(to+overrun, len(steps))
				out = append(out, straighten(steps[first:last], t.pixel/8))
				drawn = append(drawn, steps[first:last]...)
			}
			from = to
		}
		for _, p := range drawn {
			column, row := t.pixelOf(p)
			t.passed[row*t.width+column] = true
		}
	}
	return out
}

func nearness(line []flatPoint) float64 {
	most := math.Inf(-1)
	for _, p := range line {
		most = max(most, p.near)
	}
	return most
}

// steps lists points along a line, about a pixel apart, its corners included.
func (t *tracing) steps(line []flatPoint) []flatPoint {
	out := []flatPoint{line[0]}
	for i := range line[1:] {
		a, b := line[i], line[i+1]
		n := max(1, int(math.Hypot(b.u-a.u, b.v-a.v)/t.pixel))
		for k := range n {
			s := float64(k+1) / float64(n)
			out = append(out, flatPoint{a.u + s*(b.u-a.u), a.v + s*(b.v-a.v), a.near + s*(b.near-a.near)})
		}
	}
	return out
}

func (t *tracing) pixelOf(p flatPoint) (column, row int) {
	return clampIndex((p.u-t.u0)/t.pixel, t.width), clampIndex((p.v-t.v0)/t.pixel, t.height)
}

// nearPassed reports whether a line passed this pixel or one beside it.
func (t *tracing) nearPassed(column, row int) bool {
	for y := max(row-1, 0); y <= min(row+1, t.height-1); y++ {
		for x := max(column-1, 0); x <= min(column+1, t.width-1); x++ {
			if t.passed[y*t.width+x] {
				return true
			}
		}
	}
	return false
}
