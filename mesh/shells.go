package mesh

import (
	"cmp"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/boxtree"
	"swapworth/internal/disjoint"
	"swapworth/internal/parallel"
)

// findShells joins faces over shared edges into shells, largest volume first.
func findShells(m *Mesh, e *edgeTable) bodies {
	b := bodies{of: shellOfFaces(m, e)}
	count := int32(0)
	for _, s := range b.of {
		count = max(count, s+1)
	}
	b.shells = make([]Shell, count)
	for i := range b.shells {
		b.shells[i].Closed = true
	}
	for _, h := range e.open {
		b.shells[b.of[h/3]].Closed = false
	}
	for _, group := range slices.Concat(e.flipped, e.overused) {
		for _, h := range group {
			b.shells[b.of[h/3]].Closed = false
		}
	}
	b.measure(m)
	b.sort()
	return b
}

// shellOfFaces numbers the shells in the order of their first faces.
func shellOfFaces(m *Mesh, e *edgeTable) []int32 {
	sets := disjoint.New(len(m.Faces))
	sets.JoinAll(func(from, to int, join func(a, b int32)) {
		for h := 3 * from; h < 3*to; h++ {
			if o := e.opposite[h]; o >= 0 && o < int32(h) { // the lower face of the two is known
				join(int32(h)/3, o/3)
			}
		}
	})
	for _, group := range slices.Concat(e.flipped, e.overused) {
		for _, h := range group[1:] {
			sets.Join(group[0]/3, h/3)
		}
	}
	count := int32(0)
	of := sets.Names() // the smallest face of each shell
	for f, root := range of {
		switch {
		case m.collapsed(f):
			of[f] = -1
		case root == int32(f):
			of[f] = count
			count++
		default:
			of[f] = of[root]
		}
	}
	return of
}

// fewShells is up to how many shells each core sums on its own.
const fewShells = 16

// measure sums the faces, boxes and volumes of the shells.
func (b *bodies) measure(m *Mesh) {
	size := chunkSize
	if len(b.shells) > fewShells {
		size = len(b.of)
	}
	parts := make([][]shellSum, (len(b.of)+size-1)/size)
	o := m.reference()
	parallel.Chunks(len(b.of), size, func(chunk, from, to int) {
		sums := make([]shellSum, len(b.shells))
		for s := range sums {
			sums[s].box = boxtree.Nowhere
		}
		for f := from; f < to; f++ {
			if s := b.of[f]; s >= 0 {
				sums[s].add(m, f, o, b.shells[s].Closed)
			}
		}
		parts[chunk] = sums
	})
	for s := range b.shells {
		shell := &b.shells[s]
		shell.Box = boxtree.Nowhere
		var six doubled
		for _, sums := range parts {
			shell.Faces += sums[s].faces
			shell.Box = boxtree.Join(shell.Box, sums[s].box)
			six = six.plus(sums[s].six)
		}
		shell.VolumeMM3 = six.value() / 6
	}
}

// shellSum is what the faces of one shell add up to.
type shellSum struct {
	faces int
	box   Box
	six   doubled // six times the volume about the reference
}

func (s *shellSum) add(m *Mesh, f int, o r3.Vec, closed bool) {
	a, b, c := m.Triangle(f)
	s.box = boxtree.Extend(boxtree.Extend(boxtree.Extend(s.box, a), b), c)
	s.faces++
	if closed {
		s.six = s.six.plus(m.sixVolumes(f, o))
	}
}

// sort puts the shells in the order of falling absolute volume.
func (b *bodies) sort() {
	order := make([]int32, len(b.shells))
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortStableFunc(order, func(i, j int32) int {
		return cmp.Compare(abs(b.shells[j].VolumeMM3), abs(b.shells[i].VolumeMM3))
	})
	sorted := make([]Shell, len(order))
	place := make([]int32, len(order))
	for at, i := range order {
		sorted[at] = b.shells[i]
		place[i] = int32(at)
	}
	b.shells = sorted
	for f, s := range b.of {
		if s >= 0 {
			b.of[f] = place[s]
		}
	}
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}
