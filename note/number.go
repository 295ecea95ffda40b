package note

import (
	"math"

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

// Interval writes a range as "nominal (low to high)", which breaks between lines
// only before the bounds, all with the decimals that
// give the bounds the count of significant digits; an exactly known value is
// written once.
func Interval(r materials.Range, digits int) string {
	if r.Low == r.High || math.IsNaN(r.Low) || math.IsNaN(r.High) {
		return quantity.Number(r.Nominal, digits)
	}
	d := quantity.Decimals(max(math.Abs(r.Low), math.Abs(r.High), math.Abs(r.Nominal)), digits)
	if quantity.Fixed(r.Low, d) == quantity.Fixed(r.High, d) {
		return quantity.Fixed(r.Nominal, d)
	}
	return quantity.Fixed(r.Nominal, d) + " (" + quantity.Fixed(r.Low, d) + tie + "to" + tie + quantity.Fixed(r.High, d) + ")"
}

// OptionalInterval is Interval of a range that may not have been computed.
func OptionalInterval(r *materials.Range, digits int) string {
	if r == nil {
		return Missing
	}
	return Interval(*r, digits)
}
