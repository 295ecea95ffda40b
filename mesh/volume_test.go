package mesh

import (
	"bytes"
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"swapworth/internal/property"
)

// exactVolume sums a . (b x c) / 6 over the faces in rational arithmetic.
func exactVolume(m *Mesh) *big.Rat {
	exact := make([][3]*big.Rat, len(m.Vertices))
	for i, v := range m.Vertices {
		exact[i] = [3]*big.Rat{new(big.Rat).SetFloat64(v.X), new(big.Rat).SetFloat64(v.Y), new(big.Rat).SetFloat64(v.Z)}
	}
	times := func(x, y, z *big.Rat) *big.Rat { return new(big.Rat).Mul(new(big.Rat).Mul(x, y), z) }
	sum := new(big.Rat)
	for _, f := range m.Faces {
		a, b, c := exact[f[0]], exact[f[1]], exact[f[2]]
		for k := range 3 {
			i, j := (k+1)%3, (k+2)%3
			sum.Add(sum, times(a[k], b[i], c[j]))
			sum.Sub(sum, times(a[k], b[j], c[i]))
		}
	}
	return sum.Quo(sum, big.NewRat(6, 1))
}

// relativeError returns |got - want| / |want|, computed exactly.
func relativeError(got float64, want *big.Rat) float64 {
	diff := new(big.Rat).SetFloat64(got)
	diff.Sub(diff, want).Quo(diff, want)
	f, _ := diff.Float64()
	return math.Abs(f)
}

// throughFile rounds the vertices to float32 as a file does.
func throughFile(t testing.TB, m *Mesh) *Mesh {
	t.Helper()
	l, err := LoadFrom(bytes.NewReader(binaryOf(t, m)), "part.stl", Options{})
	if err != nil {
		t.Fatal(err)
	}
	return l.Mesh
}

// The limit of a closed polyhedron's volume error that the package promises.
const promisedVolumeError = 1e-12

func TestVolumeMatchesRationalArithmetic(t *testing.T) {
	turn := func(m *Mesh, shift r3.Vec) *Mesh {
		out := &Mesh{Faces: m.Faces}
		c, s := math.Cos(0.7), math.Sin(0.7)
		for _, v := range m.Vertices {
			v = r3.Vec{X: c*v.X - s*v.Y, Y: s*v.X + c*v.Y, Z: v.Z}
			v = r3.Vec{X: v.X, Y: c*v.Y - s*v.Z, Z: s*v.Y + c*v.Z}
			out.Vertices = append(out.Vertices, r3.Add(v, shift))
		}
		return out
	}
	ring := &Mesh{}
	const n = 40
	for i := range n {
		for j := range n {
			ring.Vertices = append(ring.Vertices, ringPoint(i, j, n))
			at := func(i, j int) int32 { return int32(i%n*n + j%n) }
			ring.Faces = append(ring.Faces, [3]int32{at(i, j), at(i+1, j), at(i+1, j+1)}, [3]int32{at(i, j), at(i+1, j+1), at(i, j+1)})
		}
	}
	plate := Cuboid(r3.Vec{}, r3.Vec{X: 1000, Y: 1000, Z: 0.001})
	for name, m := range map[string]*Mesh{
		"wavy ring":                                ring,
		"wavy ring 10 km away":                     turn(ring, r3.Vec{X: 1e7, Y: -1e7, Z: 1e7}),
		"plate 1000 x 1000 x 0.001":                plate,
		"tilted plate 1000 x 1000 x 0.001":         turn(plate, r3.Vec{}),
		"1 um cube":                                Cuboid(r3.Vec{X: 50, Y: 50, Z: 50}, r3.Vec{X: 50.001, Y: 50.001, Z: 50.001}),
		"1 um slot in a plate of 100":              Merge(Cuboid(r3.Vec{}, r3.Vec{X: 100, Y: 100, Z: 5}), Cuboid(r3.Vec{X: 1, Y: 1, Z: 1}, r3.Vec{X: 1.001, Y: 99, Z: 4}).turned()),
		"large and tiny body, far from each other": Merge(box(1e6, 2e6), box(-1e-3, 1e-3)),
	} {
		m = throughFile(t, m)
		if e := relativeError(m.SignedVolume(), exactVolume(m)); e > promisedVolumeError {
			t.Errorf("%s: relative error %.2g, want at most %g", name, e, promisedVolumeError)
		}
	}
}

func TestVolumeOfAnyPolyhedronMatchesRationalArithmetic(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		seed := rapid.Uint64().Draw(t, "seed")
		thin := math.Pow(10, rapid.Float64Range(-6, 0).Draw(t, "log thinness"))
		far := math.Pow(10, rapid.Float64Range(-2, 7).Draw(t, "log distance"))
		m := randomPrism(rand.New(rand.NewPCG(seed, 1)), thin, far)
		want := exactVolume(m)
		if want.Sign() == 0 {
			t.Skip("rounding to float32 left no volume")
		}
		if e := relativeError(m.SignedVolume(), want); e > promisedVolumeError {
			t.Errorf("relative error %.2g of volume %s", e, want.FloatString(9))
		}
	})
}

func TestUnitsScaleTheVolume(t *testing.T) {
	file := binaryOf(t, unitCube)
	for unit, want := range map[Unit]float64{Millimetre: 1, Centimetre: 1000, Metre: 1e9, Inch: 25.4 * 25.4 * 25.4} {
		l, err := LoadFrom(bytes.NewReader(file), "cube.stl", Options{Unit: unit})
		if err != nil {
			t.Fatal(err)
		}
		if v := l.Mesh.SignedVolume(); math.Abs(v/want-1) > 1e-14 {
			t.Errorf("a cube of 1 %s has %g mm3, want %g", unit, v, want)
		}
	}
}

// randomPrism is property.Prism as a mesh.
func randomPrism(random *rand.Rand, thin, far float64) *Mesh {
	vertices, faces := property.Prism(random, thin, far)
	return &Mesh{Vertices: vertices, Faces: faces}
}
