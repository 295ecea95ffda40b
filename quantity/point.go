package quantity

import (
	"fmt"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// Point is a place in model coordinates, in mm, typed as "x,y,z". Each
// coordinate may carry a unit; a unit on the last one alone counts for all
// three, so "1,2,3in" is in inches.
type Point [3]Length

// Vec returns the place as a vector, in mm.
func (p Point) Vec() r3.Vec { return r3.Vec{X: float64(p[0]), Y: float64(p[1]), Z: float64(p[2])} }

// Set reads the text and keeps the old value on error.
func (p *Point) Set(text string) error {
	parts := strings.Split(text, ",")
	if len(parts) != 3 {
		return expectedPoint(text)
	}
	last := strings.TrimSpace(parts[2])
	shared := strings.TrimSpace(last[len(number.FindString(last)):])
	if !bare(parts[0]) || !bare(parts[1]) {
		shared = ""
	}
	var read Point
	for i, part := range parts {
		if i < 2 {
			part += shared
		}
		v, _, err := length.parse(part)
		if err != nil {
			return fmt.Errorf("%w (%v)", expectedPoint(text), err)
		}
		read[i] = Length(v)
	}
	*p = read
	return nil
}

// bare reports whether a coordinate was typed without a unit.
func bare(part string) bool {
	part = strings.TrimSpace(part)
	return number.FindString(part) == part
}

func expectedPoint(text string) error {
	return fmt.Errorf("%q: expected a point such as 10,20,0 (x,y,z in mm)", text)
}

// UnmarshalText reads what Set reads.
func (p *Point) UnmarshalText(text []byte) error { return p.Set(string(text)) }

// MarshalText writes what String writes.
func (p Point) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

// String writes "x,y,z" in mm.
func (p Point) String() string { return fmt.Sprintf("%g,%g,%g", p[0], p[1], p[2]) }

// Type names the quantity in help texts.
func (p *Point) Type() string { return "x,y,z" }
