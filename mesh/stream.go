package mesh

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"math"
	"sync"

	"swapworth/internal/boxtree"
	"swapworth/internal/files"

	"github.com/hschendel/stl"
	"gonum.org/v1/gonum/spatial/r3"
)

// Streamed is what one pass over a file tells without holding its triangles.
type Streamed struct {
	Path, SHA256, Format string
	Unit                 Unit
	Triangles            int64
	// Balanced: every edge is used as often in one direction as in the other, so
	// that the volume is definite. Edges are compared by a sum of 64-bit hashes
	// with a random start: an open mesh passes for balanced once in 10^19 times.
	Balanced  bool
	VolumeMM3 float64 // never negative; see Turned
	Turned    bool    // the faces look inwards
	AreaMM2   float64
	Box       Box // mm
	Warnings  []string
}

// Stream measures an STL file of any size, or standard input for "-", in one
// pass and in memory that does not grow with the file. It neither welds nor
// lists what is wrong: that takes Load. Options.Repair and MaxTriangles do not
// apply.
func Stream(ctx context.Context, path string, opt Options) (*Streamed, error) {
	file, name, err := openFile(path)
	if err != nil {
		return nil, err
	}
	defer file.Close() // only read from
	return StreamFrom(ctx, file, name, opt)
}

// StreamFrom is Stream for a reader; name stands for it in errors.
func StreamFrom(ctx context.Context, r io.Reader, name string, opt Options) (*Streamed, error) {
	var sums blockSums
	hash := sha256.New()
	c := &contents{visit: sums.add}
	format, err := c.read(watched(ctx, r, opt), hash, math.MaxInt)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", files.Show(name), err)
	}
	all := sums.total()
	mm := opt.Unit.millimetres()
	volume := all.six.value() / 6 * mm * mm * mm
	s := &Streamed{
		Path: name, SHA256: hex.EncodeToString(hash.Sum(nil)), Format: format, Unit: opt.Unit,
		Triangles: c.triangles, Balanced: all.edges == 0, VolumeMM3: math.Abs(volume),
		Turned: volume < 0 && all.edges == 0, AreaMM2: all.area.value() * mm * mm,
		Box: Box{Min: r3.Scale(mm, all.box.Min), Max: r3.Scale(mm, all.box.Max)}, Warnings: c.warnings,
	}
	if s.Turned {
		s.Warnings = append(s.Warnings, "the faces look inwards: the volume is given as if they looked outwards")
	}
	size := s.Box.Size()
	largest := max(size.X, size.Y, size.Z)
	if err := senseless(largest, opt.Unit); err != nil {
		return nil, fmt.Errorf("%s: %w", files.Show(name), err)
	}
	if w := unitWarning(largest, opt.Unit); w != "" {
		s.Warnings = append(s.Warnings, w)
	}
	return s, nil
}

// blockSum is what one block of triangles adds up to, in file units.
type blockSum struct {
	origin  r3.Vec     // the first corner of the block
	six     doubled    // six times the volume about origin
	vectors [3]doubled // twice the vector area
	area    doubled
	box     Box
	edges   uint64 // sum of the edges' hashes, one way positive and the other negative
}

// blockSums keeps the sums of the blocks in the order of the file, so that the
// total does not depend on which core was first.
type blockSums struct {
	mu   sync.Mutex
	list []blockSum
}

func (s *blockSums) add(block int, corners []stl.Vec3) {
	if len(corners) == 0 {
		return
	}
	sum := sumOf(corners)
	s.mu.Lock()
	defer s.mu.Unlock()
	for len(s.list) <= block {
		s.list = append(s.list, blockSum{box: boxtree.Nowhere})
	}
	s.list[block] = sum
}

func sumOf(corners []stl.Vec3) blockSum {
	sum := blockSum{origin: vec(corners[0]), box: boxtree.Nowhere}
	for t := 0; t+2 < len(corners); t += 3 {
		a, b, c := vec(corners[t]), vec(corners[t+1]), vec(corners[t+2])
		u, v, p := r3.Sub(b, a), r3.Sub(c, a), r3.Sub(a, sum.origin)
		x, y, z := minor(u.Y, v.Z, u.Z, v.Y), minor(u.Z, v.X, u.X, v.Z), minor(u.X, v.Y, u.Y, v.X)
		sum.six = sum.six.plus(x.times(p.X)).plus(y.times(p.Y)).plus(z.times(p.Z))
		for k, n := range [3]doubled{x, y, z} {
			sum.vectors[k] = sum.vectors[k].plus(n)
		}
		sum.area = sum.area.plus(doubled{high: r3.Norm(r3.Vec{X: x.value(), Y: y.value(), Z: z.value()}) / 2})
		sum.box = boxtree.Extend(boxtree.Extend(boxtree.Extend(sum.box, a), b), c)
		h := [3]uint64{longHash(corners[t]), longHash(corners[t+1]), longHash(corners[t+2])}
		sum.edges += between(h[0], h[1]) + between(h[1], h[2]) + between(h[2], h[0])
	}
	return sum
}

func vec(c stl.Vec3) r3.Vec { return r3.Vec{X: float64(c[0]), Y: float64(c[1]), Z: float64(c[2])} }

// total adds up the blocks about the origin of the first. Moving the origin of
// a block from o to q adds (o - q) . twice its vector area to six times its
// volume.
func (s *blockSums) total() blockSum {
	all := blockSum{box: boxtree.Nowhere}
	for i, b := range s.list {
		if i == 0 {
			all.origin = b.origin
		}
		shift := r3.Sub(b.origin, all.origin)
		all.six = all.six.plus(b.six).plus(b.vectors[0].times(shift.X)).
			plus(b.vectors[1].times(shift.Y)).plus(b.vectors[2].times(shift.Z))
		all.area = all.area.plus(b.area)
		all.box = boxtree.Join(all.box, b.box)
		all.edges += b.edges
	}
	return all
}
