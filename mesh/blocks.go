package mesh

import (
	"runtime"
	"sync"

	"swapworth/internal/parallel"

	"github.com/hschendel/stl"
)

// contents is what a file holds: three corners a triangle, in file units.
type contents struct {
	corners   []stl.Vec3
	triangles int64
	warnings  []string
	header    []byte // the words that lead a binary file
	free      int64  // bytes of memory for a mesh; 0: not known

	// visit, when set, is shown the corners of each block instead of their being
	// kept, on any core and in any order. It must not hold on to them.
	visit func(block int, corners []stl.Vec3)
}

// block is a run of whole triangles of a file on its way to a decoder.
type block struct {
	index int
	first int64 // number of the first triangle (binary) or of the first line (text)
	bytes []byte
	out   []stl.Vec3 // where the corners of a binary block go
	piece *textPiece // where those of a text block go
}

// inOrder hands the blocks that read produces to decoders on all cores, while
// read goes on, and returns the error that comes first in the file: that of
// the earliest block that failed, else that of read.
func inOrder(read func(hand func(block)) error, decode func(block) error) error {
	blocks := make(chan block)
	var (
		mu       sync.Mutex
		failed   error
		failedAt int
		readErr  error
	)
	note := func(index int, err error) {
		mu.Lock()
		defer mu.Unlock()
		if failed == nil || index < failedAt {
			failed, failedAt = err, index
		}
	}
	parallel.Each(runtime.GOMAXPROCS(0)+1, func(worker int) {
		if worker == 0 {
			defer close(blocks)
			next := 0
			readErr = read(func(b block) {
				b.index = next
				next++
				blocks <- b
			})
			return
		}
		defer func() {
			for range blocks { // reading must not wait for a decoder that panicked
			}
		}()
		for b := range blocks {
			err := decode(b)
			giveBytes(b.bytes)
			if err != nil {
				note(b.index, err)
			}
		}
	})
	if failed != nil {
		return failed
	}
	return readErr
}

// spare and spareCorners keep the buffers of blocks that are done.
var (
	spare        = sync.Pool{New: func() any { return new([]byte) }}
	spareCorners = sync.Pool{New: func() any { return new([]stl.Vec3) }}
)

func takeCorners(n int) []stl.Vec3 {
	c := *spareCorners.Get().(*[]stl.Vec3)
	if cap(c) < n {
		c = make([]stl.Vec3, n)
	}
	return c[:n]
}

func giveCorners(c []stl.Vec3) { spareCorners.Put(&c) }

func takeBytes(n int) []byte {
	b := *spare.Get().(*[]byte)
	if cap(b) < n {
		b = make([]byte, n)
	}
	return b[:n]
}

func giveBytes(b []byte) { spare.Put(&b) }

// joined puts the pieces behind one another and lets go of each once copied.
func joined(pieces [][]stl.Vec3) []stl.Vec3 {
	n := 0
	for _, p := range pieces {
		n += len(p)
	}
	all := make([]stl.Vec3, 0, n)
	for i, p := range pieces {
		all = append(all, p...)
		pieces[i] = nil
	}
	return all
}
