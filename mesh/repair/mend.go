package repair

import "swapworth/mesh"

// Faults is the mesh.Repairer of everything that this package mends.
type Faults struct {
	// Join is how far apart, in mm, corners at gaps may lie that are made one; 0 is
	// mesh.Nearness.
	Join float64
}

// When returns Faults where it is asked for, else nil: nothing is mended.
func When(asked bool, join float64) mesh.Repairer {
	if !asked {
		return nil
	}
	return Faults{join}
}

// Mend is mendAll with the Join of the faults.
func (f Faults) Mend(m *mesh.Mesh) (*mesh.Mesh, []mesh.Repair) { return mendAll(m, f.Join) }

// Unite joins closed shells that share space.
func (f Faults) Unite(m *mesh.Mesh) (*mesh.Mesh, []mesh.Repair) { return unite(m) }

// rounds is how often faces are mended and gaps closed in turn: what a closed gap
// brings to light is mended in the second, and the third finds nothing.
const rounds = 3

// mendAll mends faces and closes gaps. A closed gap may bring to light what
// is to be mended: a loose face that lay in it is there twice then.
//
// Corners that lie within join mm of each other at gaps are made one first.
func mendAll(m *mesh.Mesh, join float64) (*mesh.Mesh, []mesh.Repair) {
	var all []mesh.Repair
	if join > m.Nearness() {
		if joined, r := mesh.JoinWithin(m, join); r != nil {
			m, all = joined, append(all, *r)
		}
	}
	for range rounds {
		var mended, closed []mesh.Repair
		m, mended = mend(m)
		m, closed = gaps(m)
		all = append(append(all, mended...), closed...)
		if len(closed) == 0 {
			break
		}
	}
	return m, all
}

// mend returns the mesh with what can be repaired by its faces' own evidence,
// and one Repair for each kind of change. A sound mesh comes back as it is.
//
// The steps, in an order in which each finds what the one before it left:
// Faces that name a vertex twice go; open vertices that nearly coincide become
// one; of faces that are there more than once the one stays that fits its
// neighbours; edges that meet a vertex in their middle are split there; faces
// Without area give way to a split of their neighbour; patches that look the
// wrong way are turned.
func mend(m *mesh.Mesh) (*mesh.Mesh, []mesh.Repair) {
	var repairs []mesh.Repair
	run := func(steps ...func(*mesh.Mesh) (*mesh.Mesh, *mesh.Repair)) {
		for _, step := range steps {
			if mended, repair := step(m); repair != nil {
				m = mended
				repairs = append(repairs, *repair)
			}
		}
	}
	run(mesh.WithoutCollapsed, joinNear, mesh.WithoutCollapsed)
	if !loose(m, mesh.EdgesOf(m)) {
		run(withoutDuplicates, splitAtVertices, withoutSlivers, mesh.OrientAlike)
	}
	return m, repairs
}

// joinNear makes one vertex of the vertices of open edges that lie within the
// Nearness of each other.
func joinNear(m *mesh.Mesh) (*mesh.Mesh, *mesh.Repair) { return mesh.JoinWithin(m, m.Nearness()) }
