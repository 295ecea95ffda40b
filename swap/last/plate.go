package last

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/interp"

	"swapworth/materials"
	"swapworth/quantity"
	"swapworth/swap/mill"
)

// plate is how a floor bends: its lowest frequency in Hz, how far a force of 1 N in its
// middle moves it in mm, and the compression in its plane at which it buckles, MPa.
type plate struct{ Frequency, PerNewton, Buckles float64 }

// clampedPlate is a rectangle of sides a >= b that is clamped all around, of thickness t, of
// a material of Young's modulus E in MPa and density rho in kg/m3. With the rigidity
// D = E t^3/(12 (1 - v^2)):
//
//	w = alpha P b^2/D, alpha from 0.00560 for a square to 0.00725
//	    (Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, table 37)
//	f = 22.37/(2 pi b^2) sqrt(1 + 0.605 (b/a)^2 + (b/a)^4) sqrt(D/(rho t))
//	    (Warburton 1954, with beam functions; Leissa 1973 has 35.99 for a square)
//	s = K E/(1 - v^2) (t/b)^2, K from 7.7 for a square to 5.73, pressed along a
//	    (Roark's Formulas for Stress and Strain, elastic stability of plates)
func clampedPlate(a, b, t float64, m materials.Elastic) plate {
	if a < b {
		a, b = b, a
	}
	d, rho := rigidity(t, m), m.Density*tonnesPerMM3
	k := b / a
	return plate{
		Frequency: clampedBeam / (2 * math.Pi * b * b) * math.Sqrt(1+0.605*k*k+k*k*k*k) * math.Sqrt(d/(rho*t)),
		PerNewton: pushed.Predict(k) * b * b / d,
		Buckles:   pressed.Predict(k) * m.YoungsModulus / (1 - m.Poisson*m.Poisson) * (t / b) * (t / b),
	}
}

const (
	tonnesPerMM3 = 1e-12 // of 1 kg/m3
	clampedBeam  = 22.3733
	tipBeam      = 3.5160 // both: Roark's Formulas for Stress and Strain, uniform beams
)

func rigidity(t float64, m materials.Elastic) float64 {
	return m.YoungsModulus * t * t * t / (12 * (1 - m.Poisson*m.Poisson))
}

// pushed and pressed are the coefficients of a clamped plate over b/a, from a strip to
// a square.
var (
	pushed = table([]float64{0, 1 / 2., 1 / 1.8, 1 / 1.6, 1 / 1.4, 1 / 1.2, 1},
		[]float64{0.00725, 0.00722, 0.00720, 0.00712, 0.00691, 0.00647, 0.00560}) // Timoshenko and Woinowsky-Krieger, table 37, from memory
	pressed = table([]float64{0, 1 / 3., 1 / 2., 1}, []float64{5.73, 6.4, 6.7, 7.7}) // Roark, from memory
)

func table(x, y []float64) *interp.PiecewiseLinear {
	var p interp.PiecewiseLinear
	if err := p.Fit(x, y); err != nil {
		panic(err)
	}
	return &p
}

// strip is a floor that walls hold across one way alone: a beam of length l and width w
// with the rigidity of a plate, clamped at both ends or at one.
func strip(l, w, t float64, both bool, m materials.Elastic) plate {
	d, rho := rigidity(t, m), m.Density*tonnesPerMM3
	if both {
		return plate{
			Frequency: clampedBeam / (2 * math.Pi * l * l) * math.Sqrt(d/(rho*t)),
			PerNewton: l * l * l / (192 * d * w),
			Buckles:   4 * math.Pi * math.Pi * d / (l * l * t),
		}
	}
	return plate{
		Frequency: tipBeam / (2 * math.Pi * l * l) * math.Sqrt(d/(rho*t)),
		PerNewton: l * l * l / (3 * d * w),
		Buckles:   math.Pi * math.Pi * d / (4 * l * l * t),
	}
}

// bends returns how a floor bends, held as its walls hold it.
func bends(f mill.Floor, m materials.Elastic) plate {
	a, b := f.Size[0], f.Size[1]
	ha, hb := f.Held[0], f.Held[1]
	if ha < hb { // the way with more walls first
		a, b, ha, hb = b, a, hb, ha
	}
	switch {
	case hb == 2:
		return clampedPlate(a, b, f.Thickness, m)
	case ha == 2:
		return strip(a, b, f.Thickness, true, m)
	}
	return strip(a, b, f.Thickness, false, m)
}

const (
	// drums is how far above the cutter's teeth a floor has to ring to keep still: at
	// four times their frequency it moves 1/(1 - 1/16), 7 % more than under a steady
	// force (one degree of freedom, undamped).
	drums = 4.0
	push  = 10.0 // N, of a finger or a small end mill
)

// floor tells of the worst floor: the one that rings lowest.
func floor(p Part, _ materials.Material) *Finding {
	e := p.Material.Elastic()
	if e.YoungsModulus == 0 || e.Density == 0 {
		return nil
	}
	worst, at := plate{Frequency: math.Inf(1)}, mill.Floor{}
	for _, f := range p.Floors {
		if b := bends(f, e); b.Frequency < worst.Frequency {
			worst, at = b, f
		}
	}
	rings := p.Tooth > 0 && worst.Frequency < drums*p.Tooth
	buckles := e.Yield > 0 && worst.Buckles < e.Yield
	if math.IsInf(worst.Frequency, 1) || !rings && !buckles {
		return nil
	}
	long, short := max(at.Size[0], at.Size[1]), min(at.Size[0], at.Size[1])
	says := fmt.Sprintf("a floor of %s x %s mm, %s mm thin", quantity.Short(long, 3), quantity.Short(short, 3), number(at.Thickness))
	if rings {
		says += fmt.Sprintf(", drums at %s Hz", number(worst.Frequency))
	}
	if buckles {
		says += fmt.Sprintf(", buckles at %s MPa", number(worst.Buckles))
	}
	return &Finding{
		Kind: ThinFloor, Says: says, Value: &worst.Frequency, Unit: "Hz",
		Why: fmt.Sprintf("as a plate between its walls it rings at %s Hz, gives %s mm under %s N, and buckles at %s MPa in its plane (Timoshenko and Woinowsky-Krieger, Warburton, Roark); the cutter's teeth strike at %s Hz",
			number(worst.Frequency), number(push*worst.PerNewton), number(push), number(worst.Buckles), number(p.Tooth)),
		Change: "a thicker floor, or a rib across it; finish it with light cuts, supported from below",
	}
}

// moves is how far off the middle of its thickness the centroid of a plate may lie
// before it is told to bow, as a share of the thickness: a pocket over a quarter of the
// area, half as deep as the plate, moves it by 0.036.
const moves = 0.03

// bow tells of stock whose locked-in stress one-sided cuts set free.
func bow(p Part, _ materials.Material) *Finding {
	if !p.Milled || math.Abs(p.OneSided) < moves {
		return nil
	}
	v := 100 * math.Abs(p.OneSided)
	f := &Finding{
		Kind: Bow, Value: &v, Unit: "% of the thickness",
		Why:    fmt.Sprintf("more is cut from one side: the centroid lies %s %% of the thickness off the middle, and stress that rolling or drawing left is no longer in balance (common practice)", number(v)),
		Change: "rough both sides, take it out of the vice, let it move, then finish; buy stretched plate (T651) or cast plate",
	}
	switch {
	case p.Material.Has(materials.Bows):
		f.Says = p.Material.Name + " bows when one side is pocketed; cast plate does so less"
	case p.Material.Has(materials.StaysFlat):
		f.Says = p.Material.Name + " is pocketed on one side: cast, it bows a little"
		f.Change = "finish it in a second light pass"
	default:
		return nil
	}
	return f
}
