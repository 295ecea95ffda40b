package figure

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// A shaded picture is not painted face by face: a part of 20 000 triangles would be a
// megabyte. What the eye sees is first found on a raster; the lines along which colour
// or brightness pass from one step to the next are then traced on it and filled, each
// step as one path over the lighter one below.

const (
	// shadePixels is the number of pixels a point of the figure's width: finer than its
	// finest lines are wide.
	shadePixels = 2
	// shades is how many steps the ramp of colours is painted in. Neighbours differ by a
	// few units of L*, at the edge of what is seen.
	shades = 24
	// dimming is by how much one step of brightness is darker than the last.
	dimming = 0.04
	// tracing is how far, in pixels, a traced line may lie beside the steps of the
	// raster, which are up to half a pixel off the truth themselves.
	tracingError = 0.6
	// speck is the area in pixels below which a spot is not drawn.
	speck = 4
)

// raster is what an eye sees of a surface: per pixel how near it is, its share of the
// ramp and how dark it lies in the light.
type raster struct {
	depthImage
	share, dark []float32
}

// newRaster covers the plane between two corners, for a figure of the given width.
func newRaster(width vg.Length, low, high flatPoint) *raster {
	r := &raster{}
	r.cover(low, high, shadePixels*width.Points())
	r.share, r.dark = make([]float32, len(r.near)), make([]float32, len(r.near))
	return r
}

// seen is a corner of a triangle with its share of the ramp.
type seen struct {
	flatPoint
	share float64
}

// paint enters a triangle that looks at the eye where nothing nearer lies.
func (r *raster) paint(a, b, c seen, dark float64) {
	if doubleArea(a.flatPoint, b.flatPoint, c.flatPoint) <= 0 {
		return // turned away, or seen edge-on
	}
	r.scan(a.flatPoint, b.flatPoint, c.flatPoint, func(i int, near, wb, wc float64) {
		if near <= r.near[i] {
			return
		}
		r.near[i], r.dark[i] = near, float32(dark)
		r.share[i] = float32(a.share + wb*(b.share-a.share) + wc*(c.share-a.share))
	})
}

// slope is how squarely a triangle looks at the eye, from 1 down to 0 edge-on.
func slope(a, b, c flatPoint) float64 {
	area := doubleArea(a, b, c)
	if area == 0 {
		return 0
	}
	u := ((b.near-a.near)*(c.v-a.v) - (c.near-a.near)*(b.v-a.v)) / area
	v := ((c.near-a.near)*(b.u-a.u) - (b.near-a.near)*(c.u-a.u)) / area
	return 1 / math.Sqrt(1+u*u+v*v)
}

// outline returns the closed lines around the pixels whose value, where there is one,
// reaches a level, in the plane of the raster.
func (r *raster) outline(values []float32, level float64) [][]flatPoint {
	t := levelSet{r: r, values: values, level: level, next: map[int]int{}}
	wide := r.width + 2 // with an empty pixel all around
	in := make([]uint8, wide*(r.height+2))
	for row := range r.height {
		for column := range r.width {
			if over, _ := t.at(column, row); over >= 0 {
				in[(row+1)*wide+column+1] = 1
			}
		}
	}
	for row := range r.height + 1 {
		for column := range r.width + 1 {
			i := row*wide + column
			// counterclockwise from the lower left corner
			corners := in[i] | in[i+1]<<1 | in[i+wide+1]<<2 | in[i+wide]<<3
			if corners != 0 && corners != 15 {
				t.cell(column-1, row-1, corners)
			}
		}
	}
	return t.loops()
}

// levelSet traces a level through the cells between the middles of four pixels
// (marching squares), each piece of line with what reaches the level on its left.
type levelSet struct {
	r      *raster
	values []float32 // nil: everything that is covered
	level  float64
	next   map[int]int // from the crossing of one side of a cell to that of another
	order  []int
}

// at is the value of a pixel over the level; covered is false outside the surface.
func (t *levelSet) at(column, row int) (over float64, covered bool) {
	if column < 0 || row < 0 || column >= t.r.width || row >= t.r.height {
		return -1, false
	}
	i := row*t.r.width + column
	if math.IsInf(t.r.near[i], -1) {
		return -1, false
	}
	if t.values == nil {
		return 1, true
	}
	return float64(t.values[i]) - t.level, true
}

// side numbers the crossing between the pixel and its right or upper neighbour.
func (t *levelSet) side(column, row, up int) int {
	return 2*((row+1)*(t.r.width+2)+column+1) + up
}

// cell adds the lines through the cell whose lower left pixel is given, and of whose
// corners, one a bit, some reach the level.
func (t *levelSet) cell(column, row int, corners uint8) {
	sides := [4]int{t.side(column, row, 0), t.side(column+1, row, 1), t.side(column, row+1, 0), t.side(column, row, 1)} // below, right, above, left
	// A line leaves through the side where, going around counterclockwise, out turns to
	// in, and enters where in turns to out.
	var enters, leaves []int
	for k := range 4 {
		switch a, b := corners>>k&1, corners>>((k+1)%4)&1; {
		case a > b:
			enters = append(enters, k)
		case a < b:
			leaves = append(leaves, k)
		}
	}
	for i, from := range enters {
		to := leaves[i]
		if len(enters) == 2 { // a saddle: each line cuts off the corner that is in
			to = (from + 3) % 4
		}
		t.next[sides[from]] = sides[to]
		t.order = append(t.order, sides[from])
	}
}

// crossing is where a line passes the side between two pixels: where the level lies
// between their values, or halfway at the edge of the surface.
func (t *levelSet) crossing(side int) flatPoint {
	up := side % 2
	place := side / 2
	column, row := place%(t.r.width+2)-1, place/(t.r.width+2)-1
	a, coveredA := t.at(column, row)
	b, coveredB := t.at(column+1-up, row+up)
	share := 0.5
	if coveredA && coveredB {
		share = a / (a - b)
	}
	du, dv := share*float64(1-up), share*float64(up)
	return flatPoint{u: t.r.u0 + (float64(column)+0.5+du)*t.r.pixel, v: t.r.v0 + (float64(row)+0.5+dv)*t.r.pixel}
}

// loops joins the lines, straightened, specks left out.
func (t *levelSet) loops() (out [][]flatPoint) {
	for _, start := range t.order {
		if _, left := t.next[start]; !left {
			continue
		}
		var loop []flatPoint
		for at := start; ; {
			to, ok := t.next[at]
			if !ok {
				break
			}
			loop = append(loop, t.crossing(at))
			delete(t.next, at)
			at = to
		}
		if math.Abs(areaOf(loop)) < speck*t.r.pixel*t.r.pixel {
			continue
		}
		loop = straighten(append(loop, loop[0]), tracingError*t.r.pixel)
		out = append(out, loop[:len(loop)-1])
	}
	return out
}

// areaOf is the area that a loop encloses, positive counterclockwise.
func areaOf(loop []flatPoint) (area float64) {
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		area += (p.u*q.v - q.u*p.v) / 2
	}
	return area
}

// draw fills the raster's steps of colour, then of shadow, on paper.
func (r *raster) draw(c draw.Canvas, at func(flatPoint) vg.Point, ramp func(share float64) color.NRGBA) {
	fill := func(col color.Color, loops [][]flatPoint) {
		var path vg.Path
		for _, loop := range loops {
			for i, p := range loop {
				if pt := tenths(at(p)); i == 0 {
					path.Move(pt)
				} else {
					path.Line(pt)
				}
			}
			path.Close()
		}
		if len(path) > 0 {
			c.SetColor(col)
			c.Fill(path)
		}
	}
	level := func(values []float32, step float64) func(i int) int {
		return func(i int) int { return int(float64(values[i]) / step) }
	}
	share := r.stepsOf(level(r.share, 1./shades), shades-1)
	for n, k := range share {
		values := r.share
		if n == 0 {
			values = nil // everything, the lowest step below all others
		}
		fill(ramp((float64(k)+0.5)/shades), r.outline(values, float64(k)/shades))
	}
	dark := r.stepsOf(level(r.dark, dimming), int(1/dimming))
	for n, k := range dark {
		// Black over what is below, so that the steps multiply.
		before := 0
		if n > 0 {
			before = dark[n-1]
		}
		if k > 0 {
			fill(tinted(color.NRGBA{}, 1-math.Pow(1-dimming, float64(k-before))), r.outline(r.dark, float64(k)*dimming))
		}
	}
}

// same is the share of a picture's pixels that two steps may differ by and still be
// drawn as one: all but nothing lies between them.
const same = 0.001

// stepsOf lists the steps worth drawing: the lowest that a pixel is in, then every one
// that is reached by fewer pixels than the one below it.
func (r *raster) stepsOf(step func(i int) int, most int) (out []int) {
	reached := make([]int, most+2) // by so many pixels
	for i, near := range r.near {
		if !math.IsInf(near, -1) {
			reached[min(max(step(i), 0), most)]++
		}
	}
	for k := most; k >= 0; k-- {
		reached[k] += reached[k+1]
	}
	all := reached[0]
	for k := 0; k <= most && reached[k] > 0; k++ {
		if float64(reached[k]-reached[k+1]) >= same*float64(all) {
			out = append(out, k)
		}
	}
	return out
}

// tenths rounds a place to a tenth of a point, finer than a pixel.
func tenths(p vg.Point) vg.Point {
	round := func(v vg.Length) vg.Length { return vg.Length(math.Round(10*v.Points()) / 10) }
	return vg.Point{X: round(p.X), Y: round(p.Y)}
}
