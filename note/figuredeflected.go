package note

import (
	"cmp"
	"fmt"
	"image"
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"swapworth/mesh"
	"swapworth/quantity"
	"swapworth/solid"
)

// deflectedPixels is the width of the picture of a deflected part.
const deflectedPixels = 1500

// stressRamp runs from no stress to the largest, light to dark, so that it
// reads without colour too.
var stressRamp = []color.NRGBA{
	{0xf3, 0xef, 0xe3, 0xff}, {0xe3, 0xc9, 0x8f, 0xff}, {0xcf, 0x8f, 0x4e, 0xff},
	{0xa9, 0x4c, 0x36, 0xff}, {0x5a, 0x1a, 0x33, 0xff},
}

func rampColor(share float64) color.NRGBA {
	if math.IsNaN(share) { // no stress anywhere
		share = 0
	}
	x := min(max(share, 0), 1) * float64(len(stressRamp)-1)
	i := min(int(x), len(stressRamp)-2)
	f := x - float64(i)
	a, b := stressRamp[i], stressRamp[i+1]
	mix := func(p, q uint8) uint8 { return uint8(float64(p) + f*(float64(q)-float64(p)) + 0.5) }
	return color.NRGBA{mix(a.R, b.R), mix(a.G, b.G), mix(a.B, b.B), 0xff}
}

// slant is a parallel projection onto the plane of right and up; toward points
// to the eye. All three are unit vectors.
type slant struct{ right, up, toward r3.Vec }

// slantOf looks at the broad side of a box, with its long side across.
func slantOf(b mesh.Box) slant {
	axes := []mesh.Axis{mesh.X, mesh.Y, mesh.Z}
	size := b.Size()
	slices.SortStableFunc(axes, func(p, q mesh.Axis) int { return cmp.Compare(q.Of(size), p.Of(size)) })
	long, wide, thin := axes[0].Unit(), axes[1].Unit(), axes[2].Unit()
	if r3.Dot(r3.Cross(long, wide), thin) < 0 {
		wide = r3.Scale(-1, wide)
	}
	toward := r3.Unit(r3.Add(r3.Scale(0.55, thin), r3.Add(r3.Scale(-0.75, wide), r3.Scale(-0.35, long))))
	right := r3.Unit(r3.Cross(thin, toward))
	return slant{right, r3.Cross(toward, right), toward}
}

func (s slant) flat(p r3.Vec) flatPoint {
	return flatPoint{r3.Dot(p, s.right), r3.Dot(p, s.up), r3.Dot(p, s.toward)}
}

// deflectedView is a loaded part as a picture shows it: projected, its movement
// enlarged.
type deflectedView struct {
	moved         []flatPoint   // the surface, by the points of the solution
	atRest        [][]flatPoint // sharp edges
	low, high     flatPoint     // around both
	enlarged      float64       // times
	largest, peak float64       // movement in mm, stress in MPa
}

func newDeflectedView(m *mesh.Mesh, d *solid.Deflected) deflectedView {
	v := deflectedView{
		enlarged: 1, moved: make([]flatPoint, len(d.Points)),
		low: flatPoint{u: math.Inf(1), v: math.Inf(1)}, high: flatPoint{u: math.Inf(-1), v: math.Inf(-1)},
	}
	for i, move := range d.Moves {
		v.largest, v.peak = max(v.largest, r3.Norm(move)), max(v.peak, d.Stress[i])
	}
	if v.largest > 0 {
		v.enlarged = roundScale(0.08 * r3.Norm(m.Bounds().Size()) / v.largest)
	}
	look := slantOf(m.Bounds())
	for i, p := range d.Points {
		v.moved[i] = look.flat(r3.Add(p, r3.Scale(v.enlarged, d.Moves[i])))
		for _, q := range []flatPoint{look.flat(p), v.moved[i]} {
			v.low.u, v.low.v = min(v.low.u, q.u), min(v.low.v, q.v)
			v.high.u, v.high.v = max(v.high.u, q.u), max(v.high.v, q.v)
		}
	}
	var edges []flatLine
	for _, e := range featureEdges(m) {
		if e.sharp {
			edges = append(edges, flatLine{look.flat(m.Vertices[e.a]), look.flat(m.Vertices[e.b])})
		}
	}
	v.atRest = chains(edges, (v.high.u-v.low.u)/depthPixels)
	return v
}

// DeflectedPart draws a loaded part, its movement enlarged, shaded by stress,
// over the outline of the part at rest.
func DeflectedPart(title string, m *mesh.Mesh, d *solid.Deflected) Figure {
	v := newDeflectedView(m, d)
	img := shade(d, v.moved, v.low, v.high, v.peak)
	const margin, legend = 10, 34
	pitch := (figureWidth - 2*margin) / vg.Length(v.high.u-v.low.u) // points per mm
	if tall := vg.Length(v.high.v-v.low.v) * pitch; tall > figureWidth {
		pitch *= figureWidth / tall
	}
	wide, tall := vg.Length(v.high.u-v.low.u)*pitch, vg.Length(v.high.v-v.low.v)*pitch
	return Figure{
		Title: title,
		Alt: fmt.Sprintf("The part under load, its movement enlarged %s times over its outline at rest. It moves by %s mm at most; the equivalent stress at the surface reaches %s MPa.",
			quantity.Short(v.enlarged, 3), quantity.Number(v.largest, 3), quantity.Number(v.peak, 3)),
		Width: figureWidth, Height: tall + 2*margin + legend,
		Draw: func(c draw.Canvas) {
			corner := vg.Point{X: c.Min.X + (c.Max.X-c.Min.X-wide)/2, Y: c.Min.Y + margin + legend}
			c.DrawImage(vg.Rectangle{Min: corner, Max: vg.Point{X: corner.X + wide, Y: corner.Y + tall}}, img)
			at := func(p flatPoint) vg.Point {
				return vg.Point{X: corner.X + vg.Length(p.u-v.low.u)*pitch, Y: corner.Y + vg.Length(p.v-v.low.v)*pitch}
			}
			style := draw.LineStyle{Color: tinted(figureSoft, 0.8), Width: 0.5, Dashes: []vg.Length{2, 1.5}}
			for _, line := range v.atRest {
				points := make([]vg.Point, len(line))
				for i, p := range line {
					points[i] = at(p)
				}
				stroke(c, style, points...)
			}
			drawRamp(c, v.peak, v.enlarged)
		},
	}
}

// roundScale rounds down to 1, 2 or 5 times a power of ten.
func roundScale(v float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(v)))
	for _, f := range []float64{5, 2} {
		if v >= f*p {
			return f * p
		}
	}
	return p
}

// shade paints the moved surface, nearest last, into a picture.
func shade(d *solid.Deflected, moved []flatPoint, low, high flatPoint, peak float64) *image.NRGBA {
	pixel := max((high.u-low.u)/deflectedPixels, (high.v-low.v)/deflectedPixels)
	w, h := int((high.u-low.u)/pixel)+1, int((high.v-low.v)/pixel)+1
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	depth := make([]float64, w*h)
	for i := range depth {
		depth[i] = math.Inf(-1)
	}
	for _, f := range d.Faces {
		a, b, c := moved[f[0]], moved[f[1]], moved[f[2]]
		area := (b.u-a.u)*(c.v-a.v) - (c.u-a.u)*(b.v-a.v)
		if area <= 0 {
			continue // turned away
		}
		// how squarely the face looks at the eye, for its brightness
		slopeU := ((b.near-a.near)*(c.v-a.v) - (c.near-a.near)*(b.v-a.v)) / area
		slopeV := ((c.near-a.near)*(b.u-a.u) - (b.near-a.near)*(c.u-a.u)) / area
		light := 0.72 + 0.28/math.Sqrt(1+slopeU*slopeU+slopeV*slopeV)
		rows := func(v float64) int { return h - 1 - clampIndex((v-low.v)/pixel, h) }
		for y := rows(max(a.v, b.v, c.v)); y <= rows(min(a.v, b.v, c.v)); y++ {
			v := low.v + (float64(h-1-y)+0.5)*pixel
			first := clampIndex((min(a.u, b.u, c.u)-low.u)/pixel, w)
			last := clampIndex((max(a.u, b.u, c.u)-low.u)/pixel, w)
			for x := first; x <= last; x++ {
				u := low.u + (float64(x)+0.5)*pixel
				wb := ((u-a.u)*(c.v-a.v) - (c.u-a.u)*(v-a.v)) / area
				wc := ((b.u-a.u)*(v-a.v) - (u-a.u)*(b.v-a.v)) / area
				if wb < -1e-9 || wc < -1e-9 || wb+wc > 1+1e-9 {
					continue
				}
				near := a.near + wb*(b.near-a.near) + wc*(c.near-a.near)
				if near <= depth[y*w+x] {
					continue
				}
				depth[y*w+x] = near
				stress := (1-wb-wc)*d.Stress[f[0]] + wb*d.Stress[f[1]] + wc*d.Stress[f[2]]
				col := rampColor(stress / max(peak, 1e-300))
				col.R, col.G, col.B = uint8(float64(col.R)*light), uint8(float64(col.G)*light), uint8(float64(col.B)*light)
				img.SetNRGBA(x, y, col)
			}
		}
	}
	return img
}

// drawRamp draws the scale of stress below the picture.
func drawRamp(c draw.Canvas, peak, scale float64) {
	const steps, height = 64, 9
	width := (c.Max.X - c.Min.X) * 0.4
	x0, y0 := c.Min.X+10, c.Min.Y+18
	for i := range steps { // each reaches to the end, so that no gap shows between them
		c.FillPolygon(rampColor((float64(i)+0.5)/steps), []vg.Point{
			{X: x0 + width*vg.Length(i)/steps, Y: y0}, {X: x0 + width, Y: y0},
			{X: x0 + width, Y: y0 + height}, {X: x0 + width*vg.Length(i)/steps, Y: y0 + height},
		})
	}
	under := label(figureSmall, figureSoft)
	under.YAlign = text.YTop
	c.FillText(under, vg.Point{X: x0, Y: y0 - 3}, "0")
	under.XAlign = text.XRight
	c.FillText(under, vg.Point{X: x0 + width, Y: y0 - 3}, quantity.Number(peak, 3)+" MPa")
	c.FillText(under, vg.Point{X: c.Max.X - 10, Y: y0 + height}, fmt.Sprintf("movement enlarged %s times; dashed: at rest", quantity.Short(scale, 3)))
}
