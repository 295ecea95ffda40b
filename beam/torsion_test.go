package beam

import (
	"math"
	"strings"
	"testing"

	"swapworth/beam/section"
	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// Open sections under a torque at the free end of a cantilever, warping held at
// the clamp: t = T/(Cw E b^3) (b L - tanh b L), b^2 = G J/(Cw E). Roark's Formulas
// for Stress and Strain, elastic deformations due to torsion of thin-walled open
// cross sections, from memory.
func TestOpenSectionsTwistAsRoarkSays(t *testing.T) {
	for _, text := range []string{"channel 30x20x3", "I 100x55x4.1x5.7 r7", "angle 40x40x4"} {
		s := shapeOf(t, text)
		res, err := s.Torsion(steel.Poisson)
		if err != nil {
			t.Fatal(err)
		}
		for _, length := range []float64{100 * math.Sqrt(s.Properties().Area) / 10, 1000} {
			r := shapeBeam(t, text, length, steel, Setup{Loads: []Load{{Kind: Torque, Value: 1000}}})
			ec := steel.YoungsModulus * res.Warping
			b := math.Sqrt(steel.YoungsModulus / 2.6 * res.J / ec)
			want := 1000 / (ec * b * b * b) * (b*length - math.Tanh(b*length))
			near(t, text, *r.Twist*math.Pi/180, want, 3e-3)
		}
	}
}

// Shear stress of a torque: T over the section's modulus, which package section
// holds against Roark. sqrt(3 J/A) for the thickness was 38 % low at the tee, 10
// % at the flat and 22 % high at the round bar.
func TestATorqueStressesTheSectionByItsModulus(t *testing.T) {
	for text, want := range map[string]float64{
		"round 20":      16 * 5000 / (math.Pi * 8000),
		"rect 20x8":     5000 / (0.2583 * 20 * 64), // 0.258 for 2.5 : 1, Timoshenko and Goodier
		"tube 20x2":     16 * 5000 * 20 / (math.Pi * (math.Pow(20, 4) - math.Pow(16, 4))),
		"tee 50x50x2x8": 5000 * 8 / torsionOf(t, shapeOf(t, "tee 50x50x2x8").Region()).J,
	} {
		r := shapeBeam(t, text, 1000, steel, Setup{Loads: []Load{{Kind: Torque, Value: 5000}}})
		near(t, text, r.Stress.Shear, want, 5e-3)
		near(t, text+", von Mises", r.Stress.Equivalent, math.Sqrt(3)*want, 5e-3)
	}
}

// A channel loaded across its web, through the centroid, twists by the torque F
// (distance to the shear centre); its web is 30 high between middle lines 27,
// flanges 18.5, of even thickness: e = 3 b^2/(h + 6 b) behind the web (Roark).
func TestAPartLoadedBesideItsShearCentreTwists(t *testing.T) {
	m, err := cut.Extrude(only(loop(0, 0, 20, 0, 20, 3, 3, 3, 3, 27, 20, 27, 20, 30, 0, 30)), mesh.AxisPlane(mesh.X, 0), 600)
	if err != nil {
		t.Fatal(err)
	}
	r := ofPart(t, m, noPoisson, Setup{Load: mesh.Z, Force: 10})
	region := only(loop(0, 0, 20, 0, 20, 3, 3, 3, 3, 27, 20, 27, 20, 30, 0, 30))
	s, err := section.Of(region)
	if err != nil {
		t.Fatal(err)
	}
	h, b := 27.0, 18.5
	arm := s.Centroid.X - 1.5 + 3*b*b/(h+6*b)
	j := torsionOf(t, region).J
	warping := torsionOf(t, region).Warping
	k := math.Sqrt(noPoisson.YoungsModulus / 2 * j / (noPoisson.YoungsModulus * warping))
	angle := 10 * arm / (noPoisson.YoungsModulus / 2 * j) * (600 - math.Tanh(k*600)/k)
	near(t, "angle", abs(*r.Twist)*math.Pi/180, angle, 0.03) // the walls are not thin
	bend := 600.*600*600/(3*noPoisson.YoungsModulus*s.Ixx) + 600/(noPoisson.YoungsModulus/2*section.Jourawski(region, 1).Area)
	near(t, "deflection", *r.Deflection, 10*bend+angle*arm, 0.02)
	if r.Frequency != nil || !strings.Contains(strings.Join(r.Warnings, "\n"), "twists as it bends") {
		t.Errorf("frequency %v, warnings %q", r.Frequency, r.Warnings)
	}
	across := ofPart(t, m, noPoisson, Setup{Load: mesh.Y, Force: 10})
	if across.Twist != nil || across.Frequency == nil {
		t.Errorf("across the web, in the plane of symmetry: twist %v, frequency %v", across.Twist, across.Frequency)
	}
}

// A torque between two held ends: a rigid turn is kept out at both, and both
// halves share it.
func TestATorqueBetweenHeldEndsIsSharedByThem(t *testing.T) {
	r := shapeBeam(t, "round 20", 1000, steel, Setup{Support: SimplySupported, Loads: []Load{{Kind: Torque, Value: 5000, At: at(300)}}, At: at(300)})
	j := math.Pi / 32 * math.Pow(20, 4)
	near(t, "angle", *r.Twist*math.Pi/180, 5000*300*700/1000/(steel.YoungsModulus/2.6*j), 1e-6)
}

// A taper of angles twists by the integral of T/(G J), bounded by warping free
// and held.
func TestAChangingOpenSectionIsBoundedByItsWarping(t *testing.T) {
	small, large := loop(0, 0, 30, 0, 30, 3, 3, 3, 3, 20, 0, 20), loop(0, 0, 32, 0, 32, 4, 4, 4, 4, 22, 0, 22)
	m, err := cut.Stack(mesh.AxisPlane(mesh.X, 0), cut.Layer{Region: only(large), Thickness: 150}, cut.Layer{Region: only(small), Thickness: 150})
	if err != nil {
		t.Fatal(err)
	}
	r := ofPart(t, m, steel, Setup{Load: mesh.Z, Force: 1})
	if !(r.MethodError.Low < 0) || r.Twist == nil {
		t.Errorf("error %+v, twist %v", r.MethodError, r.Twist)
	}
}

// Saint-Venant's A^4/Ip carries J from a section to a like one.
func TestLikeSectionsShareOneSolution(t *testing.T) {
	p := problem{elastic: steel, handbook: true}
	for _, pair := range [][2]string{
		{"channel 30x20x3", "channel 30x20.2x3"}, {"channel 30x20x3", "channel 30x20x3.05"}, {"channel 30x20x3", "channel 30.2x20x3"},
		{"angle 40x40x4", "angle 40.4x40x4"}, {"tee 50x40x4x6", "tee 50x40.3x4x6"}, {"recttube 40x20x2", "recttube 40.3x20x2"},
		{"rect 20x8", "rect 20.15x8"}, {"rect 20x8", "rect 20x8.07"}, {"hexagon 17", "hexagon 17.1"},
	} {
		a, b := shapeOf(t, pair[0]), shapeOf(t, pair[1])
		if !alike(a.Properties(), b.Properties()) {
			t.Errorf("%s and %s do not share a solution", pair[0], pair[1])
		}
		carried := p.twistedAt(&cutSection{Section: b.Properties()}, a.Properties(), torsionOf(t, a.Region()), b.Properties().Centroid)
		near(t, pair[1]+" from "+pair[0], carried.gj/p.shearModulus(), torsionOf(t, b.Region()).J, 0.02)
	}
}

// A force at an angle is the sum of its parts along both axes.
func TestAnObliqueForceIsTheSumOfItsParts(t *testing.T) {
	across := []Load{{Kind: PointForce, Value: 40, Along: mesh.Y}}
	both := bar(t, Setup{Force: 30, Loads: across})
	near(t, "along z", *both.Deflection, *bar(t, Setup{Force: 30}).Deflection, 1e-9)
	near(t, "along y", *both.SideDeflection, *bar(t, Setup{Load: mesh.Y, Force: 40}).Deflection, 1e-9)
	// 30 l/(b h^2/6) + 40 l/(h b^2/6), b = 20, h = 10
	near(t, "stress", abs(both.Stress.Bending), 30*barLength*6/(20*100)+40*barLength*6/(10*400), 1e-9)
}
