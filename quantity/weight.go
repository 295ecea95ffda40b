package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Weight is a mass as read off a scale. Grams is the reading in g; Step is what
// one more in the last digit typed is worth, in g: "65g" has step 1, "64.8g"
// 0.1, "0.14 lb" 4.54. It stands in for the scale's resolution when nobody
// states it.
type Weight struct{ Grams, Step float64 }

// Set reads the text and keeps the old value on error. A weight is above zero.
func (w *Weight) Set(text string) error {
	grams, factor, err := mass.parse(text)
	if err != nil {
		return err
	}
	if grams <= 0 {
		return fmt.Errorf("%q: a weight must be above zero", text)
	}
	*w = Weight{grams, lastDigit(pointed(number.FindString(strings.TrimSpace(text)))) * factor}
	return nil
}

// lastDigit returns the place value of the last digit of a decimal number that
// matches the pattern of parse.
func lastDigit(digits string) float64 {
	mantissa, exponent, _ := strings.Cut(strings.ToLower(digits), "e")
	place := 0
	if _, decimals, ok := strings.Cut(mantissa, "."); ok {
		place = -len(decimals)
	}
	if e, err := strconv.Atoi(exponent); err == nil {
		place += e
	}
	return math.Pow10(place)
}

// UnmarshalText reads what Set reads.
func (w *Weight) UnmarshalText(text []byte) error { return w.Set(string(text)) }

// MarshalText writes what String writes.
func (w Weight) MarshalText() ([]byte, error) { return []byte(w.String()), nil }

// String writes the reading in g with the decimals the step has; Set reads
// Grams back to within Step.
func (w Weight) String() string {
	if w.Grams == 0 {
		return "0"
	}
	decimals := 0
	if w.Step > 0 && w.Step < 1 {
		decimals = int(math.Ceil(-math.Log10(w.Step) - 1e-9))
	}
	return strconv.FormatFloat(w.Grams, 'f', decimals, 64) + "g"
}

// Type names the quantity in help texts.
func (w *Weight) Type() string { return "weight" }
