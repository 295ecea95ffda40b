package joint

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"swapworth/internal/property"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/feature"

	"pgregory.net/rapid"
)

func thread(t *testing.T, text string) Thread {
	t.Helper()
	th, err := ParseThread(text)
	if err != nil {
		t.Fatal(err)
	}
	return th
}

func class(t *testing.T, text string) Class {
	t.Helper()
	c, err := ParseClass(text)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func material(t *testing.T, name string) materials.Material {
	t.Helper()
	m, err := materials.Default().Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func near(got, want, tolerance float64) bool { return math.Abs(got-want) <= tolerance*math.Abs(want) }

// ISO 724, table of basic dimensions, mm.
func TestBasicDiameters(t *testing.T) {
	for text, want := range map[string][3]float64{
		"M5": {4.480, 4.134, 4.019}, "M6": {5.350, 4.917, 4.773}, "M10": {9.026, 8.376, 8.160},
	} {
		th := thread(t, text)
		for i, got := range []float64{th.pitchDiameter(), th.minorDiameter(), th.rootDiameter()} {
			if math.Abs(got-want[i]) > 0.0006 {
				t.Errorf("%s: %v, want %v", text, got, want[i])
			}
		}
	}
}

// ISO 898-1, tables 4 to 7, as reprinted at slsbearings.com (tensile strength) and
// engineeringtoolbox.com (metric bolts), fine threads from memory: stress areas, mm2, and
// proof loads, N, which the standard rounds to three figures, some of them down.
func TestStressAreasAndProofLoadsAreThoseOfISO898(t *testing.T) {
	for text, want := range map[string]float64{
		"M3": 5.03, "M4": 8.78, "M5": 14.2, "M6": 20.1, "M8": 36.6, "M10": 58.0, "M12": 84.3, "M16": 157, "M20": 245,
		"M8x1": 39.2, "M10x1.25": 61.2, "M12x1.5": 88.1,
	} {
		if got := thread(t, text).stressArea(); !near(got, want, 0.004) {
			t.Errorf("%s: %.3f mm2, want %g", text, got, want)
		}
	}
	for _, want := range []struct {
		thread, class string
		proof         float64
	}{{"M5", "8.8", 8230}, {"M6", "8.8", 11600}, {"M8", "8.8", 21200}, {"M10", "8.8", 33700}, {"M6", "10.9", 16700},
		{"M8", "10.9", 30400}, {"M6", "12.9", 19500}} {
		if got := class(t, want.class).proofLoad(thread(t, want.thread)); !near(got, want.proof, 0.007) {
			t.Errorf("%s %s: %.0f N, want %.0f", want.thread, want.class, got, want.proof)
		}
	}
}

func TestThreadsAreReadAsTheyAreWritten(t *testing.T) {
	for text, want := range map[string]Thread{
		"M5": {Diameter: 5, Pitch: 0.8}, "m6": {Diameter: 6, Pitch: 1}, "M6x0.75": {Diameter: 6, Pitch: 0.75}, " M10 X 1.25 ": {Diameter: 10, Pitch: 1.25},
		"M2.5": {Diameter: 2.5, Pitch: 0.45}, "M8×1": {Diameter: 8, Pitch: 1},
	} {
		if got := thread(t, text); got != want {
			t.Errorf("%s: %+v", text, got)
		}
	}
	for _, text := range []string{"", "M", "5", "M7.3", "M6x", "M6x9", "M6x-1", "1/0-20", "1/4-", "#99-20", "1/4-1", "MNaN", "M6xNaN", "Minf"} {
		if got, err := ParseThread(text); err == nil {
			t.Errorf("%q was taken for %v", text, got)
		}
	}
	if s := thread(t, "M6x0.75").String(); s != "M6x0.75" {
		t.Error(s)
	}
	if s := thread(t, "M6x1").String(); s != "M6" {
		t.Error(s)
	}
}

// Worked by hand with the limits of ISO 965-2 for M10 (bolt 9.732 and 8.862, hole
// 9.206 and 8.676 mm): pi/1.5 9.732 (0.75 + 0.57735 0.526) and pi/1.5 8.676 (0.75
// + 0.57735 0.186) mm2 a mm.
func TestStrippingAreasOfM10(t *testing.T) {
	internal, external := thread(t, "M10").strippingAreas(1)
	if !near(internal, 21.48, 0.01) || !near(external, 15.58, 0.03) {
		t.Errorf("%.3f and %.3f mm2", internal, external)
	}
}

// Common practice: a class 8.8 bolt needs about one diameter of thread in steel,
// and one and a half to two in aluminium.
func TestASofterMetalNeedsMoreThread(t *testing.T) {
	for _, text := range []string{"M4", "M5", "M6", "M8", "M10"} {
		th := thread(t, text)
		lengths := map[string]float64{}
		for _, name := range []string{"S235", "6061-T6", "ZAMAK 3", "POM"} {
			l, err := Engagement(th, class(t, "8.8"), material(t, name))
			if err != nil {
				t.Fatal(err)
			}
			lengths[name] = l / th.Diameter
		}
		if l := lengths["S235"]; l < 0.8 || l > 1.25 {
			t.Errorf("%s in S235: %.2f d", text, l)
		}
		if l := lengths["6061-T6"]; l < 1.1 || l > 2 {
			t.Errorf("%s in 6061-T6: %.2f d", text, l)
		}
		if lengths["POM"] < 3*lengths["6061-T6"] {
			t.Errorf("%s in POM: %.2f d", text, lengths["POM"])
		}
	}
}

// Catalogue torques of dry class 8.8 bolts, N m (common practice).
func TestTighteningTorque(t *testing.T) {
	for text, want := range map[string]float64{"M5": 6, "M6": 10, "M8": 25, "M10": 50} {
		th := thread(t, text)
		if got := torque(th, class(t, "8.8").preload(th)); !near(got, want, 0.1) {
			t.Errorf("%s: %.1f N m, want about %g", text, got, want)
		}
	}
}

// Worked by hand from EN 1993-1-8, table 3.4: M20 in a 22 mm hole, S275 with 430
// MPa, 10 mm thick, e1 40, e2 far: 2.5 40/66 430 20 10 N.
func TestBearingOfAnM20(t *testing.T) {
	if got := bearing(20, 22, 10, 40, math.Inf(1), 430); !near(got, 130303, 1e-4) {
		t.Errorf("%.0f N", got)
	}
	// 3.6.1(10): one row of a lap joint takes 1.5 fu d t at most.
	if got := bearingSingleRow(20, 22, 10, 40, math.Inf(1), 430); !near(got, 1.5*430*200, 1e-9) {
		t.Errorf("%.0f N", got)
	}
	// A side edge at 1.2 d0 takes k1 down to 2.8 x 1.2 - 1.7 = 1.66.
	if got := bearing(20, 22, 10, 66, 26.4, 430); !near(got, 1.66*430*200, 1e-9) {
		t.Errorf("%.0f N", got)
	}
	if !edgeTooClose(22, 26.3) || edgeTooClose(22, 26.4) {
		t.Error("the least edge distance is 1.2 hole diameters")
	}
}

// Shigley's Mechanical Engineering Design, 9th edition. Example 6-4: k_b of a 32 mm
// shaft is 0.858. Example 6-10: 690 MPa machined k_a 0.797; with S_e 33.9 and
// S_ut 100 kpsi and amplitude and mean 8.38 kpsi, 84/(8.38 + 8.38) = 5.01 against
// yield; on the Goodman line 1/(8.38/33.9 + 8.38/100) by hand. Example 6-2: S_ut 90
// kpsi, S_e 45, f 0.86: 77 500 cycles at 55 kpsi.
func TestFatigueAsInTheTextbook(t *testing.T) {
	if got := surfaceFactor(690); !near(got, 0.797, 0.005) {
		t.Errorf("surface factor %.3f", got)
	}
	if got := sizeFactor(32); !near(got, 0.858, 0.003) {
		t.Errorf("size factor %.3f", got)
	}
	c := cycle{Amplitude: 8.38, Mean: 8.38}
	if got := goodman(c, 33.9, 100); !near(got, 3.021, 1e-3) {
		t.Errorf("Goodman %.3f", got)
	}
	if got := firstCycleYield(c, 84); !near(got, 5.01, 1e-3) {
		t.Errorf("yield %.3f", got)
	}
}

func TestCycles(t *testing.T) {
	for ratio, want := range map[float64]cycle{
		-1: {Amplitude: 100, Mean: 0}, 0: {Amplitude: 50, Mean: 50}, 1: {Amplitude: 0, Mean: 100}, 0.5: {Amplitude: 25, Mean: 75},
	} {
		if got := cycleOf(100, ratio); got != want {
			t.Errorf("ratio %g: %+v", ratio, got)
		}
	}
	if n := goodman(cycleOf(100, 1), 50, 400); n != 4 {
		t.Errorf("a steady load has only strength to fear: %g", n)
	}
	if n := goodman(cycleOf(100, -1), 50, 400); n != 0.5 {
		t.Errorf("a reversed load has only fatigue to fear: %g", n)
	}
	if a, b := goodman(cycle{Amplitude: 20, Mean: -100}, 50, 400), goodman(cycle{Amplitude: 20}, 50, 400); a != b {
		t.Errorf("a mean in compression helped: %g and %g", a, b)
	}
}

func TestFatigueStrengthIsKnownForMetalsAndRefusedForOthers(t *testing.T) {
	for _, m := range materials.Default().All() {
		f, err := specimenStrength(m)
		if m.Kind != materials.Metal {
			if err == nil {
				t.Errorf("%s: %v", m.Name, f)
			}
			continue
		}
		if err != nil {
			if m.Family != "titanium" {
				t.Error(err)
			}
			continue
		}
		if f.Value <= 0 || f.Value > 0.65*m.Tensile.Value || f.Cycles < 1e6 || f.Source == "" {
			t.Errorf("%s: %+v of %g MPa", m.Name, f, m.Tensile.Value)
		}
	}
}

// plate is a sound joint: an M5 bolt holds a 6 mm aluminium plate on an aluminium
// block.
func plate(t *testing.T) Joint {
	block := material(t, "6061-T6")
	return Joint{
		Thread: thread(t, "M5"), Class: class(t, "8.8"), Tapped: &block, Engagement: 10,
		Plate: block, Thickness: 6, Hole: 5.5, Head: 10, EdgeDistance: 10, SideDistance: 10, Wall: 7.25,
		Axial: 200, Shear: 300, StressAtHole: 8, Ratio: -1, Repeats: true, Width: 70,
	}
}

func finding(t *testing.T, r Result, name string) Finding {
	t.Helper()
	for _, f := range r.Findings {
		if strings.Contains(f.Name, name) {
			return f
		}
	}
	t.Fatalf("no finding %q in %+v", name, r.Findings)
	return Finding{}
}

func TestASoundJointPassesAndEachWeaknessIsFound(t *testing.T) {
	sound, err := Check(plate(t))
	if err != nil {
		t.Fatal(err)
	}
	if !sound.OK {
		t.Errorf("a sound joint fails: %+v", sound.Findings)
	}
	for weakness, change := range map[string]func(*Joint){
		"pulling out":     func(j *Joint) { j.Engagement = 3 },
		"proof load":      func(j *Joint) { j.Axial = 9000 },
		"bearing":         func(j *Joint) { j.Shear = 5000; j.EdgeDistance = 5 },
		"tearing out":     func(j *Joint) { j.Shear = 3000; j.EdgeDistance = 5 },
		"seat":            func(j *Joint) { j.Head = 0 }, // a nut without a washer
		"opening":         func(j *Joint) { j.Prying = 25000 },
		"slipping":        func(j *Joint) { j.Twist = 1000 },
		"repeated":        func(j *Joint) { j.StressAtHole = 40 },
		"wall left":       func(j *Joint) { j.Wall = 1; j.OriginError = 0.3 },
		"bolt in shear":   func(j *Joint) { j.Shear = 5000 },
		"yield at the pe": func(j *Joint) { j.StressAtHole = 200 },
	} {
		j := plate(t)
		change(&j)
		r, err := Check(j)
		if err != nil {
			t.Errorf("%s: %v", weakness, err)
			continue
		}
		if f := finding(t, r, weakness); f.Met || r.OK {
			t.Errorf("%s: factor %.2f of %.2f passes", weakness, f.Factor, f.Least)
		}
	}
	j := plate(t)
	j.EdgeDistance = 6 // under 1.2 x 5.5
	if r, _ := Check(j); r.OK {
		t.Error("a hole too close to the edge passes")
	}
}

func TestWhatIsNotGivenIsNotJudgedAndSaid(t *testing.T) {
	block := material(t, "6061-T6")
	r, err := Check(Joint{Thread: thread(t, "M5"), Class: class(t, "8.8"), Tapped: &block, Shear: 100,
		Plate: block, Hole: 5.5, Repeats: true})
	if err != nil {
		t.Fatal(err)
	}
	said := strings.Join(r.Cautions, "; ")
	for _, want := range []string{"engagement", "edge distance", "stress at the hole"} {
		if !strings.Contains(said, want) {
			t.Errorf("nothing is said about the %s: %s", want, said)
		}
	}
	if r.Engagement == nil || *r.Engagement < 5 {
		t.Errorf("engagement %v", r.Engagement)
	}
	for _, bad := range []Joint{{}, {Thread: thread(t, "M5"), Class: class(t, "8.8"), Hole: 4.5}} {
		if _, err := Check(bad); err == nil {
			t.Errorf("%+v was judged", bad)
		}
	}
	text, err := json.Marshal(r)
	if err != nil || !strings.Contains(string(text), `"engagement_for_full_strength_mm"`) {
		t.Errorf("%s, %v", text, err)
	}
}

func TestMoreOfEverythingHoldsMore(t *testing.T) {
	m := material(t, "6061-T6")
	property.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom([]string{"M3", "M4", "M5", "M6", "M8", "M10", "M12"}).Draw(t, "thread")
		th, err := ParseThread(d)
		if err != nil {
			t.Fatal(err)
		}
		l := rapid.Float64Range(1, 30).Draw(t, "length")
		if a, b := pullOut(th, l, m), pullOut(th, 2*l, m); !near(b, 2*a, 1e-12) || a <= 0 {
			t.Fatalf("%g N over %g mm, %g N over twice that", a, l, b)
		}
		internal, external := th.strippingAreas(l)
		if external >= internal {
			t.Fatalf("the bolt's thread is the longer cylinder: %g and %g", external, internal)
		}
		e := rapid.Float64Range(5, 50).Draw(t, "edge")
		if bearing(5, 5.5, 4, e, 20, 300) > bearing(5, 5.5, 4, e+1, 20, 300)+1e-9 {
			t.Fatal("more edge bears less")
		}
		amplitude, mean := rapid.Float64Range(1, 50).Draw(t, "amplitude"), rapid.Float64Range(0, 50).Draw(t, "mean")
		c := cycle{Amplitude: amplitude, Mean: mean}
		n := goodman(c, 60, 300)
		if at := goodman(cycle{Amplitude: n * amplitude, Mean: n * mean}, 60, 300); !near(at, 1, 1e-9) {
			t.Fatalf("n times the load is not on the line: %g", at)
		}
	})
}

// The holes of the reference plate are drawn in testdata/reference/README.md.
func TestMarginsOfTheReferencePlate(t *testing.T) {
	l, err := mesh.Load("../../testdata/reference/carriage_old.stl", mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	holes := feature.Holes(l.Mesh)
	if len(holes) != 6 {
		t.Fatalf("%d holes", len(holes))
	}
	for _, h := range holes {
		want := Margin{Edge: 10, Wall: 10 - 2.75}
		if h.Diameter < 5 {
			want = Margin{Edge: 15, Wall: 15 - 2.25}
		}
		got, err := MarginOf(l.Mesh, h)
		if err != nil || math.Abs(got.Edge-want.Edge) > 0.01 || math.Abs(got.Wall-want.Wall) > 0.02 {
			t.Errorf("hole at %v: %+v, %v; want %+v", h.Centre, got, err, want)
		}
	}
}

func TestAMarginOfNoHoleIsRefused(t *testing.T) {
	l, err := mesh.Load("../../testdata/reference/slab.stl", mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	h := feature.Hole{Number: 1, Diameter: 5, Depth: 5}
	h.Axis.Z, h.Centre = 1, l.Mesh.Bounds().Center()
	if got, err := MarginOf(l.Mesh, h); err == nil {
		t.Errorf("got %+v", got)
	}
}
