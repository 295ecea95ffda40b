package beam

import (
	"errors"
	"math"
	"sort"

	"gonum.org/v1/gonum/mat"
)

// frame is a beam cut into elements, held by its supports.
type frame struct {
	nodes    []float64 // mm along the beam, ascending
	elements []*element
	index    [][dofs]int // equation of each freedom, -1 where held
	size     int
	tension  []float64 // N in each element of a steady axial force, for second-order effects

	factor bandFactor
}

// halfBand is the half bandwidth of two neighbouring nodes.
const halfBand = 2*dofs - 1

// errUnstable says that an axial compression exceeds what the beam can carry.
var errUnstable = errors.New("the axial compression exceeds the buckling load: lower it")

// newFrame builds the beam from stations in ascending order; every station lies
// inside an element. The supports sit on the nodes from and to.
func newFrame(nodes []float64, st []station, young, shear float64, sup Support, from, to int) (*frame, error) {
	f := &frame{nodes: nodes}
	k := 0
	for i := 0; i+1 < len(nodes); i++ {
		first := k
		for k < len(st) && st[k].S < nodes[i+1] {
			k++
		}
		e, err := newElement(nodes[i], nodes[i+1], st[first:k], young, shear)
		if err != nil {
			return nil, err
		}
		f.elements = append(f.elements, e)
	}
	f.tension = make([]float64, len(f.elements))
	f.hold(sup, from, to, nil)
	return f, f.factorize()
}

// inPlane returns the same beam held against motion across one plane.
func (f *frame) inPlane(plane int, sup Support, from, to int) (*frame, error) {
	p := &frame{nodes: f.nodes, elements: f.elements, tension: f.tension}
	p.hold(sup, from, to, []int{dof(1 - plane), dof(1-plane) + 1})
	return p, p.factorize()
}

// hold numbers the free freedoms; those in never are held at every node.
func (f *frame) hold(sup Support, from, to int, never []int) {
	held := make([][dofs]bool, len(f.nodes))
	held[from] = [dofs]bool{dofA: true, dofU: true, dofV: true}
	clampFrom, clampTo := sup.clampedEnds()
	if clampFrom {
		held[from] = [dofs]bool{true, true, true, true, true}
	}
	if sup != Cantilever {
		held[to] = [dofs]bool{dofU: true, dofV: true}
	}
	if clampTo {
		held[to] = [dofs]bool{true, true, true, true, true}
	}
	for i := range held {
		for _, d := range never {
			held[i][d] = true
		}
	}
	f.index = make([][dofs]int, len(f.nodes))
	for i := range f.nodes {
		for d := range dofs {
			f.index[i][d] = -1
			if !held[i][d] {
				f.index[i][d] = f.size
				f.size++
			}
		}
	}
}

// equations returns the ten equation numbers of an element.
func (f *frame) equations(e int) [10]int {
	var eq [10]int
	for d := range dofs {
		eq[d], eq[5+d] = f.index[e][d], f.index[e+1][d]
	}
	return eq
}

// assemble adds element matrices into a symmetric band matrix.
func (f *frame) assemble(of func(e int) [10][10]float64) *mat.SymBandDense {
	k := mat.NewSymBandDense(f.size, min(halfBand, f.size-1), nil)
	for e := range f.elements {
		m, eq := of(e), f.equations(e)
		for i, p := range eq {
			for j, q := range eq {
				if p >= 0 && q >= p {
					k.SetSymBand(p, q, k.At(p, q)+m[i][j])
				}
			}
		}
	}
	return k
}

func (f *frame) factorize() error {
	k := f.assemble(func(e int) [10][10]float64 {
		m := f.elements[e].stiffness()
		if f.tension[e] != 0 {
			s := f.stringStiffness(e, f.tension[e])
			for i := range m {
				for j := range m[i] {
					m[i][j] += s[i][j]
				}
			}
		}
		return m
	})
	var ok bool
	if f.factor, ok = factorBand(k); !ok {
		return errUnstable
	}
	return nil
}

// stringStiffness is the lateral stiffness that a tension gives an element:
// P/h on the difference of the end displacements.
func (f *frame) stringStiffness(e int, tension float64) [10][10]float64 {
	var m [10][10]float64
	k := tension / (f.elements[e].to - f.elements[e].from)
	for _, d := range []int{dofU, dofV} {
		m[d][d], m[5+d][5+d] = k, k
		m[d][5+d], m[5+d][d] = -k, -k
	}
	return m
}

// pull applies a steady axial force between two nodes, tension positive, with
// its second-order effect on bending.
func (f *frame) pull(axial float64, from, to int) error {
	for e := min(from, to); e < max(from, to); e++ {
		f.tension[e] += axial
	}
	return f.factorize()
}

// nodeForces are loads on the freedoms of each node.
type nodeForces [][dofs]float64

// solution is the response to a set of loads.
type solution struct {
	nodes [][dofs]float64 // freedoms of each node
	ends  [][5]float64    // forces at each element's far end
	lines [][2]float64    // load per length on each element
}

// solve returns the response to forces on the nodes and to loads per length
// (p_u, p_v) on the elements; lines may be nil.
func (f *frame) solve(forces nodeForces, lines [][2]float64) *solution {
	rhs := make([]float64, f.size)
	for i, n := range forces {
		for d, v := range n {
			if eq := f.index[i][d]; eq >= 0 {
				rhs[eq] += v
			}
		}
	}
	if lines == nil {
		lines = make([][2]float64, len(f.elements))
	}
	for e := range f.elements {
		if lines[e] == [2]float64{} {
			continue
		}
		p := f.elements[e].nodalLoad(lines[e])
		for i, eq := range f.equations(e) {
			if eq >= 0 {
				rhs[eq] += p[i]
			}
		}
	}
	return f.expand(f.factor.solveVec(rhs), lines)
}

func (f *frame) expand(x []float64, lines [][2]float64) *solution {
	s := &solution{nodes: make([][dofs]float64, len(f.nodes)), lines: lines}
	for i := range f.nodes {
		for d, eq := range f.index[i] {
			if eq >= 0 {
				s.nodes[i][d] = x[eq]
			}
		}
	}
	for e, el := range f.elements {
		var d [10]float64
		copy(d[:5], s.nodes[e][:])
		copy(d[5:], s.nodes[e+1][:])
		s.ends = append(s.ends, el.endForces(d, lines[e]))
	}
	return s
}

// forcesIn returns the section forces at the place x in element e.
func (f *frame) forcesIn(s *solution, e int, x float64) sectionForces {
	return fromEnd(s.ends[e], f.elements[e].to-x, s.lines[e])
}

// elementAt returns the element that holds a place; on a joint the one after
// it for side 1, the one before it for side -1.
func (f *frame) elementAt(x float64, side int) int {
	tol := 1e-9 * f.nodes[len(f.nodes)-1] * float64(side)
	e := sort.SearchFloat64s(f.nodes, x+tol) - 1
	return min(max(e, 0), len(f.elements)-1)
}

// nodeAt returns the node nearest to a place, in mm.
func (f *frame) nodeAt(at float64) int {
	best := 0
	for i, x := range f.nodes {
		if math.Abs(x-at) < math.Abs(f.nodes[best]-at) {
			best = i
		}
	}
	return best
}

// dof is the sideways freedom of a plane, 0 or 1.
func dof(plane int) int { return [2]int{dofU, dofV}[plane] }
