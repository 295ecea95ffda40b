package beam

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/beam/section"
	"swapworth/materials"
	"swapworth/mesh"
)

var ringing = materials.Elastic{YoungsModulus: 68300, Poisson: 0.33, Density: 2700}

// letter is an outline from pairs of coordinates.
func letter(xy ...float64) []r2.Vec {
	var out []r2.Vec
	for i := 0; i < len(xy); i += 2 {
		out = append(out, r2.Vec{X: xy[i], Y: xy[i+1]})
	}
	return out
}

var (
	angle40   = letter(0, 0, 40, 0, 40, 3, 3, 3, 3, 25, 0, 25)
	tee30     = letter(0, 0, 30, 0, 30, 4, 17, 4, 17, 24, 13, 24, 13, 4, 0, 4)
	channel25 = letter(0, 0, 25, 0, 25, 15, 23.5, 15, 23.5, 1.5, 1.5, 1.5, 1.5, 15, 0, 15)
)

// A bar with a plane of symmetry on two simple supports, bending across it: with
// the frequencies wb of bending and wt of twist alone and c from the shear centre
// to the centroid, (w^2-wb^2)(w^2-wt^2) = w^4 A c^2/I0 (S. Timoshenko, Vibration
// Problems in Engineering, coupled bending and torsion).
func TestAChannelRingsWithItsTwistAsInTheTextbook(t *testing.T) {
	const length = 500.0
	m := flatPart(t, length, channel25)
	got := ofPart(t, m, ringing, Setup{Span: mesh.Z, Load: mesh.X, Support: SimplySupported})
	section, err := section.Of(only(channel25))
	if err != nil {
		t.Fatal(err)
	}
	torsion := torsionOf(t, only(channel25))
	g := ringing.YoungsModulus / (2 * (1 + ringing.Poisson))
	density, p := ringing.Density*1e-12, math.Pi/length
	c := r2.Norm(r2.Sub(section.Centroid, torsion.ShearCentre))
	polar := section.Ixx + section.Iyy + section.Area*c*c
	wb := ringing.YoungsModulus * section.Iyy * math.Pow(p, 4) / (density * section.Area) // squared
	wt := (g*torsion.J*p*p + ringing.YoungsModulus*torsion.Warping*math.Pow(p, 4)) / (density * polar)
	// (1-k) x^2 - (wb+wt) x + wb wt = 0
	k := section.Area * c * c / polar
	x := (wb + wt - math.Sqrt((wb+wt)*(wb+wt)-4*(1-k)*wb*wt)) / (2 * (1 - k))
	near(t, "frequency", *got.Frequency, math.Sqrt(x)/(2*math.Pi), 0.01)
	if *got.Frequency > 0.9*math.Sqrt(wb)/(2*math.Pi) {
		t.Errorf("twist takes nothing off %g Hz", *got.Frequency)
	}
}

// Cantilevers against swapworth solid, which solves the same bars in three
// dimensions: its first mode, or its second where that is the one along the load.
func TestOpenSectionsRingAsSolids(t *testing.T) {
	for _, c := range []struct {
		name    string
		outline []r2.Vec
		length  float64
		load    mesh.Axis
		hz      float64
	}{
		{"angle 40x25x3 along the short leg", angle40, 180, mesh.Y, 364.1},
		{"the same along the long leg", angle40, 180, mesh.X, 595.1},
		{"channel 25x15x1.5 along the web", channel25, 200, mesh.X, 347.3},
		{"tee 30x24x4 along the flange", tee30, 200, mesh.X, 455.7},
	} {
		m := flatPart(t, c.length, c.outline)
		got := ofPart(t, m, ringing, Setup{Span: mesh.Z, Load: c.load})
		near(t, c.name, *got.Frequency, c.hz, 0.01)
	}
}

// The section under a load between supports stays plane as it twists, whether the
// load acts at a hole or beside it; at the end of a cantilever it does not.
func TestTwistIsPartedUnderTheLoad(t *testing.T) {
	a := &analysis{where: places{At: 85, Length: 170, To: 170}, setup: Setup{Support: SimplySupported}}
	runs := a.partedAtLoad([]twistRun{{from: 0, to: 40}, {from: 40, to: 170}})
	if len(runs) != 3 || runs[1].to != 85 || runs[2].from != 85 || runs[2].to != 170 {
		t.Errorf("parted at %+v", runs)
	}
	a.setup.Support = Cantilever
	if runs := a.partedAtLoad([]twistRun{{from: 0, to: 170}}); len(runs) != 1 {
		t.Errorf("a cantilever is parted at %+v", runs)
	}
}

// An angle with even legs moves at 45 degrees to both in its first mode.
func TestAnEvenAngleRingsAlongBothLegs(t *testing.T) {
	m := flatPart(t, 150, letter(0, 0, 35, 0, 35, 4, 4, 4, 4, 35, 0, 35))
	for _, load := range []mesh.Axis{mesh.X, mesh.Y} {
		got := ofPart(t, m, ringing, Setup{Span: mesh.Z, Load: load})
		near(t, "first along "+load.String(), *got.Frequency, *got.LowestFrequency, 1e-9)
	}
}
