package fit

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// zBracket has two flanges 5 mm thick, the upper one's top at a height.
func zBracket(t testing.TB, height float64, n int) *mesh.Mesh {
	const thick = 5.
	z := height
	profile := []r2.Vec{{}, {X: 45}, {X: 45, Y: z - thick}, {X: 80, Y: z - thick}, {X: 80, Y: z}, {X: 40, Y: z}, {X: 40, Y: thick}, {Y: thick}}
	return bracket(t, profile, 50, n,
		bore{from: 0, to: 6, at: 12, y: 12, d: 5.5}, bore{from: 0, to: 6, at: 14, y: 38, d: 5.5},
		bore{from: 2, to: 4, at: 12, y: 14, d: 4.5}, bore{from: 2, to: 4, at: 20, y: 35, d: 4.5})
}

// lBracket has a foot 6 mm thick and an upright from x = off, of a thickness.
func lBracket(t testing.TB, off, thick float64, n int) *mesh.Mesh {
	profile := []r2.Vec{{X: off}, {X: 60}, {X: 60, Y: 6}, {X: off + thick, Y: 6}, {X: off + thick, Y: 55}, {X: off, Y: 55}}
	return bracket(t, profile, 45, n,
		bore{from: 0, to: 2, at: 48 - off, y: 12, d: 5.5}, bore{from: 0, to: 2, at: 35 - off, y: 33, d: 5.5},
		bore{from: 5, to: 3, at: 12, y: 12, d: 4.5}, bore{from: 5, to: 3, at: 30, y: 31, d: 4.5})
}

// sunkPlate is 100 x 50 x 8 with one countersunk hole of four.
func sunkPlate(t testing.TB, head, angle float64, n int) *mesh.Mesh {
	return bracket(t, []r2.Vec{{}, {X: 100}, {X: 100, Y: 8}, {Y: 8}}, 50, n,
		bore{from: 2, to: 0, at: 14, y: 14, d: 5.5, head: head, angle: angle},
		bore{from: 2, to: 0, at: 88, y: 12, d: 5.5}, bore{from: 2, to: 0, at: 84, y: 38, d: 4.5}, bore{from: 2, to: 0, at: 10, y: 36, d: 6.6})
}

func plain() plan { return plan{length: 100, width: 50, thick: 8, holes: pattern} }

// even is a plate whose holes lie on themselves turned about either middle.
func even() plan {
	return plan{length: 100, width: 50, thick: 8, holes: []hole{{10, 10, 5.5}, {90, 10, 5.5}, {90, 40, 5.5}, {10, 40, 5.5}}}
}

func (p plan) with(openings ...[]r2.Vec) plan { p.openings = openings; return p }

func (p plan) on(height float64, outline []r2.Vec, holes ...[]r2.Vec) plan {
	p.above, p.height = cut.Region{{Outer: outline, Holes: holes}}, height
	return p
}

func (p plan) beneath(drop float64, outline []r2.Vec) plan {
	p.below, p.drop = cut.Region{{Outer: outline}}, drop
	return p
}

func (p plan) thicker(by float64) plan { p.thick += by; return p }

// rich has everything that is compared.
func rich() plan {
	p := plain().with(slot(50, 12, 16, 5, 24), window(30, 25, 18, 12, 3, 24), dBore(70, 30, 10, 4, 24), keyway(55, 37, 12, 4, 1.5, 24))
	return p.on(3, reversed(round(12, 22, 8, 24)))
}

// drawing draws a part with rounds of n chords.
type drawing func(t testing.TB, n int) *mesh.Mesh

func (p plan) drawing() drawing { return func(t testing.TB, n int) *mesh.Mesh { return p.mesh(t, n) } }

// family is a pair of parts with what must be found of it.
type family struct {
	what     string
	old, new drawing
	ok       bool
	kind     string  // of the finding that tells, empty where none must be found
	amount   float64 // its new less its old value, without sign; 0 where it has none
	word     string  // in the text of one finding
}

// turn is a motion of no special angle.
func turn() mesh.Transform {
	return mesh.Translation(r3.Vec{X: 31, Y: -47, Z: 12}).Compose(mesh.RotationAbout(r3.Vec{X: 0.3, Y: -0.5, Z: 0.8}, 2.1))
}

func seatFamilies() []family {
	z := func(height float64) drawing {
		return func(t testing.TB, n int) *mesh.Mesh { return zBracket(t, height, n) }
	}
	l := func(off, thick float64) drawing {
		return func(t testing.TB, n int) *mesh.Mesh { return lBracket(t, off, thick, n) }
	}
	pad := box(40, 15, 60, 30)
	pads := func(second float64) drawing {
		return func(t testing.TB, n int) *mesh.Mesh {
			return bracket(t, []r2.Vec{{}, {X: 80}, {X: 80, Y: 8}, {X: 72, Y: 8}, {X: 72, Y: 11}, {X: 62, Y: 11}, {X: 62, Y: 8},
				{X: 40, Y: 8}, {X: 40, Y: second}, {X: 28, Y: second}, {X: 28, Y: 8}, {Y: 8}}, 40, n,
				bore{from: 6, to: 0, at: 10, y: 10, d: 5.5}, bore{from: 10, to: 0, at: 12, y: 28, d: 5.5}, bore{from: 10, to: 0, at: 20, y: 9, d: 4.5})
		}
	}
	padded := func(tilt float64) drawing {
		return func(t testing.TB, n int) *mesh.Mesh {
			high := 11 + 20*math.Tan(tilt*math.Pi/180)
			return bracket(t, []r2.Vec{{}, {X: 80}, {X: 80, Y: 8}, {X: 60, Y: 8}, {X: 60, Y: high}, {X: 40, Y: 11}, {X: 40, Y: 8}, {Y: 8}}, 40, n,
				bore{from: 2, to: 0, at: 10, y: 10, d: 5.5}, bore{from: 6, to: 0, at: 12, y: 28, d: 5.5}, bore{from: 6, to: 0, at: 30, y: 9, d: 4.5})
		}
	}
	pierced := func(height float64) drawing {
		return func(t testing.TB, n int) *mesh.Mesh {
			p := plain()
			p.holes = append(append([]hole{}, pattern...), hole{50, 22, 4.5})
			return p.on(height, pad, round(50, 22, 4.5, n)).mesh(t, n)
		}
	}
	return []family{
		{"upper seat of a Z-bracket 5 mm lower", z(40), z(35), false, "seat", 5, "further back"},
		{"upper seat of a Z-bracket 0.2 mm higher", z(40), z(40.2), false, "seat", 0.2, "further out"},
		{"upright of an L-bracket 1 mm further in", l(0, 5), l(1, 5), false, "seat", 1, "towards +x: level 0 -> 1 mm along +x"},
		{"upright of an L-bracket 3 mm further out", l(0, 5), l(-3, 5), false, "seat", 3, "further out"},
		{"upright thicker outwards", l(0, 5), l(-1.5, 6.5), false, "seat", 1.5, "further out"},
		{"upright thicker inwards", l(0, 5), l(0, 6.5), true, "thickness", 1.5, "clamped"},
		{"pad 0.5 mm lower", plain().on(3, pad).drawing(), plain().on(2.5, pad).drawing(), false, "seat", 0.5, "further back"},
		{"pad 0.5 mm lower below", plain().beneath(3, pad).drawing(), plain().beneath(2.5, pad).drawing(), false, "seat", 0.5, "further back"},
		{"pad with a hole 0.5 mm lower", pierced(3), pierced(2.5), false, "seat", 0.5, "further back"},
		{"pad gone", plain().on(3, pad).drawing(), plain().drawing(), false, "seat", 3, "further back"},
		{"pad cut back", plain().on(3, pad).drawing(), plain().on(3, box(40, 15, 55, 30)).drawing(), true, "pad", 5, "cut back"},
		{"lower of two pads 0.4 mm lower", pads(10), pads(9.6), false, "seat", 0.4, "further back"},
		{"pad tilted by a degree", padded(0), padded(1), false, "seat", 1, "tilted"},
		{"plate thicker", plain().drawing(), plain().thicker(1).drawing(), true, "thickness", 1, "clamped"},
		{"plate thinner", plain().drawing(), plain().thicker(-2).drawing(), true, "thickness", 2, "clamped"},
	}
}

func openingFamilies() []family {
	with := func(p plan, loops func(n int) [][]r2.Vec) drawing {
		return func(t testing.TB, n int) *mesh.Mesh { return p.with(loops(n)...).mesh(t, n) }
	}
	s := func(x, y, long, wide, angle float64) drawing {
		return with(plain(), func(n int) [][]r2.Vec { return [][]r2.Vec{turnedLoop(slot(x, y, long, wide, n), x, y, angle)} })
	}
	w := func(x, long, wide, angle float64) drawing {
		return with(plain(), func(n int) [][]r2.Vec { return [][]r2.Vec{turnedLoop(window(x, 25, long, wide, 3, n), x, 25, angle)} })
	}
	d := func(x, dia, flat, angle float64) drawing {
		return with(plain(), func(n int) [][]r2.Vec { return [][]r2.Vec{turnedLoop(dBore(x, 25, dia, flat, n), x, 25, angle)} })
	}
	k := func(dia, wide, deep float64) drawing {
		return with(plain(), func(n int) [][]r2.Vec { return [][]r2.Vec{keyway(50, 25, dia, wide, deep, n)} })
	}
	filled := plain()
	filled.holes = append(append([]hole{}, pattern...), hole{50, 25, 10})
	slotted, windowed, bored := s(50, 25, 20, 6, 30), w(50, 22, 14, 0), d(50, 10, 4, 20)
	return []family{
		{"slot moved", slotted, s(50.6, 25.8, 20, 6, 30), false, "slot", 1, "moved"},
		{"slot moved a little", slotted, s(50.2, 25, 20, 6, 30), false, "slot", 0.2, "moved"},
		{"slot gone", slotted, plain().drawing(), false, "slot", 20, "gone"},
		{"slot narrower", slotted, s(50, 25, 20, 5.5, 30), false, "slot", 0.5, "wide"},
		{"slot wider", slotted, s(50, 25, 20, 6.4, 30), false, "slot", 0.4, "wide"},
		{"slot shorter", slotted, s(50, 25, 18, 6, 30), false, "slot", 2, "long"},
		{"slot longer", slotted, s(50, 25, 22, 6, 30), true, "slot", 2, "long"},
		{"slot turned", slotted, s(50, 25, 20, 6, 32), false, "slot", 2, "turned"},
		{"window moved", windowed, w(52, 22, 14, 0), false, "window", 2, "moved"},
		{"window shorter", windowed, w(50, 20, 14, 0), false, "window", 2, "long"},
		{"window narrower", windowed, w(50, 22, 13.6, 0), false, "window", 0.4, "wide"},
		{"window larger", windowed, w(50, 26, 14, 0), true, "window", 4, "long"},
		{"window gone", windowed, plain().drawing(), false, "window", 22, "gone"},
		{"window turned", windowed, w(50, 22, 14, 2), false, "window", 2, "turned"},
		{"window new", plain().drawing(), windowed, true, "", 0, ""},
		{"D-bore with a shallower flat", bored, d(50, 10, 4.3, 20), false, "bore with flats", 0.3, ""},
		{"D-bore larger", bored, d(50, 10.4, 4, 20), false, "bore with flats", 0.4, ""},
		{"D-bore turned", bored, d(50, 10, 4, 25), false, "bore with flats", 5, "turned"},
		{"D-bore moved", bored, d(50.3, 10, 4, 20), false, "bore with flats", 0.3, "moved"},
		{"D-bore without its flat", bored, filled.drawing(), false, "bore with flats", 0, "lost its flat"},
		{"keyway wider", k(12, 4, 1.5), k(12, 4.5, 1.5), false, "bore with flats", 0.5, "apart"},
		{"keyway deeper", k(12, 4, 1.5), k(12, 4, 1.9), false, "bore with flats", 0.4, ""},
	}
}

func spigotFamilies() []family {
	s := func(x, d, height float64) drawing {
		return func(t testing.TB, n int) *mesh.Mesh {
			return plain().on(height, reversed(round(x, 25, d, n))).mesh(t, n)
		}
	}
	f := func(flat float64) drawing {
		return func(t testing.TB, n int) *mesh.Mesh {
			return plain().on(4, reversed(dBore(50, 25, 20, flat, n))).mesh(t, n)
		}
	}
	bored := func(x, bore, d float64) drawing {
		return func(t testing.TB, n int) *mesh.Mesh {
			p := plain()
			p.holes = append(append([]hole{}, pattern...), hole{50, 25, bore})
			return p.on(4, reversed(round(x, 25, d, n)), round(50, 25, bore, n)).mesh(t, n)
		}
	}
	boss := func(d float64) drawing {
		return func(t testing.TB, n int) *mesh.Mesh {
			p := plain()
			p.holes = append(append([]hole{}, pattern...), hole{50, 25, 5.5})
			return p.on(4, reversed(round(50, 25, d, n)), round(50, 25, 5.5, n)).mesh(t, n)
		}
	}
	return []family{
		{"spigot moved", s(50, 18.5, 4), s(50.4, 18.5, 4), false, "spigot", 0.4, "moved"},
		{"spigot smaller", s(50, 18.5, 4), s(50, 18.2, 4), false, "spigot", 0.3, "resized"},
		{"spigot off its fit", s(50, 22, 4), s(50, 21.95, 4), false, "fit", 0.05, "22 h7 of ISO 286"},
		{"spigot higher", s(50, 18.5, 4), s(50, 18.5, 5), false, "spigot", 1, "high"},
		{"spigot lower", s(50, 18.5, 4), s(50, 18.5, 3), true, "spigot", 1, "high"},
		{"spigot gone", s(50, 18.5, 4), plain().drawing(), false, "spigot", 18.5, "gone"},
		{"bored spigot off its fit", bored(50, 22, 30), bored(50, 22, 29.95), false, "fit", 0.05, "30 h7"},
		{"spigot around a bore of 23 mm smaller", bored(50, 23, 38.1), bored(50, 23, 37.8), false, "spigot", 0.3, "resized"},
		{"bored spigot moved", bored(50, 22, 30), bored(50.4, 22, 30), false, "spigot", 0.4, "moved"},
		{"flat of a spigot deeper", f(8), f(7.6), false, "spigot", 0.4, "flat"},
		{"flat of a spigot gone", f(8), s(50, 20, 4), false, "spigot", 0, "flat"},
		{"boss around a screw narrower", boss(14), boss(12), true, "spigot", 2, "resized"},
	}
}

func holeFamilies() []family {
	one := func(k int, change func(h *hole)) drawing {
		p := plain()
		p.holes = append([]hole{}, pattern...)
		change(&p.holes[k])
		return p.drawing()
	}
	bearing := func(d float64) drawing {
		p := plain()
		p.holes = append(append([]hole{}, pattern...), hole{50, 25, d})
		return p.drawing()
	}
	sunk := func(head, angle float64) drawing {
		return func(t testing.TB, n int) *mesh.Mesh { return sunkPlate(t, head, angle, n) }
	}
	counter := func(d, deep float64, above bool) drawing {
		return func(t testing.TB, n int) *mesh.Mesh {
			p := plain()
			p.sinkDepth = deep
			if head := [][]r2.Vec{round(10, 10, d, n)}; above {
				p.sinks = head
			} else {
				p.under = head
			}
			return p.mesh(t, n)
		}
	}
	blind := func(deep float64, above bool) drawing {
		return func(t testing.TB, n int) *mesh.Mesh {
			p := plain()
			p.sinkDepth = deep
			if mouth := [][]r2.Vec{round(60, 20, 5, n)}; above {
				p.sinks = mouth
			} else {
				p.under = mouth
			}
			return p.mesh(t, n)
		}
	}
	return []family{
		{"hole moved", plain().drawing(), one(2, func(h *hole) { h.x += 0.15 }), false, "hole", 0.15, "moved"},
		{"hole resized", plain().drawing(), one(2, func(h *hole) { h.d += 0.5 }), false, "hole", 0.5, "resized"},
		{"clearance hole wider by 0.05", plain().drawing(), one(0, func(h *hole) { h.d = 5.55 }), true, "hole", 0.05, "M5 clearance"},
		// H7 of ISO 286 at 22, 26, 47 and 6 mm: 21, 21, 25 and 12 um
		{"bearing bore 22", bearing(22), bearing(22.05), false, "fit", 0.05, "22 H7 of ISO 286 reaches from 22 to 22.021 mm"},
		{"bearing bore 26 narrower", bearing(26), bearing(25.96), false, "fit", 0.04, "26 H7 of ISO 286"},
		{"bearing bore 19", bearing(19), bearing(19.03), false, "fit", 0.03, "19.021"},
		{"bearing bore within H7", bearing(22), bearing(22.015), true, "", 0, ""},
		{"dowel hole 6", bearing(6), bearing(6.05), false, "fit", 0.05, "6.012"},
		{"countersink of 82 degrees", sunk(10, 90), sunk(10, 82), false, "head", 8, "degrees"},
		{"countersink shallower", sunk(10, 90), sunk(9, 90), false, "head", 0.5, "deep"},
		{"countersink deeper", sunk(10, 90), sunk(11, 90), true, "head", 0.5, "deep"},
		{"counterbore narrower", counter(10, 3, true), counter(9, 3, true), false, "head", 1, "wide"},
		{"counterbore shallower", counter(10, 3, true), counter(10, 2, true), true, "head", 1, "deep"},
		{"counterbore from the other side", counter(10, 3, true), counter(10, 3, false), false, "hole", 0, "opens on the other side"},
		{"blind hole from the other side", blind(4, true), blind(4, false), false, "hole", 0, "opens on the other side"},
		{"blind hole shallower", blind(4, true), blind(3, true), true, "hole", 1, "deep"},
	}
}

func sideFamilies() []family {
	cut := func(change func(p *plan)) drawing {
		p := plain()
		change(&p)
		return p.drawing()
	}
	return []family{
		{"side cut back", plain().drawing(), cut(func(p *plan) { p.length -= 0.5 }), true, "edge", 0.5, "cut back"},
		{"part of a side cut back", plain().drawing(), cut(func(p *plan) {
			p.outline = []r2.Vec{{}, {X: 100}, {X: 100, Y: 30}, {X: 97, Y: 30}, {X: 97, Y: 50}, {Y: 50}}
		}), true, "edge", 20, "cut back"},
		{"side tilted", plain().drawing(), cut(func(p *plan) {
			p.outline = []r2.Vec{{}, {X: 100}, {X: 99.1, Y: 50}, {Y: 50}}
		}), true, "edge", math.Atan2(0.9, 50) * 180 / math.Pi, "tilted"},
	}
}

func stepFamilies() []family {
	// a plate with a slot open towards -x, its end at a depth
	open := func(y, deep, wide float64) drawing {
		return func(t testing.TB, n int) *mesh.Mesh {
			p := plan{length: 100, width: 50, thick: 8, holes: pattern}
			end := reversed(arc(deep-wide/2, y, wide, 90, -90, n))
			p.outline = append([]r2.Vec{{}, {X: 100}, {X: 100, Y: 50}, {Y: 50}, {Y: y + wide/2}}, reversed(end)...)
			p.outline = append(p.outline, r2.Vec{Y: y - wide/2})
			return p.mesh(t, n)
		}
	}
	// a bracket whose underside has a step
	step := func(x, z float64) drawing {
		return func(t testing.TB, n int) *mesh.Mesh {
			return bracket(t, []r2.Vec{{Y: z}, {X: x, Y: z}, {X: x}, {X: 80}, {X: 80, Y: 12}, {Y: 12}}, 40, n,
				bore{from: 4, to: 2, at: 10, y: 10, d: 5.5}, bore{from: 4, to: 2, at: 40, y: 28, d: 5.5})
		}
	}
	return []family{
		{"open slot moved", open(24, 20, 6), open(24.6, 20, 6), false, "slot", 0.6, "sideways"},
		{"open slot narrower", open(24, 20, 6), open(24, 20, 5.5), false, "slot", 0.5, "wide"},
		{"open slot less deep", open(24, 20, 6), open(24, 17, 6), false, "slot", 3, "less deep"},
		{"open slot deeper", open(24, 20, 6), open(24, 23, 6), true, "slot", 3, "deeper"},
		{"open slot gone", open(24, 20, 6), plain().drawing(), false, "slot", 6, "gone"},
		{"step deeper", step(15, 4), step(15, 4.5), true, "edge", 0.5, "step"},
		{"step moved", step(15, 4), step(16, 4), true, "edge", 1, "step"},
	}
}

func mirrorFamilies() []family {
	seen := func(d drawing) drawing { return func(t testing.TB, n int) *mesh.Mesh { return mirror(d(t, n)) } }
	pad := even().on(1, box(60, 30, 68, 36)).drawing()
	boss := func(t testing.TB, n int) *mesh.Mesh { return even().on(2, reversed(round(62, 33, 6, n))).mesh(t, n) }
	l := func(t testing.TB, n int) *mesh.Mesh { return lBracket(t, 0, 5, n) }
	return []family{
		{"mirrored, told by a pad of 1 mm", pad, seen(pad), false, "mirror", 0, "mirror image"},
		{"mirrored, told by a boss of 6 mm", boss, seen(boss), false, "mirror", 0, "mirror image"},
		{"pad on the other face", plain().on(1, box(40, 15, 48, 21)).drawing(), plain().beneath(1, box(40, 15, 48, 21)).drawing(), false, "mirror", 0, "what tells"},
		{"pad on the other face of a thinner plate", plain().on(1, box(40, 15, 48, 21)).drawing(), plain().thicker(-1).beneath(1, box(40, 15, 48, 21)).drawing(), false, "mirror", 0, "what tells"},
		{"mirrored L-bracket", l, seen(l), false, "mirror", 0, "mirror image"},
	}
}

// Every family is compared as drawn, turned and shifted, and drawn in other chords.
func TestWhatDiffersIsFoundWithItsAmount(t *testing.T) {
	families := [][]family{seatFamilies(), openingFamilies(), spigotFamilies(), holeFamilies(), sideFamilies(), stepFamilies(), mirrorFamilies()}
	for _, list := range families {
		for _, f := range list {
			t.Run(f.what, func(t *testing.T) {
				old := single(f.old(t, 24))
				f.check(t, "as drawn", Compare(old, single(f.new(t, 24)), Options{}))
				f.check(t, "turned", Compare(old, single(f.new(t, 24).Transformed(turn())), Options{}))
				f.check(t, "in other chords", Compare(old, split(single(f.new(t, 14))), Options{}))
			})
		}
	}
}

func (f family) check(t *testing.T, how string, r Result) {
	t.Helper()
	if r.OK != f.ok {
		t.Errorf("%s: ok %v: %q", how, r.OK, r.Findings)
	}
	if f.kind == "" {
		if len(r.Findings) > 0 && r.Frame.Method == Given {
			t.Errorf("%s: %q", how, r.Findings)
		}
		return
	}
	for _, d := range r.Details {
		measured := f.amount == 0 || d.Old != nil && d.New != nil && math.Abs(math.Abs(*d.New-*d.Old)-f.amount) < 0.01
		if d.Kind == f.kind && measured && strings.Contains(d.Text, f.word) && (f.ok || d.Blocks) {
			return
		}
	}
	t.Errorf("%s: no %s finding of %g with %q: %q", how, f.kind, f.amount, f.word, r.Findings)
}

// The same part is the same, wherever it lies and however it is drawn.
func TestTheSamePartIsAlwaysOK(t *testing.T) {
	row := plan{length: 120, width: 30, thick: 6}
	for k := range 6 {
		row.holes = append(row.holes, hole{10 + 20*float64(k), 15, 5.5})
	}
	grid := plan{length: 100, width: 100, thick: 6}
	for i := range 9 {
		for j := range 9 {
			grid.holes = append(grid.holes, hole{10 + 10*float64(i), 10 + 10*float64(j), 4})
		}
	}
	square := plan{length: 100, width: 100, thick: 8, holes: []hole{{10, 10, 5.5}, {90, 10, 5.5}, {90, 90, 5.5}, {10, 90, 5.5}}}
	odd := square
	odd.holes = append(append([]hole{}, square.holes...), hole{50, 20, 6.6})
	about := func(angle float64) mesh.Transform {
		middle := r3.Vec{X: 50, Y: 50}
		return mesh.Translation(middle).Compose(mesh.RotationAbout(r3.Vec{Z: 1}, angle*math.Pi/180)).Compose(mesh.Translation(r3.Scale(-1, middle)))
	}
	z := func(t testing.TB, n int) *mesh.Mesh { return zBracket(t, 40, n) }
	l := func(t testing.TB, n int) *mesh.Mesh { return lBracket(t, 0, 5, n) }
	sunk := func(t testing.TB, n int) *mesh.Mesh { return sunkPlate(t, 10, 90, n) }
	everything := func(t testing.TB, n int) *mesh.Mesh {
		p := plain().with(slot(50, 12, 16, 5, n), window(30, 25, 18, 12, 3, n), dBore(70, 30, 10, 4, n), keyway(55, 37, 12, 4, 1.5, n), ellipse(82, 24, 6, 7, max(n, 14)))
		return p.on(3, reversed(round(12, 22, 8, n))).mesh(t, n)
	}
	shift := func(x, y, z float64) mesh.Transform { return mesh.Translation(r3.Vec{X: x, Y: y, Z: z}) }
	for _, c := range []struct {
		what   string
		part   drawing
		n      int
		motion mesh.Transform
		alike  int // positions that the part fits in, 0 where its frame is kept
	}{
		{"row moved by one pitch", row.drawing(), 24, shift(20, 0, 0), 4},
		{"grid of 81 moved by one", grid.drawing(), 12, shift(10, 0, 0), 8},
		{"even plate turned by 90 degrees", odd.drawing(), 24, about(90), 2},
		{"even plate turned by 180 degrees", odd.drawing(), 24, about(180), 2},
		{"square plate turned by 90 degrees and shifted", square.drawing(), 24, shift(3, 0, 0).Compose(about(90)), 8},
		{"plate shifted through itself", plain().drawing(), 24, shift(0, 0, 3), 1},
		{"everything, coarse", everything, 12, mesh.Identity(), 0},
		{"everything, fine", everything, 90, mesh.Identity(), 0},
		{"everything, turned", everything, 24, turn(), 1},
		{"everything, coarse and turned", everything, 14, turn(), 1},
		{"Z-bracket, fine and turned", z, 60, turn(), 1},
		{"L-bracket, coarse and turned", l, 12, turn(), 1},
		{"countersunk plate, coarse", sunk, 12, mesh.Identity(), 0},
		{"countersunk plate, fine and turned", sunk, 70, turn(), 1},
	} {
		t.Run(c.what, func(t *testing.T) {
			old := single(c.part(t, 24))
			for how, m := range map[string]*mesh.Mesh{"": c.part(t, c.n), "split": split(c.part(t, c.n))} {
				r := Compare(old, single(m.Transformed(c.motion)), Options{})
				if !r.OK {
					t.Errorf("%s: %q", how, r.Blocking)
				}
				for _, d := range r.Details {
					if d.Kind != "frame" {
						t.Errorf("%s: %s", how, d.Text)
					}
				}
				if c.alike == 0 && r.Frame.Method != Given || c.alike > 0 && r.Frame.Method == Given {
					t.Errorf("%s: brought together by %s", how, r.Frame.Method)
				}
				if c.alike > 1 {
					wantFinding(t, r, fmt.Sprintf("fits equally well in %d positions", c.alike))
				}
				for _, p := range r.Pairs {
					if p.Moved > 0.01 {
						t.Errorf("%s: %+v", how, p)
					}
				}
			}
		})
	}
}
