package warp

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/internal/triangulation"
)

// Piece is the solution for one connected piece, in mm.
type Piece struct {
	Area          float64
	Centroid      r2.Vec
	Ixx, Iyy, Ixy float64
	JLow, JHigh   float64 // bounds of the torsion constant; JLow 0 when it was not asked for
	Warping       float64 // mm6
	Peak          float64 // mm, largest shear stress over G and the twist per length, see level.peak; 0 like JLow
	Triangles     int
	Error         float64 // estimated, relative, the largest of torsion and both flexures

	// Shear flexibility, in 1/mm2, is shear[0] + shear[1] v/(1+v); the shear
	// centre lies at Centroid + centre[0] + centre[1] v/(1+v).
	shear  [2][2]float64
	centre [2]r2.Vec
}

// ShearArea returns the areas effective in shear along the first and the second
// axis, in mm2, after Cowper (J. Appl. Mech. 33, 1966): the force over the
// shear modulus and over the slope of the mean deflection less the mean
// rotation of the section.
//
// Bending curls a section across (Poisson's effect), and where much of it lies
// far from the neutral axis' plane, as in an I bent sideways, the curl moves the
// mean deflection more than shear does and may even turn its sign. An area that
// Poisson's effect would change by more than half is given without it, and
// plain says so.
func (p *Piece) ShearArea(poisson float64) (a [2]float64, plain [2]bool) {
	for i := range a {
		curl := p.shear[i][1] * poisson / (1 + poisson)
		if math.Abs(curl) > p.shear[i][0]/2 {
			curl, plain[i] = 0, true
		}
		a[i] = 1 / (p.shear[i][0] + curl)
	}
	return a, plain
}

// ShearCentre returns the point through which a force bends the piece without
// mean twist, in mm.
func (p *Piece) ShearCentre(poisson float64) r2.Vec {
	return r2.Add(p.Centroid, r2.Add(p.centre[0], r2.Scale(poisson/(1+poisson), p.centre[1])))
}

// Options steer the refinement.
type Options struct {
	Tolerance float64 // relative, of the torsion constant and the shear areas
	Points    int     // limit of triangle corners
	NoTorsion bool    // leave out the lower bound of the torsion constant and judge by the shear areas alone
}

// levels is the most times that a mesh is refined; with a side divided by up to
// eight each time no real section comes near it.
const levels = 25

// Solve triangulates the area that the loops enclose and solves for every
// connected piece, refining until the estimated error is below the tolerance or
// the limit of points is reached. The result then says how far it came.
func Solve(loops [][]r2.Vec, opt Options) ([]Piece, error) {
	domains, err := triangulation.Domains(loops)
	if err != nil {
		return nil, err
	}
	out := make([]Piece, len(domains))
	for i, d := range domains {
		if out[i], err = solvePiece(d, opt); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func solvePiece(d *triangulation.Domain, opt Options) (p Piece, err error) {
	wish := firstWish(d)
	for range levels {
		finished := d.Refine(wish, opt.Points)
		l := newLevel(d)
		m, psi, err := l.solve(opt)
		if err != nil {
			return p, err
		}
		p = l.piece(m)
		share := m.shares(opt)
		p.Error = share.worst
		if share.worst <= opt.Tolerance || !finished {
			if psi != nil {
				p.Peak = l.unit * l.peak(psi)
			}
			break
		}
		wish = l.nextWish(d, share, opt.Tolerance)
	}
	if !(p.JHigh > 0) || math.IsInf(p.JHigh, 0) {
		return p, errors.New("the section is too thin to solve for torsion and shear")
	}
	return p, nil
}

func (l *level) solve(opt Options) (m measures, psi []float64, err error) {
	f, err := l.neumann()
	if err != nil {
		return m, nil, err
	}
	if !opt.NoTorsion {
		if f.psi, err = l.dirichlet(); err != nil {
			return m, nil, err
		}
	}
	return l.measure(f), f.psi, nil
}

// piece turns the integrals into results.
func (l *level) piece(m measures) Piece {
	u := l.unit
	u2 := u * u
	p := Piece{
		Area: u2, Centroid: l.center, Triangles: len(l.shapes),
		Ixx: l.ixx * u2 * u2, Iyy: l.iyy * u2 * u2, Ixy: l.ixy * u2 * u2,
		JLow: m.low * u2 * u2, JHigh: m.high * u2 * u2,
	}
	det := l.ixx*l.iyy - l.ixy*l.ixy
	inverse := [2][2]float64{{l.ixx / det, -l.ixy / det}, {-l.ixy / det, l.iyy / det}}
	meanQ := [2][2]float64{{(l.iyy - l.ixx) / 2, l.ixy}, {l.ixy, (l.ixx - l.iyy) / 2}}
	var moment [2][2]float64 // of unit forces about the centroid, plain and for Poisson's effect
	for i := range 2 {
		a := inverse[i]
		var energy, cross, mean float64
		for k := range 2 {
			mean += a[k] * meanQ[k][i]
			moment[i][0] -= a[k] * m.force[k]
			moment[i][1] -= a[k] * m.twist[k] / 2
			for j := range 2 {
				energy += a[k] * m.energy[k][j] * a[j]
				cross += a[k] * m.cross[k][j] * a[j]
			}
		}
		p.shear[i] = [2]float64{energy / 4 / u2, (cross/2 - mean) / 2 / u2}
	}
	for k := range 2 {
		p.centre[k] = r2.Vec{X: u * moment[1][k], Y: -u * moment[0][k]}
	}
	// what is left of phi after the best plane is the warping about the shear centre
	bx := inverse[0][0]*m.force[0] + inverse[0][1]*m.force[1]
	by := inverse[1][0]*m.force[0] + inverse[1][1]*m.force[1]
	rest := m.square - m.sum*m.sum - bx*m.force[0] - by*m.force[1]
	p.Warping = max(rest, 0) * u2 * u2 * u2
	return p
}
