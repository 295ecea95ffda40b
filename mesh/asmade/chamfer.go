package asmade

import (
	"fmt"
	"math"
	"slices"

	"swapworth/mesh"
	"swapworth/mesh/feature"

	"gonum.org/v1/gonum/spatial/r3"
)

// Chamfer is one flat edge break: a narrow planar face between two others that
// it meets at 20 to 70 degrees. The break around a round edge is one a chord.
type Chamfer struct {
	Patch  int32   // index into Features.Skin.Patches
	Sides  []int32 // the patches that it joins, likewise
	Along  r3.Vec  // unit vector along the edge
	Width  float64 // of the sloping face, across the edge, mm
	Length float64 // along the edge, mean, mm
}

// widest is the width of the sloping face above which a slope is a feature of
// the part rather than a broken edge: a 3 x 3 mm chamfer is 4.2 mm wide.
const widest = 4.3

// Chamfers finds the edge breaks of a part, those of its holes included, but not
// the seats of countersunk screws.
func Chamfers(p Part) []Chamfer {
	skin := p.Features.Skin
	sunk := map[int32]bool{} // rounds that are bores of countersunk holes
	for _, h := range p.Features.Holes {
		if h.Kind == feature.Countersink {
			sunk[skin.Round[h.Faces[0]]] = true
		}
	}
	seat := func(c Chamfer) bool {
		for _, side := range c.Sides {
			if r := skin.Round[skin.Patches[side].Faces[0]]; r >= 0 && sunk[r] {
				return true
			}
		}
		return false
	}
	var out []Chamfer
	for id := range skin.Patches {
		if c, ok := p.chamfer(int32(id)); ok && !seat(c) {
			out = append(out, c)
		}
	}
	return out
}

func (p Part) chamfer(id int32) (Chamfer, bool) {
	skin := p.Features.Skin
	patch := skin.Patches[id]
	if patch.Area == 0 || skin.Round[patch.Faces[0]] >= 0 {
		return Chamfer{}, false
	}
	// the two longest borders to other patches at 20 to 70 degrees, over outer edges
	border := map[int32]float64{}
	direction := map[int32]r3.Vec{}
	for _, f := range patch.Faces {
		for k, g := range skin.Neighbour[f] {
			if g < 0 || skin.Patch[g] == id {
				continue
			}
			turn := degreesBetween(patch.Normal, skin.Patches[skin.Patch[g]].Normal)
			if turn < 20 || turn > 70 || p.inner(f, g, k) {
				continue
			}
			v := p.Mesh.Faces[f]
			edge := r3.Sub(p.Mesh.Vertices[v[(k+1)%3]], p.Mesh.Vertices[v[k]])
			border[skin.Patch[g]] += r3.Norm(edge)
			if r3.Norm(edge) > r3.Norm(direction[skin.Patch[g]]) {
				direction[skin.Patch[g]] = edge
			}
		}
	}
	for a := range border {
		for b := range border {
			if a >= b {
				continue
			}
			along := r3.Cross(skin.Patches[a].Normal, skin.Patches[b].Normal)
			if r3.Norm(along) < 0.3 {
				continue
			}
			along = r3.Unit(along)
			if !parallel(along, direction[a]) || !parallel(along, direction[b]) {
				continue
			}
			length := (border[a] + border[b]) / 2
			width := patch.Area / length
			if width > widest || math.Abs(r3.Dot(along, patch.Normal)) > 0.02 {
				continue
			}
			return Chamfer{id, []int32{min(a, b), max(a, b)}, along, width, length}, true
		}
	}
	return Chamfer{}, false
}

func degreesBetween(a, b r3.Vec) float64 {
	return math.Atan2(r3.Norm(r3.Cross(a, b)), r3.Dot(a, b)) * 180 / math.Pi
}

func parallel(unit, v r3.Vec) bool {
	return math.Abs(r3.Dot(unit, v)) > 0.999*r3.Norm(v)
}

// WithoutChamfers returns the part with its edges left sharp: every edge break
// is filled up to where the two faces that it joins meet. Exact for flat edge
// breaks; around round edges it is exact for the polygon that the mesh has there.
func WithoutChamfers(p Part) (Variant, error) {
	chamfers := Chamfers(p)
	if len(chamfers) == 0 {
		return Variant{}, Absent("the part has no chamfer that could be skipped")
	}
	m := &mesh.Mesh{Vertices: slices.Clone(p.Mesh.Vertices), Faces: p.Mesh.Faces}
	worst := 0.0
	meet := p.facesToMeet(chamfers)
	for v, faces := range meet {
		at := p.Mesh.Vertices[v]
		var demands []demand
		for _, f := range faces {
			demands = withDemand(demands, demand{f.normal, r3.Dot(f.normal, r3.Sub(f.on, at))})
		}
		move, _ := solve(demands)
		for _, d := range demands {
			worst = max(worst, math.Abs(r3.Dot(d.normal, move)-d.by))
		}
		m.Vertices[v] = r3.Add(at, move)
	}
	m, misfit, err := p.settled(m)
	if err != nil {
		return Variant{}, fmt.Errorf("chamfers skipped: %w", err)
	}
	length := 0.0
	for _, c := range chamfers {
		length += c.Length
		if worst > 1e-3 { // rounding of the file is below
			misfit += worst * c.Width * c.Length
		}
	}
	v := p.variant(fmt.Sprintf("chamfers skipped, %.4g mm of edge", length), m, misfit)
	v.Mesh = joined(v.Mesh, meet)
	return v, nil
}

// plane is a face's plane by its normal and a point on it.
type plane struct{ normal, on r3.Vec }

// facesToMeet returns for every corner of an edge break the planes that it must
// come to lie on: both that the break joins, and every other one it lies on.
func (p Part) facesToMeet(chamfers []Chamfer) map[int32][]plane {
	skin := p.Features.Skin
	of := map[int32]*Chamfer{}
	for i := range chamfers {
		of[chamfers[i].Patch] = &chamfers[i]
	}
	out := map[int32][]plane{}
	for f, corners := range p.Mesh.Faces {
		if of[skin.Patch[f]] != nil {
			for _, v := range corners {
				out[v] = nil
			}
		}
	}
	add := func(v, patch int32) {
		planes, touched := out[v]
		if s := skin.Patches[patch]; touched && of[patch] == nil && s.Normal != (r3.Vec{}) {
			out[v] = append(planes, plane{s.Normal, p.Mesh.Vertices[p.Mesh.Faces[s.Faces[0]][0]]})
		}
	}
	for f, corners := range p.Mesh.Faces {
		for _, v := range corners {
			add(v, skin.Patch[f])
			if c := of[skin.Patch[f]]; c != nil {
				for _, side := range c.Sides {
					add(v, side)
				}
			}
		}
	}
	return out
}

// joined makes one of the marked vertices that have come to the same place, and
// drops the faces that have shrunk to an edge: what was an edge break is none in
// the mesh either.
func joined(m *mesh.Mesh, marked map[int32][]plane) *mesh.Mesh {
	const grid = 1e6 // per mm
	type place [3]int64
	first := map[place]int32{}
	to := make([]int32, len(m.Vertices))
	for i, v := range m.Vertices {
		to[i] = int32(i)
		if _, is := marked[int32(i)]; !is {
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
