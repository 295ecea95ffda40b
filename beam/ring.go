package beam

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"
)

// twistShapes is the number of shapes of twist that ringing is made of.
const twistShapes = 12

// ringMass is the mass of a slice, or a mass fixed to the beam.
type ringMass struct {
	at    float64 // mm along the beam
	mass  float64 // t
	polar float64 // t mm2, about its own centre
	off   r2.Vec  // mm, from the shear centre of its section to its centre
}

// ring couples modes of bending with twist where torsion was solved, by Rayleigh
// and Ritz on the modes and on shapes of twist. Bending moves the shear centre;
// the centre of mass beside it moves by the angle too, which ties them. density is
// in t/mm3.
func (a *analysis) ring(bending []mode, density float64, fixed []pointMass) []mode {
	if !a.twist.known() || a.handbook {
		return bending
	}
	var stiff []float64
	for _, m := range bending {
		w := 2 * math.Pi * m.FrequencyHz
		stiff = append(stiff, w*w)
	}
	shapes := a.twistShapes()
	for _, s := range shapes {
		stiff = append(stiff, s.stiffness)
	}
	masses := a.ringMasses(density, fixed)
	moves := make([][]ringMotion, len(masses)) // of each mass in each shape
	inertia := mat.NewSymDense(len(stiff), nil)
	n := len(bending)
	for k := range n {
		inertia.SetSym(k, k, 1) // modes are normal to their mass
	}
	whole := a.freeFlex(a.twist.to)
	for i, m := range masses {
		for _, b := range bending {
			u, v := a.shapeAt(b, m.at)
			moves[i] = append(moves[i], ringMotion{u: u, v: v})
		}
		for _, s := range shapes {
			t := s.angle(a.freeFlex(m.at) / whole)
			moves[i] = append(moves[i], ringMotion{-t * m.off.Y, t * m.off.X, t})
		}
		for p := range stiff {
			for q := max(p, n); q < len(stiff); q++ {
				inertia.SetSym(p, q, inertia.At(p, q)+m.product(moves[i][p], moves[i][q]))
			}
		}
	}
	return ringModes(bending, stiff, inertia, masses, moves)
}

// twistShape is a shape of twist over the share x of the twist's flexibility.
type twistShape struct {
	factor    float64 // of pi x
	held      bool    // the ends hold the warping: 1 - cos, else sin
	stiffness float64 // N mm
}

func (s twistShape) angle(x float64) float64 {
	if s.held {
		return 1 - math.Cos(s.factor*math.Pi*x)
	}
	return math.Sin(s.factor * math.Pi * x)
}

// twistShapes returns shapes that follow the flexibility F of free twist, with the
// stiffness of Vlasov's beam, a^2/(2F) (1 + a^2/k^2) for the factor a, k =
// L sqrt(G J/(E Cw)). k is that for which the static twist under the load is what
// freeWarping left of it, 1 - tanh(x)/x with the length between places that hold
// the warping in x.
func (a *analysis) twistShapes() []twistShape {
	factor, held, stretches := func(j int) float64 { return float64(j + 1) }, false, 2.0
	switch a.setup.Support {
	case Cantilever:
		factor, held, stretches = func(j int) float64 { return float64(j) + 0.5 }, true, 1
	case FixedFixed:
		factor, held, stretches = func(j int) float64 { return 2 * float64(j+1) }, true, 4
	}
	whole := a.freeFlex(a.twist.to)
	k := stretches * heldLength(a.twist.flex(a.twist.from, a.twist.to)/whole)
	shapes := make([]twistShape, twistShapes)
	for j := range shapes {
		x := math.Pi * factor(j)
		shapes[j] = twistShape{factor(j), held, x * x / (2 * whole) * (1 + x*x/(k*k))}
	}
	return shapes
}

// heldLength returns x for which 1 - tanh(x)/x is a share.
func heldLength(share float64) float64 {
	lo, hi := 1e-3, 1e4
	for range 60 {
		if x := math.Sqrt(lo * hi); 1-math.Tanh(x)/x < share {
			lo = x
		} else {
			hi = x
		}
	}
	return hi
}

// freeFlex is the twist up to a place for a unit torque with free warping.
func (a *analysis) freeFlex(at float64) float64 {
	var sum float64
	for _, s := range a.twist.steps {
		if part := min(at, a.twist.to, s.to) - max(a.twist.from, s.from); part > 0 {
			sum += part / (a.shearModulus() * s.j)
		}
	}
	return sum
}

// ringMotion is how a mass moves: its centre along u and v, and its turn.
type ringMotion struct{ u, v, turn float64 }

func (m ringMass) product(a, b ringMotion) float64 {
	return m.mass*(a.u*b.u+a.v*b.v) + m.polar*a.turn*b.turn
}

// ringMasses are those of the cuts and the fixed ones, which sit where the load
// acts.
func (a *analysis) ringMasses(density float64, fixed []pointMass) []ringMass {
	line := a.profile.nearest(a.where.At).Section.Centroid
	var out []ringMass
	for c := range a.profile.cuts() {
		w, s := density*c.Weight, c.Section
		off := r2.Add(a.twist.nearest(c.S).off, a.beside(s.Centroid, line))
		out = append(out, ringMass{c.S, w * s.Area, w * (s.Ixx + s.Iyy), off})
	}
	for _, p := range fixed {
		at := a.frame.nodes[p.node]
		out = append(out, ringMass{at: at, mass: p.mass, off: a.twist.nearest(at).off})
	}
	return out
}

// shapeAt returns a mode's sideways displacements at a place.
func (a *analysis) shapeAt(m mode, at float64) (u, v float64) {
	e := a.frame.elementAt(at, 1)
	from, to := a.frame.nodes[e], a.frame.nodes[e+1]
	x := (at - from) / (to - from)
	p, q := m.Shape[e], m.Shape[e+1]
	return (1-x)*p[dofU] + x*q[dofU], (1-x)*p[dofV] + x*q[dofV]
}

// ringModes solves K q = w^2 M q with a diagonal K, lowest first.
func ringModes(bending []mode, stiff []float64, inertia *mat.SymDense, masses []ringMass, moves [][]ringMotion) []mode {
	scaled := mat.NewSymDense(len(stiff), nil)
	for p := range stiff {
		for q := p; q < len(stiff); q++ {
			scaled.SetSym(p, q, inertia.At(p, q)/math.Sqrt(stiff[p]*stiff[q]))
		}
	}
	var eig mat.EigenSym
	if !eig.Factorize(scaled, true) {
		return bending
	}
	var vectors mat.Dense
	eig.VectorsTo(&vectors)
	values := eig.Values(nil)
	out := make([]mode, len(stiff))
	for i := range out {
		col := len(values) - 1 - i // the largest 1/w^2 is the lowest frequency
		out[i].FrequencyHz = 1 / (2 * math.Pi * math.Sqrt(values[col]))
		share := make([]float64, len(stiff))
		for p := range share {
			share[p] = vectors.At(p, col) / math.Sqrt(stiff[p])
		}
		var u, v, turn, along float64
		for k, m := range masses {
			var sum ringMotion
			for p, q := range share {
				sum.u, sum.v, sum.turn = sum.u+q*moves[k][p].u, sum.v+q*moves[k][p].v, sum.turn+q*moves[k][p].turn
			}
			u, v, turn = u+m.mass*sum.u*sum.u, v+m.mass*sum.v*sum.v, turn+m.polar*sum.turn*sum.turn
		}
		for k, b := range bending {
			along += share[k] * share[k] * b.ShareA
		}
		all := u + v + turn + along
		out[i].ShareU, out[i].ShareA, out[i].ShareT = u/all, along/all, turn/all
	}
	return out
}
