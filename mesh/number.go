package mesh

import (
	"bytes"
	"math"
	"strconv"
)

// parseFloat32 reads a decimal number rounded to the nearest float32; ok is
// false for what is no finite number. It gives what strconv.ParseFloat gives
// and is faster on the short numbers that fill a text file.
func parseFloat32(word []byte) (x float32, ok bool) {
	if x, ok := shortFloat32(word); ok {
		return x, true
	}
	if bytes.ContainsAny(word, "_xXpP") {
		return 0, false // Go's own ways to write numbers
	}
	wide, err := strconv.ParseFloat(string(word), 32)
	if err != nil || math.IsInf(wide, 0) || math.IsNaN(wide) {
		return 0, false
	}
	return float32(wide), true
}

// powersOfTen are exact in a float64.
var powersOfTen = [...]float64{
	1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11,
	1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
}

// shortFloat32 reads numbers of at most 15 digits with a small exponent: the
// digits and the power of ten are exact in a float64, so their product or
// quotient is rounded once. Rounding that to float32 is right too, unless it
// lies half-way between two float32 numbers: then ok is false, as it is for
// anything else than such a number. (Clinger, PLDI 1990, from memory.)
func shortFloat32(word []byte) (x float32, ok bool) {
	negative := len(word) > 0 && word[0] == '-'
	if negative || len(word) > 0 && word[0] == '+' {
		word = word[1:]
	}
	digits, exponent, word, ok := mantissa(word)
	if !ok {
		return 0, false
	}
	if len(word) > 0 {
		e, ok := shortExponent(word)
		if !ok {
			return 0, false
		}
		exponent += e
	}
	wide := float64(digits)
	switch {
	case exponent < -22 || exponent > 22:
		return 0, false
	case exponent < 0:
		wide /= powersOfTen[-exponent]
	default:
		wide *= powersOfTen[exponent]
	}
	const lost, half = 1<<29 - 1, 1 << 28 // the bits of a float64 that a float32 lacks
	if math.Float64bits(wide)&lost == half || wide != 0 && (wide < 1e-37 || wide > 1e38) {
		return 0, false
	}
	if negative {
		wide = -wide
	}
	return float32(wide), true
}

// mantissa reads digits with at most one point among them; the number is
// digits times ten to the exponent. ok is false without a digit and for more
// than 15 significant ones.
func mantissa(word []byte) (digits uint64, exponent int, rest []byte, ok bool) {
	significant, seen, point := 0, false, false
	for i, c := range word {
		d := c - '0'
		switch {
		case d < 10:
			seen = true
			digits = 10*digits + uint64(d)
			if digits > 0 {
				significant++
			}
			if point {
				exponent--
			}
		case c == '.' && !point:
			point = true
		default:
			return digits, exponent, word[i:], seen && significant <= 15
		}
	}
	return digits, exponent, nil, seen && significant <= 15
}

// shortExponent reads e, an optional sign and one to three digits.
func shortExponent(word []byte) (exponent int, ok bool) {
	if word[0]|0x20 != 'e' {
		return 0, false
	}
	word = word[1:]
	negative := len(word) > 0 && word[0] == '-'
	if negative || len(word) > 0 && word[0] == '+' {
		word = word[1:]
	}
	if len(word) == 0 || len(word) > 3 {
		return 0, false
	}
	for _, c := range word {
		if c < '0' || c > '9' {
			return 0, false
		}
		exponent = 10*exponent + int(c-'0')
	}
	if negative {
		exponent = -exponent
	}
	return exponent, true
}
