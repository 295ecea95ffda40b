//go:build unix

package mass_test

import (
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"syscall"
	"testing"
	"time"

	"github.com/hschendel/stl"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mass"
	"swapworth/mesh"
)

// ring is a closed wavy ring of 2 n n triangles, none of them level with another.
func ring(n int) *mesh.Mesh {
	m := &mesh.Mesh{}
	for i := range n {
		for j := range n {
			a, b := 2*math.Pi*float64(i)/float64(n), 2*math.Pi*float64(j)/float64(n)
			small := 10 + math.Sin(7*a)*math.Cos(5*b)
			large := 40 + small*math.Cos(b)
			m.Vertices = append(m.Vertices, r3.Vec{X: large * math.Cos(a), Y: large * math.Sin(a), Z: small * math.Sin(b)})
			at := func(i, j int) int32 { return int32(i%n*n + j%n) }
			m.Faces = append(m.Faces,
				[3]int32{at(i, j), at(i+1, j), at(i+1, j+1)}, [3]int32{at(i, j), at(i+1, j+1), at(i, j+1)})
		}
	}
	return m
}

// processor returns the processor time that this program has taken.
func processor() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// leastOf returns the least processor time of three runs.
func leastOf(b *testing.B, work func() error) time.Duration {
	b.Helper()
	least := time.Duration(math.MaxInt64)
	for range 3 {
		start := processor()
		if err := work(); err != nil {
			b.Fatal(err)
		}
		least = min(least, processor()-start)
	}
	return least
}

// benchmarkFile does the work on rings of some sizes and reports the processor time,
// which other programs on the machine do not lengthen, also as a ratio to a plain
// read of the same file and to the STL library's own reader in the same run.
func benchmarkFile(b *testing.B, work func(path string) error) {
	for _, n := range []int{250, 500, 1000} {
		path := filepath.Join(b.TempDir(), "ring.stl")
		if err := mesh.WriteFile(path, ring(n), false); err != nil {
			b.Fatal(err)
		}
		plain := leastOf(b, func() error {
			f, err := os.Open(path)
			if err != nil {
				return err
			}
			defer f.Close()
			_, err = io.CopyBuffer(struct{ io.Writer }{io.Discard}, struct{ io.Reader }{f}, make([]byte, 1<<20))
			return err
		})
		library := leastOf(b, func() error { _, err := stl.ReadFile(path); return err })
		b.Run(strconv.Itoa(2*n*n), func(b *testing.B) {
			start := processor()
			for b.Loop() {
				if err := work(path); err != nil {
					b.Fatal(err)
				}
			}
			each := (processor() - start) / time.Duration(b.N)
			b.ReportMetric(float64(each.Microseconds())/1000, "cpu-ms/op")
			b.ReportMetric(float64(each.Nanoseconds())/float64(2*n*n), "cpu-ns/triangle")
			b.ReportMetric(float64(each)/float64(plain), "x-read")
			b.ReportMetric(float64(each)/float64(library), "x-library")
		})
	}
}

// BenchmarkMass is all that `swapworth mass` does with a file.
func BenchmarkMass(b *testing.B) {
	benchmarkFile(b, func(path string) error {
		l, err := mesh.Load(path, mesh.Options{})
		if err == nil {
			_, err = mass.Measure(l)
		}
		return err
	})
}

// BenchmarkMesh is all that `swapworth mesh` does with a file.
func BenchmarkMesh(b *testing.B) {
	benchmarkFile(b, func(path string) error {
		l, err := mesh.Load(path, mesh.Options{})
		if err == nil {
			mesh.Intersections(l.Mesh)
		}
		return err
	})
}
