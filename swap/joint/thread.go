package joint

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"swapworth/swap/fit"
)

// Thread is a screw thread of 60 degrees: ISO metric (ISO 68-1) or unified inch
// (ASME B1.1), which share their basic profile.
type Thread struct {
	Diameter float64 // nominal, mm
	Pitch    float64 // mm
	inch     bool
}

// ParseThread reads "M5", which has the coarse pitch of ISO 261, "M6x0.75", or an
// inch thread with its turns an inch, "1/4-20" or "#10-24".
func ParseThread(text string) (Thread, error) {
	fail := fmt.Errorf("thread %q: expected a thread such as M5, M6x0.75 or 1/4-20", text)
	if size, turns, ok := strings.Cut(strings.TrimSpace(text), "-"); ok && !strings.HasPrefix(strings.ToUpper(size), "M") {
		return parseInch(size, turns, fail)
	}
	size, ok := strings.CutPrefix(strings.ToUpper(strings.TrimSpace(text)), "M")
	if !ok {
		return Thread{}, fail
	}
	diameter, pitch, fine := strings.Cut(strings.ReplaceAll(size, "×", "X"), "X")
	var t Thread
	var err error
	if t.Diameter, err = strconv.ParseFloat(strings.TrimSpace(diameter), 64); err != nil {
		return Thread{}, fail
	}
	if !fine {
		if t.Pitch, ok = fit.CoarsePitch(t.Diameter); !ok {
			return Thread{}, fmt.Errorf("thread %q: no such size in the coarse series: state the pitch, as in M6x0.75", text)
		}
		return t, nil
	}
	if t.Pitch, err = strconv.ParseFloat(strings.TrimSpace(pitch), 64); err != nil {
		return Thread{}, fail
	}
	if !(t.Diameter > 0 && t.Diameter <= 300 && t.Pitch > 0 && t.Pitch <= t.Diameter/2) {
		return Thread{}, fail
	}
	return t, nil
}

const inch = 25.4 // mm

// parseInch reads the size of an inch thread, a fraction or a number size (0.060
// in and 0.013 in for each number, ASME B1.1), and its turns an inch.
func parseInch(size, turns string, fail error) (Thread, error) {
	var diameter float64
	if number, ok := strings.CutPrefix(size, "#"); ok {
		n, err := strconv.Atoi(number)
		if err != nil || n < 0 || n > 12 {
			return Thread{}, fail
		}
		diameter = 0.060 + 0.013*float64(n)
	} else {
		above, below, fraction := strings.Cut(size, "/")
		a, err := strconv.ParseFloat(above, 64)
		b := 1.0
		if err == nil && fraction {
			b, err = strconv.ParseFloat(below, 64)
		}
		if err != nil || !(a > 0 && b > 0) {
			return Thread{}, fail
		}
		diameter = a / b
	}
	n, err := strconv.ParseFloat(strings.TrimSpace(turns), 64)
	t := Thread{Diameter: diameter * inch, Pitch: inch / n, inch: true}
	if err != nil || !(t.Diameter > 0 && t.Diameter <= 300 && t.Pitch > 0 && t.Pitch <= t.Diameter/2) {
		return Thread{}, fail
	}
	return t, nil
}

// inchName writes "1/4-20" or "#10-24".
func (t Thread) inchName() string {
	turns, d := math.Round(inch/t.Pitch), t.Diameter/inch
	if n := (d - 0.060) / 0.013; d < 0.25-1e-6 && math.Abs(n-math.Round(n)) < 1e-6 {
		return fmt.Sprintf("#%.0f-%g", n, turns)
	}
	for below := 1.0; below <= 64; below *= 2 {
		if above := d * below; math.Abs(above-math.Round(above)) < 1e-6 {
			if below == 1 {
				return fmt.Sprintf("%.0f-%g", above, turns)
			}
			return fmt.Sprintf("%.0f/%.0f-%g", above, below, turns)
		}
	}
	return fmt.Sprintf("%.4g-%g", d, turns)
}

// UnmarshalText reads what ParseThread reads.
func (t *Thread) UnmarshalText(text []byte) error {
	read, err := ParseThread(string(text))
	if err == nil {
		*t = read
	}
	return err
}

// MarshalText writes what String writes.
func (t Thread) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

// String writes "M5" for a coarse thread, "M6x0.75" for any other metric one and
// "1/4-20" for one in inches.
func (t Thread) String() string {
	if t.inch {
		return t.inchName()
	}
	if p, ok := fit.CoarsePitch(t.Diameter); ok && p == t.Pitch {
		return fmt.Sprintf("M%g", t.Diameter)
	}
	return fmt.Sprintf("M%gx%g", t.Diameter, t.Pitch)
}

// The basic diameters, mm, with H = sqrt(3)/2 P (ISO 724).

// pitchDiameter returns d2 = d - 3/4 H.
func (t Thread) pitchDiameter() float64 { return t.Diameter - 0.75*t.height() }

// minorDiameter returns D1 = d - 5/4 H, that of the internal thread.
func (t Thread) minorDiameter() float64 { return t.Diameter - 1.25*t.height() }

// rootDiameter returns d3 = d - 17/12 H, that of the rounded root of the bolt.
func (t Thread) rootDiameter() float64 { return t.Diameter - 17./12*t.height() }

func (t Thread) height() float64 { return math.Sqrt(3) / 2 * t.Pitch }

// stressArea returns the area, mm2, that a bolt in tension breaks as if it had:
// pi/4 ((d2 + d3)/2)^2 (ISO 898-1); of an inch thread pi/4 (d - 0.9743 P)^2 (ASME
// B1.1).
func (t Thread) stressArea() float64 {
	if t.inch {
		d := t.Diameter - 0.9743*t.Pitch
		return math.Pi / 4 * d * d
	}
	mean := (t.pitchDiameter() + t.rootDiameter()) / 2
	return math.Pi / 4 * mean * mean
}

// The limits of the usual tolerances, 6g on the bolt and 6H in the hole, by the
// formulas of ISO 965-1 (from memory), mm. Those of the inch classes 2A and 2B
// are about the same.

// leastMajor is the smallest major diameter of the bolt.
func (t Thread) leastMajor() float64 {
	return t.Diameter - t.allowance() - (180*math.Pow(t.Pitch, 2./3)-3.15/math.Sqrt(t.Pitch))/1000
}

// leastPitch is the smallest pitch diameter of the bolt.
func (t Thread) leastPitch() float64 {
	return t.pitchDiameter() - t.allowance() - t.pitchTolerance()
}

// mostPitch is the largest pitch diameter of the hole.
func (t Thread) mostPitch() float64 { return t.pitchDiameter() + 1.32*t.pitchTolerance() }

// mostMinor is the largest minor diameter of the hole.
func (t Thread) mostMinor() float64 {
	tolerance := 230 * math.Pow(t.Pitch, 0.7)
	if t.Pitch < 1 {
		tolerance = 433*t.Pitch - 190*math.Pow(t.Pitch, 1.22)
	}
	return t.minorDiameter() + tolerance/1000
}

// allowance is the g position of the bolt below its nominal size.
func (t Thread) allowance() float64 { return (15 + 11*t.Pitch) / 1000 }

func (t Thread) pitchTolerance() float64 {
	return 90 * math.Pow(t.Pitch, 0.4) * math.Pow(t.Diameter, 0.1) / 1000
}

// strippingSource is where the areas come from on which threads shear off.
const strippingSource = "FED-STD-H28/2B"

// strippingAreas returns the areas, mm2, over which the internal and the
// external thread shear off along an engagement L with both at their worst
// tolerance limits:
//
//	internal = pi L/P d  (P/2 + (d - D2)/sqrt 3)
//	external = pi L/P D1 (P/2 + (d2 - D1)/sqrt 3)
//
// (FED-STD-H28/2B, as in Machinery's Handbook, 24th edition, formulas for length of
// engagement.)
func (t Thread) strippingAreas(engagement float64) (internal, external float64) {
	turns := engagement / t.Pitch
	d, d1 := t.leastMajor(), t.mostMinor()
	internal = math.Pi * turns * d * (t.Pitch/2 + (d-t.mostPitch())/math.Sqrt(3))
	external = math.Pi * turns * d1 * (t.Pitch/2 + (t.leastPitch()-d1)/math.Sqrt(3))
	return max(0, internal), max(0, external)
}

// Class is a strength class of bolts: nominal tensile and proof stress, MPa.
type Class struct {
	Name           string
	Tensile, Proof float64
}

// ductile are the classes whose shear strength is 0.6 of the tensile strength; it
// is 0.5 for the others (EN 1993-1-8, table 3.4; for 12.9 and inch grades, which
// are not in it, and for stainless bolts, EN 1993-1-4 through the thread, from
// memory).
var ductile = map[string]bool{"4.6": true, "5.6": true, "8.8": true}

// shearStrength returns the force in shear, N, that a bolt takes through its
// thread: 0.6 or 0.5 of the tensile strength on the stress area (EN 1993-1-8,
// table 3.4, without the partial factor).
func (c Class) shearStrength(t Thread) float64 {
	share := 0.5
	if ductile[c.Name] {
		share = 0.6
	}
	return share * c.Tensile * t.stressArea()
}

// classes are those of ISO 898-1 (proof stress S_p; of 8.8 that up to M16) and
// of ISO 3506-1 for stainless bolts, where the 0.2 % proof stress stands in, and
// of SAE J429 for inch bolts. From memory.
var classes = []Class{
	{"4.6", 400, 225}, {"4.8", 400, 310}, {"5.6", 500, 280}, {"5.8", 500, 380}, {"6.8", 600, 440},
	{"8.8", 800, 580}, {"10.9", 1000, 830}, {"12.9", 1200, 970},
	{"A2-70", 700, 450}, {"A4-70", 700, 450}, {"A4-80", 800, 600},
	{"grade 2", 510, 379}, {"grade 5", 827, 586}, {"grade 8", 1034, 827},
}

// ParseClass reads the class marked on a bolt's head, such as "8.8" or "A2-70".
func ParseClass(text string) (Class, error) {
	var names []string
	for _, c := range classes {
		if strings.EqualFold(strings.TrimSpace(text), c.Name) {
			return c, nil
		}
		names = append(names, c.Name)
	}
	return Class{}, fmt.Errorf("bolt class %q: expected one of %s", text, strings.Join(names, ", "))
}

// UnmarshalText reads what ParseClass reads.
func (c *Class) UnmarshalText(text []byte) error {
	read, err := ParseClass(string(text))
	if err == nil {
		*c = read
	}
	return err
}

// MarshalText writes the name that ParseClass reads.
func (c Class) MarshalText() ([]byte, error) { return []byte(c.Name), nil }

// proofLoad returns the tension, N, that a bolt takes without a permanent set
// (ISO 898-1: A_s S_p).
func (c Class) proofLoad(t Thread) float64 { return t.stressArea() * c.Proof }

// breakingLoad returns the tension, N, at which a bolt breaks (ISO 898-1).
func (c Class) breakingLoad(t Thread) float64 { return t.stressArea() * c.Tensile }

// preload returns the tension, N, to which a bolt that will be opened again is
// tightened: three quarters of the proof load (Shigley, section 8-9).
func (c Class) preload(t Thread) float64 { return 0.75 * c.proofLoad(t) }

// torque returns what gives a tension F on a dry bolt, N m: 0.2 F d (Shigley, section 8-8;
// suppliers' tables for dry parts, mwcomponents.com). Friction spreads the tension by about
// +-30 %.
func torque(t Thread, tension float64) float64 { return 0.2 * tension * t.Diameter / 1000 }
