package beam_test

import (
	"context"
	"flag"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/beam"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/cut"
	"swapworth/solid"
)

var from = flag.Uint64("from", 101, "the first bar that nobody looked at")

// drawnSection draws a section within about the given size, centred.
func drawnSection(r *rand.Rand, size float64) cut.Region {
	pick := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	w, h := size*pick(0.4, 1), size*pick(0.4, 1)
	t := min(w, h) * pick(0.08, 0.25)
	move := func(out []r2.Vec) []r2.Vec {
		for i := range out {
			out[i] = r2.Sub(out[i], r2.Vec{X: w / 2, Y: h / 2})
		}
		return out
	}
	switch r.IntN(7) {
	case 0:
		return solidRegion(disc(w))
	case 1:
		return solidRegion(disc(w), drilled(0, 0, w-2*t))
	case 2:
		return solidRegion(move(upright(0, 0, w, h)), move(opening(t, t, w-t, h-t)))
	case 3:
		return solidRegion(move(outline(0, 0, w, 0, w, t, t, t, t, h-t, w, h-t, w, h, 0, h)))
	case 4:
		return solidRegion(move(outline(0, 0, w, 0, w, t, (w+t)/2, t, (w+t)/2, h, (w-t)/2, h, (w-t)/2, t, 0, t)))
	case 5:
		return solidRegion(move(outline(0, 0, w, 0, w, t, t, t, t, h, 0, h)))
	}
	return solidRegion(move(upright(0, 0, w, h)))
}

// scaled shrinks a region towards the origin.
func scaled(r cut.Region, by float64) cut.Region {
	var out cut.Region
	for _, p := range r {
		var q cut.Polygon
		for k, l := range p.Loops() {
			m := make([]r2.Vec, len(l))
			for i, v := range l {
				m[i] = r2.Scale(by, v)
			}
			if k == 0 {
				q.Outer = m
			} else {
				q.Holes = append(q.Holes, m)
			}
		}
		out = append(out, q)
	}
	return out
}

// Bars that nobody looked at while the bounds were derived, of one section or
// in two steps, with any support: the solid's value lies inside the stated error,
// widened by the solid's own, in 19 of 20 at least.
func TestUnseenBeamsAgreeWithTheSolid(t *testing.T) {
	if !*long {
		t.Skip("takes minutes: run with -long, other bars with -from")
	}
	e := materials.Elastic{YoungsModulus: 70000, Poisson: 0.33}
	inside, all := 0, 0
	for seed := *from; all < 40; seed++ {
		m, setup, ok := drawnBeam(rand.New(rand.NewPCG(seed, 7)))
		if !ok {
			continue
		}
		b, err := beam.OfPart(m, e, setup)
		if err != nil {
			t.Fatal(err)
		}
		if b.Stiffness == nil {
			continue
		}
		p, err := solid.EndProblem(m, mesh.X, setup.Load, setup.Support.String(), 100)
		if err != nil {
			t.Fatal(err)
		}
		s, err := solid.Check(context.Background(), m, e, p, solid.Options{Unknowns: 60000, Grids: 2})
		if err != nil {
			t.Fatal(err)
		}
		all++
		off, slack := s.Stiffness / *b.Stiffness - 1, s.ErrorPercent/100
		is := off >= b.MethodError.Low-slack && off <= b.MethodError.High+slack
		if is {
			inside++
		}
		t.Logf("bar %d, %s along %s, span over depth %.1f: solid %.4g N/mm ± %.1f %%, %+.1f %% off, stated %+.1f to %+.1f, inside: %v",
			seed, setup.Support, setup.Load, b.Slenderness, s.Stiffness, s.ErrorPercent, 100*off, 100*b.MethodError.Low, 100*b.MethodError.High, is)
	}
	t.Logf("%d of %d inside", inside, all)
	if inside*20 < all*19 {
		t.Errorf("%d of %d inside", inside, all)
	}
}

// drawnBeam draws a bar of one section, or of two like ones, 4 to 12 times as
// long as its section is large.
func drawnBeam(r *rand.Rand) (*mesh.Mesh, beam.Setup, bool) {
	size := 20 + 30*r.Float64()
	length := size * (4 + 8*r.Float64())
	first := drawnSection(r, size)
	layers := []cut.Layer{{Region: first, Thickness: length}}
	if r.IntN(2) == 0 {
		at := 0.2 + 0.6*r.Float64()
		layers[0].Thickness = at * length
		layers = append(layers, cut.Layer{Region: scaled(first, 0.6+0.35*r.Float64()), Thickness: (1 - at) * length})
	}
	setup := beam.Setup{Load: mesh.Axis(1 + r.IntN(2)), Support: beam.Support(r.IntN(4))}
	m, err := cut.Stack(mesh.AxisPlane(mesh.X, 0), layers...)
	return m, setup, err == nil
}
