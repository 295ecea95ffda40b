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
func findShells(m *Mesh, e *Edges) Bodies {
	b := Bodies{Of: shellOfFaces(m, e)}
	count := int32(0)
	for _, s := range b.Of {
		count = max(count, s+1)
	}
	b.Shells = make([]Shell, count)
	for i := range b.Shells {
		b.Shells[i].Closed = true
	}
	for _, h := range e.Open {
		b.Shells[b.Of[h/3]].Closed = false
	}
	for _, group := range slices.Concat(e.Flipped, e.Overused) {
		for _, h := range group {
			b.Shells[b.Of[h/3]].Closed = false
		}
	}
	b.measure(m)
	b.sort()
	return b
}

// shellOfFaces numbers the shells in the order of their first faces.
func shellOfFaces(m *Mesh, e *Edges) []int32 {
	sets := disjoint.New(len(m.Faces))
	sets.JoinAll(func(from, to int, join func(a, b int32)) {
		for h := 3 * from; h < 3*to; h++ {
			if o := e.Opposite[h]; o >= 0 && o < int32(h) { // the lower face of the two is known
				join(int32(h)/3, o/3)
			}
		}
	})
	for _, group := range slices.Concat(e.Flipped, e.Overused) {
		for _, h := range group[1:] {
			sets.Join(group[0]/3, h/3)
		}
	}
	count := int32(0)
	of := sets.Names() // the smallest face of each shell
	for f, root := range of {
		switch {
		case m.Collapsed(f):
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
func (b *Bodies) measure(m *Mesh) {
	size := chunkSize
	if len(b.Shells) > fewShells {
		size = len(b.Of)
	}
	parts := make([][]shellSum, (len(b.Of)+size-1)/size)
	o := m.reference()
	parallel.Chunks(len(b.Of), size, func(chunk, from, to int) {
		sums := make([]shellSum, len(b.Shells))
		for s := range sums {
			sums[s].box = boxtree.Nowhere
		}
		for f := from; f < to; f++ {
			if s := b.Of[f]; s >= 0 {
				sums[s].add(m, f, o, b.Shells[s].Closed)
			}
		}
		parts[chunk] = sums
	})
	for s := range b.Shells {
		shell := &b.Shells[s]
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
func (b *Bodies) sort() {
	order := make([]int32, len(b.Shells))
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortStableFunc(order, func(i, j int32) int {
		return cmp.Compare(abs(b.Shells[j].VolumeMM3), abs(b.Shells[i].VolumeMM3))
	})
	sorted := make([]Shell, len(order))
	place := make([]int32, len(order))
	for at, i := range order {
		sorted[at] = b.Shells[i]
		place[i] = int32(at)
	}
	b.Shells = sorted
	for f, s := range b.Of {
		if s >= 0 {
			b.Of[f] = place[s]
		}
	}
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}
