package repair

import (
	"swapworth/internal/textwrap"
	"swapworth/mesh"
)

// edgeKey names an edge by its vertices, the lower first.
type edgeKey [2]int32

// keyOf returns the edge, and 1 when it runs from its lower vertex to its
// higher one, else -1.
func keyOf(from, to int32) (key edgeKey, forward int) {
	if from < to {
		return edgeKey{from, to}, 1
	}
	return edgeKey{to, from}, -1
}

// edgeBalance counts the faces at an edge of a doubled face.
type edgeBalance struct {
	faces int // all of them
	net   int // how much oftener the faces that are not doubled run forward than back
}

// withoutDuplicates keeps one of the faces that name the same three vertices:
// the one that fits the faces around it best. A face and its back that stick
// out, with no other face at two of their edges, both go.
func withoutDuplicates(m *mesh.Mesh) (*mesh.Mesh, *mesh.Repair) {
	groups := mesh.Doubles(m)
	if len(groups) == 0 {
		return nil, nil
	}
	edges := edgesOf(m, groups)
	gone := make([]bool, len(m.Faces))
	for _, group := range groups {
		keep := bestOf(m, group, edges)
		for _, f := range group {
			gone[f] = f != keep
		}
	}
	r := &mesh.Repair{}
	out := &mesh.Mesh{Vertices: m.Vertices}
	n := 0
	for f, face := range m.Faces {
		if !gone[f] {
			out.Faces = append(out.Faces, face)
			continue
		}
		if n == 0 {
			r.At = m.Centre(f)
		}
		r.AddedAreaMM2 -= m.FaceArea(f)
		n++
	}
	r.What = "removed " + textwrap.Counted(n, "face") + " that doubled another"
	return out, r
}

// edgesOf counts the faces at the edges of doubled faces.
func edgesOf(m *mesh.Mesh, groups [][]int) map[edgeKey]edgeBalance {
	edges := map[edgeKey]edgeBalance{}
	doubled := make([]bool, len(m.Faces))
	for _, group := range groups {
		for _, f := range group {
			doubled[f] = true
		}
		face := m.Faces[group[0]]
		for k, v := range face {
			key, _ := keyOf(v, face[(k+1)%3])
			edges[key] = edgeBalance{}
		}
	}
	for f, face := range m.Faces {
		if m.Collapsed(f) {
			continue
		}
		for k, v := range face {
			key, forward := keyOf(v, face[(k+1)%3])
			b, ok := edges[key]
			if !ok {
				continue
			}
			b.faces++
			if !doubled[f] {
				b.net += forward
			}
			edges[key] = b
		}
	}
	return edges
}

// bestOf returns the face of a group of doubles to keep: of the side that more
// of them show, or else of the one that leaves the edges better balanced. It
// returns -1 when both sides show alike and the group sticks out.
func bestOf(m *mesh.Mesh, group []int, edges map[edgeKey]edgeBalance) int {
	alone := 0
	misfit := func(f int) (sum int) {
		face := m.Faces[f]
		for k, v := range face {
			key, forward := keyOf(v, face[(k+1)%3])
			b := edges[key]
			sum += max(b.net+forward, -b.net-forward)
		}
		return sum
	}
	first, back, lead := group[0], -1, 0
	for _, f := range group {
		if m.SameSide(first, f) {
			lead++
		} else {
			back = f
			lead--
		}
	}
	for k, v := range m.Faces[first] {
		if key, _ := keyOf(v, m.Faces[first][(k+1)%3]); edges[key].faces == len(group) {
			alone++
		}
	}
	sticksOut := alone >= 2
	fits := back < 0 || misfit(first) <= misfit(back)
	switch {
	case lead > 0 || lead == 0 && fits && !sticksOut:
		return first
	case lead == 0 && sticksOut:
		return -1
	}
	return back
}
