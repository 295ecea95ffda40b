package mill

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/asmade"
	"swapworth/mesh/cut"
)

func carriage(t testing.TB) asmade.Part {
	t.Helper()
	l, err := mesh.Load("../../testdata/reference/carriage_new.stl", mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return asmade.Read(l.Mesh)
}

func within(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if math.Abs(got-want) > share*math.Abs(want) {
		t.Errorf("%s: %.6g, want %.6g", what, got, want)
	}
}

// The reference plate is drawn 120 x 70 x 6 with two pockets 28 x 30, 4 deep,
// four holes 5.5 and two 4.5: testdata/reference/README.md.
func TestWorkOfTheNewCarriageAsDrawn(t *testing.T) {
	w, err := Measure(carriage(t), BenchTop(), Plan{BlankThickness: 8})
	if err != nil {
		t.Fatal(err)
	}
	within(t, "blank length", w.Blank[0], 126, 1e-6)
	within(t, "blank width", w.Blank[1], 76, 1e-6)
	within(t, "blank thickness", w.Blank[2], 8, 1e-6)
	within(t, "rough volume", w.RoughVolume, 2*28*30*4, 1e-3)
	within(t, "wall length", w.WallLength, 2*2*(28+30), 1e-6)
	within(t, "floor", w.FloorArea, 2*28*30, 1e-6)
	within(t, "outline", w.ContourLength, 2*(120+70), 1e-6)
	within(t, "outline area", w.Outline, 120*70, 1e-6)
	if len(w.Faced) != 2 || len(w.Holes) != 6 || w.SetUps != 2 || w.WallDepth < 3.999 || w.ChamferLength != 0 {
		t.Errorf("%+v", w)
	}
}

// byHand is worked out in docs/mill.md from the profile's numbers alone.
var byHand = map[string]float64{
	"CAM":               45,
	"Sawing the blank":  10,
	"Set-ups":           2 * 20,
	"Tool changes":      8 * 3,
	"Facing":            12.53,
	"Roughing":          3.665,
	"Finishing pockets": 2.911,
	"Outline":           10.18,
	"Holes":             1.319,
	"Deburr and wash":   7,
	"Measuring":         3,
}

func TestTheTimeOfTheNewCarriageIsTheOneWorkedOutByHand(t *testing.T) {
	profile := BenchTop()
	w, err := Measure(carriage(t), profile, Plan{BlankThickness: 8})
	if err != nil {
		t.Fatal(err)
	}
	e, err := Make(w, profile, Job{Count: 1, Family: "aluminium", Density: 2700, PricePerKg: 10, HourlyValue: 30, SavedGrams: 50})
	if err != nil {
		t.Fatal(err)
	}
	sum, shares := 0.0, 0.0
	for _, o := range e.Operations {
		want, ok := byHand[o.Name]
		if !ok {
			t.Errorf("operation %s is not in the hand-worked example", o.Name)
			continue
		}
		within(t, o.Name, o.Minutes, want, 2e-3)
		sum += want
		shares += o.Share
	}
	if len(e.Operations) != len(byHand) {
		t.Errorf("%d operations, %d by hand", len(e.Operations), len(byHand))
	}
	within(t, "shares", shares, 1, 1e-12)
	within(t, "hours", e.Hours, sum/60, 2e-3)
	// 126 x 76 x 8 mm3 at 2700 kg/m3 is 206.8 g
	within(t, "blank", e.BlankGrams, 206.84, 1e-4)
	within(t, "stock", e.Stock, 2.0684, 1e-4)
	within(t, "total", e.Total, 2.0684+30*sum/60, 2e-3)
	within(t, "per gram", *e.PerGram, e.Total/50, 1e-12)
}

func TestFailedAttemptsCostBlanksAndPartOfTheTime(t *testing.T) {
	profile := BenchTop()
	w := Work{Blank: [3]float64{100, 50, 5}, ContourLength: 300, ContourDepth: 5, SetUps: 1}
	job := Job{Count: 4, Family: "aluminium", Density: 2700, PricePerKg: 10, HourlyValue: 20}
	sure, err := Make(w, profile, job)
	if err != nil {
		t.Fatal(err)
	}
	job.SuccessChance = 0.8 // 1/0.8 = 1.25 attempts a part: 5 for 4
	risky, err := Make(w, profile, job)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "attempts", risky.Attempts, 5, 1e-12)
	within(t, "scrap", risky.Scrap, 1, 1e-12)
	within(t, "stock", risky.Stock, 1.25*sure.Stock, 1e-12)
	once := profile.Handling.CAM / 60 // tool paths are made once
	within(t, "hours", risky.Hours, once+(sure.Hours-once)*(4+0.6)/4, 1e-12)
	job.SuccessChance, job.Attempts = 0, 1.25
	same, err := Make(w, profile, job)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "attempts as a number", same.Total, risky.Total, 1e-12)
}

func TestAQuotedPriceReplacesMoneyButNotTheHoursOfMakingIt(t *testing.T) {
	price := 120.0
	w := Work{Blank: [3]float64{100, 50, 5}, ContourLength: 300, ContourDepth: 5, SetUps: 1}
	e, err := Make(w, BenchTop(), Job{Count: 2, Family: "aluminium", Density: 2700, Quoted: &price, SavedGrams: 60})
	if err != nil {
		t.Fatal(err)
	}
	if e.Total != 120 || *e.PerGram != 2 {
		t.Errorf("total %g, per gram %g", e.Total, *e.PerGram)
	}
}

func TestFacingIsSeenForWhatItCosts(t *testing.T) {
	p, profile := carriage(t), BenchTop()
	minutes := func(thick float64) (face, all float64) {
		w, err := Measure(p, profile, Plan{BlankThickness: thick})
		if err != nil {
			t.Fatal(err)
		}
		e, err := Make(w, profile, Job{Count: 1, Family: "aluminium", Density: 2700})
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range e.Operations {
			if o.Name == "Facing" {
				face = o.Minutes
			}
		}
		return face, e.MinutesPerPart
	}
	none, least := minutes(6)
	if none != 0 {
		t.Errorf("a plate as thick as the part is faced for %g min", none)
	}
	face, all := minutes(10)
	if !(face > 20 && all > least+face) {
		t.Errorf("4 mm of facing take %g min, in all %g against %g", face, all, least)
	}
}

func TestHarderMaterialsTakeLonger(t *testing.T) {
	profile := BenchTop()
	w, err := Measure(carriage(t), profile, Plan{})
	if err != nil {
		t.Fatal(err)
	}
	last := 0.0
	for _, family := range []string{"plastic", "aluminium", "brass", "structural steel", "stainless steel", "titanium"} {
		e, err := Make(w, profile, Job{Count: 1, Family: family, Density: 1000})
		if err != nil {
			t.Fatal(err)
		}
		if e.MinutesPerPart <= last {
			t.Errorf("%s takes %g min, the softer one before it %g", family, e.MinutesPerPart, last)
		}
		last = e.MinutesPerPart
	}
}

func TestSpindlePowerLimitsRoughing(t *testing.T) {
	p := BenchTop()
	p.Spindle.Power = 20 // 20 W x 0.7 / 0.8 W s/mm3 = 17.5 mm3/s = 1050 mm3/min
	within(t, "removal", shop{p, p.Material["aluminium"]}.removal(p.Cutter.Rough), 1050, 1e-9)
}

func TestWindowsAreCutOutAndNotMilledAway(t *testing.T) {
	outer := []r2.Vec{{}, {X: 100}, {X: 100, Y: 60}, {Y: 60}}
	window := []r2.Vec{{X: 30, Y: 20}, {X: 30, Y: 40}, {X: 70, Y: 40}, {X: 70, Y: 20}} // clockwise
	m, err := cut.Extrude(cut.Region{{Outer: outer, Holes: [][]r2.Vec{window}}}, mesh.AxisPlane(mesh.Z, 0), 5)
	if err != nil {
		t.Fatal(err)
	}
	w, err := Measure(asmade.Read(m), BenchTop(), Plan{})
	if err != nil {
		t.Fatal(err)
	}
	within(t, "outline and window", w.ContourLength, 320+120, 1e-9)
	if w.RoughVolume != 0 || len(w.Faced) != 0 || w.SetUps != 1 {
		t.Errorf("%+v", w)
	}
}

func TestAPartAskewOnItsFileGetsTheSameBlank(t *testing.T) {
	p := carriage(t)
	turn := mesh.RotationAbout(r3.Vec{X: 1, Y: 2, Z: 0.5}, 0.7)
	askew := asmade.Read(p.Mesh.Transformed(turn))
	a, err := Measure(p, BenchTop(), Plan{})
	if err != nil {
		t.Fatal(err)
	}
	b, err := Measure(askew, BenchTop(), Plan{})
	if err != nil {
		t.Fatal(err)
	}
	for k := range 3 {
		within(t, "blank", b.Blank[k], a.Blank[k], 1e-5)
	}
	within(t, "rough volume", b.RoughVolume, a.RoughVolume, 1e-3)
	within(t, "outline", b.ContourLength, a.ContourLength, 1e-4)
}

func TestProfilesAreStrict(t *testing.T) {
	text := string(BenchTopTOML())
	for name, bad := range map[string]string{
		"unknown key":  strings.Replace(text, "max_rpm", "top_rpm", 1),
		"negative":     strings.Replace(text, "set_up_min = 20", "set_up_min = -20", 1),
		"missing":      strings.Replace(text, "air_factor", "# air_factor", 1),
		"not a number": strings.Replace(text, "power_w = 500", "power_w = nan", 1),
		"no TOML":      "power =",
	} {
		if _, err := parseProfile([]byte(bad)); err == nil || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v", name, err)
		}
	}
	path := filepath.Join(t.TempDir(), "mine.toml")
	if err := os.WriteFile(path, []byte(strings.Replace(text, "set_up_min = 20", "set_up_min = 5", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	p, err := LoadProfile(path)
	if err != nil || p.Handling.SetUp != 5 {
		t.Errorf("%v %v", p.Handling.SetUp, err)
	}
	if _, err := LoadProfile(path + "x"); err == nil {
		t.Error("loaded a file that is not there")
	}
}

func TestAProfileSaysWhatItHasAndTheRestIsAsBuiltIn(t *testing.T) {
	text := string(BenchTopTOML())
	from, to := strings.Index(text, "end_mills"), strings.Index(text, "wall_metal")
	p, err := parseProfile([]byte(text[:from] + "end_mills = [{ diameter = 2, reach = 6 }]\n" + text[to:]))
	if err != nil || len(p.Limits.EndMills) != 1 || p.Limits.EndMills[0] != (EndMill{2, 6}) {
		t.Errorf("%v %v", p.Limits.EndMills, err)
	}
	old := text[:strings.Index(text, "[limits]")] + text[strings.Index(text, "[stock]"):]
	for _, key := range []string{"cam_min", "saw_min", "measure_min"} {
		at := strings.Index(old, key)
		old = old[:at] + "# " + old[at:]
	}
	q, err := parseProfile([]byte(old))
	if err != nil || q.Limits.Wall != BenchTop().Limits.Wall || q.Handling.CAM != BenchTop().Handling.CAM {
		t.Errorf("a profile of before: %+v %v", q.Limits, err)
	}
	if _, err := parseProfile([]byte(strings.Replace(text, "reach = 18", "reach = 0", 1))); err == nil {
		t.Error("a cutter that reaches nothing was accepted")
	}
}

func TestEveryFamilyThatAShopMillsIsInTheProfile(t *testing.T) {
	p := BenchTop()
	for _, f := range materials.Default().Families() {
		if _, ok := p.Material[f.Name]; !ok && f.Name != "printed plastic" {
			t.Errorf("no cutting values for %q", f.Name)
		}
	}
}

func TestBadJobsAreRefused(t *testing.T) {
	good := Job{Count: 1, Family: "aluminium", Density: 2700}
	for name, change := range map[string]func(*Job){
		"count":    func(j *Job) { j.Count = 0 },
		"chance":   func(j *Job) { j.SuccessChance = 1.2 },
		"attempts": func(j *Job) { j.Attempts = 0.5 },
		"both":     func(j *Job) { j.SuccessChance, j.Attempts = 0.5, 2 },
		"density":  func(j *Job) { j.Density = 0 },
		"price":    func(j *Job) { j.PricePerKg = -1 },
		"family":   func(j *Job) { j.Family = "cheese" },
		"nan":      func(j *Job) { j.HourlyValue = math.NaN() },
	} {
		j := good
		change(&j)
		if _, err := Make(Work{Blank: [3]float64{10, 10, 10}, SetUps: 1}, BenchTop(), j); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
	if _, err := Measure(carriage(t), BenchTop(), Plan{BlankThickness: 5}); err == nil {
		t.Error("a part of 6 mm came out of a blank of 5 mm")
	}
}
