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

// String writes the reading with the decimals that its step has, in g or else in the
// unit of which the step is a power of ten, so that Set reads the same weight back.
func (w Weight) String() string {
	if w.Grams == 0 {
		return "0"
	}
	for _, u := range mass.units {
		if decimals, ok := decimalsOf(w.Step / u.toBase); ok {
			return strconv.FormatFloat(w.Grams/u.toBase, 'f', decimals, 64) + u.symbol
		}
	}
	return mass.format(w.Grams)
}

// decimalsOf returns how many decimals a step of 1, 0.1, 0.01 and so on has.
func decimalsOf(step float64) (decimals int, ok bool) {
	power := -math.Log10(step)
	decimals = int(math.Round(power))
	return decimals, decimals >= 0 && math.Abs(power-float64(decimals)) < 1e-9
}

// Type names the quantity in help texts.
func (w *Weight) Type() string { return "weight" }
