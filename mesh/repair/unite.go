package repair

import (
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/boxtree"
	"swapworth/internal/textwrap"
	"swapworth/mesh"
)

// Union returns the mesh with closed shells that share space joined into one; ok is
// false where that cannot be done.
func Union(m *mesh.Mesh) (joined *mesh.Mesh, ok bool) {
	if m, _ = unite(m); mesh.Check(m).OverlapTotal > 0 {
		return nil, false
	}
	return m, true
}

// unite replaces closed shells that share space by their union. It returns m
// as it is where there are none, or where a shell passes through itself so
// that the union cannot be told.
func unite(m *mesh.Mesh) (*mesh.Mesh, []mesh.Repair) {
	report, b := mesh.CheckBodies(m)
	if !report.Closed || report.OverlapTotal == 0 {
		return m, nil
	}
	groups, rest := groupsOf(m, b)
	if len(groups) == 0 {
		return m, nil
	}
	random := rand.New(rand.NewPCG(2, 0)) // a fixed seed: the same file gives the same mesh
	all, doubt := groups[0], 0.0
	for _, g := range groups[1:] {
		united, moved, err := uniteNear(all, g, random)
		if err != nil {
			return m, nil
		}
		doubt += moved * totalArea(g)
		all = united
	}
	out := mesh.Merge(rest, all)
	after := mesh.Check(out)
	removed := m.SignedVolume() - out.SignedVolume()
	if !after.Closed || after.OverlapTotal > 0 || math.Abs(removed-report.Twice.Volume) > report.TwiceErrorMM3+doubt+unionOff*math.Abs(report.Twice.Volume) {
		return m, nil
	}
	what := fmt.Sprintf("united %s that shared %.4g mm3", textwrap.Counted(len(groups), "shell"), removed)
	if report.LessMM3 > 0 {
		what += fmt.Sprintf(", of which %.4g mm3 lay inside another and are a cavity if its faces looked the wrong way", report.LessMM3)
	}
	return out, []mesh.Repair{{
		What: what, At: report.Overlaps[0].At, AddedAreaMM2: totalArea(out) - totalArea(m),
		AddedVolumeMM3: doubt, LessMM3: report.LessMM3,
	}}
}

func totalArea(m *mesh.Mesh) (sum float64) {
	for f := range m.Faces {
		sum += m.FaceArea(f)
	}
	return sum
}

const (
	// unionOff is the share of the shared volume by which a union may miss what the
	// lines through it counted, besides their own error: the spread of four lattices is
	// no bound. Three times the most that was measured, of three cubes in a row.
	unionOff = 1e-3
	// nudge is the way, over the size, by which a mesh is moved whose corners or edges
	// meet those of another: more than the rounding of a file's numbers, 6e-8 of them, and
	// a tenth of what corners are joined within (mesh.Nearness).
	nudge = 1e-6
	// nudges is how often that is tried; one in general position is all that is needed.
	nudges = 4
)

// uniteNear unites two meshes after moving the second, where corners or edges
// meet exactly, by a millionth of the size. It returns by how much, in mm.
func uniteNear(a, b *mesh.Mesh, random *rand.Rand) (united *mesh.Mesh, moved float64, err error) {
	united, err = uniteTwo(a, b)
	for n := 0; err != nil && n < nudges; n++ {
		step := nudge * r3.Norm(boxtree.Join(a.Bounds(), b.Bounds()).Size())
		by := r3.Vec{X: step * (random.Float64() - 0.5), Y: step * (random.Float64() - 0.5), Z: step * (random.Float64() - 0.5)}
		near := &mesh.Mesh{Faces: b.Faces}
		for _, v := range b.Vertices {
			near.Vertices = append(near.Vertices, r3.Add(v, by))
		}
		united, err = uniteTwo(a, near)
		moved = r3.Norm(by)
	}
	return united, moved, err
}

// groupsOf returns the bodies that share space, each with its cavities, and the
// rest of the mesh. It returns none when a cavity has no body.
func groupsOf(m *mesh.Mesh, b mesh.Bodies) (groups []*mesh.Mesh, rest *mesh.Mesh) {
	place := make([]int, len(b.Shells)) // the group of each shell, from 1; 0 is the rest
	n := 0
	for i, s := range b.Shells {
		if s.VolumeMM3 > 0 && b.Shares[i] {
			n++
			place[i] = n
		}
	}
	for i, s := range b.Shells {
		if s.VolumeMM3 >= 0 {
			continue
		}
		// The smallest body around it: shells are listed by falling volume.
		for j := len(b.Shells) - 1; j >= 0 && place[i] == 0; j-- {
			if place[j] > 0 && b.Shells[j].VolumeMM3 > 0 && holds(m, b, j, i) {
				place[i] = place[j]
			}
		}
		if place[i] == 0 && b.Shares[i] {
			return nil, nil
		}
	}
	groups = make([]*mesh.Mesh, n)
	for g := range groups {
		groups[g] = &mesh.Mesh{Vertices: m.Vertices}
	}
	rest = &mesh.Mesh{Vertices: m.Vertices}
	for f, face := range m.Faces {
		switch s := b.Of[f]; {
		case s < 0 || place[s] == 0:
			rest.Faces = append(rest.Faces, face)
		default:
			groups[place[s]-1].Faces = append(groups[place[s]-1].Faces, face)
		}
	}
	for g := range groups {
		groups[g] = groups[g].Compacted()
	}
	return groups, rest.Compacted()
}

// holds reports whether shell outer winds around the first face of inner.
func holds(m *mesh.Mesh, b mesh.Bodies, outer, inner int) bool {
	if !boxtree.Meet(b.Shells[outer].Box, b.Shells[inner].Box) {
		return false
	}
	faces := b.FacesOf([]int{outer, inner})
	turns := 0
	m.Above(m.FaceTree(faces[0]), m.Centre(int(faces[1][0])), func(_ int32, t int, _ float64) { turns += t })
	return turns > 0
}
