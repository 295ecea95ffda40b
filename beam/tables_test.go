package beam

import (
	"math"
	"testing"

	"swapworth/beam/section"
	"swapworth/materials"
	"swapworth/mesh"
)

// The bar of the table checks: 20 x 10 mm, 1 m long, of steel.
const (
	barLength = 1000.0
	barArea   = 200.0
	barIz     = 20 * 10 * 10 * 10 / 12.0 // mm4, for loads along z
	barIy     = 10 * 20 * 20 * 20 / 12.0
)

var steel = materials.Elastic{YoungsModulus: 210000, Poisson: 0.3, Yield: 235, Density: 7850}

func bar(t testing.TB, s Setup) Result {
	t.Helper()
	return shapeBeam(t, "rect 20x10mm", barLength, steel, s)
}

func shapeBeam(t testing.TB, shape string, length float64, e materials.Elastic, s Setup) Result {
	t.Helper()
	sh, err := section.ParseShape(shape)
	if err != nil {
		t.Fatal(err)
	}
	if s.Load == s.Span {
		s.Load = mesh.Z
	}
	r, err := OfShape(sh, length, e, s)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func at(x float64) *float64 { return &x }

// Deflections under a single force, Roark's Formulas for Stress and Strain,
// beam tables, with the shear term added where the table leaves it out: the
// elementary shear area of a rectangle is 5/6 of its area.
func TestASingleForceDeflectsAsTheBeamTablesSay(t *testing.T) {
	const e, l = 210000.0, barLength
	gas := e / 2.6 * barArea * 5 / 6
	for _, c := range []struct {
		name   string
		setup  Setup
		bend   float64 // deflection at the load for 1 N, E I = 1
		shear  float64 // the same for G A_s = 1
		moment float64 // largest, for 1 N
	}{
		{"cantilever, end", Setup{Support: Cantilever}, l * l * l / 3, l, l},
		{"cantilever, at 400", Setup{Support: Cantilever, At: at(400)}, 400 * 400 * 400 / 3, 400, 400},
		{"simply supported, middle", Setup{Support: SimplySupported}, l * l * l / 48, l / 4, l / 4},
		{"simply supported, at 300", Setup{Support: SimplySupported, At: at(300)},
			300 * 300 * 700 * 700 / (3 * l), 300 * 700 / l, 300 * 700 / l},
		{"fixed, middle", Setup{Support: FixedFixed}, l * l * l / 192, l / 4, l / 8},
		{"fixed, at 300", Setup{Support: FixedFixed, At: at(300)},
			300 * 300 * 300 * 700 * 700 * 700 / (3 * l * l * l), 0, 300 * 700 * 700 / (l * l)},
		{"propped, middle", Setup{Support: Propped}, 7 * l * l * l / 768, 0, 3 * l / 16},
		{"propped, at 300 from the clamp", Setup{Support: Propped, At: at(300)},
			300 * 300 * 300 * 700 * 700 * (3*300 + 4*700) / (12 * l * l * l), 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.setup.Force = 10
			r := bar(t, c.setup)
			want, tol := c.bend/(e*barIz), 2e-3 // the table leaves shear out
			if c.shear > 0 {
				want, tol = want+c.shear/gas, 1e-5
			}
			near(t, "compliance", 1 / *r.Stiffness, want, tol)
			near(t, "deflection", *r.Deflection, 10 / *r.Stiffness, 1e-12)
			if c.moment > 0 {
				near(t, "bending stress", abs(r.Stress.Bending), 10*c.moment*5/barIz, 1e-3)
			}
		})
	}
}

// noPoisson has no shear area that depends on Poisson's ratio.
var noPoisson = materials.Elastic{YoungsModulus: 210000, Yield: 235, Density: 7850}

func TestEverySupportAndLoadAgreesWithTheBeamTables(t *testing.T) {
	const e, l = 210000.0, barLength
	ei := e * barIz
	gas := e / 2 * barArea * 5 / 6
	uniform := func(w float64) []Load { return []Load{{Kind: UniformForce, Value: w, Along: mesh.Z}} }
	couple := func(m, x float64) []Load {
		return []Load{{Kind: Couple, Value: m, At: at(x), Along: mesh.Z}}
	}
	own := 7850e-9 * barArea * 9.80665 // N/mm
	for _, c := range []struct {
		name  string
		setup Setup
		want  float64 // deflection at the load's place, mm
	}{
		{"cantilever, uniform", Setup{Loads: uniform(0.01)}, 0.01 * (l*l*l*l/(8*ei) + l*l/(2*gas))},
		{"cantilever, end couple", Setup{Loads: couple(1000, l)}, 1000 * l * l / (2 * ei)},
		{"cantilever, couple at 400", Setup{Loads: couple(1000, 400)}, 1000 * 400 * (l - 200) / ei},
		{"cantilever, own weight", Setup{OwnWeight: true}, own * (l*l*l*l/(8*ei) + l*l/(2*gas))},
		{"simple, uniform", Setup{Support: SimplySupported, Loads: uniform(0.01)},
			0.01 * (5*l*l*l*l/(384*ei) + l*l/(8*gas))},
		{"simple, end couple", Setup{Support: SimplySupported, Loads: couple(-1000, 1000)}, 1000 * l * l / (16 * ei)},
		{"fixed, uniform", Setup{Support: FixedFixed, Loads: uniform(0.01)},
			0.01 * (l*l*l*l/(384*ei) + l*l/(8*gas))},
		{"propped, uniform", Setup{Support: Propped, Loads: uniform(0.01)}, 0.01 * l * l * l * l / (192 * ei)},
		{"cantilever, force at 400 seen at the end", Setup{Loads: []Load{{Kind: PointForce, Value: 10, At: at(400), Along: mesh.Z}}},
			10 * (400*400*(3*l-400)/(6*ei) + 400/gas)},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := shapeBeam(t, "rect 20x10mm", l, noPoisson, c.setup)
			tol := 2e-5
			if c.setup.Support == Propped {
				tol = 6e-4 // the table leaves shear out
			}
			near(t, "deflection", *r.Deflection, c.want, tol)
		})
	}
}

func TestClampMomentsOfUniformLoads(t *testing.T) {
	const l = barLength // Roark, beam tables
	for _, c := range []struct {
		support Support
		moment  float64 // for 1 N/mm
	}{
		{Cantilever, l * l / 2}, {SimplySupported, l * l / 8}, {FixedFixed, l * l / 12}, {Propped, l * l / 8},
	} {
		r := shapeBeam(t, "rect 20x10mm", l, noPoisson,
			Setup{Support: c.support, Loads: []Load{{Kind: UniformForce, Value: 1, Along: mesh.Z}}})
		near(t, c.support.String(), abs(r.Stress.Bending), c.moment*5/barIz, 1e-3)
	}
}

func TestAxialForceStretchesAndBucklesTheBeam(t *testing.T) {
	const e, l = 210000.0, barLength
	pull := shapeBeam(t, "rect 20x10mm", l, noPoisson, Setup{Loads: []Load{{Kind: AxialForce, Value: 2000}}})
	near(t, "extension", *pull.Extension, 2000*l/(e*barArea), 1e-9)
	near(t, "stress", pull.Stress.Bending, 10, 1e-9)
	ei := e * barIz
	// Euler loads; the propped column's 20.19 is from memory
	for _, c := range []struct {
		support Support
		factor  float64
	}{
		{Cantilever, math.Pi * math.Pi / 4}, {SimplySupported, math.Pi * math.Pi},
		{FixedFixed, 4 * math.Pi * math.Pi}, {Propped, 20.19},
	} {
		s := Setup{Support: c.support, Loads: []Load{{Kind: AxialForce, Value: -1, At: at(l)}}}
		r := shapeBeam(t, "rect 20x10mm", l, noPoisson, s)
		near(t, c.support.String(), *r.BucklingForce, c.factor*ei/(l*l), 3e-3)
	}
}

// A cantilever with a tip force F and an axial compression P sags by
// F (tan kL - kL)/(P k), k^2 = P/(E I): Roark, beams under axial compression.
func TestAxialCompressionSoftensABeam(t *testing.T) {
	const l, p = barLength, 400.0
	r := shapeBeam(t, "rect 20x10mm", l, noPoisson, Setup{Force: 1, Loads: []Load{{Kind: AxialForce, Value: -p}}})
	k := math.Sqrt(p / (210000 * barIz))
	near(t, "deflection", *r.Deflection, (math.Tan(k*l)-k*l)/(p*k), 1e-3)
}

// Natural frequencies w = (bL)^2 sqrt(EI/(m L^4)), bL from the tables of uniform
// beams (Roark); shear and rotary inertia lower the second mode by under 0.1 %
// here.
func TestUniformBeamsRingAtTheTabulatedFrequencies(t *testing.T) {
	for _, c := range []struct {
		support       Support
		first, second float64
	}{
		{Cantilever, 1.8751, 4.6941}, {SimplySupported, math.Pi, 2 * math.Pi},
		{FixedFixed, 4.7300, 7.8532}, {Propped, 3.9266, 7.0686},
	} {
		r := shapeBeam(t, "rect 20x10mm", barLength, noPoisson, Setup{Support: c.support})
		unit := math.Sqrt(210000*barIz/(7850e-12*barArea)) / (barLength * barLength) / (2 * math.Pi)
		near(t, c.support.String(), *r.Frequency, c.first*c.first*unit, 1e-3)
		near(t, c.support.String()+", second", *r.SecondFrequency, c.second*c.second*unit, 3e-3)
		side := shapeBeam(t, "rect 20x10mm", barLength, noPoisson, Setup{Support: c.support, Load: mesh.Y})
		near(t, c.support.String()+", along y", *side.Frequency, 2**r.Frequency, 3e-3)
		near(t, c.support.String()+", lowest", *side.LowestFrequency, *r.Frequency, 1e-9)
	}
}

// A strip 40 times as wide as thick: its first mode along the width comes after
// six others.
func TestAFrequencyIsFoundBehindManySofterModes(t *testing.T) {
	r := shapeBeam(t, "rect 40x1mm", 400, noPoisson, Setup{Load: mesh.Y})
	thin := shapeBeam(t, "rect 40x1mm", 400, noPoisson, Setup{Load: mesh.Z})
	near(t, "along the width", *r.Frequency, 40**thin.Frequency, 0.02) // shear and rotary inertia take 1.4 %
	near(t, "lowest", *r.LowestFrequency, *thin.Frequency, 1e-9)
}

// With a mass M at the tip, mu = M/(m L), the frequency equation of a uniform
// cantilever is 1 + cos x cosh x + mu x (cos x sinh x - sin x cosh x) = 0.
func TestAMassAtTheTipLowersTheFrequency(t *testing.T) {
	beamMass := 7850e-6 * barArea * barLength // g
	for _, mu := range []float64{0.1, 1, 10} {
		r := shapeBeam(t, "rect 20x10mm", barLength, noPoisson, Setup{AttachedMass: mu * beamMass})
		x := bisect(0.1, 1.8751, func(x float64) float64 {
			return 1 + math.Cos(x)*math.Cosh(x) + mu*x*(math.Cos(x)*math.Sinh(x)-math.Sin(x)*math.Cosh(x))
		})
		unit := math.Sqrt(210000*barIz/(7850e-12*barArea)) / (barLength * barLength) / (2 * math.Pi)
		near(t, "frequency", *r.Frequency, x*x*unit, 5e-4)
	}
}

func bisect(lo, hi float64, f func(float64) float64) float64 {
	for range 80 {
		if mid := (lo + hi) / 2; (f(mid) > 0) == (f(lo) > 0) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// R. H. MacNeal and R. L. Harder, A proposed standard set of problems to test
// finite element accuracy (1985), straight cantilever 6 x 0.2 x 0.1.
func TestMacNealHarderStraightBeam(t *testing.T) {
	e := materials.Elastic{YoungsModulus: 1e7, Poisson: 0.3}
	in := shapeBeam(t, "rect 0.1x0.2mm", 6, e, Setup{Force: 1})
	near(t, "in plane", *in.Deflection, 0.1081, 2e-3)
	out := shapeBeam(t, "rect 0.2x0.1mm", 6, e, Setup{Force: 1})
	near(t, "out of plane", *out.Deflection, 0.4321, 2e-3)
	pull := shapeBeam(t, "rect 0.2x0.1mm", 6, e, Setup{Loads: []Load{{Kind: AxialForce, Value: 1}}})
	near(t, "extension", *pull.Extension, 3.0e-5, 1e-6)
}

// The twist of the same beam by Saint-Venant: T L/(G J), J = 0.229 a b^3 for
// a/b = 2 (Timoshenko and Goodier, Theory of Elasticity).
func TestTorqueTwistsTheBar(t *testing.T) {
	j := 0.229 * 20 * 10 * 10 * 10
	g := 210000 / 2.6
	r := bar(t, Setup{Loads: []Load{{Kind: Torque, Value: 1000}}})
	near(t, "cantilever", *r.Twist*math.Pi/180, 1000*barLength/(g*j), 0.02)
	both := bar(t, Setup{Support: FixedFixed, Loads: []Load{{Kind: Torque, Value: 1000, At: at(300)}}, At: at(300)})
	// both clamps hold the warping over about a depth
	near(t, "held at both ends", *both.Twist*math.Pi/180, 1000*300*700/barLength/(g*j), 0.03)
	// largest shear stress T/(0.246 a b^2), Timoshenko and Goodier; three digits
	near(t, "shear stress", r.Stress.Shear, 1000/(0.246*20*100), 3e-3)
}
