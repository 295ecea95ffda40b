package asmade

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// A facet of a curved face, or a face no larger than the tip of a drill, may stay
// folded and count as error: up to so many mm3, and in all so much of the part,
// which is less than its density is known to.
const (
	largestSpeck = 1
	lostShare    = 2e-4
)

// settled lays the triangles of planar faces anew where moving their outline has
// folded them over. It refuses an outline that crosses itself: the change was
// larger than the feature it moved. lost bounds the volume of specks that were
// left folded, mm3.
func (p Part) settled(m *mesh.Mesh) (out *mesh.Mesh, lost float64, err error) {
	skin := p.Features.Skin
	folded := map[int32]bool{}
	for f := range m.Faces {
		if p.folded(m, f) {
			folded[skin.Patch[f]] = true
		}
	}
	if len(folded) == 0 {
		return m, 0, nil
	}
	order := make([]int32, 0, len(folded))
	for id := range folded {
		order = append(order, id)
	}
	slices.Sort(order)
	var laid [][3]int32
	for _, id := range order {
		faces, err := p.laid(m, id)
		if err == nil {
			laid = append(laid, faces...)
			continue
		}
		speck := p.speck(m, id)
		if speck > largestSpeck || lost+speck > lostShare*p.Mesh.SignedVolume() {
			a, _, _ := p.Mesh.Triangle(int(skin.Patches[id].Faces[0]))
			return nil, 0, misplaced{a, "a face would turn over: the change is larger than what lies there, or than the triangles of a curved face there"}
		}
		lost += speck
		delete(folded, id)
	}
	out = &mesh.Mesh{Vertices: m.Vertices}
	for f, v := range m.Faces {
		if !folded[skin.Patch[f]] {
			out.Faces = append(out.Faces, v)
		}
	}
	out.Faces = append(out.Faces, laid...)
	return out, lost, nil
}

// meetPassed puts corners that stay, or nearly, where another one has run past
// them along the edge between two patches, to where that one stands: the edge has
// become shorter by more than a small triangle. It returns the corners that have
// met.
func (p Part) meetPassed(m *mesh.Mesh) map[int32]bool {
	const passes = 20  // corners that one may run past
	const nearly = 0.1 // of the other's motion; two that run towards each other close a slot
	skin := p.Features.Skin
	met := map[int32]bool{}
	for range passes {
		n := len(met)
		for f, v := range p.Mesh.Faces {
			for k, g := range skin.Neighbour[f] {
				if g < int32(f) || skin.Patch[g] == skin.Patch[f] {
					continue
				}
				a, b := v[k], v[(k+1)%3]
				was, is := p.edge(int32(f), k), r3.Sub(m.Vertices[b], m.Vertices[a])
				// as long as it is along its own line: the ends slid on it
				if r3.Dot(was, is) >= 0 || r3.Norm(r3.Cross(was, is)) > 1e-6*r3.Norm(was)*r3.Norm(is) {
					continue
				}
				if p.moved(m, a, was) > p.moved(m, b, was) {
					a, b = b, a
				}
				if p.moved(m, a, was) > nearly*p.moved(m, b, was) && !met[a] {
					continue
				}
				m.Vertices[a] = m.Vertices[b]
				met[a], met[b] = true, true
			}
		}
		if len(met) == n {
			break
		}
	}
	return met
}

// moved returns how far a vertex has moved along a vector, in its length.
func (p Part) moved(m *mesh.Mesh, v int32, along r3.Vec) float64 {
	return math.Abs(r3.Dot(along, r3.Sub(m.Vertices[v], p.Mesh.Vertices[v])))
}

// folded reports whether a face has turned over. Slivers, which rounding may
// turn, do not count.
func (p Part) folded(m *mesh.Mesh, f int) bool {
	a, b, c := p.Mesh.Triangle(f)
	was := r3.Cross(r3.Sub(b, a), r3.Sub(c, a))
	longest := max(r3.Norm2(r3.Sub(b, a)), r3.Norm2(r3.Sub(c, b)), r3.Norm2(r3.Sub(a, c)))
	if r3.Norm2(was) < 1e-8*longest*longest {
		return false
	}
	d, e, g := m.Triangle(f)
	is := r3.Cross(r3.Sub(e, d), r3.Sub(g, d))
	return r3.Dot(was, is) < -1e-9*r3.Norm2(was)
}

// speck bounds the volume, mm3, that a folded patch may get wrong: its area before
// and after, times how far its corners moved apart.
func (p Part) speck(m *mesh.Mesh, id int32) float64 {
	area, far := 0.0, 0.0
	faces := p.Features.Skin.Patches[id].Faces
	move := func(v int32) r3.Vec { return r3.Sub(m.Vertices[v], p.Mesh.Vertices[v]) }
	first := move(m.Faces[faces[0]][0])
	for _, f := range faces {
		a, b, c := m.Triangle(int(f))
		area += p.area(f) + r3.Norm(r3.Cross(r3.Sub(b, a), r3.Sub(c, a)))/2
		for _, v := range m.Faces[f] {
			far = max(far, 2*r3.Norm(r3.Sub(move(v), first)))
		}
	}
	return area * far
}

// laid triangulates a planar patch from its moved outline.
func (p Part) laid(m *mesh.Mesh, id int32) ([][3]int32, error) {
	patch := p.Features.Skin.Patches[id]
	loops, err := p.loops(id)
	if err != nil {
		return nil, err
	}
	plane, err := mesh.PlaneFromNormal(m.Vertices[loops[0][0]], patch.Normal)
	if err != nil {
		return nil, err
	}
	var polygon cut.Polygon
	var outer []int32
	var inner [][]int32
	for _, loop := range loops {
		loop = apart(m, loop)
		flat := make([]r2.Vec, len(loop))
		for k, v := range loop {
			flat[k] = plane.Project(m.Vertices[v])
		}
		if cut.LoopArea(flat) < 0 {
			polygon.Holes = append(polygon.Holes, flat)
			inner = append(inner, loop)
			continue
		}
		if outer != nil {
			return nil, errors.New("an outline turned inside out")
		}
		polygon.Outer, outer = flat, loop
	}
	if outer == nil {
		return nil, errors.New("an outline vanished")
	}
	_, faces, err := cut.Triangulate(polygon)
	if err != nil {
		return nil, err
	}
	ids := append(slices.Clone(outer), slices.Concat(inner...)...)
	for i, f := range faces {
		faces[i] = [3]int32{ids[f[0]], ids[f[1]], ids[f[2]]}
	}
	return faces, nil
}

// apart leaves out the corners of a loop that have met the one before.
func apart(m *mesh.Mesh, loop []int32) []int32 {
	var out []int32
	for k, v := range loop {
		if m.Vertices[v] != m.Vertices[loop[(k+len(loop)-1)%len(loop)]] {
			out = append(out, v)
		}
	}
	return out
}

// loops chains the border of a patch, material on the left.
func (p Part) loops(id int32) ([][]int32, error) {
	skin := p.Features.Skin
	next := map[int32]int32{}
	var starts []int32
	for _, f := range skin.Patches[id].Faces {
		v := p.Mesh.Faces[f]
		for k, g := range skin.Neighbour[f] {
			if g >= 0 && skin.Patch[g] == id {
				continue
			}
			if _, pinched := next[v[k]]; pinched {
				return nil, errors.New("a face touches itself at a corner")
			}
			next[v[k]] = v[(k+1)%3]
			starts = append(starts, v[k])
		}
	}
	var out [][]int32
	for _, s := range starts {
		if _, open := next[s]; !open {
			continue
		}
		var loop []int32
		for at := s; ; {
			to, open := next[at]
			if !open {
				break
			}
			delete(next, at)
			loop = append(loop, at)
			at = to
		}
		out = append(out, loop)
	}
	if len(out) == 0 {
		return nil, errors.New("a face has no border")
	}
	return out, nil
}
