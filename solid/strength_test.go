package solid

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// stretched is a flat bar along x between outlines, pulled at its end with a stress
// of 1 MPa on the smaller of its ends.
func stretched(t *testing.T, outline []r2.Vec, holes [][]r2.Vec, thick float64, opt Options) CaseResult {
	t.Helper()
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), cut.Layer{Region: cut.Region{{Outer: outline, Holes: holes}}, Thickness: thick})
	if err != nil {
		t.Fatal(err)
	}
	high := math.Inf(-1)
	for _, v := range outline {
		high = max(high, v.X)
	}
	p := Problem{
		// held along x alone over the end, and at points across, so that it contracts
		Supports: []Support{
			{Place: EndPlace(mesh.X, false), Hold: [3]bool{true, false, false}},
			{Place: Place{kind: endPoint, axis: mesh.X}, Hold: [3]bool{true, true, true}},
			{Place: Inside(mesh.Box{Min: r3.Vec{X: -1, Y: -0.5, Z: -1}, Max: r3.Vec{X: 0.1, Y: 100, Z: 100}}), Hold: [3]bool{false, false, true}},
		},
		Cases: []Case{{Name: "pull", Loads: []Load{{Place: EndPlace(mesh.X, true), Pressure: -1}}}},
	}
	opt.Peaks = true
	r := solve(t, m, alloy, p, opt)
	c := r.Cases[0]
	for _, k := range c.Peaks {
		t.Logf("peak at %.2f: %.3g (%.3g to %.3g) MPa, %v, levels %.3g", k.At, k.Stress.Nominal, k.Stress.Low, k.Stress.High, k, k.Levels)
	}
	t.Logf("whole grid %.4g, away %.4g, %.2f s", r.Grids[len(r.Grids)-1].cases[0].MaxStress, c.AwayStress, r.Seconds)
	return c
}

func arc(cx, cy, radius, from, to float64, chords int) (p []r2.Vec) {
	for k := range chords + 1 {
		sin, cos := math.Sincos((from + (to-from)*float64(k)/float64(chords)) * math.Pi / 180)
		p = append(p, r2.Vec{X: cx + radius*cos, Y: cy + radius*sin})
	}
	return
}

// Hole in a wide plate: 3 (Kirsch, 1898). With Howland's finite width (Peterson,
// Stress Concentration Factors, chart 4.1) 3.00 of the gross stress at d/W 0.05 and
// 3.04 at 0.1.
func TestTheStressAtASmallHoleIsThreeTimes(t *testing.T) {
	t.Parallel()
	for _, d := range []float64{4, 8} {
		t.Run(fmt.Sprintf("hole %g", d), func(t *testing.T) {
			outline := []r2.Vec{{}, {X: 120}, {X: 120, Y: 80}, {Y: 80}}
			circle := arc(60, 40, d/2, 0, -360, 48)
			c := stretched(t, outline, [][]r2.Vec{circle[:48]}, 3, Quick())
			near(t, "stress", c.MaxStress, 3, 7)
			if !c.Resolved || c.Stress.Low > 3.05 || c.Stress.High < 3 {
				t.Errorf("range %.3g to %.3g, resolved %v", c.Stress.Low, c.Stress.High, c.Resolved)
			}
		})
	}
}

// Flat bar with shoulder fillets under tension, to the stress of the narrow part:
// Roark's Formulas for Stress and Strain, table 17.1, case 5a (Peterson's chart 3.1),
// from memory.
func TestTheStressAtAShoulderFilletIsThatOfTheChart(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ wide, narrow, radius float64 }{{40, 20, 4}, {36, 24, 3}} {
		t.Run(fmt.Sprintf("%g to %g, radius %g", c.wide, c.narrow, c.radius), func(t *testing.T) {
			h := (c.wide - c.narrow) / 2
			s, q := math.Sqrt(h/c.radius), h/c.radius
			k := [4]float64{1.006 + 1.008*s - 0.044*q, -0.115 - 0.584*s + 0.315*q, 0.245 - 1.006*s - 0.257*q, -0.135 + 0.582*s - 0.017*q}
			if q > 2 {
				k = [4]float64{1.020 + 1.009*s - 0.048*q, -0.065 - 0.165*s - 0.007*q, -3.459 + 1.266*s - 0.016*q, 3.505 - 2.109*s + 0.069*q}
			}
			x := 2 * h / c.wide
			want := k[0] + k[1]*x + k[2]*x*x + k[3]*x*x*x
			low, high := c.wide/2-c.narrow/2, c.wide/2+c.narrow/2
			outline := []r2.Vec{{}, {X: 60}}
			outline = append(outline, r2.Vec{X: 60, Y: low - c.radius})
			outline = append(outline, arc(60+c.radius, low-c.radius, c.radius, 180, 90, 16)...)
			outline = append(outline, r2.Vec{X: 140, Y: low}, r2.Vec{X: 140, Y: high})
			outline = append(outline, arc(60+c.radius, high+c.radius, c.radius, 270, 180, 16)...)
			outline = append(outline, r2.Vec{X: 60, Y: c.wide}, r2.Vec{Y: c.wide})
			got := stretched(t, dedupe(outline), nil, 4, Quick())
			near(t, "stress", got.MaxStress, want, 7)
		})
	}
}

func dedupe(p []r2.Vec) (out []r2.Vec) {
	for _, v := range p {
		if n := len(out); n == 0 || r2.Norm(r2.Sub(out[n-1], v)) > 1e-9 {
			out = append(out, v)
		}
	}
	return
}

// Flat bar with two half-round notches under tension, to the net stress: Roark, table
// 17.1, case 1 (Peterson's chart 2.4), from memory.
func TestTheStressAtANotchIsThatOfTheChart(t *testing.T) {
	t.Parallel()
	for _, radius := range []float64{2.5} {
		t.Run(fmt.Sprintf("radius %g", radius), func(t *testing.T) {
			const wide = 40.0
			x := 2 * radius / wide
			want := (3.065 - 3.370*x + 0.647*x*x + 0.658*x*x*x) * wide / (wide - 2*radius)
			outline := []r2.Vec{{}}
			outline = append(outline, arc(60, 0, radius, 180, 0, 32)...)
			outline = append(outline, r2.Vec{X: 120}, r2.Vec{X: 120, Y: wide})
			outline = append(outline, arc(60, wide, radius, 0, -180, 32)...)
			outline = append(outline, r2.Vec{Y: wide})
			got := stretched(t, outline, nil, 4, Quick())
			near(t, "stress", got.MaxStress, want, 7)
		})
	}
}

// An L of square bars without a fillet: the stress at its inner corner has no limit.
func TestASharpInnerCornerIsSaidToHaveNoLimit(t *testing.T) {
	outline := []r2.Vec{{}, {X: 60}, {X: 60, Y: 12}, {X: 12, Y: 12}, {X: 12, Y: 70}, {Y: 70}}
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), cut.Layer{Region: cut.Region{{Outer: outline}}, Thickness: 8})
	if err != nil {
		t.Fatal(err)
	}
	p := Problem{
		Supports: []Support{Clamped(FaceAt(r3.Vec{X: 6, Y: 70, Z: 4}, r3.Vec{Y: 1}))},
		Cases:    []Case{{Name: "x", Loads: []Load{{Place: FaceAt(r3.Vec{X: 60, Y: 6, Z: 4}, r3.Vec{X: 1}), Force: r3.Vec{Y: 100}}}}},
	}
	r := solve(t, m, alloy, p, Options{Unknowns: 20000, Grids: 2, Peaks: true})
	corner := r.Cases[0].Peaks[0]
	for _, k := range r.Cases[0].Peaks {
		t.Logf("peak at %.2f: %.3g (%.3g to %.3g) MPa, %v, levels %.3g", k.At, k.Stress.Nominal, k.Stress.Low, k.Stress.High, k, k.Levels)
		if k.Stress.Nominal > r.Cases[0].MaxStress {
			t.Errorf("%.3g MPa at %v is not the largest", r.Cases[0].MaxStress, k.At)
		}
	}
	last := corner.Levels[len(corner.Levels)-1]
	if !strings.HasPrefix(corner.NoLimit, "a sharp inner corner") || math.Hypot(corner.At[0]-12, corner.At[1]-12) > 0.2 ||
		corner.Stress.Nominal > last.Stress/2 || corner.Distance == nil {
		t.Errorf("corner %+v", corner)
	}
	// by hand: the upright beside the corner takes 100 N at 54 mm from its middle and
	// 6 mm off it in 12 x 8: bending 28.1 and pull 1 MPa
	near(t, "structural stress", corner.Stress.Nominal, 100*54*6/(8*12*12*12/12.0)+100/96.0, 10)
	if !strings.Contains(strings.Join(r.Warnings, "; "), "has no limit") && r.Cases[0].MaxStress == corner.Stress.Nominal {
		t.Errorf("nothing is said: %v", r.Warnings)
	}
}

// A peak that is asked for is looked at although hotter ones are elsewhere.
func TestAPlaceThatIsAskedForIsLookedAt(t *testing.T) {
	circle := arc(90, 20, 3, 0, -360, 48)
	plate := cut.Polygon{Outer: []r2.Vec{{}, {X: 120}, {X: 120, Y: 40}, {Y: 40}}, Holes: [][]r2.Vec{circle[:48]}}
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), cut.Layer{Region: cut.Region{plate}, Thickness: 4})
	if err != nil {
		t.Fatal(err)
	}
	p, err := EndProblem(m, mesh.X, mesh.Z, "cantilever", 10)
	if err != nil {
		t.Fatal(err)
	}
	opt := Options{Unknowns: 6000, Grids: 2, LookAt: []Spot{{At: r3.Vec{X: 90, Y: 20, Z: 4}, Radius: 5}}}
	r := solve(t, m, alloy, p, opt)
	found := 0
	for _, k := range r.Cases[0].Peaks {
		if math.Hypot(k.At[0]-90, k.At[1]-20) <= 5 {
			found++
			// bending of the plate at the hole, M/W = F x/(b t^2/6), times 1.8 to 2.4 for
			// a hole of 1.5 thicknesses (Peterson, chart 4.83, from memory)
			nominal := 10 * 30 / (40 * 4 * 4 / 6.0)
			if ratio := k.Stress.Nominal / nominal; ratio < 1.8 || ratio > 2.4 {
				t.Errorf("%.3g MPa at the hole, %.2f of nominal", k.Stress.Nominal, ratio)
			}
		}
	}
	if found == 0 {
		t.Errorf("the hole was not looked at: %+v", r.Cases[0].Peaks)
	}
}
