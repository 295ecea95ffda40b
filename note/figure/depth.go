package figure

import (
	"math"

	"swapworth/mesh"
)

// depthPixels is the number of pixels along the longer side of a view: finer
// than a printed line is wide.
const depthPixels = 600

// depthImage holds for every pixel of a view how near the nearest face is.
type depthImage struct {
	width, height int
	pixel         float64 // mm
	u0, v0        float64 // lower left corner, mm
	near          []float64
}

func newDepthImage(m *mesh.Mesh, e eye) *depthImage {
	box := m.Bounds()
	d := &depthImage{}
	d.cover(e.flat(box.Min), e.flat(box.Max), depthPixels)
	for f := range m.Faces {
		a, b, c := m.Triangle(f)
		d.fill(e.flat(a), e.flat(b), e.flat(c))
	}
	return d
}

// cover lays empty pixels over the plane between two corners, so many along the longer
// side.
func (d *depthImage) cover(low, high flatPoint, pixels float64) {
	wide, tall := high.u-low.u, high.v-low.v
	d.pixel, d.u0, d.v0 = max(wide, tall, 1e-9)/pixels, low.u, low.v
	d.width, d.height = int(wide/d.pixel)+1, int(tall/d.pixel)+1
	d.near = make([]float64, d.width*d.height)
	for i := range d.near {
		d.near[i] = math.Inf(-1)
	}
}

// fill enters one triangle.
func (d *depthImage) fill(a, b, c flatPoint) {
	d.scan(a, b, c, func(i int, near, _, _ float64) { d.near[i] = max(d.near[i], near) })
}

// scan visits every pixel i whose middle (u, v) a triangle covers, with how near its
// plane is there and the shares that its corners b and c have of the point.
func (d *depthImage) scan(a, b, c flatPoint, visit func(i int, near, wb, wc float64)) {
	area := doubleArea(a, b, c)
	if area == 0 {
		return // seen edge-on
	}
	first, last := d.columns(min(a.u, b.u, c.u), max(a.u, b.u, c.u))
	bottom, top := d.rows(min(a.v, b.v, c.v), max(a.v, b.v, c.v))
	for row := bottom; row <= top; row++ {
		v := d.v0 + (float64(row)+0.5)*d.pixel
		for column := first; column <= last; column++ {
			u := d.u0 + (float64(column)+0.5)*d.pixel
			wb := ((u-a.u)*(c.v-a.v) - (c.u-a.u)*(v-a.v)) / area
			wc := ((b.u-a.u)*(v-a.v) - (u-a.u)*(b.v-a.v)) / area
			if wb < 0 || wc < 0 || wb+wc > 1 {
				continue
			}
			visit(row*d.width+column, a.near+wb*(b.near-a.near)+wc*(c.near-a.near), wb, wc)
		}
	}
}

// doubleArea is twice the area of a triangle in the view, below zero where it is turned
// away.
func doubleArea(a, b, c flatPoint) float64 { return (b.u-a.u)*(c.v-a.v) - (c.u-a.u)*(b.v-a.v) }

func (d *depthImage) columns(from, to float64) (first, last int) {
	return clampIndex((from-d.u0)/d.pixel-0.5, d.width), clampIndex((to-d.u0)/d.pixel+0.5, d.width)
}

func (d *depthImage) rows(from, to float64) (first, last int) {
	return clampIndex((from-d.v0)/d.pixel-0.5, d.height), clampIndex((to-d.v0)/d.pixel+0.5, d.height)
}

// covers reports whether a face hides the point: it does where it is nearer all
// around, so that an edge is not hidden by the faces it belongs to.
func (d *depthImage) covers(p flatPoint) bool {
	column, row := int((p.u-d.u0)/d.pixel), int((p.v-d.v0)/d.pixel)
	for y := row - 1; y <= row+1; y++ {
		for x := column - 1; x <= column+1; x++ {
			if x < 0 || y < 0 || x >= d.width || y >= d.height {
				return false
			}
			if d.near[y*d.width+x] <= p.near+2*d.pixel {
				return false
			}
		}
	}
	return true
}

// edgeRun is a stretch of an edge that is seen, or hidden, all along.
type edgeRun struct {
	line flatLine
	seen bool
}

// runs divides an edge where it passes behind a face, to about two pixels.
func (d *depthImage) runs(a, b flatPoint) []edgeRun {
	length := math.Hypot(b.u-a.u, b.v-a.v)
	if length < d.pixel/4 {
		return nil // seen end-on
	}
	steps := max(1, int(length/(2*d.pixel)))
	at := func(t float64) flatPoint {
		return flatPoint{a.u + t*(b.u-a.u), a.v + t*(b.v-a.v), a.near + t*(b.near-a.near)}
	}
	var out []edgeRun
	from := 0.0
	for i := range steps {
		seen := !d.covers(at((float64(i) + 0.5) / float64(steps)))
		end := float64(i+1) / float64(steps)
		if n := len(out); n > 0 && out[n-1].seen == seen {
			out[n-1].line.b = at(end)
		} else {
			out = append(out, edgeRun{flatLine{at(from), at(end)}, seen})
		}
		from = end
	}
	return out
}
