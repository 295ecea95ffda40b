package quantity

import (
	"math"
	"strconv"
	"strings"

	"swapworth/internal/textwrap"
)

// Missing stands for what is no number.
const Missing = "-"

// Number writes v rounded for reading to the given count of significant digits,
// without an exponent between 1e-4 and 1e9 and never with fewer digits than the
// whole part has. NaN and infinity are Missing.
func Number(v float64, digits int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return Missing
	}
	if v == 0 {
		return "0"
	}
	a := math.Abs(v)
	if a < 1e-4 || a >= 1e9 {
		return strconv.FormatFloat(v, 'e', digits-1, 64)
	}
	return Fixed(v, Decimals(v, digits))
}

// Short is Number without zeros at the end of the decimals: a drawn dimension of
// 70 mm is 70, not 70.00.
func Short(v float64, digits int) string {
	s := Number(v, digits)
	if strings.Contains(s, ".") && !strings.Contains(s, "e") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// Fixed writes v with a fixed count of decimals; zero has no sign.
func Fixed(v float64, decimals int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return Missing
	}
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return s
}

// Decimals is the count of decimals that shows v with the given significant
// digits, counted after rounding: 9.996 with three digits is 10.0.
func Decimals(v float64, digits int) int {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0
	}
	_, exponent, _ := strings.Cut(strconv.FormatFloat(v, 'e', digits-1, 64), "e")
	power, err := strconv.Atoi(exponent)
	if err != nil {
		return 0
	}
	return max(digits-1-power, 0)
}

// Interval writes a value between bounds as "nominal (low to high)", which breaks
// between lines only before the bounds, all with the decimals that give the bounds
// the count of significant digits; an exactly known value is written once.
func Interval(low, nominal, high float64, digits int) string {
	if low == high || math.IsNaN(low) || math.IsNaN(high) {
		return Number(nominal, digits)
	}
	d := Decimals(max(math.Abs(low), math.Abs(high), math.Abs(nominal)), digits)
	if Fixed(low, d) == Fixed(high, d) {
		return Fixed(nominal, d)
	}
	return Fixed(nominal, d) + " (" + Fixed(low, d) + textwrap.Tie + "to" + textwrap.Tie + Fixed(high, d) + ")"
}
