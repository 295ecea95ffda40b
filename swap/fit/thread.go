package fit

import (
	"math"
	"slices"
	"strings"

	"swapworth/mesh/feature"
)

// screw is one size of the ISO 261 coarse series, mm. Drill is the tapping drill (ISO
// 2306, as at utilitiesbunker.com/tools/drill-tap-chart-metric), the next three the
// clearance holes of ISO 273 (engineeringhardware.com/?p=50; coarse above M16 from memory).
type screw struct {
	name                   string
	diameter, pitch        float64
	drill                  float64
	fine, medium, generous float64
}

var screws = []screw{
	{"M1.6", 1.6, 0.35, 1.25, 1.7, 1.8, 2},
	{"M2", 2, 0.4, 1.6, 2.2, 2.4, 2.6},
	{"M2.5", 2.5, 0.45, 2.05, 2.7, 2.9, 3.1},
	{"M3", 3, 0.5, 2.5, 3.2, 3.4, 3.6},
	{"M3.5", 3.5, 0.6, 2.9, 3.7, 3.9, 4.2},
	{"M4", 4, 0.7, 3.3, 4.3, 4.5, 4.8},
	{"M5", 5, 0.8, 4.2, 5.3, 5.5, 5.8},
	{"M6", 6, 1, 5, 6.4, 6.6, 7},
	{"M8", 8, 1.25, 6.8, 8.4, 9, 10},
	{"M10", 10, 1.5, 8.5, 10.5, 11, 12},
	{"M12", 12, 1.75, 10.2, 13, 13.5, 14.5},
	{"M14", 14, 2, 12, 15, 15.5, 16.5},
	{"M16", 16, 2, 14, 17, 17.5, 18.5},
	{"M18", 18, 2.5, 15.5, 19, 20, 21},
	{"M20", 20, 2.5, 17.5, 21, 22, 24},
	{"M22", 22, 2.5, 19.5, 23, 24, 26},
	{"M24", 24, 3, 21, 25, 26, 28},
}

// Suits lists what a round hole of the given diameter in mm is made for among
// ISO metric coarse screws: clearance after ISO 273, the tapping drill after
// ISO 2306, and a thread drawn at its minor diameter (d - 1.0825 P, ISO 68-1) or
// at its nominal size, which may be a close fit too. Sizes within 0.06 mm count.
//
// A unified inch size that is nearer than all of them stands before them: clearance
// after ASME B18.2.8, the tapping drill, or the nominal size.
func Suits(diameter float64) []string {
	seat, bearing := bearingSeat(diameter)
	metric, off := screwsFor(diameter, bearing)
	if len(seat) > 0 { // a seat is exact
		off = 0
	}
	return slices.Concat(seat, inchNearer(diameter, off), metric)
}

// suited is how far from a table's value a hole may be, mm: half the step between
// the finest clearance and a tapping drill of the next screw, M2.5 and M3.
const suited = 0.06

// minorDepth is how much smaller than the screw the minor diameter of its internal
// thread is, over the pitch: 5/4 H with H = sqrt(3)/2 (ISO 68-1).
const minorDepth = 1.0825

// screwsFor lists the screws that a hole suits, without large ones where it is a
// bearing's seat, and says how far off the nearest it is, mm; +Inf where none suits.
func screwsFor(diameter float64, bearing bool) (out []string, nearest float64) {
	nearest = math.Inf(1)
	is := func(d float64) bool {
		off := math.Abs(diameter - d)
		if off > suited {
			return false
		}
		nearest = min(nearest, off)
		return true
	}
	for _, s := range screws {
		if bearing && s.diameter >= largeScrew {
			continue
		}
		switch {
		case is(s.fine):
			out = append(out, s.name+" clearance, fine")
		case is(s.medium):
			out = append(out, s.name+" clearance, medium")
		case is(s.generous):
			out = append(out, s.name+" clearance, coarse")
		}
		switch minor := s.diameter - minorDepth*s.pitch; {
		case is(s.drill):
			out = append(out, s.name+" tapping drill")
		case is(minor):
			out = append(out, s.name+" minor diameter")
		case is(s.diameter):
			out = append(out, s.name+" nominal size")
		}
	}
	return out, nearest
}

// describe says what a hole is and where, with what it suits.
func describe(h feature.Hole) string {
	return withThreads(size(h)+" at "+place(h.Centre), h)
}

func withThreads(text string, h feature.Hole) string {
	if s := Suits(h.Diameter); len(s) > 0 {
		text += ", " + strings.Join(s, " or ")
	}
	return text
}

func suitsText(diameter float64) string {
	if s := Suits(diameter); len(s) > 0 {
		return "it suits " + strings.Join(s, " or ")
	}
	return "it suits no coarse metric and no inch size"
}
