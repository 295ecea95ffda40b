package mesh

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/boxtree"
	"swapworth/internal/parallel"
	"swapworth/internal/triangle"
)

// Overlap is a pair of closed shells that share space, so that the sum of their
// volumes counts it twice: one passes through the other, or lies inside it
// Without being a cavity.
type Overlap struct {
	Shells [2]int // places in Report.Shells, the lower first
	At     r3.Vec // a point of the shared space or of its boundary, mm
}

// samplesPerShell is how many faces of a shell are tried for what lies around
// them, near the middle and near each corner, and allSamples how many of all
// shells, but for one of each; in a heap of more than heapOfShells only those that
// no crossing faces show to overlap. Crossing faces are found without it; it finds
// shells that lie flush or inside one another.
const (
	samplesPerShell = 128
	allSamples      = 1 << 14
	heapOfShells    = 1000
)

// relate finds out which closed shells are cavities and which overlap.
func (b *Bodies) relate(m *Mesh, e *Edges) []Overlap {
	shells, together := b.shellsThatMeet()
	if len(together) == 0 {
		return nil
	}
	faces := b.FacesOf(together)
	tree := m.FaceTree(slices.Concat(faces...))
	first := map[[2]int]r3.Vec{}
	found := func(i, j int, at r3.Vec) {
		pair := [2]int{min(i, j), max(i, j)}
		if _, ok := first[pair]; !ok {
			first[pair] = at
		}
	}
	near := make([][]int32, len(together))
	for n := range together {
		near[n] = b.facesNearOthers(m, shells, faces[n])
	}
	known := make([]bool, len(b.Shells))
	for _, x := range b.crossingShells(m, e, tree, together, near) {
		f, g := int(b.Of[x.Faces[0]]), int(b.Of[x.Faces[1]])
		found(f, g, x.At)
		known[f], known[g] = true, true
	}
	around := make([][]surroundings, len(together))
	samples := max(1, min(samplesPerShell, allSamples/len(together)))
	parallel.For(len(together), func(n int) {
		i := together[n]
		if len(together) > heapOfShells && known[i] && b.Shells[i].VolumeMM3 > 0 {
			return // in a heap, bodies that pass through others need no second look
		}
		around[n] = b.lookAround(m, tree, i, near[n], samples)
	})
	for n, i := range together {
		b.judge(i, around[n], found)
	}
	list := make([]Overlap, 0, len(first))
	b.Shares = map[int]bool{}
	for pair, at := range first {
		b.Shares[pair[0]], b.Shares[pair[1]] = true, true
		list = append(list, Overlap{pair, at})
	}
	slices.SortFunc(list, func(x, y Overlap) int {
		return cmp.Or(cmp.Compare(x.Shells[0], y.Shells[0]), cmp.Compare(x.Shells[1], y.Shells[1]))
	})
	return list
}

// crossingShells lists where the faces of the listed shells pass through those of
// others, at most maxPlaces for each; near are the faces of each to be tried.
func (b *Bodies) crossingShells(m *Mesh, e *Edges, tree *boxtree.Tree, shells []int, near [][]int32) []Intersection {
	c := crosser{m, e.Opposite}
	found := make([][]Intersection, len(shells))
	parallel.For(len(shells), func(n int) {
		found[n], _ = c.crossings(near[n], tree, maxPlaces, func(_, g int32) bool { return b.Of[g] > int32(shells[n]) })
	})
	return slices.Concat(found...)
}

// shellsThatMeet lists the closed shells whose box meets that of another, and
// returns the tree of all closed ones.
func (b *Bodies) shellsThatMeet() (tree *boxtree.Tree, list []int) {
	var closed []int32
	for i, s := range b.Shells {
		if s.Closed {
			closed = append(closed, int32(i))
		}
	}
	tree = boxtree.New(closed, func(i int32) Box { return b.Shells[i].Box })
	for _, i := range closed {
		tree.Near(b.Shells[i].Box, func(j int32) bool {
			if i == j || !boxtree.Meet(b.Shells[j].Box, b.Shells[i].Box) {
				return true
			}
			list = append(list, int(i))
			return false
		})
	}
	return tree, list
}

// facesNearOthers lists those of the faces of a shell that meet the box of
// another closed shell.
func (b *Bodies) facesNearOthers(m *Mesh, shells *boxtree.Tree, faces []int32) []int32 {
	parts := make([][]int32, (len(faces)+chunkSize-1)/chunkSize)
	parallel.Chunks(len(faces), chunkSize, func(chunk, from, to int) {
		for _, f := range faces[from:to] {
			box, near := m.FaceBox(f), false
			shells.Near(box, func(s int32) bool {
				near = s != b.Of[f] && boxtree.Meet(b.Shells[s].Box, box)
				return !near
			})
			if near {
				parts[chunk] = append(parts[chunk], f)
			}
		}
	})
	return slices.Concat(parts...)
}

// FacesOf lists the faces of each of the listed shells.
func (b *Bodies) FacesOf(shells []int) [][]int32 {
	lists := make([][]int32, len(shells))
	place := make([]int, len(b.Shells))
	for n, i := range shells {
		place[i] = n + 1
		lists[n] = make([]int32, 0, b.Shells[i].Faces)
	}
	for f, s := range b.Of {
		if s >= 0 && place[s] > 0 {
			lists[place[s]-1] = append(lists[place[s]-1], int32(f))
		}
	}
	return lists
}

// surroundings is how the other shells wind around a point just inside the
// surface of a shell.
type surroundings struct {
	at    r3.Vec
	turns int         // of all other shells
	by    map[int]int // of each
}

// lookAround samples what lies around a shell, just inside of it.
func (b *Bodies) lookAround(m *Mesh, tree *boxtree.Tree, shell int, faces []int32, samples int) []surroundings {
	s := b.Shells[shell]
	depth := 1e-6 * r3.Norm(s.Box.Size())
	if s.VolumeMM3 < 0 {
		depth = -depth
	}
	var list []surroundings
	step := max(1, len(faces)/samples)
	for n := 0; n < len(faces); n += step {
		f := int(faces[n])
		if m.Flat(f) {
			continue
		}
		x, y, z := m.Triangle(f)
		middle, in := m.Centre(f), r3.Scale(-depth, triangle.Normal(x, y, z))
		for _, corner := range []r3.Vec{middle, x, y, z} {
			p := r3.Add(middle, r3.Scale(towardsCorner, r3.Sub(corner, middle)))
			list = append(list, b.around(m, tree, shell, r3.Add(p, in)))
		}
	}
	return list
}

// towardsCorner is how far from the middle of a face to its corners it is tried.
const towardsCorner = 0.9

// around counts how the other shells wind around p.
func (b *Bodies) around(m *Mesh, tree *boxtree.Tree, shell int, p r3.Vec) surroundings {
	w := surroundings{at: p, by: map[int]int{}}
	m.Above(tree, p, func(g int32, turns int, _ float64) {
		if other := int(b.Of[g]); other != shell {
			w.turns += turns
			w.by[other] += turns
		}
	})
	return w
}

// judge marks a cavity and reports the overlaps that the samples show. Inside
// a body nothing else may be; inside a cavity exactly one body more than other
// cavities.
func (b *Bodies) judge(shell int, samples []surroundings, found func(i, j int, at r3.Vec)) {
	s := &b.Shells[shell]
	want := 0
	if s.VolumeMM3 < 0 && slices.ContainsFunc(samples, func(w surroundings) bool { return w.turns > 0 }) {
		s.Cavity = true
		want = 1
	}
	s.Within = s.VolumeMM3 > 0 && len(samples) > 0 &&
		!slices.ContainsFunc(samples, func(w surroundings) bool { return w.turns < 1 })
	for _, w := range samples {
		if w.turns == want {
			continue
		}
		for other, turns := range w.by {
			if turns != 0 {
				found(shell, other, w.at)
			}
		}
	}
}

// Above calls found for every face of the tree that lies above p: with 1 for
// one that looks up, -1 for one that looks down, and its height in z.
func (m *Mesh) Above(tree *boxtree.Tree, p r3.Vec, found func(face int32, turns int, z float64)) {
	column := Box{Min: p, Max: r3.Vec{X: p.X, Y: p.Y, Z: math.Inf(1)}}
	tree.Near(column, func(f int32) bool {
		a, b, c := m.Triangle(int(f))
		if t := triangle.Around(p, a, b, c); t != 0 {
			if z := triangle.HeightAt(p, a, b, c); z > p.Z {
				found(f, t, z)
			}
		}
		return true
	})
}
