package mesh

// Doubles lists the groups of two and more faces with the same vertices, in the
// order of their first faces.
func Doubles(m *Mesh) [][]int { return doublesAmong(m, EdgesOf(m)) }

func doublesAmong(m *Mesh, e *Edges) [][]int {
	place := map[[3]int32]int{}
	var all, groups [][]int
	for f := range m.Faces {
		if m.Collapsed(f) || !e.mayBeDuplicate(f) {
			continue
		}
		key := sortedFace(m.Faces[f])
		at, ok := place[key]
		if !ok {
			at = len(all)
			place[key] = at
			all = append(all, nil)
		}
		all[at] = append(all[at], f)
	}
	for _, g := range all {
		if len(g) > 1 {
			groups = append(groups, g)
		}
	}
	return groups
}

// SameSide reports whether two faces with the same vertices look the same way.
func (m *Mesh) SameSide(f, g int) bool {
	a, b := m.Faces[f], m.Faces[g]
	for k := range b {
		if b[k] == a[0] {
			return b[(k+1)%3] == a[1]
		}
	}
	return false
}
