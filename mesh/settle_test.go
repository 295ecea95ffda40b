package mesh

import (
	"bytes"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func loaded(t *testing.T, m *Mesh, opt Options) *Loaded {
	t.Helper()
	l, err := LoadFrom(bytes.NewReader(binaryOf(t, m)), "part.stl", opt)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// Kernels write 3e-16 to 6e-14 where they mean 0.
func TestCornersThatRoundingPartedAreOneWithoutAWord(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 5))
	corners := cornersOf(Merge(box(0, 40), moved(box(0, 3), r3.Vec{X: 60})))
	for i := range corners {
		for _, x := range []*float64{&corners[i].X, &corners[i].Y, &corners[i].Z} {
			if *x == 0 {
				*x = (random.Float64() - 0.5) * 6e-14
			}
		}
	}
	l := loaded(t, Weld(corners), Options{})
	if !l.Report.Closed || len(l.Warnings)+len(l.Repairs) > 0 || len(l.Report.Shells) != 2 {
		t.Errorf("%+v, warnings %q", l.Report, l.Warnings)
	}
	if v := l.Mesh.SignedVolume(); math.Abs(v-40*40*40-27) > 1e-6 {
		t.Errorf("volume %g", v)
	}
}

// A fine part is not joined where its corners fit: a step of a thousandth of a
// float32's spacing at the far end stays.
func TestAFineStepOfASoundPartIsKept(t *testing.T) {
	m := Merge(box(0, 1e-6), moved(box(0, 40), r3.Vec{X: 1}))
	l := loaded(t, m, Options{})
	if !l.Report.Closed || len(l.Report.Shells) != 2 || len(l.Mesh.Faces) != 24 {
		t.Errorf("%+v", l.Report)
	}
}

func TestBodiesDrawnAlikeFaceToFaceAreOne(t *testing.T) {
	m := Merge(box(0, 10), moved(box(0, 10), r3.Vec{X: 10}), moved(box(0, 10), r3.Vec{X: 20}))
	l := loaded(t, m, Options{})
	if r := l.Report; !r.Closed || len(r.Shells) != 1 || r.OverlapTotal > 0 || len(l.Mesh.Faces) != 3*12-8 {
		t.Errorf("%d faces, %+v", len(l.Mesh.Faces), r)
	}
	if v := l.Mesh.SignedVolume(); v != 3000 || len(l.Warnings) != 1 || !strings.Contains(l.Warnings[0], "are one") {
		t.Errorf("volume %g, warnings %q", v, l.Warnings)
	}
}

func TestFacesThatDifferInTheirWindingAloneAreTurned(t *testing.T) {
	random := rand.New(rand.NewPCG(6, 6))
	for range 20 {
		m := randomPrism(random, 0.3, 100)
		want := math.Abs(m.SignedVolume())
		for f := range m.Faces {
			if random.IntN(3) == 0 {
				m.Faces[f] = turnedFace(m.Faces[f])
			}
		}
		l := loaded(t, m, Options{})
		text := strings.Join(l.Warnings, " ")
		if got := l.Mesh.SignedVolume(); !l.Report.Closed || !l.Turned || !strings.Contains(text, "turned") || math.Abs(got-want) > 1e-5*want {
			t.Errorf("volume %g, want %g; %q", got, want, text)
		}
	}
}

func TestFarFromTheOriginRoundingIsSaid(t *testing.T) {
	for _, c := range []struct {
		away float64
		said bool
	}{{0, false}, {1000, false}, {1e6, true}, {1e7, true}} {
		plate := moved(Cuboid(r3.Vec{}, r3.Vec{X: 60.3, Y: 40.7, Z: 6.1}), r3.Vec{X: c.away, Y: c.away, Z: -c.away})
		l := loaded(t, plate, Options{})
		want := 60.3 * 40.7 * 6.1
		if off := math.Abs(l.Mesh.SignedVolume() - want); off > l.Report.RoundingMM3+1e-6*want {
			t.Errorf("%g mm away: off by %g mm3, the rounding allows %g", c.away, off, l.Report.RoundingMM3)
		}
		if said := strings.Contains(strings.Join(l.Warnings, " "), "from the origin"); said != c.said {
			t.Errorf("%g mm away: warnings %q", c.away, l.Warnings)
		}
	}
}

func TestASurfaceThatPassesThroughItselfIsSaid(t *testing.T) {
	m := box(0, 40)
	m.Vertices[7] = r3.Vec{X: -30, Y: 20, Z: 10} // through the side opposite
	l := loaded(t, m, Options{})
	if text := strings.Join(l.Warnings, " "); l.Report.Through == nil || !strings.Contains(text, "not to be trusted") {
		t.Errorf("%+v, %q", l.Report, text)
	}
}

// A writer that places every triangle for itself leaves no edge whole.
func TestALargeMeshRoundedTriangleByTriangleIsOneBody(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 9))
	const n = 120
	var corners []r3.Vec
	for i := range n {
		for j := range n {
			for _, p := range [6]r3.Vec{ringPoint(i, j, n), ringPoint(i+1, j, n), ringPoint(i+1, j+1, n),
				ringPoint(i, j, n), ringPoint(i+1, j+1, n), ringPoint(i, j+1, n)} {
				for _, x := range []*float64{&p.X, &p.Y, &p.Z} {
					if random.IntN(2) == 0 {
						*x = float64(math.Nextafter32(float32(*x), 1000))
					}
				}
				corners = append(corners, p)
			}
		}
	}
	l := loaded(t, Weld(corners), Options{})
	if !l.Report.Closed || len(l.Report.Shells) != 1 || len(l.Mesh.Vertices) != n*n {
		t.Errorf("%d vertices, closed %v, %d open edges, %d shells", len(l.Mesh.Vertices), l.Report.Closed, l.Report.OpenEdges, len(l.Report.Shells))
	}
}
