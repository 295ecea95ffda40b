package section

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"swapworth/internal/property"
)

func shapeOf(t checker, text string) Shape {
	t.Helper()
	s, err := ParseShape(text)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// EN 10365, from memory: area in cm2, strong and weak second moment in cm4.
func TestRolledSectionsHaveTheirTabulatedProperties(t *testing.T) {
	for _, c := range []struct {
		text           string
		area, iy, iz   float64
		sameDesignated string
	}{
		{"I 200x100x5.6x8.5 r12", 28.5, 1943, 142, "IPE 200"},
		{"I 100x55x4.1x5.7 r7", 10.3, 171, 15.9, "IPE 100"},
		{"I 96x100x5x8 r12", 21.2, 349, 134, "HEA 100"},
	} {
		s := shapeOf(t, c.text).Properties()
		near(t, c.text+" area", s.Area/100, c.area, 0.005)
		near(t, c.text+" Iy", s.Ixx/1e4, c.iy, 0.005)
		near(t, c.text+" Iz", s.Iyy/1e4, c.iz, 0.005)
		if d := shapeOf(t, c.sameDesignated); d != shapeOf(t, c.text) {
			t.Errorf("%s is %v", c.sameDesignated, d)
		}
	}
}

// EN 10365, from memory: areas in cm2.
func TestDesignatedSectionsHaveTheirTabulatedAreas(t *testing.T) {
	table := map[string]float64{
		"ipe80": 7.64, "ipe100": 10.3, "ipe120": 13.2, "ipe140": 16.4, "ipe160": 20.1, "ipe180": 23.9,
		"ipe200": 28.5, "ipe220": 33.4, "ipe240": 39.1, "ipe270": 45.9, "ipe300": 53.8,
		"hea100": 21.2, "hea120": 25.3, "hea140": 31.4, "hea160": 38.8, "hea180": 45.3, "hea200": 53.8,
		"heb100": 26.0, "heb120": 34.0, "heb140": 43.0, "heb160": 54.3, "heb180": 65.3, "heb200": 78.1,
	}
	for name := range rolledI {
		near(t, name, shapeOf(t, name).Properties().Area/100, table[name], 0.005)
	}
}

// Closed forms as any table of sections gives them, written out by hand here.
func TestSimpleSectionsMatchTheirHandbookFormulas(t *testing.T) {
	pi := math.Pi
	for _, c := range []struct {
		text           string
		area, ixx, iyy float64
	}{
		{"rect 40x4mm", 160, 40 * 64 / 12., 4 * 64000 / 12.},
		{"square 10", 100, 1e4 / 12, 1e4 / 12},
		{"round 12mm", 36 * pi, pi * math.Pow(12, 4) / 64, pi * math.Pow(12, 4) / 64},
		{"tube 20x2mm", pi * 36, pi / 64 * (160000 - 65536), pi / 64 * (160000 - 65536)},
		{"recttube 40x20x2mm", 40*20 - 36*16, (40*8000 - 36*4096) / 12., (20*64000 - 16*46656) / 12.},
		// A = sqrt(3)/2 s^2, I = 5 sqrt(3)/144 s^4 of a hexagon s across flats
		{"hexagon 17", math.Sqrt(3) / 2 * 289, 5 * math.Sqrt(3) / 144 * math.Pow(17, 4), 5 * math.Sqrt(3) / 144 * math.Pow(17, 4)},
		{"channel 100x50x6x8", 100*50 - 84*44, (50*1e6 - 44*math.Pow(84, 3)) / 12, 0},
		{"I 100x50x6x8", 100*50 - 84*44, (50*1e6 - 44*math.Pow(84, 3)) / 12, (16*125000 + 84*216) / 12.},
	} {
		s := shapeOf(t, c.text).Properties()
		near(t, c.text+" area", s.Area, c.area, 1e-12)
		near(t, c.text+" ixx", s.Ixx, c.ixx, 1e-12)
		if c.iyy != 0 {
			near(t, c.text+" iyy", s.Iyy, c.iyy, 1e-12)
		}
	}
}

// An equal angle a x t: the centroid lies e = (a^2 + a t - t^2)/(2(2a - t)) from
// the back, and the axis of the larger principal moment at 45 degrees.
func TestAnEqualAngleTurnsItsPrincipalAxesByHalfARightAngle(t *testing.T) {
	s := shapeOf(t, "angle 40x4").Properties()
	e := (1600. + 160 - 16) / (2 * 76)
	near(t, "distance of the centroid", s.Centroid.X, e, 1e-12)
	near(t, "distance of the centroid", s.Centroid.Y, e, 1e-12)
	near(t, "angle", s.AngleDeg, 45, 1e-9)
}

// drawable draws any shape that ParseShape would accept.
func drawable(t *rapid.T) Shape {
	f := rapid.SampledFrom(families).Draw(t, "family")
	var sizes []float64
	for _, l := range f.letters { // sides far larger than walls
		low, high := 10.0, 100.0
		if strings.Contains(l, "t") && len(f.letters) > 2 || f == &tube && len(sizes) == 1 {
			low, high = 0.5, 4
		}
		sizes = append(sizes, rapid.Float64Range(low, high).Draw(t, l))
	}
	r := 0.0
	if f.rounded && rapid.Bool().Draw(t, "rounded") {
		r = rapid.Float64Range(0.1, 0.9).Draw(t, "r")
	}
	s, err := newShape(f, sizes, r)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestTheClosedFormAgreesWithTheOutline(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		shape := drawable(t)
		a, b := shape.Properties(), sectionOf(t, shape.Region())
		tol := 1e-11 // straight sides
		if shape.family == &round || shape.family == &tube || shape.radius > 0 {
			tol = 1e-3 // chords for arcs
		}
		near(t, "area", b.Area, a.Area, tol)
		near(t, "perimeter", b.Perimeter, a.Perimeter, tol)
		near(t, "ixx", b.Ixx, a.Ixx, tol)
		near(t, "iyy", b.Iyy, a.Iyy, tol)
		near(t, "ixy", (b.Ixy-a.Ixy)/a.I1, 0, tol)
		near(t, "centroid", b.Centroid.X/a.High.X, a.Centroid.X/a.High.X, tol)
		near(t, "centroid", b.Centroid.Y/a.High.Y, a.Centroid.Y/a.High.Y, tol)
		near(t, "wxx", b.Wxx[1], a.Wxx[1], tol)
		near(t, "wyy", b.Wyy[0], a.Wyy[0], tol)
		if b.Holes != a.Holes || b.Outlines != a.Outlines {
			t.Errorf("%d outlines with %d holes, want %d with %d", b.Outlines, b.Holes, a.Outlines, a.Holes)
		}
	})
}

func TestAShapeReadsBackAsItIsWritten(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		s := drawable(t)
		back := shapeOf(t, s.String())
		if back != s {
			t.Errorf("%q came back as %q", s, back)
		}
	})
}

func TestPeopleWriteShapesInManyWays(t *testing.T) {
	for text, want := range map[string]string{
		"flat 40x4":                              "rect 40x4mm",
		"Flat bar 40 x 4 mm":                     "rect 40x4mm",
		"RECT 40mm×4mm":                          "rect 40x4mm",
		"rect 4cm x 4mm":                         "rect 40x4mm",
		"rect 1x1/8in":                           "rect 25.4x3.175mm",
		"rect 1in x 0.5":                         "rect 25.4x12.7mm",
		"plate 1 1/2 x 1/4 in":                   "rect 38.1x6.35mm",
		"square 20":                              "square 20mm",
		"round Ø12":                              "round 12mm",
		"round d12mm":                            "round 12mm",
		"rod 0.5in":                              "round 12.7mm",
		"tube 20*2":                              "tube 20x2mm",
		"rect tube 40x20x2":                      "recttube 40x20x2mm",
		"rect-tube 40x20x2 R3":                   "recttube 40x20x2mm r3mm",
		"square tube 20x2":                       "recttube 20x20x2mm",
		"L 40x4":                                 "angle 40x40x4mm",
		"L40x30x4 r=5":                           "angle 40x30x4mm r5mm",
		"tee 50x50x6":                            "tee 50x50x6x6mm",
		"U 100x50x6x8.5 radius 8":                "channel 100x50x6x8.5mm r8mm",
		"i 200x100x5,6x8,5 r12":                  "I 200x100x5.6x8.5mm r12mm",
		"I-beam 200x100x5.6x8.5mm r1cm":          "I 200x100x5.6x8.5mm r10mm",
		"ipe200":                                 "I 200x100x5.6x8.5mm r12mm",
		"HEA 100":                                "I 96x100x5x8mm r12mm",
		"hex 17":                                 "hexagon 17mm",
		"rect 4e1x4":                             "rect 40x4mm",
		"tube d20 t2":                            "tube 20x2mm",
		"tube d20,5 t2":                          "tube 20.5x2mm",
		"tube d20, t2":                           "tube 20x2mm",
		"tube d20x2":                             "tube 20x2mm",
		"I h200 b100 tw5,6 tf8,5 r12":            "I 200x100x5.6x8.5mm r12mm",
		"I h200,b100,tw5.6,tf8.5":                "I 200x100x5.6x8.5mm",
		"rect 40,5 x 4,25 mm":                    "rect 40.5x4.25mm",
		"rect 40mmx4mm":                          "rect 40x4mm",
		"rect w = 1 1/2in h = 1/8in":             "rect 38.1x3.175mm",
		"rect w40mmh4mm":                         "rect 40x4mm",
		"round ⌀ 1/2\"":                          "round 12.7mm",
		"Tube d = 1in, t = 0.125in":              "tube 25.4x3.175mm",
		"rect w40 h4 mm":                         "rect 40x4mm",
		"I h200 b100 tw5.6 tf8.5 r12":            "I 200x100x5.6x8.5mm r12mm",
		"I (h 200, b 100, tw 5.6, tf 8.5, r 12)": "I 200x100x5.6x8.5mm r12mm",
		"I 200x100x5.6x8.5x12":                   "I 200x100x5.6x8.5mm r12mm",
		"L 40x40x4x6":                            "angle 40x40x4mm r6mm",
		"L h=40 b=30 t=4":                        "angle 40x30x4mm",
		"U h100 b50 s6 t8.5":                     "channel 100x50x6x8.5mm",
		"T h50 b50 t6":                           "tee 50x50x6x6mm",
	} {
		if got := shapeOf(t, text).String(); got != want {
			t.Errorf("%q is read as %q, want %q", text, got, want)
		}
	}
}

func TestAShapeThatCannotBeIsRefusedInOneLine(t *testing.T) {
	for text, says := range map[string]string{
		"":                         "expected a name",
		"40x4":                     "expected a name",
		"blob 40x4":                "not known",
		"rect 40":                  "WIDTHxHEIGHT",
		"rect 40x4x2":              "does not take 3 sizes",
		"rect 40x-4":               "below zero",
		"rect -40x4":               "below zero",
		"rect":                     "does not take 0 sizes; write rect WIDTHxHEIGHT",
		"rect 40x0":                "not above zero",
		"rect 40x4N":               `"N" is not understood`,
		"rect 40xx4":               `"x4" is not understood`,
		"rect 40x4 r2":             "no radius",
		"tube 20x12":               "no room",
		"recttube 40x20x10":        "no room",
		"I 200x100x5.6x8.5 r200":   "does not fit",
		"IPE 205":                  "not known",
		"tube d20 d20":             "given twice",
		"tube d20 h2":              `has no size "h"`,
		"blob h2 b3":               "not known",
		"I h200 b100":              "does not take 2 sizes",
		"rect 1e999x4":             "too large",
		"rect 40x1e9":              "too large",
		"round 1e-9":               "too small",
		"round 0.00005":            "not between",
		"rect 1/0x4":               `"1/0" is no size`,
		"I h100 b50 tfoo s2":       `"tfoo s2" is not understood`,
		"rect w40 h4 or 5":         `"or 5" is not understood`,
		"rect 40x4 please":         `"please" is not understood`,
		"rect w40 4":               "without a letter",
		"rect 40,4":                "does not take 1 size",
		"angle 40,40,4":            "expected an x",
		"rect 40 4":                "expected an x",
		"rect 40x":                 "a size is missing at the end",
		"tube d20 t2,":             "a size is missing at the end",
		"rect 1,000x40":            "thousands",
		"rect (40x4":               "a bracket is open",
		"rect 40x4)":               `")" is not understood`,
		"rect 40x4 r":              `"r" is not understood`,
		"tube 20x2x1":              "does not take 3 sizes",
		"I 200x100x5.6x8.5 r12 b4": "without a letter",
		"round 12 %":               `"%" is not understood`,
	} {
		_, err := ParseShape(text)
		if err == nil || !strings.Contains(err.Error(), says) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: %v, want one line with %q", text, err, says)
		}
	}
}

// What is read is the whole text: printed and read again it is the same, and no
// piece of it can go without the answer changing.
func FuzzParseShape(f *testing.F) {
	for _, s := range []string{"rect 40x4mm", "I 200x100x5,6x8,5 r12", "tube ⌀1 1/2 in x 2", "x", "r", "1/", "rect 1e", "IPE 200",
		"tube d20,5 t2", "I h200 b100 tw5,6 tf8,5 r12", "I h100 b50 tfoo s2", "rect w40 h4 or 5", "L h=40 b=30 t=4",
		"I (h 200, b 100, tw 5.6, tf 8.5, r 12)", "rect w40mmh4mm", "recttube 40x20x2 r4"} {
		f.Add(s)
	}
	piece := regexp.MustCompile(`[0-9]+|[a-zA-Z]+|[^0-9a-zA-Z\s]`)
	f.Fuzz(func(t *testing.T, text string) {
		s, err := ParseShape(text)
		if err != nil || len(text) > 100 {
			return
		}
		if a := s.Properties(); !(a.Area > 0 && a.I2 > 0) {
			t.Errorf("%q has the area %g and the second moment %g", text, a.Area, a.I2)
		}
		if back, err := ParseShape(s.String()); err != nil || back != s {
			t.Errorf("%q is read as %q, which is read as %q: %v", text, s, back, err)
		}
		for _, junk := range []string{" zz", " 7", "!", " x", " mm mm"} {
			if more, err := ParseShape(text + junk); err == nil && more == s {
				t.Errorf("%q is read as if %q were not there", text+junk, junk)
			}
		}
		if strings.Count(text, "0")+len(regexp.MustCompile(`[0-9]{6}`).FindAllString(text, 1)) > 0 {
			return // zeros at the end and digits beyond those kept may go
		}
		first := strings.IndexAny(text, "0123456789")
		for _, at := range piece.FindAllStringIndex(text, -1) {
			gone := text[at[0]:at[1]]
			if at[0] < first || isUnit(gone) || strings.ContainsAny(gone, `.,;=:-_"″()`) {
				continue // the name, a unit that is the usual one, what only joins
			}
			if sizeLetters[strings.ToLower(gone)] && strings.ContainsAny(text, "xX×*") {
				continue // the order tells as much
			}
			if less, err := ParseShape(text[:at[0]] + text[at[1]:]); err == nil && less == s {
				t.Errorf("%q is read as if %q were not there", text, gone)
			}
		}
	})
}

// Found by fuzzing: reading took a time that grew with the square of the length.
func TestATextOfAMegabyteIsRefusedAtOnce(t *testing.T) {
	if _, err := ParseShape("C0" + strings.Repeat("p", 1<<20)); err == nil || !strings.Contains(err.Error(), "at most 300 characters") || len(err.Error()) > 200 {
		t.Errorf("error %.300v", err)
	}
}
