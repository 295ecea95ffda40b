package note

import (
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/materials"
	"swapworth/quantity"
)

// missing stands where nothing was computed.
const missing = quantity.Missing

// optional writes a value that may not have been computed.
func optional(v *float64, digits int) string {
	if v == nil {
		return missing
	}
	return quantity.Number(*v, digits)
}

// interval writes a range as "nominal (low to high)".
func interval(r materials.Range, digits int) string {
	return quantity.Interval(r.Low, r.Nominal, r.High, digits)
}

// optionalInterval is Interval of a range that may not have been computed.
func optionalInterval(r *materials.Range, digits int) string {
	if r == nil {
		return missing
	}
	return interval(*r, digits)
}

// measure is a row of a table in the units of its note: its label, and what its values
// are multiplied by. A row that is made by one shows its values as exactly in inches as
// in millimetres; other rows are converted from their rounded text.
type measure struct {
	label  string
	factor float64
}

// inUnits returns the measure for a label with a metric unit and the values of its row.
func inUnits(u quantity.System, label string, values ...*float64) measure {
	size := 0.0
	for _, v := range values {
		if v != nil {
			size = max(size, math.Abs(*v))
		}
	}
	_, factor := u.Unit(quantity.UnitOf(label), size)
	return measure{u.Labelled(label, size), factor}
}

// of returns a value in the unit of the measure.
func (m measure) of(v *float64) *float64 {
	if v == nil {
		return nil
	}
	in := *v * m.factor
	return &in
}

// span returns a range in the unit of the measure.
func (m measure) span(r materials.Range) materials.Range {
	if m.factor == 1 {
		return r
	}
	return r.Scale(m.factor)
}

func (m measure) spanOf(r *materials.Range) *materials.Range {
	if r == nil {
		return nil
	}
	in := m.span(*r)
	return &in
}

// middle is the nominal value of a range, nil where there is none.
func middle(r *materials.Range) *float64 {
	if r == nil {
		return nil
	}
	return &r.Nominal
}

func coordinates(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

// vector writes three lengths in mm without the digits and zeros that say
// nothing: a file does not tell a picometre.
func vector(v [3]float64, between string) string {
	var text [3]string
	for i, x := range v {
		if math.Abs(x) < 1e-9 {
			x = 0
		}
		text[i] = quantity.Number(x, 6)
		if strings.Contains(text[i], ".") && !strings.Contains(text[i], "e") {
			text[i] = strings.TrimRight(strings.TrimRight(text[i], "0"), ".")
		}
	}
	return strings.Join(text[:], between)
}
