package section

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/beam/section/internal/warp"
	"swapworth/mesh/cut"
)

// TorsionResult is what Saint-Venant's problems of torsion and flexure give for
// a section.
type TorsionResult struct {
	J           float64    // mm4, torsion constant: twist per length = torque/(G J)
	JLow, JHigh float64    // mm4, bounds of J for the polygon
	ShearArea   [2]float64 // mm2, for a force along the first and along the second axis
	PlainShear  [2]bool    // whether that shear area leaves Poisson's effect out, see Torsion
	ShearCentre r2.Vec     // mm, in the coordinates of the region; NaN for separate pieces
	Warping     float64    // mm6, warping constant about the shear centre; NaN for separate pieces
	Area        float64    // mm2, of the triangulated region; overlapping outlines count once
	Modulus     float64    // mm3, torque over the largest shear stress; sharp inner corners apart, see Torsion
	Pieces      int        // separate pieces; J and shear areas are then sums over them
	Triangles   int        // of the last mesh, over all pieces
	Error       float64    // estimated, relative, of the least certain of J and the shear areas
}

// defaultTolerance is the relative error at which Torsion stops refining.
const defaultTolerance = 5e-4

// mostPoints bounds the triangulation of a piece, and with it time and memory.
const mostPoints = 120000

// Torsion solves Saint-Venant's problems on the region for Poisson's ratio in
// [0, 0.5] and refines until the estimated error is below defaultTolerance.
//
// J lies between bounds from the stress function and from the warping function.
// The shear area is Cowper's (J. Appl. Mech. 33, 1966): force over G and over
// the slope of the mean deflection less the mean rotation of the section; for a
// rectangle it is 10(1+v)/(12+11v) of the area. Where Poisson's effect would
// change it by more than half, as for an I bent sideways, the mean deflection
// tells of the section's curl rather than of shear; the area is then that for
// v = 0 and PlainShear says so. The shear centre is the point through which a
// force bends without mean twist. A region of separate pieces
// is taken piece by piece, as if each bent and twisted on its own: J and shear
// areas are sums, and there is no common shear centre.
//
// Modulus is J over the largest slope of the stress function on the outline. At
// a sharp inner corner that slope has no limit; what lies within half of the
// mean wall of one is left out, as T t/J of a thin open section leaves it out.
func Torsion(r cut.Region, poisson float64) (TorsionResult, error) {
	return torsionWithin(r, poisson, defaultTolerance)
}

// torsionWithin is Torsion with another tolerance, from 1e-6 for a reference
// value to 1e-2 for many sections in a row.
func torsionWithin(r cut.Region, poisson, tolerance float64) (TorsionResult, error) {
	if err := checkPoisson(poisson); err != nil {
		return TorsionResult{}, err
	}
	pieces, err := solveRegion(r, warp.Options{Tolerance: tolerance, Points: mostPoints})
	if err != nil {
		return TorsionResult{}, fmt.Errorf("torsion and shear of the section: %w", err)
	}
	var out TorsionResult
	var peak float64
	for i := range pieces {
		p := &pieces[i]
		out.JLow += p.JLow
		out.JHigh += p.JHigh
		a, plain := p.ShearArea(poisson)
		for k := range a {
			out.ShearArea[k] += a[k]
			out.PlainShear[k] = out.PlainShear[k] || plain[k]
		}
		out.Area += p.Area
		peak = max(peak, p.Peak) // all pieces turn alike
		out.ShearCentre, out.Warping = p.ShearCentre(poisson), p.Warping
		out.Triangles += p.Triangles
		out.Error = max(out.Error, p.Error)
	}
	out.J = (out.JLow + out.JHigh) / 2
	out.Modulus = out.J / peak
	out.Pieces = len(pieces)
	if out.Pieces > 1 {
		out.ShearCentre = r2.Vec{X: math.NaN(), Y: math.NaN()}
		out.Warping = math.NaN()
	}
	return out, nil
}

func checkPoisson(v float64) error {
	if !(v >= 0 && v <= 0.5) {
		return fmt.Errorf("a Poisson's ratio of %g: expected a number from 0 to 0.5", v)
	}
	return nil
}

// shearAreas returns only the shear areas, in mm2, along the first and the
// second axis. It is faster than torsionWithin, and takes no time for upright
// rectangles, which a cut through a plate between its holes consists of.
func shearAreas(r cut.Region, poisson, tolerance float64) ([2]float64, error) {
	var sum [2]float64
	if err := checkPoisson(poisson); err != nil {
		return sum, err
	}
	if area, ok := uprightBars(r); ok {
		k := cowperRectangle(poisson)
		return [2]float64{k * area, k * area}, nil
	}
	pieces, err := solveRegion(r, warp.Options{Tolerance: tolerance, Points: mostPoints, NoTorsion: true})
	if err != nil {
		return sum, fmt.Errorf("shear of the section: %w", err)
	}
	for i := range pieces {
		a, _ := pieces[i].ShearArea(poisson)
		sum[0] += a[0]
		sum[1] += a[1]
	}
	return sum, nil
}

// thinnest is the least mean wall, as a share of the section's size, that the
// solver's grid resolves to 1e-4.
const thinnest = 2e-5

// solveRegion leaves out the points that the outline can do without and solves.
// Drawing a smooth curve with half the chords moves it by far less than the
// tolerance; at the default it is 1.5e-7 of the section's size.
func solveRegion(r cut.Region, opt warp.Options) ([]warp.Piece, error) {
	box := r.Bounds()
	size := max(box.Max.X-box.Min.X, box.Max.Y-box.Min.Y)
	var loops [][]r2.Vec
	var m moments
	for _, loop := range r.Loops() {
		m.addLoop(loop, box.Min)
		loops = append(loops, simplified(loop, 3e-4*min(opt.Tolerance, 1e-2)*size))
	}
	if m.area > 0 && 2*m.area < thinnest*m.perimeter*size {
		return nil, fmt.Errorf("the walls are thinner than 1/%.0f of the section's size, too thin to solve", 1/thinnest)
	}
	return warp.Solve(loops, opt)
}

// uprightBars returns the area of a region that consists of upright rectangles
// apart from each other.
func uprightBars(r cut.Region) (area float64, ok bool) {
	if len(r) == 0 || len(r) > 16 {
		return 0, false
	}
	all := r.Bounds()
	tol := 1e-7 * max(all.Max.X-all.Min.X, all.Max.Y-all.Min.Y)
	boxes := make([]r2.Box, len(r))
	for i := range r {
		boxes[i] = r[i : i+1].Bounds()
		size := boxes[i].Size()
		full := size.X * size.Y
		// an outline that fills its box is the box, whatever points lie on its sides
		if len(r[i].Holes) > 0 || !(math.Abs(r[i].Area()-full) <= tol*min(size.X, size.Y)) || full == 0 {
			return 0, false
		}
		for _, b := range boxes[:i] {
			apartX := b.Max.X < boxes[i].Min.X-tol || b.Min.X > boxes[i].Max.X+tol
			apartY := b.Max.Y < boxes[i].Min.Y-tol || b.Min.Y > boxes[i].Max.Y+tol
			if !apartX && !apartY {
				return 0, false
			}
		}
		area += full
	}
	return area, true
}

// cowperRectangle is the shear coefficient of a solid rectangle for Poisson's
// ratio v, 10(1+v)/(12+11v): Cowper, J. Appl. Mech. 33 (1966) 335.
func cowperRectangle(v float64) float64 { return 10 * (1 + v) / (12 + 11*v) }
