package mill

import (
	"math"
	"testing"
)

// minutesOf returns the minutes of one operation, 0 where there is none.
func minutesOf(e Estimate, name string) float64 {
	for _, o := range e.Operations {
		if o.Name == name {
			return o.Minutes
		}
	}
	return 0
}

func estimated(t *testing.T, w Work, profile Profile, family string) Estimate {
	t.Helper()
	e, err := Make(w, profile, Job{Count: 1, Family: family, Density: 2700})
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// A slot-milling problem of an engineering examination, as worked out on
// sarthaks.com/2585030: cutter 100 mm, 20 teeth, 0.1 mm a tooth, 35 m/min; 360 mm
// of travel with approach, overrun and the cutter's radius; 25 mm deep, 5 mm a
// pass: 111.41 turns a minute, 1.6157 min a pass, 8.078 min in all.
func TestASlotOfAnExaminationPaper(t *testing.T) {
	p := BenchTop()
	p.Handling.AirFactor = 1
	p.Material["aluminium"] = Cutting{MillSpeed: 35, DrillSpeed: 30, Energy: 1, Engagement: 1, Feed: 1}
	c := Cutter{Diameter: 100, Flutes: 20, Feed: 0.1, AP: 5, AE: 100}
	p.Cutter.Contour = c
	s := shop{p, p.Material["aluminium"]}
	within(t, "turns a minute", s.rpm(35, 100), 111.4084, 1e-6)
	within(t, "a pass", 360/s.feed(c), 1.6157, 1e-4)
	travel := 360 - 3.141592653589793*100 // the path around an outline is longer by pi d
	e := estimated(t, Work{Blank: [3]float64{1, 1, 1}, ContourLength: travel, ContourDepth: 25}, p, "aluminium")
	within(t, "five passes", minutesOf(e, "Outline"), 8.078, 1e-4)
}

// Groover, Fundamentals of Modern Manufacturing, problem on face milling (as given
// on tutorbin.com): cutter 3.0 in with five teeth, 250 ft/min, 0.006 in a tooth.
// N = 250 x 12 / (pi 3.0) = 318.3 a minute, feed 318.3 x 5 x 0.006 = 9.55 in/min.
func TestTheFeedOfATextbookFaceMill(t *testing.T) {
	s := shop{BenchTop(), Cutting{MillSpeed: 250 * 0.3048, Feed: 1, Engagement: 1}}
	within(t, "feed", s.feed(Cutter{Diameter: 3 * 25.4, Flutes: 5, Feed: 0.006 * 25.4})/25.4, 9.549, 1e-3)
}

// By hand, for 304 on the bench-top mill: n = 40 000 / (pi 16) = 795.8; feed 0.04 x
// 0.5 x 4 x 795.8 = 63.66 mm/min; depth 0.5 x sqrt 0.2 = 0.2236 mm, 5 passes for the
// 1 mm of either side; width as in aluminium, 12 mm: 2 x 5 x 126 x 76 / 12 = 7980 mm;
// x 1.25 = 156.7 min. The whole part, tool paths, saw and measuring aside, comes to
// about 7.7 h, of which facing is under three.
func TestStainlessIsFacedAtFullWidth(t *testing.T) {
	p := BenchTop()
	w, err := Measure(carriage(t), p, Plan{BlankThickness: 8})
	if err != nil {
		t.Fatal(err)
	}
	e := estimated(t, w, p, "stainless steel")
	within(t, "facing", minutesOf(e, "Facing"), 156.7, 1e-3)
	rest := e.MinutesPerPart - minutesOf(e, "Sawing the blank") - minutesOf(e, "Measuring")
	within(t, "the part", rest/60, 7.7, 0.05)
}

func TestPlatesComeInTheThicknessesSold(t *testing.T) {
	for _, c := range []struct{ part, plate, faced float64 }{
		{2.5, 2.5, 0}, {18, 18, 0}, {6.35, 6.35, 0}, {3.18, 3.175, 0}, {12.7, 12.7, 0}, {20, 20, 0},
		{6.2, 8, 2}, {9, 10, 2}, {17.5, 18, 2}, {150.5, 155, 2},
	} {
		w, err := Measure(stacked(t, slab(c.part, rectangle(0, 0, 300, 200))), BenchTop(), Plan{})
		if err != nil {
			t.Fatal(err)
		}
		within(t, "plate", w.Blank[2], c.plate, 1e-9)
		if len(w.Faced) != int(c.faced) {
			t.Errorf("a part %g mm thick out of %g mm is faced on %d sides", c.part, w.Blank[2], len(w.Faced))
		}
	}
}

// The block's slots have more wall than floor; the plate it is cut from is the one
// under the slots all the same.
func TestABlockWithDeepSlotsIsCutFromTheTop(t *testing.T) {
	p := stacked(t, slab(2, rectangle(0, 0, 120, 60)), layer{38, fins(15, 64./15, 4, 60), nil})
	w, err := Measure(p, BenchTop(), Plan{})
	if err != nil {
		t.Fatal(err)
	}
	if w.Part != [3]float64{120, 60, 40} || w.Blank[2] != 40 || w.Axis.Z < 0.999 {
		t.Errorf("%+v", w)
	}
}

func TestHardPlacesTakeTime(t *testing.T) {
	p := BenchTop()
	w, err := Measure(carriage(t), p, Plan{})
	if err != nil {
		t.Fatal(err)
	}
	plain := estimated(t, w, p, "aluminium")
	w.Hard = Hard{Thin: 0.5, Deep: 0.25, Excess: 1.8, Corners: 8, Height: 32, Cutter: 3}
	e := estimated(t, w, p, "aluminium")
	// n = 5000 (10 610 is above the spindle's); feed 0.02 x 3/6 x 3 x 5000 = 150 mm/min;
	// 32 mm / 1.5 = 22 passes x 2 x 6 mm; x 1.25 / 150
	within(t, "corners", minutesOf(e, "Tight corners"), 22*12*1.25/150, 1e-9)
	finish := minutesOf(e, "Finishing pockets")
	within(t, "thin walls", minutesOf(e, "Thin walls"), 0.5*finish, 1e-9)
	within(t, "deep places", minutesOf(e, "Deep places"), 0.25*0.8*(minutesOf(e, "Roughing")+finish), 1e-9)
	within(t, "one more tool", minutesOf(e, "Tool changes")-minutesOf(plain, "Tool changes"), p.Handling.ToolChange, 1e-9)
}

// A plate drawn 7 mm thick: the next as sold is 8 mm, or in a shop that buys inches 5/16
// in, 7.94 mm; one drawn at 1/4 in is cut from that anywhere.
func TestAShopOfInchesTakesInchPlate(t *testing.T) {
	stock := BenchTop().Stock
	for _, c := range []struct {
		part   float64
		inches bool
		want   float64
	}{{7, false, 8}, {7, true, 7.9375}, {6.35, false, 6.35}, {6.35, true, 6.35}, {8, true, 8}} {
		if got, err := stock.plate(c.part, 0, c.inches); err != nil || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%g mm, inches %v: %g mm, %v, want %g", c.part, c.inches, got, err, c.want)
		}
	}
}
