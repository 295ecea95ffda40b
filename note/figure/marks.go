package figure

import (
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"swapworth/mesh"
)

// drawMarks writes the marks of a part seen from above, each where it covers
// least of the other marks, the round features and the cuts.
func (l viewLayout) drawMarks(c draw.Canvas, p PartView, point func(flatPoint) vg.Point) {
	small := label(7, figureInk)
	var taken []vg.Rectangle
	for _, m := range p.Marks {
		taken = append(taken, around(point(fromAbove.flat(m.At)), vg.Length(m.Radius*l.scale)))
	}
	for _, s := range p.Signs {
		taken = append(taken, around(point(fromAbove.flat(s.At)), holdSide/2))
	}
	for _, cut := range p.Cuts {
		if cut.Axis == mesh.X {
			x := point(flatPoint{u: cut.At}).X
			taken = append(taken, vg.Rectangle{Min: vg.Point{X: x - 0.5, Y: c.Min.Y}, Max: vg.Point{X: x + 0.5, Y: c.Max.Y}})
		}
	}
	for i, m := range p.Marks {
		at := leastCovering(taken, i, vg.Point{X: small.Width(m.Text), Y: 6}) // figures of 7 points, and a little
		taken = append(taken, at)
		c.SetColor(figurePaper)
		c.Fill(at.Path())
		c.FillText(small, at.Min, m.Text)
	}
}

// leastCovering returns where a text of the given size stands by the i-th of the
// taken places, which is its own and may be written into.
func leastCovering(taken []vg.Rectangle, i int, size vg.Point) vg.Rectangle {
	best, least := vg.Rectangle{}, vg.Length(-1)
	for _, at := range markPlaces(taken[i], size) {
		covered := vg.Length(0)
		for k, other := range taken {
			if k != i {
				covered += overlap(at, other)
			}
		}
		if least < 0 || covered < least {
			best, least = at, covered
		}
	}
	return best
}

// markPlaces lists where a text of the given size may stand by a round feature:
// in its middle if there is room, then beside it.
func markPlaces(round vg.Rectangle, size vg.Point) []vg.Rectangle {
	const gap = 1.5
	middle := vg.Point{X: (round.Min.X + round.Max.X) / 2, Y: (round.Min.Y + round.Max.Y) / 2}
	left, right := round.Min.X-gap-size.X, round.Max.X+gap
	below, above := round.Min.Y-gap-size.Y, round.Max.Y+gap
	x, y := middle.X-size.X/2, middle.Y-size.Y/2
	corners := []vg.Point{{X: right, Y: y}, {X: left, Y: y}, {X: x, Y: above}, {X: x, Y: below},
		{X: right, Y: above}, {X: right, Y: below}, {X: left, Y: above}, {X: left, Y: below}}
	if room := round.Max.X - round.Min.X; room > 1.8*max(size.X, size.Y) {
		corners = append([]vg.Point{{X: x, Y: y}}, corners...)
	}
	out := make([]vg.Rectangle, len(corners))
	for i, p := range corners {
		out[i] = vg.Rectangle{Min: p, Max: vg.Point{X: p.X + size.X, Y: p.Y + size.Y}}
	}
	return out
}

// around is the square around a circle.
func around(p vg.Point, radius vg.Length) vg.Rectangle {
	return vg.Rectangle{Min: vg.Point{X: p.X - radius, Y: p.Y - radius}, Max: vg.Point{X: p.X + radius, Y: p.Y + radius}}
}

// overlap is the area that two rectangles share, in square points.
func overlap(a, b vg.Rectangle) vg.Length {
	w := min(a.Max.X, b.Max.X) - max(a.Min.X, b.Min.X)
	h := min(a.Max.Y, b.Max.Y) - max(a.Min.Y, b.Min.Y)
	return max(w, 0) * max(h, 0)
}
