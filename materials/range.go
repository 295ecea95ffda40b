package materials

import "fmt"

// Range is a quantity that is known within bounds: Low <= Nominal <= High.
// The unit is that of the quantity it stands for. An exactly known value has
// all three equal.
type Range struct {
	Low     float64 `json:"low"`
	Nominal float64 `json:"nominal"`
	High    float64 `json:"high"`
}

// Exactly returns the range of a value that is taken as known.
func Exactly(v float64) Range { return Range{v, v, v} }

// PlusMinus returns the range nominal +- half.
func PlusMinus(nominal, half float64) Range {
	return Range{nominal - half, nominal, nominal + half}
}

// Scale returns the range of k times the quantity; a negative k swaps the
// bounds.
func (r Range) Scale(k float64) Range {
	if k < 0 {
		return Range{k * r.High, k * r.Nominal, k * r.Low}
	}
	return Range{k * r.Low, k * r.Nominal, k * r.High}
}

// Contains reports whether Low <= v <= High.
func (r Range) Contains(v float64) bool { return r.Low <= v && v <= r.High }

// String writes "low .. nominal .. high".
func (r Range) String() string {
	return fmt.Sprintf("%g .. %g .. %g", r.Low, r.Nominal, r.High)
}
