package repair

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"swapworth/internal/property"
	"swapworth/internal/sample"
	"swapworth/mesh"
)

// breaks are ways to damage a sound mesh without moving its surface by more
// than what a repair puts right, each with the words its repair is told by.
var breaks = []struct {
	name, told string
	damage     func(m *mesh.Mesh, random *rand.Rand) *mesh.Mesh
}{
	{"doubled faces", "doubled", func(m *mesh.Mesh, random *rand.Rand) *mesh.Mesh {
		out := &mesh.Mesh{Vertices: m.Vertices, Faces: slices.Clone(m.Faces)}
		for range 1 + random.IntN(5) {
			out.Faces = append(out.Faces, m.Faces[random.IntN(len(m.Faces))])
		}
		return out
	}},
	{"backs of faces", "doubled", func(m *mesh.Mesh, random *rand.Rand) *mesh.Mesh {
		out := &mesh.Mesh{Vertices: m.Vertices, Faces: slices.Clone(m.Faces)}
		out.Faces = append(out.Faces, turnedFace(m.Faces[random.IntN(len(m.Faces))]))
		return out
	}},
	{"everything twice", "doubled", func(m *mesh.Mesh, _ *rand.Rand) *mesh.Mesh {
		return &mesh.Mesh{Vertices: m.Vertices, Faces: append(slices.Clone(m.Faces), m.Faces...)}
	}},
	{"a flap that sticks out", "doubled", func(m *mesh.Mesh, random *rand.Rand) *mesh.Mesh {
		f := m.Faces[random.IntN(len(m.Faces))]
		out := &mesh.Mesh{Vertices: append(slices.Clone(m.Vertices), r3.Vec{X: 500, Y: 500, Z: 500}), Faces: slices.Clone(m.Faces)}
		flap := [3]int32{f[0], f[1], int32(len(m.Vertices))}
		out.Faces = append(out.Faces, flap, turnedFace(flap))
		return out
	}},
	{"faces of fewer corners", "fewer than three", func(m *mesh.Mesh, random *rand.Rand) *mesh.Mesh {
		f := m.Faces[random.IntN(len(m.Faces))]
		out := &mesh.Mesh{Vertices: m.Vertices, Faces: slices.Clone(m.Faces)}
		out.Faces = append(out.Faces, [3]int32{f[0], f[0], f[1]}, [3]int32{f[2], f[2], f[2]})
		return out
	}},
	{"turned patch", "turned", func(m *mesh.Mesh, random *rand.Rand) *mesh.Mesh {
		out := &mesh.Mesh{Vertices: m.Vertices, Faces: slices.Clone(m.Faces)}
		for _, f := range random.Perm(len(m.Faces))[:1+random.IntN(len(m.Faces)/3)] {
			out.Faces[f] = turnedFace(out.Faces[f])
		}
		return out
	}},
	{"edges split on one side", "split edges", func(m *mesh.Mesh, random *rand.Rand) *mesh.Mesh {
		out := &mesh.Mesh{Vertices: slices.Clone(m.Vertices), Faces: slices.Clone(m.Faces)}
		for range 1 + random.IntN(4) {
			f := random.IntN(len(m.Faces)) // of the faces that were there first
			v := out.Faces[f]
			p := r3.Scale(0.5, r3.Add(out.Vertices[v[0]], out.Vertices[v[1]]))
			out.Vertices = append(out.Vertices, p)
			mid := int32(len(out.Vertices) - 1)
			out.Faces[f] = [3]int32{v[0], mid, v[2]}
			out.Faces = append(out.Faces, [3]int32{mid, v[1], v[2]})
		}
		return out
	}},
	{"corners that do not quite meet", "joined", func(m *mesh.Mesh, random *rand.Rand) *mesh.Mesh {
		corners := cornersOf(m)
		for range 1 + random.IntN(6) {
			i := random.IntN(len(corners))
			corners[i] = r3.Add(corners[i], r3.Scale(2e-7*r3.Norm(m.Bounds().Size()), r3.Vec{X: 1, Y: -1, Z: 1}))
		}
		return mesh.Weld(corners)
	}},
}

func TestAMeshBrokenInAnyWayIsMendedToItsVolume(t *testing.T) {
	for _, b := range breaks {
		t.Run(b.name, func(t *testing.T) {
			property.Check(t, func(t *rapid.T) {
				seed := rapid.Uint64().Draw(t, "seed")
				random := rand.New(rand.NewPCG(seed, 2))
				sound := prism(random, 0.3, 100)
				if sound.SignedVolume() < 0 {
					sound = turned(sound)
				}
				broken := b.damage(sound, random)
				mended, repairs := mend(broken)
				if r := mesh.Check(mended); !r.Closed {
					t.Fatalf("not closed: %+v after %+v", r, repairs)
				}
				if len(repairs) == 0 || !slices.ContainsFunc(repairs, func(r mesh.Repair) bool { return strings.Contains(r.What, b.told) }) {
					t.Fatalf("repairs %+v, want one told by %q", repairs, b.told)
				}
				allowed := 1e-12 * sound.SignedVolume()
				for _, r := range repairs {
					allowed += math.Abs(r.AddedVolumeMM3)
				}
				if d := math.Abs(math.Abs(mended.SignedVolume()) - sound.SignedVolume()); d > allowed {
					t.Fatalf("volume off by %g mm3, the repairs allow %g", d, allowed)
				}
				if allowed > 1e-4*sound.SignedVolume() {
					t.Fatalf("the repairs allow %g mm3 of %g", allowed, sound.SignedVolume())
				}
			})
		})
	}
}

func TestASoundMeshIsLeftAlone(t *testing.T) {
	for name, m := range map[string]*mesh.Mesh{
		"box": box(0, 10), "box with a cavity": mesh.Merge(box(0, 10), turned(box(2, 3))), "prism": prism(rand.New(rand.NewPCG(1, 1)), 1, 1),
	} {
		if mended, repairs := mend(m); mended != m || len(repairs) != 0 {
			t.Errorf("%s: %+v", name, repairs)
		}
	}
}

func TestASliverGivesWayToASplitOfItsNeighbour(t *testing.T) {
	m := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 1, Y: 1, Z: 1})
	i := slices.Index(m.Faces, [3]int32{0, 1, 5})
	m.Faces[i] = [3]int32{0, 8, 5}
	m.Faces = append(m.Faces, [3]int32{8, 1, 5}, [3]int32{0, 1, 8})
	m.Vertices = append(m.Vertices, r3.Vec{X: 0.5})
	mended, repairs := mend(m)
	r := mesh.Check(mended)
	if !r.Closed || r.ZeroAreaFaces != 0 || mended.SignedVolume() != 1 || len(repairs) != 1 {
		t.Errorf("%+v, volume %g, repairs %+v", r, mended.SignedVolume(), repairs)
	}
}

func TestWithoutRepairABrokenMeshIsOnlyReported(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 9))
	for _, b := range breaks {
		broken := b.damage(box(0, 64), random)
		l, err := mesh.LoadFrom(strings.NewReader(string(binaryOf(t, broken))), b.name, mesh.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if b.name == "turned patch" || b.name == "a flap that sticks out" {
			// These can be read in one way only, at no volume.
			if !l.Report.Closed || len(l.Warnings) == 0 || math.Abs(l.Mesh.SignedVolume()-64*64*64) > 1e-6 {
				t.Errorf("%s: %+v, warnings %q", b.name, l.Report, l.Warnings)
			}
			continue
		}
		if len(l.Mesh.Faces) != len(broken.Faces) || len(l.Repairs) > 0 || l.Turned {
			t.Errorf("%s: changed without --repair", b.name)
		}
		if l.Report.Closed && l.Report.ZeroAreaFaces == 0 {
			t.Errorf("%s: not reported", b.name)
		}
	}
}

// littered is the bracket or the ball with a gap in which some of its faces lie about: some
// the other way round, some twice, some with a corner a hundredth of a millimetre off.
func littered(seed uint64) *mesh.Mesh {
	random := rand.New(rand.NewPCG(seed, 9))
	m := []*mesh.Mesh{sample.Bracket(), mesh.Cuboid(r3.Vec{}, r3.Vec{X: 9, Y: 5, Z: 2}), sample.Tube(), sample.Ball(20, 12)}[random.IntN(4)]
	gone := patchOf(m, random.IntN(len(m.Faces)), 1+random.IntN(8))
	broken := sample.Without(m, func(f int) bool { return slices.Contains(gone, int32(f)) })
	for _, f := range gone {
		for range random.IntN(3) {
			face := m.Faces[f]
			if random.IntN(2) == 0 {
				face = turnedFace(face)
			}
			if random.IntN(3) == 0 {
				off := r3.Scale(0.01, r3.Vec{X: random.NormFloat64(), Y: random.NormFloat64(), Z: random.NormFloat64()})
				broken.Vertices = append(slices.Clone(broken.Vertices), r3.Add(broken.Vertices[face[0]], off))
				face[0] = int32(len(broken.Vertices) - 1)
			}
			broken.Faces = append(broken.Faces, face)
		}
	}
	return broken
}

// What lay loose in a gap is there twice once the gap is closed, and is mended then. Of
// 6000 drawn parts one in fifty needs this; these are two of them.
func TestWhatLayInAGapIsMendedOnceItIsClosed(t *testing.T) {
	for _, seed := range []uint64{15, 22} {
		whole, repairs := mendAll(littered(seed), 0)
		if r := mesh.Check(whole); !r.Closed {
			t.Errorf("seed %d: not closed, %+v", seed, repairs)
		}
	}
}
