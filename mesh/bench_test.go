package mesh

import (
	"bufio"
	"context"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"swapworth/internal/triangle"
	"testing"
	"time"

	"github.com/hschendel/stl"
	"gonum.org/v1/gonum/spatial/r3"
)

// ringPoint returns a point of a wavy ring, i of n around and j of n across.
func ringPoint(i, j, n int) r3.Vec {
	a, b := 2*math.Pi*float64(i%n)/float64(n), 2*math.Pi*float64(j%n)/float64(n)
	small := 10 + math.Sin(7*a)*math.Cos(5*b)
	large := 40 + small*math.Cos(b)
	return r3.Vec{X: large * math.Cos(a), Y: large * math.Sin(a), Z: small * math.Sin(b)}
}

// writeRing writes a closed ring of 2 n*n triangles.
func writeRing(tb testing.TB, path string, n int, text bool) {
	tb.Helper()
	file, err := os.Create(path)
	if err != nil {
		tb.Fatal(err)
	}
	defer file.Close()
	w := bufio.NewWriterSize(file, 1<<20)
	var head [preambleSize]byte
	binary.LittleEndian.PutUint32(head[headerSize:], uint32(2*n*n))
	if text {
		fmt.Fprintln(w, "solid ring")
	} else {
		w.Write(head[:])
	}
	row, next := make([]r3.Vec, n+1), make([]r3.Vec, n+1)
	fill := func(r []r3.Vec, i int) {
		for j := range r {
			r[j] = ringPoint(i, j, n)
		}
	}
	fill(row, 0)
	record := make([]byte, 0, 400)
	for i := range n {
		fill(next, i+1)
		for j := range n {
			for _, t := range [2][3]r3.Vec{{row[j], next[j], next[j+1]}, {row[j], next[j+1], row[j+1]}} {
				record = appendFacet(record[:0], t, text)
				if _, err := w.Write(record); err != nil {
					tb.Fatal(err)
				}
			}
		}
		row, next = next, row
	}
	if text {
		fmt.Fprintln(w, "endsolid ring")
	}
	if err := w.Flush(); err != nil {
		tb.Fatal(err)
	}
}

// appendFacet appends a triangle as a binary record or as text.
func appendFacet(b []byte, t [3]r3.Vec, text bool) []byte {
	normal := triangle.Normal(t[0], t[1], t[2])
	if !text {
		for _, v := range [4]r3.Vec{normal, t[0], t[1], t[2]} {
			for _, x := range [3]float64{v.X, v.Y, v.Z} {
				b = binary.LittleEndian.AppendUint32(b, math.Float32bits(float32(x)))
			}
		}
		return append(b, 0, 0)
	}
	point := func(v r3.Vec) {
		for _, x := range [3]float64{v.X, v.Y, v.Z} {
			b = append(b, ' ')
			b = strconv.AppendFloat(b, float64(float32(x)), 'e', 6, 32)
		}
		b = append(b, '\n')
	}
	b = append(b, "  facet normal"...)
	point(normal)
	b = append(b, "    outer loop\n"...)
	for _, v := range t {
		b = append(b, "      vertex"...)
		point(v)
	}
	return append(b, "    endloop\n  endfacet\n"...)
}

// baseline returns the time of a plain read of the file from the page cache
// plus that of building a hash table of two million entries.
func baseline(tb testing.TB, path string) (read, hash time.Duration) {
	tb.Helper()
	read, hash = time.Hour, time.Hour
	for range 3 {
		start := time.Now()
		file, err := os.Open(path)
		if err != nil {
			tb.Fatal(err)
		}
		if _, err := io.CopyBuffer(struct{ io.Writer }{io.Discard}, struct{ io.Reader }{file}, make([]byte, 1<<20)); err != nil {
			tb.Fatal(err)
		}
		file.Close()
		read = min(read, time.Since(start))
		start = time.Now()
		table := make(map[uint64]int32)
		for i := range uint64(2_000_000) {
			table[i*0x9e3779b97f4a7c15] = int32(i)
		}
		hash = min(hash, time.Since(start))
		runtime.KeepAlive(table)
	}
	return read, hash
}

// benchmarkLoad reads a ring, checks and welds it, and compares the time with
// the baseline.
func benchmarkLoad(b *testing.B, n int, text bool) {
	path := filepath.Join(b.TempDir(), "ring.stl")
	writeRing(b, path, n, text)
	info, err := os.Stat(path)
	if err != nil {
		b.Fatal(err)
	}
	read, hash := baseline(b, path)
	b.SetBytes(info.Size())
	b.ReportAllocs()
	for b.Loop() {
		l, err := Load(path, Options{})
		if err != nil || !l.Report.Closed {
			b.Fatal(err)
		}
	}
	each := b.Elapsed() / time.Duration(b.N)
	b.ReportMetric(float64(each)/float64(read+hash), "x-baseline")
	b.ReportMetric(float64(each)/float64(read), "x-read")
}

func BenchmarkLoadBinary2M(b *testing.B) { benchmarkLoad(b, 1000, false) }
func BenchmarkLoadText500k(b *testing.B) { benchmarkLoad(b, 500, true) }

// BenchmarkStreamBinary2M measures a file in one pass.
func BenchmarkStreamBinary2M(b *testing.B) {
	path := filepath.Join(b.TempDir(), "ring.stl")
	writeRing(b, path, 1000, false)
	read, _ := baseline(b, path)
	b.SetBytes(preambleSize + recordSize*2_000_000)
	for b.Loop() {
		s, err := Stream(context.Background(), path, Options{})
		if err != nil || !s.Balanced {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed()/time.Duration(b.N))/float64(read), "x-read")
}

// BenchmarkIntersections2M looks for faces of a sound mesh that pass through
// each other.
func BenchmarkIntersections2M(b *testing.B) {
	path := filepath.Join(b.TempDir(), "ring.stl")
	writeRing(b, path, 1000, false)
	l, err := Load(path, Options{})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, n := Intersections(l.Mesh); n != 0 {
			b.Fatalf("%d intersections in a sound mesh", n)
		}
	}
}

// BenchmarkLoadAtSizes shows that the time grows in proportion to the
// triangles.
func BenchmarkLoadAtSizes(b *testing.B) {
	for _, n := range []int{250, 500, 1000} {
		path := filepath.Join(b.TempDir(), "ring.stl")
		writeRing(b, path, n, false)
		b.Run(strconv.Itoa(2*n*n), func(b *testing.B) {
			for b.Loop() {
				if _, err := Load(path, Options{}); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(2*n*n), "ns/triangle")
		})
	}
}

// BenchmarkLibraryText500k reads the text file with the STL library.
func BenchmarkLibraryText500k(b *testing.B) {
	path := filepath.Join(b.TempDir(), "ring.stl")
	writeRing(b, path, 500, true)
	info, err := os.Stat(path)
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(info.Size())
	for b.Loop() {
		if _, err := stl.ReadFile(path); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkLibraryBinary2M reads the same file into the triangles of the STL
// library, with nothing welded or checked.
func BenchmarkLibraryBinary2M(b *testing.B) {
	path := filepath.Join(b.TempDir(), "ring.stl")
	writeRing(b, path, 1000, false)
	b.SetBytes(preambleSize + recordSize*2_000_000)
	for b.Loop() {
		if _, err := stl.ReadFile(path); err != nil {
			b.Fatal(err)
		}
	}
}
