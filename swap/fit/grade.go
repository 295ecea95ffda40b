package fit

import (
	"fmt"
	"math"
	"slices"
)

// it7 is the width of the standard tolerance grade IT7 of ISO 286-1 in um for
// nominal sizes up to and including the first number, mm. From the table printed
// at engineersvault.blogspot.com/2007/02/index-of-iso-hole-and-shaft.html and, the
// same, at mechguru.com (DIN ISO 286 standard tolerance zone size table).
var it7 = [][2]float64{
	{3, 10}, {6, 12}, {10, 15}, {18, 18}, {30, 21}, {50, 25}, {80, 30}, {120, 35}, {180, 40}, {250, 46}, {315, 52},
	{400, 57}, {500, 63},
}

// gradeSeven returns the width of IT7 at a nominal size, mm; 0 beyond 500 mm.
func gradeSeven(nominal float64) float64 {
	for _, row := range it7 {
		if nominal <= row[0] {
			return row[1] / 1000
		}
	}
	return 0
}

const (
	// wholeFits is the diameter in mm from which a bore of whole millimetres is
	// taken for the seat of a bearing, a bush or a shaft: outer diameters of rolling
	// bearings (ISO 15) are whole millimetres, and so are those of bushes (ISO 3547,
	// both from memory).
	wholeFits = 10.0
	// fitChange is the change in mm from which a bore has another size, not another
	// fit: the widest deviation of the letters c to z at 30 mm is about 0.2 mm.
	fitChange = 0.5
	// bored is how well a diameter is known from a mesh, mm: TestWallsSplitIrregularly.
	bored = 0.005
)

var (
	// dowels are the diameters of parallel pins below wholeFits (ISO 2338, ISO 8734,
	// from memory) that holes are reamed for, mm.
	dowels = []float64{3, 4, 5, 6, 8}
	// clearances are whole millimetres that are far oftener a hole for a screw: the
	// medium clearance of M10 (ISO 273). That of M20, M22 and M24 is not excluded:
	// 22, 24 and 26 mm are bearings 608, 609 and 6000 on machines of this size.
	clearances = []float64{11}
)

// fitSize returns the nominal size of the fit that a diameter may be made for.
func fitSize(diameter float64, hole bool) (nominal float64, ok bool) {
	nominal = math.Round(diameter)
	width := gradeSeven(nominal)
	if width == 0 || math.Abs(diameter-nominal) > width+bored {
		return 0, false
	}
	if hole && slices.Contains(clearances, nominal) {
		return 0, false
	}
	return nominal, nominal >= wholeFits || slices.Contains(dowels, nominal)
}

// fitLost reports whether a bore, or else a spigot, of a fit's size left the
// grade that such fits are made to: H7 of ISO 286 for bores, h7 for spigots.
func fitLost(old, new float64, hole bool) (grade string, lost bool) {
	nominal, ok := fitSize(old, hole)
	if !ok || math.Abs(new-old) > fitChange {
		return "", false
	}
	low, high, letter := nominal, nominal+gradeSeven(nominal), "H7"
	if !hole {
		low, high, letter = nominal-gradeSeven(nominal), nominal, "h7"
	}
	// a drawing may put the middle of a looser or tighter letter: what was outside
	// of the grade before proves nothing
	if old < low-bored || old > high+bored || new >= low-bored && new <= high+bored {
		return "", false
	}
	return fmt.Sprintf("%s %s of ISO 286 reaches from %s to %s mm", precise(nominal), letter, precise(low), precise(high)), true
}

// bearings are outer diameters of the rolling bearings of bores 4 to 30 mm in the
// series 618, 60, 62 and 63 (ISO 15, from memory), from the 13 mm of the 624 on, mm.
var bearings = []float64{
	13, 16, 19, 22, 24, 26, 28, 30, 32, 35, 37, 40, 42, 47, 52, 55, 62, 72, 80, 90,
}

const (
	// largeScrew is the screw in mm from which a hole of a bearing's size is taken
	// for the bearing's seat: brackets of bench machines hold no M20.
	largeScrew = 20.0
	// offSeat is how far from a bearing's diameter a bore is still meant for it, mm:
	// five times H7 at 22 mm.
	offSeat = 0.1
)

// bearingSeat says whether a bore is of the size of a rolling bearing, in words.
func bearingSeat(diameter float64) (words []string, is bool) {
	for _, d := range bearings {
		switch {
		case diameter >= d-bored && diameter <= d+gradeSeven(d)+bored:
			return []string{precise(d) + " mm bearing seat"}, true
		case math.Abs(diameter-d) <= offSeat:
			return []string{precise(d) + " mm bearing seat, but off H7"}, true
		}
	}
	return nil, false
}
