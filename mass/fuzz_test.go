package mass_test

import (
	"bytes"
	"encoding/binary"
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mass"
	"swapworth/mesh"
	"swapworth/mesh/repair"
)

// drawing is a list of corners, three a face, as a file holds them.
type drawing []r3.Vec

// read loads a drawing as a file and measures it.
func (d drawing) read(t *testing.T, mend bool) (*mesh.Loaded, mass.Properties, error) {
	t.Helper()
	file := make([]byte, 84, 84+50*len(d)/3)
	binary.LittleEndian.PutUint32(file[80:], uint32(len(d)/3))
	for i := 0; i+2 < len(d); i += 3 {
		for _, p := range [4]r3.Vec{{}, d[i], d[i+1], d[i+2]} {
			for _, x := range [3]float64{p.X, p.Y, p.Z} {
				file = binary.LittleEndian.AppendUint32(file, math.Float32bits(float32(x)))
			}
		}
		file = append(file, 0, 0)
	}
	l, err := mesh.LoadFrom(bytes.NewReader(file), "fuzz.stl", mesh.Options{Repair: repair.When(mend, 0)})
	if err != nil {
		return nil, mass.Properties{}, err
	}
	p, err := mass.Measure(l)
	return l, p, err
}

// redrawn are ways to draw the same part again, each with the factor of its volume.
var redrawn = []struct {
	name   string
	factor float64
	draw   func(d drawing, random *rand.Rand) drawing
}{
	{"its faces in another order", 1, func(d drawing, random *rand.Rand) drawing {
		out := make(drawing, len(d))
		for i, j := range random.Perm(len(d) / 3) {
			for k, turn := 0, random.IntN(3); k < 3; k++ {
				out[3*i+k] = d[3*j+(k+turn)%3]
			}
		}
		return out
	}},
	{"moved", 1, func(d drawing, random *rand.Rand) drawing {
		by := r3.Vec{X: float64(random.IntN(64) - 32), Y: float64(random.IntN(64) - 32), Z: float64(random.IntN(64) - 32)}
		return d.changed(func(p r3.Vec) r3.Vec { return r3.Add(p, by) })
	}},
	{"turned about x by a quarter", 1, func(d drawing, _ *rand.Rand) drawing {
		return d.changed(func(p r3.Vec) r3.Vec { return r3.Vec{X: p.X, Y: -p.Z, Z: p.Y} })
	}},
	{"with its axes turned", 1, func(d drawing, _ *rand.Rand) drawing {
		return d.changed(func(p r3.Vec) r3.Vec { return r3.Vec{X: p.Y, Y: p.Z, Z: p.X} })
	}},
	{"twice as large", 8, func(d drawing, _ *rand.Rand) drawing {
		return d.changed(func(p r3.Vec) r3.Vec { return r3.Scale(2, p) })
	}},
	{"inside out", 1, func(d drawing, _ *rand.Rand) drawing {
		out := make(drawing, len(d))
		for i := 0; i < len(d); i += 3 {
			out[i], out[i+1], out[i+2] = d[i], d[i+2], d[i+1]
		}
		return out
	}},
	{"with a face split in three", 1, func(d drawing, random *rand.Rand) drawing {
		i := 3 * random.IntN(len(d)/3)
		middle := r3.Scale(1./3, r3.Add(r3.Add(d[i], d[i+1]), d[i+2])) // whole numbers, see pointOf
		out := append(drawing{}, d...)
		out[i+2] = middle
		return append(out, d[i+1], d[i+2], middle, d[i+2], d[i], middle)
	}},
}

func (d drawing) changed(change func(r3.Vec) r3.Vec) drawing {
	out := make(drawing, len(d))
	for i, p := range d {
		out[i] = change(p)
	}
	return out
}

// pointOf places a byte on a grid of 4 x 4 x 4 points, 3 mm apart.
func pointOf(b byte) r3.Vec {
	return r3.Scale(3, r3.Vec{X: float64(b & 3), Y: float64(b >> 2 & 3), Z: float64(b >> 4 & 3)})
}

// facesOf makes faces of bytes; those that name a point twice are left out, for a
// split would open what they close.
func facesOf(data []byte) (d drawing) {
	for i := 0; i+2 < len(data); i += 3 {
		a, b, c := pointOf(data[i]), pointOf(data[i+1]), pointOf(data[i+2])
		if a != b && b != c && c != a {
			d = append(d, a, b, c)
		}
	}
	return d
}

// FuzzSamePartDrawnAgain holds that the same part, drawn in another order, place,
// size, way round or with finer faces, is refused or measured alike: volumes agree
// within what the ranges leave open.
func FuzzSamePartDrawnAgain(f *testing.F) {
	grid := func(m *mesh.Mesh) (b []byte) {
		for f := range m.Faces {
			p, q, r := m.Triangle(f)
			for _, v := range [3]r3.Vec{p, q, r} {
				b = append(b, byte(v.X+4*v.Y+16*v.Z))
			}
		}
		return b
	}
	cube := func(lo, hi float64) *mesh.Mesh {
		return mesh.Cuboid(r3.Vec{X: lo, Y: lo, Z: lo}, r3.Vec{X: hi, Y: hi, Z: hi})
	}
	turned := func(m *mesh.Mesh) *mesh.Mesh {
		out := &mesh.Mesh{Vertices: m.Vertices}
		for _, f := range m.Faces {
			out.Faces = append(out.Faces, [3]int32{f[0], f[2], f[1]})
		}
		return out
	}
	f.Add(grid(cube(0, 3)), uint64(1))
	f.Add(grid(mesh.Merge(cube(0, 2), cube(1, 3))), uint64(2))
	f.Add(grid(mesh.Merge(cube(0, 3), turned(cube(1, 2)))), uint64(3))
	f.Add(grid(mesh.Merge(cube(0, 3), cube(1, 2))), uint64(4))
	f.Add(grid(mesh.Merge(cube(0, 1), cube(1, 2), cube(2, 3))), uint64(5))
	f.Add(grid(mesh.Merge(cube(0, 2), mesh.Cuboid(r3.Vec{X: 2}, r3.Vec{X: 3, Y: 2, Z: 2}))), uint64(6))
	f.Fuzz(func(t *testing.T, data []byte, seed uint64) {
		if d := facesOf(data); len(data) <= 180 && len(d) > 0 {
			way := int(seed % uint64(len(redrawn))) // one at a time, so that an input takes no seconds
			sameDrawnAgain(t, d, seed, way, way+1)
		}
	})
}

// sameDrawnAgain reads a drawing and draws it again in the ways from first to last,
// the last excluded.
func sameDrawnAgain(t *testing.T, d drawing, seed uint64, first, last int) {
	random := rand.New(rand.NewPCG(seed, 1))
	mend := seed>>8%4 == 0
	l, p, err := d.read(t, mend)
	for _, way := range redrawn[first:last] {
		again, q, errAgain := way.draw(d, random).read(t, mend)
		if mend && (mended(l) || mended(again)) {
			continue // what is mended may depend on where one begins
		}
		if (err == nil) != (errAgain == nil) {
			t.Fatalf("%s (repair %v): %v, first %v: %v", way.name, mend, errAgain, err, d)
		}
		if err != nil {
			continue
		}
		allowed := 1e-5*p.Volume + leftOpen(l, p) + leftOpen(again, q)/way.factor
		if diff := math.Abs(q.Volume/way.factor - p.Volume); diff > allowed {
			t.Fatalf("%s (repair %v): %g mm3, first %g; they may differ by %g: %v", way.name, mend, q.Volume/way.factor, p.Volume, allowed, d)
		}
	}
}

// leftOpen is by how much a volume may be off as far as was said, mm3.
func leftOpen(l *mesh.Loaded, p mass.Properties) float64 {
	sum := p.SharedError + p.Less + p.Rounding
	if l.Report.Through != nil {
		sum += l.Report.Through.WrongMM3
	}
	return sum
}

func mended(l *mesh.Loaded) bool { return l != nil && len(l.Repairs) > 0 }

var draws = flag.Int("draws", 6, "how many heaps of boxes are drawn again")

// Heaps of boxes on the grid meet flush, at edges and at corners, with faces that
// are turned, missing or there twice.
func TestTheSameHeapDrawnAgainIsMeasuredAlike(t *testing.T) {
	for seed := range uint64(*draws) {
		random := rand.New(rand.NewPCG(seed, 2))
		var d drawing
		wrong := random.IntN(3) // in every third heap faces are missing or there twice
		for range 1 + random.IntN(3) {
			lo, hi := r3.Vec{}, r3.Vec{}
			for _, x := range [][2]*float64{{&lo.X, &hi.X}, {&lo.Y, &hi.Y}, {&lo.Z, &hi.Z}} {
				i, j := random.IntN(3), random.IntN(3)
				*x[0], *x[1] = float64(3*min(i, j)), float64(3*max(i, j)+3)
			}
			m := mesh.Cuboid(lo, hi)
			inward := random.IntN(4) == 0
			for f := range m.Faces {
				a, b, c := m.Triangle(f)
				if inward != (random.IntN(20) == 0) {
					b, c = c, b
				}
				switch k := random.IntN(30); {
				case wrong == 0 && k == 0:
				case wrong == 0 && k == 1:
					d = append(d, a, b, c, a, b, c)
				default:
					d = append(d, a, b, c)
				}
			}
		}
		if len(d) > 0 {
			sameDrawnAgain(t, d, seed<<8, 0, len(redrawn))
		}
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
}
