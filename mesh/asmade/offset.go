package asmade

import (
	"fmt"
	"math"

	"swapworth/mesh"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// demand asks of a vertex's motion x that normal . x = by.
type demand struct {
	normal r3.Vec
	by     float64
}

// ask appends what a mesh face demands of one of its corners.
type ask func(list []demand, face, corner int32) []demand

// offset moves every vertex by the shortest vector that meets the demands of all
// faces around it, or by least squares where they disagree, so that the
// neighbours of a face that moves are lengthened or cut back to meet it. Vertices
// in rigid move as stated there instead.
//
// misfit is the volume between where the faces should be and where they are,
// mm3; zero when every demand was met.
func (p Part) offset(of ask, rigid map[int32]r3.Vec) (m *mesh.Mesh, misfit float64, err error) {
	demands := p.demands(of)
	m = &mesh.Mesh{Vertices: make([]r3.Vec, len(p.Mesh.Vertices)), Faces: p.Mesh.Faces}
	off := make([]float64, len(p.Mesh.Vertices))
	for v, at := range p.Mesh.Vertices {
		if move, ok := rigid[int32(v)]; ok {
			m.Vertices[v] = r3.Add(at, move)
			continue
		}
		move, largest := steadied(demands[v])
		for _, d := range demands[v] {
			off[v] = max(off[v], math.Abs(r3.Dot(d.normal, move)-d.by))
		}
		if r3.Norm(move) > farthest*largest {
			return nil, 0, misplaced{at: at, why: fmt.Sprintf("moving faces by %.3g mm would throw the corner there %.3g mm away; "+
				"the faces there meet too nearly in one plane", largest, r3.Norm(move))}
		}
		m.Vertices[v] = r3.Add(at, move)
	}
	met := p.meetPassed(m)
	m, lost, err := p.settled(m)
	if err != nil {
		return nil, 0, err
	}
	if len(met) > 0 {
		m = joined(m, met)
	}
	misfit = lost
	for f, v := range p.Mesh.Faces {
		if worst := max(off[v[0]], off[v[1]], off[v[2]]); worst > 1e-9 {
			misfit += worst * p.area(int32(f)) / 3
		}
	}
	return m, misfit, nil
}

// steadied solves the demands, and where faces that meet nearly in one plane would
// throw the corner, leaves more and more of what they weakly ask across that plane;
// what is not met then is misfit.
func steadied(demands []demand) (move r3.Vec, largest float64) {
	for _, weak := range []float64{weakest, 1e-3, 1e-2, 1e-1} {
		if move, largest = solve(demands, weak); r3.Norm(move) <= farthest*largest {
			break
		}
	}
	return move, largest
}

// weakest is the share of the strongest direction of the demands under which
// another one is rounding: two faces that turn by 0.3 degrees.
const weakest = 1e-5

// farthest is how many times further than its faces a corner may move: faces that
// meet at less than 14 degrees to one plane throw it.
const farthest = 8

// misplaced is the error of a change that cannot be made at a place of the part.
type misplaced struct {
	at  r3.Vec
	why string
}

func (e misplaced) Error() string {
	return fmt.Sprintf("at (%.4g, %.4g, %.4g): %s", e.at.X, e.at.Y, e.at.Z, e.why)
}

// demands collects what the faces around every vertex ask of it.
func (p Part) demands(of ask) [][]demand {
	out := make([][]demand, len(p.Mesh.Vertices))
	var one []demand
	for f, corners := range p.Mesh.Faces {
		for _, v := range corners {
			one = of(one[:0], int32(f), v)
			for _, d := range one {
				out[v] = withDemand(out[v], d)
			}
		}
	}
	return out
}

// withDemand adds a demand unless the list holds it already. Of two demands on
// one plane the larger motion stands: a wall drawn in two flat pieces is one.
func withDemand(list []demand, d demand) []demand {
	for i, o := range list {
		if r3.Dot(o.normal, d.normal) > 1-1e-7 {
			if math.Abs(d.by) > math.Abs(o.by) {
				list[i] = d
			}
			return list
		}
	}
	return append(list, d)
}

// solve returns the shortest motion that meets the demands, in least squares
// where they disagree, and the largest amount demanded. Directions in which the
// demands are weaker than a share of the strongest are left alone.
func solve(demands []demand, weak float64) (move r3.Vec, largest float64) {
	var n [9]float64
	var b [3]float64
	for _, d := range demands {
		largest = max(largest, math.Abs(d.by))
		c := [3]float64{d.normal.X, d.normal.Y, d.normal.Z}
		for i := range 3 {
			b[i] += d.by * c[i]
			for j := range 3 {
				n[3*i+j] += c[i] * c[j]
			}
		}
	}
	if largest == 0 {
		return r3.Vec{}, 0
	}
	var eig mat.EigenSym
	if !eig.Factorize(mat.NewSymDense(3, n[:]), true) {
		return r3.Vec{}, largest
	}
	values := eig.Values(nil)
	var vectors mat.Dense
	eig.VectorsTo(&vectors)
	for k, value := range values {
		if value < weak*values[2] {
			continue
		}
		e := r3.Vec{X: vectors.At(0, k), Y: vectors.At(1, k), Z: vectors.At(2, k)}
		along := (e.X*b[0] + e.Y*b[1] + e.Z*b[2]) / value
		move = r3.Add(move, r3.Scale(along, e))
	}
	return move, largest
}

// joined makes one of the marked vertices that have come to the same place, and
// drops the faces that have shrunk to an edge: what was an edge break is none in
// the mesh either.
func joined(m *mesh.Mesh, marked map[int32]bool) *mesh.Mesh {
	const grid = 1e6 // per mm
	type place [3]int64
	first := map[place]int32{}
	to := make([]int32, len(m.Vertices))
	for i, v := range m.Vertices {
		to[i] = int32(i)
		if !marked[int32(i)] {
			continue
		}
		at := place{int64(math.Round(v.X * grid)), int64(math.Round(v.Y * grid)), int64(math.Round(v.Z * grid))}
		if one, known := first[at]; known {
			to[i] = one
		} else {
			first[at] = int32(i)
		}
	}
	out := &mesh.Mesh{Vertices: m.Vertices}
	for _, f := range m.Faces {
		g := [3]int32{to[f[0]], to[f[1]], to[f[2]]}
		if g[0] != g[1] && g[1] != g[2] && g[2] != g[0] {
			out.Faces = append(out.Faces, g)
		}
	}
	return out
}
