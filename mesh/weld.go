package mesh

import (
	"math"
	"math/bits"
	"math/rand/v2"
	"runtime"

	"github.com/hschendel/stl"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/parallel"
)

// Weld makes a mesh of corners, three a face. Corners with exactly equal
// coordinates share a vertex; -0 equals 0. Vertices are numbered in the order
// in which they first appear, faces keep their order and their orientation.
// One or two corners left over at the end make no face.
func Weld(corners []r3.Vec) *Mesh {
	return weld(corners[:len(corners)/3*3], hashVec, func(v r3.Vec) r3.Vec { return v })
}

// weldFile welds the corners of a file after scaling them to millimetres.
func weldFile(corners []stl.Vec3, unit Unit) *Mesh {
	mm := unit.millimetres()
	return weld(corners, hashCorner, func(c stl.Vec3) r3.Vec {
		return r3.Vec{X: mm * float64(c[0]), Y: mm * float64(c[1]), Z: mm * float64(c[2])}
	})
}

// weld numbers the distinct corners and places each with place.
func weld[K comparable](corners []K, hash func(K) uint32, place func(K) r3.Vec) *Mesh {
	first := firstEqual(corners, hash)

	// A corner that is the first of its kind gets the next vertex; ^vertex
	// marks it, so that one array serves both as the way to the first equal
	// corner and as that corner's vertex.
	chunks := (len(first) + chunkSize - 1) / chunkSize
	offset := make([]int32, chunks+1)
	parallel.Chunks(len(first), chunkSize, func(chunk, from, to int) {
		for i := from; i < to; i++ {
			if first[i] == int32(i) {
				offset[chunk+1]++
			}
		}
	})
	for c := range chunks {
		offset[c+1] += offset[c]
	}
	m := &Mesh{Vertices: make([]r3.Vec, offset[chunks]), Faces: make([][3]int32, len(corners)/3)}
	parallel.Chunks(len(first), chunkSize, func(chunk, from, to int) {
		vertex := offset[chunk]
		for i := from; i < to; i++ {
			if first[i] == int32(i) {
				m.Vertices[vertex] = place(corners[i])
				first[i] = ^vertex
				vertex++
			}
		}
	})
	parallel.Chunks(len(m.Faces), chunkSize, func(_, from, to int) {
		for f := from; f < to; f++ {
			for k := range 3 {
				v := first[3*f+k]
				if v >= 0 {
					v = first[v]
				}
				m.Faces[f][k] = ^v
			}
		}
	})
	return m
}

// firstEqual returns, for every corner, the index of the first corner that
// equals it. Each core takes the corners whose hash falls to it, in order, so
// no two cores meet in one table.
func firstEqual[K comparable](corners []K, hash func(K) uint32) []int32 {
	hashes := make([]uint32, len(corners))
	parallel.Chunks(len(corners), chunkSize, func(_, from, to int) {
		for i := from; i < to; i++ {
			hashes[i] = hash(corners[i])
		}
	})
	first := make([]int32, len(corners))
	// A power of two of parts, so that the low bits of a hash name its part.
	parts := 1 << bits.Len(uint(min(runtime.GOMAXPROCS(0), 8)-1))
	if len(corners) < chunkSize {
		parts = 1
	}
	parallel.Each(parts, func(part int) {
		// A closed mesh has about half as many vertices as faces: a sixth of its corners.
		table := newCornerTable(len(corners) / (6 * parts))
		shift := bits.Len(uint(parts)) - 1
		mask := uint32(parts - 1)
		for i, h := range hashes {
			if h&mask == uint32(part) {
				first[i] = firstIn(&table, corners, h>>shift, int32(i))
			}
		}
	})
	return first
}

// cornerTable is an open-addressing hash table of corner indices. Its length
// is a power of two and it is at most half full.
type cornerTable struct {
	slots []cornerSlot
	used  int
}

type cornerSlot struct {
	hash   uint32
	corner int32 // plus one; zero marks a free slot
}

func newCornerTable(expected int) cornerTable {
	return cornerTable{slots: make([]cornerSlot, 1<<max(4, bits.Len(uint(2*expected))))}
}

// firstIn returns the corner in the table that equals corner i, after putting
// i there if there is none.
func firstIn[K comparable](t *cornerTable, corners []K, hash uint32, i int32) int32 {
	mask := uint32(len(t.slots) - 1)
	for at := hash & mask; ; at = (at + 1) & mask {
		s := &t.slots[at]
		if s.corner == 0 {
			*s = cornerSlot{hash, i + 1}
			if t.used++; 2*t.used > len(t.slots) {
				t.grow()
			}
			return i
		}
		if s.hash == hash && corners[s.corner-1] == corners[i] {
			return s.corner - 1
		}
	}
}

func (t *cornerTable) grow() {
	old := t.slots
	t.slots = make([]cornerSlot, 2*len(old))
	mask := uint32(len(t.slots) - 1)
	for _, s := range old {
		if s.corner == 0 {
			continue
		}
		at := s.hash & mask
		for t.slots[at].corner != 0 {
			at = (at + 1) & mask
		}
		t.slots[at] = s
	}
}

func hashCorner(c stl.Vec3) uint32 { return uint32(longHash(c) >> 16) }

func hashVec(v r3.Vec) uint32 {
	x, y, z := math.Float64bits(v.X+0), math.Float64bits(v.Y+0), math.Float64bits(v.Z+0)
	return mix(x^bits.RotateLeft64(y, 23), z)
}

// hashSeed differs from run to run, so that no file can be made whose corners
// all fall into one slot. Results do not depend on it.
var hashSeed = [2]uint64{rand.Uint64(), rand.Uint64()}

// mix spreads two words over 32 bits.
func mix(a, b uint64) uint32 { return uint32(mixLong(a, b) >> 16) }

// mixLong spreads two words over 64 bits by folding 128-bit products.
func mixLong(a, b uint64) uint64 {
	hi, lo := bits.Mul64(a^hashSeed[0], b^hashSeed[1])
	hi, lo = bits.Mul64(hi^lo^a, 0x2545f4914f6cdd1d)
	return hi ^ lo
}

// longHash returns a 64-bit hash of a corner.
func longHash(c stl.Vec3) uint64 {
	// Adding 0 turns -0 into 0, which compares equal and so must hash equal.
	x, y, z := math.Float32bits(c[0]+0), math.Float32bits(c[1]+0), math.Float32bits(c[2]+0)
	return mixLong(uint64(x)|uint64(y)<<32, uint64(z))
}

// between returns a hash of the edge between two corners with the hashes a and
// b, of opposite sign for the edge the other way.
func between(a, b uint64) uint64 {
	switch {
	case a < b:
		return mixLong(a, b)
	case a > b:
		return -mixLong(b, a)
	}
	return 0
}
