package fit

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// inchScrew is one size of the unified series, coarse or fine (ASME B1.1), inch. Drill is
// the tapping drill for three quarters of a full thread (docslib.org/doc/4942776, sizes
// after ASME B94.9), the next three the clearance holes of ASME B18.2.8 (the loose ones as in
// Machinery's Handbook, 31st edition, page 1741; close and normal from memory).
type inchScrew struct {
	name                string
	diameter, turns     float64
	drill               float64
	close, normal, wide float64
}

var inchScrews = []inchScrew{
	{"#4-40", 0.112, 40, 0.089, 0.120, 0.1285, 0.144},
	{"#4-48", 0.112, 48, 0.0935, 0.120, 0.1285, 0.144},
	{"#5-40", 0.125, 40, 0.1015, 9. / 64, 5. / 32, 11. / 64},
	{"#5-44", 0.125, 44, 0.104, 9. / 64, 5. / 32, 11. / 64},
	{"#6-32", 0.138, 32, 0.1065, 0.154, 0.1695, 0.185},
	{"#6-40", 0.138, 40, 0.113, 0.154, 0.1695, 0.185},
	{"#8-32", 0.164, 32, 0.136, 0.180, 0.196, 0.213},
	{"#8-36", 0.164, 36, 0.136, 0.180, 0.196, 0.213},
	{"#10-24", 0.190, 24, 0.1495, 0.2055, 0.221, 0.238},
	{"#10-32", 0.190, 32, 0.159, 0.2055, 0.221, 0.238},
	{"1/4-20", 0.25, 20, 0.201, 17. / 64, 9. / 32, 19. / 64},
	{"1/4-28", 0.25, 28, 0.213, 17. / 64, 9. / 32, 19. / 64},
	{"5/16-18", 5. / 16, 18, 0.257, 21. / 64, 11. / 32, 23. / 64},
	{"5/16-24", 5. / 16, 24, 0.272, 21. / 64, 11. / 32, 23. / 64},
	{"3/8-16", 3. / 8, 16, 5. / 16, 25. / 64, 13. / 32, 27. / 64},
	{"3/8-24", 3. / 8, 24, 0.332, 25. / 64, 13. / 32, 27. / 64},
}

const (
	inch = 25.4 // mm
	// nearer is by how much an inch size has to be nearer than the nearest metric one to
	// be named, mm: a mesh's float32 coordinates and chords move a hole by less.
	nearer = 0.01
)

// reading is a use that a hole may be made for, and how far off it the hole is, mm.
type reading struct {
	use string
	off float64
}

// inchReadings lists the unified screws that a hole suits, the nearest first: those
// that share a hole, as coarse and fine do, as one.
func inchReadings(diameter float64) []reading {
	var out []reading
	seen := map[string]bool{}
	add := func(use string, size float64) {
		if off := math.Abs(diameter - size*inch); off <= suited && !seen[use] {
			seen[use] = true
			out = append(out, reading{use, off})
		}
	}
	for _, s := range inchScrews {
		size, _, _ := strings.Cut(s.name, "-")
		add(size+" clearance, close", s.close)
		add(size+" clearance, normal", s.normal)
		add(size+" clearance, loose", s.wide)
		add(s.name+" tapping drill", s.drill)
		add(size+" nominal size", s.diameter)
	}
	slices.SortStableFunc(out, func(a, b reading) int { return cmp.Compare(a.off, b.off) })
	return out
}

// inchNearer returns the inch sizes that a hole is nearer to than to any metric one,
// of which the nearest is so far off, mm.
func inchNearer(diameter, metric float64) []string {
	var out []string
	for _, r := range inchReadings(diameter) {
		if r.off < metric-nearer {
			out = append(out, r.use)
		}
	}
	return out
}

// Drills are the holes for a screw, mm: that for tapping and the medium clearance hole
// (ISO 2306 and ISO 273 medium; ASME B94.9 and ASME B18.2.8 normal).
type Drills struct{ Tapping, Clearance float64 }

// DrillsFor returns the holes for a screw of a diameter and pitch, mm: those of the
// tables where the size is in them. For any other the tapping drill is the diameter
// less the pitch (common practice, ISO 2306 rounds it), and the clearance unknown, 0,
// unless a coarse thread of that diameter has one.
func DrillsFor(diameter, pitch float64) Drills {
	for _, s := range inchScrews {
		if math.Abs(s.diameter*inch-diameter) < samePitch && math.Abs(inch/s.turns-pitch) < samePitch {
			return Drills{s.drill * inch, s.normal * inch}
		}
	}
	out := Drills{Tapping: diameter - pitch}
	for _, s := range screws {
		if math.Abs(s.diameter-diameter) < samePitch {
			out.Clearance = s.medium
			if math.Abs(s.pitch-pitch) < samePitch {
				out.Tapping = s.drill
			}
		}
	}
	return out
}

// samePitch is how near two diameters or pitches are one, mm.
const samePitch = 1e-3
