package figure

import (
	"cmp"
	"fmt"
	"image/color"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"swapworth/mesh"
	"swapworth/quantity"
	"swapworth/solid"
)

// stressRamp runs from no stress to the largest, light to dark, so that it
// reads without colour too and for the colour-blind.
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

// LoadedPart is a part with what a solution says of its surface, for pictures.
type LoadedPart struct {
	Name  string // "redesign"; may be empty where there is one
	Mesh  *mesh.Mesh
	Shape *solid.Deflected
}

// field is what colours a surface: its share of the ramp at a point, and the ramp's
// legend.
type field struct {
	share func(d *solid.Deflected, point int32) float64
	marks []RampMark
	said  func(v []deflectedView) string
}

// StressViews draws loaded parts at a slant, one below the other to one scale, each
// moved by its first load case over its outline at rest, shaded by stress on one
// scale.
func StressViews(u quantity.System, title string, parts ...LoadedPart) Figure {
	peak := 0.0
	for _, p := range parts {
		peak = max(peak, slices.Max(append([]float64{0}, p.Shape.Stress...)))
	}
	return slantViews(title, parts, field{
		share: func(d *solid.Deflected, i int32) float64 { return d.Stress[i] / peak },
		marks: StressMarks(u, peak),
		said: func(v []deflectedView) string {
			return fmt.Sprintf("the equivalent stress at the surface reaches %s MPa", eachPart(v, func(v deflectedView) string {
				return quantity.Number(v.peak, 3)
			}))
		},
	})
}

// The ramp of strain energy runs over three decades about the mean, since it varies
// so much.
const (
	leastEnergy   = 0.01 // of the mean
	energyDecades = 3
)

// EnergyViews draws loaded parts as StressViews does, shaded by strain energy density
// over its mean in the part.
func EnergyViews(title string, parts ...LoadedPart) Figure {
	return slantViews(title, parts, field{
		share: func(d *solid.Deflected, i int32) float64 { return EnergyShare(d.Energy[i]) },
		marks: EnergyMarks(),
		said: func([]deflectedView) string {
			return "shaded by strain energy from a hundredth of the mean, light, to ten times it, dark: what is light carries little"
		},
	})
}

// eachPart joins what is said of each part.
func eachPart(v []deflectedView, say func(deflectedView) string) string {
	var all []string
	for _, one := range v {
		all = append(all, say(one))
	}
	return strings.Join(all, " and ")
}

// deflectedView is a loaded part as a picture shows it: projected, its movement
// enlarged.
type deflectedView struct {
	part          LoadedPart
	moved         []flatPoint   // the surface, by the points of the solution
	atRest        [][]flatPoint // sharp edges
	low, high     flatPoint     // around both
	largest, peak float64       // movement in mm, stress in MPa
}

func (v deflectedView) wide() float64 { return v.high.u - v.low.u }
func (v deflectedView) tall() float64 { return v.high.v - v.low.v }

// newDeflectedView moves a part by so many times its movement.
func newDeflectedView(p LoadedPart, enlarged float64) deflectedView {
	m, d := p.Mesh, p.Shape
	v := deflectedView{
		part: p, moved: make([]flatPoint, len(d.Points)),
		low: flatPoint{u: math.Inf(1), v: math.Inf(1)}, high: flatPoint{u: math.Inf(-1), v: math.Inf(-1)},
	}
	look := slantOf(m.Bounds())
	for i, p := range d.Points {
		v.largest, v.peak = max(v.largest, r3.Norm(d.Moves[i])), max(v.peak, d.Stress[i])
		v.moved[i] = look.flat(r3.Add(p, r3.Scale(enlarged, d.Moves[i])))
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
	v.atRest = chains(edges, v.wide()/depthPixels)
	return v
}

// slantViews draws loaded parts one below the other.
func slantViews(title string, parts []LoadedPart, f field) Figure {
	enlarged := Enlargement(parts)
	var views []deflectedView
	wide, tall := 1e-9, 1e-9
	for _, p := range parts {
		v := newDeflectedView(p, enlarged)
		views = append(views, v)
		wide, tall = max(wide, v.wide()), max(tall, v.tall())
	}
	const margin, legend, caption = 10, 36, 14
	pitch := (figureWidth - 2*margin) / vg.Length(wide) // points per mm
	if high := vg.Length(tall) * pitch; high > figureWidth/vg.Length(len(parts)) {
		pitch *= figureWidth / vg.Length(len(parts)) / high
	}
	row := vg.Length(tall)*pitch + margin
	if len(parts) > 1 {
		row += caption
	}
	return Figure{
		Title: title,
		Alt: fmt.Sprintf("The part under load, seen at a slant, its movement enlarged %s times over its outline at rest. It moves by %s mm at most; %s.",
			quantity.Short(enlarged, 3), eachPart(views, func(v deflectedView) string { return quantity.Number(v.largest, 3) }), f.said(views)),
		Width: figureWidth, Height: row*vg.Length(len(parts)) + margin + legend,
		Draw: func(c draw.Canvas) {
			c.SetColor(figurePaper)
			c.Fill(c.Rectangle.Path())
			for i, v := range views {
				top := c.Max.Y - margin - row*vg.Length(i)
				if len(parts) > 1 {
					c.FillText(boldLabel(figureText, seriesColor(i)), vg.Point{X: c.Min.X + margin, Y: top - caption + 4}, v.part.Name)
					top -= caption
				}
				w := vg.Length(v.wide()) * pitch
				v.draw(c, f, vg.Point{X: c.Min.X + (c.Max.X-c.Min.X-w)/2, Y: top - vg.Length(v.tall())*pitch}, pitch)
			}
			drawRamp(c, f.marks, enlarged)
		},
	}
}

// draw paints the moved surface with its lower left corner at a point, then the
// outline at rest.
func (v deflectedView) draw(c draw.Canvas, f field, corner vg.Point, pitch vg.Length) {
	at := func(p flatPoint) vg.Point {
		return vg.Point{X: corner.X + vg.Length(p.u-v.low.u)*pitch, Y: corner.Y + vg.Length(p.v-v.low.v)*pitch}
	}
	v.raster(f).draw(c, at, rampColor)
	style := draw.LineStyle{Color: tinted(figureSoft, 0.8), Width: 0.5, Dashes: []vg.Length{2, 1.5}}
	for _, line := range v.atRest {
		points := make([]vg.Point, len(line))
		for i, p := range line {
			points[i] = at(p)
		}
		stroke(c, style, points...)
	}
}

// dimmest is how much darker a face seen edge-on is than one that looks at the eye.
const dimmest = 0.28

// raster is the moved surface as it is seen.
func (v deflectedView) raster(f field) *raster {
	d := v.part.Shape
	r := newRaster(figureWidth, v.low, v.high)
	for _, t := range d.Faces {
		a, b, c := v.moved[t[0]], v.moved[t[1]], v.moved[t[2]]
		corner := func(k int) seen { return seen{v.moved[t[k]], f.share(d, t[k])} }
		r.paint(corner(0), corner(1), corner(2), dimmest*(1-slope(a, b, c)))
	}
	return r
}

// drawRamp draws the scale of colours below the pictures.
func drawRamp(c draw.Canvas, marks []RampMark, scale float64) {
	const steps, height = 64, 9
	width := (c.Max.X - c.Min.X) * 0.4
	x0, y0 := c.Min.X+10, c.Min.Y+18
	for i := range steps { // each reaches to the end, so that no gap shows between them
		c.FillPolygon(rampColor((float64(i)+0.5)/steps), []vg.Point{
			{X: x0 + width*vg.Length(i)/steps, Y: y0}, {X: x0 + width, Y: y0},
			{X: x0 + width, Y: y0 + height}, {X: x0 + width*vg.Length(i)/steps, Y: y0 + height},
		})
	}
	for _, m := range marks {
		under := label(figureSmall, figureSoft)
		under.YAlign, under.XAlign = text.YTop, text.XCenter
		if m.Share == 0 {
			under.XAlign = text.XLeft
		}
		x := x0 + width*vg.Length(m.Share)
		stroke(c, draw.LineStyle{Color: figureSoft, Width: 0.5}, vg.Point{X: x, Y: y0}, vg.Point{X: x, Y: y0 - 2})
		c.FillText(under, vg.Point{X: x, Y: y0 - 3}, m.Text)
	}
	right := label(figureSmall, figureSoft)
	right.YAlign, right.XAlign = text.YTop, text.XRight
	c.FillText(right, vg.Point{X: c.Max.X - 10, Y: y0 + height}, fmt.Sprintf("movement enlarged %s times; dashed: at rest", quantity.Short(scale, 3)))
}
