package evidence

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/mesh"
	"swapworth/mesh/cut"
	"swapworth/solid"
)

// Blind is a part nobody has seen, with no truth but the program's own at four
// times the full budget.
type Blind struct {
	Part
	Mesh *mesh.Mesh
}

// BlindParts makes parts of the families from a seed: outlines with holes and
// pockets, extruded. The same seed makes the same parts.
func BlindParts(seed uint64, count int) ([]Blind, error) {
	families := []struct {
		name string
		make func(*draft)
	}{
		{"plate", (*draft).plate}, {"arm", (*draft).arm}, {"section", (*draft).section},
		{"crank", (*draft).crank}, {"link", (*draft).link}, {"hole grid", (*draft).grid},
		{"forked bar", (*draft).fork}, {"disc", (*draft).disc},
	}
	rng := rand.New(rand.NewPCG(seed, 0))
	var out []Blind
	for i := range count {
		f := families[i%len(families)]
		d := &draft{Rand: rng, axis: mesh.Z}
		f.make(d)
		m, err := cut.Stack(mesh.AxisPlane(d.axis, 0), d.layers()...)
		if err != nil {
			return nil, fmt.Errorf("evidence: part %d of seed %d, a %s: %w", i+1, seed, f.name, err)
		}
		b := Blind{Mesh: m, Part: Part{Name: fmt.Sprintf("%d-%d", seed, i+1), Family: f.name, Span: "x",
			Young: 70000, Poisson: 0.33, Density: 2700, Volume: m.SignedVolume()}}
		for _, along := range []string{"y", "z"} {
			b.Cases = append(b.Cases, Case{Hold: Hold{Fix: d.fix, LoadAt: d.load, Along: along}})
		}
		out = append(out, b)
	}
	return out, nil
}

// Solve finds the stiffness with the given options and with four times the full
// budget, which stands in for the truth.
func (b Blind) Solve(ctx context.Context, o solid.Options) ([]Row, error) {
	s, err := b.from(b.Mesh)
	if err != nil {
		return nil, err
	}
	rows, err := s.Stiffness(ctx, o)
	if err != nil {
		return nil, err
	}
	fine, err := s.Stiffness(ctx, solid.Options{Unknowns: fourFull, Grids: 3})
	if err != nil {
		return nil, err
	}
	for i := range rows {
		rows[i].Part += " " + b.Family
		rows[i].Half = Unseen
		rows[i].Truth, rows[i].TruthError = fine[i].Ours, fine[i].Stated
		if rows[i].Refused == nil {
			rows[i].Refused = fine[i].Refused
		}
	}
	return rows, nil
}

// fourFull is four times the unknowns of the full budget.
const fourFull = 4 * 200_000

// draft is a part on the drawing board: an outline with what is cut through it and
// what is cut into it, and where it is held and loaded.
type draft struct {
	*rand.Rand
	axis    mesh.Axis // along which the outline is extruded
	outline []r2.Vec
	through [][]r2.Vec
	into    [][]r2.Vec // pockets
	thick   float64    // mm
	floor   float64    // below the pockets, mm

	fix, load []Place
}

func (d *draft) layers() []cut.Layer {
	whole := cut.Region{{Outer: d.outline, Holes: d.through}}
	if len(d.into) == 0 {
		return []cut.Layer{{Region: whole, Thickness: d.thick}}
	}
	pocketed := cut.Region{{Outer: d.outline, Holes: append(append([][]r2.Vec{}, d.through...), d.into...)}}
	return []cut.Layer{{Region: whole, Thickness: d.floor}, {Region: pocketed, Thickness: d.thick - d.floor}}
}

// between draws a length in mm, to a tenth.
func (d *draft) between(lo, hi float64) float64 {
	return math.Round(10*(lo+(hi-lo)*d.Float64())) / 10
}

var (
	lowEnd  = []Place{{End: "low"}}
	highEnd = []Place{{End: "high"}}
)

// drill cuts a hole through a flat part and returns it as a place under a bolt.
func (d *draft) drill(x, y, diameter float64) Place {
	d.through = append(d.through, circle(x, y, diameter/2))
	return Place{Hole: []float64{x, y, d.thick / 2}}
}

// bolts of M4, M5, M6, M8: clearance holes of ISO 273, medium.
var clearance = []float64{4.5, 5.5, 6.6, 9}

// edge is how far a hole keeps from an edge, over its diameter: its washer stays on
// the part.
const edge = 1.2

func (d *draft) plate() {
	long, wide := d.between(80, 160), d.between(40, 90)
	d.thick = d.between(4, 12)
	d.outline = rectangle(0, 0, long, wide)
	hole := clearance[d.IntN(3)]
	e := edge * hole
	d.fix = []Place{d.drill(e, e, hole), d.drill(e, wide-e, hole)}
	inner := 2 * e
	if d.IntN(2) == 0 {
		x := long * (0.3 + 0.1*d.Float64())
		d.fix = append(d.fix, d.drill(x, e, hole), d.drill(x, wide-e, hole))
		inner = x + e
	}
	d.load = []Place{d.drill(long-e, wide/2, hole)}
	left, right := inner+2, long-2*e-3
	window := rounded(left, 2*e, right, wide-2*e, d.between(2, 5))
	switch d.IntN(3) {
	case 0:
		d.through = append(d.through, window)
	case 1:
		d.into = append(d.into, window)
		d.floor = d.thick * (0.3 + 0.3*d.Float64())
	}
}

func (d *draft) arm() {
	long, wide := d.between(100, 180), d.between(22, 40)
	d.thick = d.between(6, 14)
	d.outline = rectangle(0, 0, long, wide)
	d.fix, d.load = lowEnd, highEnd
	first, last := d.between(8, 16), long-d.between(8, 16)
	if d.IntN(2) == 0 {
		hole := clearance[d.IntN(2)]
		e := edge * hole
		d.fix = []Place{d.drill(e, e, hole), d.drill(e, wide-e, hole)}
		d.load = []Place{d.drill(long-e, wide/2, hole)}
		first, last = 2*e+2, long-2*e-2
	}
	count, wall := 2+d.IntN(3), d.between(3, 6)
	pitch := (last - first + wall) / float64(count)
	radius := d.between(2, 4)
	var pockets [][]r2.Vec
	for i := range count {
		x := first + pitch*float64(i)
		pockets = append(pockets, rounded(x, wall, x+pitch-wall, wide-wall, radius))
	}
	if d.IntN(2) == 0 {
		d.through = append(d.through, pockets...)
		return
	}
	d.into, d.floor = pockets, d.thick*(0.2+0.3*d.Float64())
}

// section is a bar of one section: its outline lies across x.
func (d *draft) section() {
	d.axis, d.thick = mesh.X, d.between(100, 180)
	b, h, t := d.between(24, 50), d.between(18, 40), d.between(2, 5)
	switch d.IntN(4) {
	case 0: // channel
		d.outline = points(0, 0, b, 0, b, h, b-t, h, b-t, t, t, t, t, h, 0, h)
	case 1: // tee
		d.outline = points(0, 0, b, 0, b, t, (b+t)/2, t, (b+t)/2, h, (b-t)/2, h, (b-t)/2, t, 0, t)
	case 2: // angle
		d.outline = points(0, 0, b, 0, b, t, t, t, t, h, 0, h)
	default: // box
		d.outline = rectangle(0, 0, b, h)
		d.through = append(d.through, reversed(rectangle(t, t, b-t, h-t)))
	}
	d.fix, d.load = lowEnd, highEnd
}

func (d *draft) crank() {
	long, wide, rise := d.between(90, 150), d.between(16, 26), d.between(15, 45)
	d.thick = d.between(6, 12)
	from, to := long*(0.3+0.1*d.Float64()), long*(0.6+0.1*d.Float64())
	d.outline = points(0, 0, from, 0, to, rise, long, rise, long, rise+wide, to-wide/3, rise+wide, from-wide/3, wide, 0, wide)
	if d.IntN(2) == 0 {
		d.fix, d.load = lowEnd, highEnd
		return
	}
	hole := clearance[d.IntN(2)]
	e := edge * hole
	d.fix = []Place{d.drill(e, wide/2, hole), d.drill(from-e-wide/3, wide/2, hole)}
	d.load = []Place{d.drill(long-e, rise+wide/2, hole)}
}

// link has round ends about its bores.
func (d *draft) link() {
	long, r0, r1 := d.between(70, 130), d.between(11, 16), d.between(9, 14)
	d.thick = d.between(6, 12)
	lean := math.Asin((r0 - r1) / long) // of the common tangents
	const chords = 60
	arc := func(x, r, from, to float64) {
		for i := range chords + 1 {
			t := from + (to-from)*float64(i)/chords
			d.outline = append(d.outline, r2.Vec{X: x + r*math.Cos(t), Y: r * math.Sin(t)})
		}
	}
	up := math.Pi/2 - lean
	arc(long, r1, -up, up)
	arc(0, r0, up, 2*math.Pi-up)
	a, b := d.drill(0, 0, math.Round(r0)), d.drill(long, 0, math.Round(r1))
	if d.IntN(2) == 0 {
		a, b = Place{Bore: a.Hole}, Place{Bore: b.Hole}
	}
	d.fix, d.load = []Place{a}, []Place{b}
}

func (d *draft) grid() {
	long, wide := d.between(90, 140), d.between(36, 60)
	d.thick = d.between(4, 9)
	d.outline = rectangle(0, 0, long, wide)
	diameter := d.between(5, 9)
	pitch := diameter * (1.5 + 0.7*d.Float64())
	across, along := int((wide-4)/pitch), int((long-16)/pitch)
	for i := range along {
		for j := range across {
			d.drill(12+pitch*(float64(i)+0.5), wide/2+pitch*(float64(j)-float64(across-1)/2), diameter)
		}
	}
	d.fix, d.load = lowEnd, highEnd
}

func (d *draft) fork() {
	long, wide, gap := d.between(90, 140), d.between(24, 40), d.between(5, 10)
	d.thick = d.between(8, 14)
	root := long * (0.25 + 0.3*d.Float64())
	low, high := (wide-gap)/2, (wide+gap)/2
	d.outline = points(0, 0, long, 0, long, low, root, low, root, high, long, high, long, wide, 0, wide)
	d.fix, d.load = lowEnd, highEnd
	if d.IntN(2) == 0 {
		hole := clearance[d.IntN(2)]
		e := edge * hole
		d.fix = []Place{d.drill(e, e, hole), d.drill(e, wide-e, hole)}
	}
}

func (d *draft) disc() {
	radius, rim, hub := d.between(38, 60), d.between(12, 15), d.between(13, 17)
	d.thick = d.between(5, 10)
	d.outline = reversed(circle(0, 0, radius))
	spokes := 3 + d.IntN(4)
	inner, outer := hub+2, radius-rim
	spoke := d.between(6, 10)
	for i := range spokes {
		from, to := 2*math.Pi*float64(i)/float64(spokes), 2*math.Pi*float64(i+1)/float64(spokes)
		d.through = append(d.through, sector(inner, outer, from, to, spoke))
	}
	hole := clearance[1+d.IntN(2)]
	d.fix = []Place{d.drill(0, 0, math.Round(hub*0.9))}
	t := 2 * math.Pi * d.Float64()
	r := radius - rim/2
	d.load = []Place{d.drill(math.Round(100*r*math.Cos(t))/100, math.Round(100*r*math.Sin(t))/100, hole)}
}
