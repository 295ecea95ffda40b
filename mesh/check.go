package mesh

import (
	"cmp"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/boxtree"
	"swapworth/internal/disjoint"
	"swapworth/internal/parallel"
)

// Report says whether a mesh bounds a solid, and what stands against it.
//
// Faces that name a vertex twice bound nothing: they are counted as zero-area
// faces and otherwise passed over, so they do not open a mesh.
type Report struct {
	// Closed: there are faces, and every edge is used exactly once in each
	// direction.
	Closed bool
	// Balanced: there are faces, none is there twice, and every edge is used as
	// often in one direction as in the other. A balanced mesh encloses a definite
	// volume even where bodies touch along an edge. Closed implies Balanced but
	// for closed pairs of a face and its own back.
	Balanced bool

	OpenEdges      int // edges used by one face
	OverusedEdges  int // edges used by more than two faces
	FlippedEdges   int // edges used by two faces in the same direction
	ZeroAreaFaces  int // faces whose corners coincide or lie on one line
	DuplicateFaces int // faces that name the same three vertices as an earlier face

	Gaps     []Gap   // connected runs of open edges, most edges first; at most maxPlaces
	GapTotal int     // number of gaps, the unlisted ones included
	Faults   []Fault // a place for each of the other counts
	Shells   []Shell // connected bodies, largest volume first

	// Overlaps lists the pairs of closed shells that share space, at most
	// maxPlaces of OverlapTotal.
	Overlaps     []Overlap
	OverlapTotal int
	// Through is set where the surface passes through itself otherwise, so that what
	// it encloses cannot be told for certain.
	Through *Through
	// Where shells share space or the surface passes through itself, the volume of
	// the mesh counts space more than once, or less than not at all where a cavity
	// reaches out: by about Twice.Volume, give or take TwiceErrorMM3, so that the
	// space that is wound around at least once is SignedVolume less that. It is
	// negative where more is left out than counted twice.
	Twice         Moments
	TwiceErrorMM3 float64
	// LessMM3 is the volume of shells that lie inside others and look outwards:
	// taken for solid, but they may be cavities turned the wrong way.
	LessMM3 float64
	// RoundingMM3 is by how much, at most, the volume of a file's part is off because
	// its coordinates are float32 numbers.
	RoundingMM3 float64
}

// Gap is a connected run of open edges.
type Gap struct {
	At    r3.Vec // the mean of its vertices, mm
	Edges int
}

// Through is a place where the surface of a mesh passes through itself.
type Through struct {
	At r3.Vec // mm, amid what is enclosed wrongly
	// WrongMM3 is about the volume that is enclosed more than once or inside out.
	WrongMM3 float64
}

// negligible is the share of a volume that a surface which passes through itself
// may enclose wrongly without a word: the faces of fine rounds do in many files,
// and a tenth of a thousandth is less than any density is known to.
const negligible = 1e-4

// wind finds out what the mesh encloses more than once or inside out.
func (r *Report) wind(m *Mesh, b Bodies, overlaps []Overlap) {
	w := windingOf(m)
	through := w.wrong() > negligible*w.body
	if len(overlaps) == 0 && !through {
		return
	}
	ground := boxtree.Nowhere
	for _, o := range overlaps {
		x, y := b.Shells[o.Shells[0]], b.Shells[o.Shells[1]]
		shared := sharedBox(x.Box, y.Box)
		for _, s := range []Shell{x, y} {
			if s.VolumeMM3 < 0 { // it may reach out of every body
				shared = boxtree.Join(shared, s.Box)
			}
		}
		ground = boxtree.Join(ground, shared)
	}
	if through {
		ground = boxtree.Join(ground, w.grown(m))
	}
	r.Twice, r.TwiceErrorMM3 = twice(m, ground, len(b.Shells) > fewShells)
	for _, s := range b.Shells {
		if s.Within {
			r.LessMM3 += s.VolumeMM3
		}
	}
	if through && len(overlaps) == 0 {
		r.Through = &Through{w.at, w.wrong()}
		r.TwiceErrorMM3 += w.wrong()
	}
}

// Fault is the first place at which one kind of fault is met.
type Fault struct {
	What string
	At   r3.Vec // mm
}

// Shell is a set of faces connected over edges.
type Shell struct {
	Faces  int
	Closed bool
	// VolumeMM3 is signed: negative when the faces look inwards, as those of a
	// cavity do. It is 0 when the shell is not closed.
	VolumeMM3 float64
	Cavity    bool // closed, inside-out, and inside another shell
	Within    bool // closed, looking outwards, and inside another shell
	Box       Box
}

// maxPlaces bounds the listed gaps, so that a hostile file cannot make a report
// larger than its mesh.
const maxPlaces = 100

// Check examines how the faces of a mesh fit together.
func Check(m *Mesh) Report {
	r, _ := CheckBodies(m)
	return r
}

// Bodies tells which shell each face belongs to.
type Bodies struct {
	Shells []Shell
	Of     []int32      // index into shells for every face; -1 for a collapsed face
	Shares map[int]bool // shells that share space with another
}

// CheckBodies is Check with the shell that each face belongs to.
func CheckBodies(m *Mesh) (Report, Bodies) { return checkEdges(m, EdgesOf(m)) }

// checkEdges is check with the edge table of the mesh.
func checkEdges(m *Mesh, e *Edges) (Report, Bodies) {
	r := Report{
		Closed:        len(m.Faces) > 0 && len(e.Open)+len(e.Flipped)+len(e.Overused) == 0,
		Balanced:      len(m.Faces) > 0 && e.Balanced,
		OpenEdges:     len(e.Open),
		FlippedEdges:  len(e.Flipped),
		OverusedEdges: len(e.Overused),
	}
	r.countBadFaces(m, e)
	r.Balanced = r.Balanced && r.DuplicateFaces == 0
	for _, kind := range []struct {
		what  string
		edges [][]HalfEdge
	}{{"edge whose two faces look opposite ways", e.Flipped}, {"edge of more than two faces", e.Overused}} {
		if len(kind.edges) > 0 {
			from, to := m.Ends(kind.edges[0][0])
			r.fault(kind.what, r3.Scale(0.5, r3.Add(m.Vertices[from], m.Vertices[to])))
		}
	}
	r.Gaps = gaps(m, e.Open)
	r.GapTotal = len(r.Gaps)
	r.Gaps = slices.Clone(r.Gaps[:min(len(r.Gaps), maxPlaces)])
	b := findShells(m, e)
	overlaps := b.relate(m, e)
	r.Overlaps, r.OverlapTotal = overlaps[:min(len(overlaps), maxPlaces)], len(overlaps)
	if r.Closed || r.Balanced {
		r.wind(m, b, overlaps)
	}
	if len(b.Shells) == 0 || !slices.ContainsFunc(b.Shells, func(s Shell) bool { return s.Closed }) {
		r.Closed = false // every face is collapsed
		r.Balanced = r.Balanced && len(b.Shells) > 0
	}
	r.Shells = b.Shells
	return r, b
}

func (r *Report) fault(what string, at r3.Vec) { r.Faults = append(r.Faults, Fault{what, at}) }

func (r *Report) countBadFaces(m *Mesh, e *Edges) {
	chunks := (len(m.Faces) + chunkSize - 1) / chunkSize
	flat := make([]int, chunks)
	firstFlat := make([]int, chunks)
	suspects := make([][]int, chunks)
	parallel.Chunks(len(m.Faces), chunkSize, func(chunk, from, to int) {
		for f := from; f < to; f++ {
			if m.Flat(f) {
				if flat[chunk] == 0 {
					firstFlat[chunk] = f
				}
				flat[chunk]++
			}
			if e.mayBeDuplicate(f) && !m.Collapsed(f) {
				suspects[chunk] = append(suspects[chunk], f)
			}
		}
	})
	for c, n := range flat {
		if n > 0 && r.ZeroAreaFaces == 0 {
			r.fault("face without area", m.Centre(firstFlat[c]))
		}
		r.ZeroAreaFaces += n
	}
	seen := map[[3]int32]bool{}
	for _, f := range slices.Concat(suspects...) {
		key := sortedFace(m.Faces[f])
		if seen[key] {
			if r.DuplicateFaces == 0 {
				r.fault("face that is there twice", m.Centre(f))
			}
			r.DuplicateFaces++
		}
		seen[key] = true
	}
}

// mayBeDuplicate is true for every face that has a twin: the twin uses all
// three edges too, so none has its opposite in a third face.
func (e *Edges) mayBeDuplicate(f int) bool {
	other := HalfEdge(-1)
	for _, o := range e.Opposite[3*f : 3*f+3] {
		switch {
		case o < 0:
		case other >= 0 && o/3 != other:
			return false
		default:
			other = o / 3
		}
	}
	return true
}

func sortedFace(f [3]int32) [3]int32 {
	slices.Sort(f[:])
	return f
}

// gaps joins open half-edges that share a vertex, most edges first.
func gaps(m *Mesh, open []HalfEdge) []Gap {
	at := map[int32]int32{} // vertex -> number in the union
	number := func(v int32) int32 {
		n, ok := at[v]
		if !ok {
			n = int32(len(at))
			at[v] = n
		}
		return n
	}
	for _, h := range open {
		from, to := m.Ends(h)
		number(from)
		number(to)
	}
	sets := disjoint.New(len(at))
	for _, h := range open {
		from, to := m.Ends(h)
		sets.Join(at[from], at[to])
	}
	gapOf := map[int32]int{}
	var list []Gap
	for _, h := range open {
		from, to := m.Ends(h)
		root := sets.Find(at[from])
		i, ok := gapOf[root]
		if !ok {
			i = len(list)
			gapOf[root] = i
			list = append(list, Gap{})
		}
		// The ends of the edges, each edge counted with both, weigh every vertex of a loop alike.
		g := &list[i]
		g.At = r3.Add(g.At, r3.Add(m.Vertices[from], m.Vertices[to]))
		g.Edges++
	}
	for i := range list {
		list[i].At = r3.Scale(0.5/float64(list[i].Edges), list[i].At)
	}
	slices.SortStableFunc(list, func(a, b Gap) int { return cmp.Compare(b.Edges, a.Edges) })
	return list
}
