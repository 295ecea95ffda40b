package note

import (
	"swapworth/materials"
	"swapworth/quantity"
)

// Missing stands where nothing was computed.
const Missing = quantity.Missing

// Optional writes a value that may not have been computed.
func Optional(v *float64, digits int) string {
	if v == nil {
		return Missing
	}
	return quantity.Number(*v, digits)
}

// Interval writes a range as "nominal (low to high)".
func Interval(r materials.Range, digits int) string {
	return quantity.Interval(r.Low, r.Nominal, r.High, digits)
}

// OptionalInterval is Interval of a range that may not have been computed.
func OptionalInterval(r *materials.Range, digits int) string {
	if r == nil {
		return Missing
	}
	return Interval(*r, digits)
}
