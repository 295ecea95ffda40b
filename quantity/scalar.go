package quantity

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Length is a length, in mm. Read from um, mm, cm, m, in, ft and thou.
type Length float64

// Set reads the text and keeps the old value on error.
func (q *Length) Set(text string) error { return read(length, q, text) }

// UnmarshalText reads what Set reads.
func (q *Length) UnmarshalText(text []byte) error { return q.Set(string(text)) }

// MarshalText writes what String writes.
func (q Length) MarshalText() ([]byte, error) { return []byte(q.String()), nil }

// String writes the value with its unit; Set reads it back unchanged.
func (q Length) String() string { return length.format(float64(q)) }

// Type names the quantity in help texts.
func (q *Length) Type() string { return "length" }

// Mass is a mass, in g. Read from mg, g, kg, t, lb and oz.
type Mass float64

// Set reads the text and keeps the old value on error.
func (q *Mass) Set(text string) error { return read(mass, q, text) }

// UnmarshalText reads what Set reads.
func (q *Mass) UnmarshalText(text []byte) error { return q.Set(string(text)) }

// MarshalText writes what String writes.
func (q Mass) MarshalText() ([]byte, error) { return []byte(q.String()), nil }

// String writes the value with its unit; Set reads it back unchanged.
func (q Mass) String() string { return mass.format(float64(q)) }

// Type names the quantity in help texts.
func (q *Mass) Type() string { return "mass" }

// Force is a force, in N. Read from N, kN, lbf, ozf and kgf.
type Force float64

// Set reads the text and keeps the old value on error.
func (q *Force) Set(text string) error { return read(force, q, text) }

// UnmarshalText reads what Set reads.
func (q *Force) UnmarshalText(text []byte) error { return q.Set(string(text)) }

// MarshalText writes what String writes.
func (q Force) MarshalText() ([]byte, error) { return []byte(q.String()), nil }

// String writes the value with its unit; Set reads it back unchanged.
func (q Force) String() string { return force.format(float64(q)) }

// Type names the quantity in help texts.
func (q *Force) Type() string { return "force" }

// Stress is a stress, in MPa. Read from Pa, kPa, MPa, GPa, N/mm2, bar, psi, ksi and Msi.
type Stress float64

// Set reads the text and keeps the old value on error.
func (q *Stress) Set(text string) error { return read(stress, q, text) }

// UnmarshalText reads what Set reads.
func (q *Stress) UnmarshalText(text []byte) error { return q.Set(string(text)) }

// MarshalText writes what String writes.
func (q Stress) MarshalText() ([]byte, error) { return []byte(q.String()), nil }

// String writes the value with its unit; Set reads it back unchanged.
func (q Stress) String() string { return stress.format(float64(q)) }

// Type names the quantity in help texts.
func (q *Stress) Type() string { return "stress" }

// Density is a density, in kg/m3. Read from kg/m3, kg/dm3, g/cm3, t/m3 and lb/in3.
type Density float64

// Set reads the text and keeps the old value on error.
func (q *Density) Set(text string) error { return read(density, q, text) }

// UnmarshalText reads what Set reads.
func (q *Density) UnmarshalText(text []byte) error { return q.Set(string(text)) }

// MarshalText writes what String writes.
func (q Density) MarshalText() ([]byte, error) { return []byte(q.String()), nil }

// String writes the value with its unit; Set reads it back unchanged.
func (q Density) String() string { return density.format(float64(q)) }

// Type names the quantity in help texts.
func (q *Density) Type() string { return "density" }

// Inertia is a moment of inertia, in kg mm2. Read from kg mm2, kg cm2, kg m2, g mm2, g cm2 and lb in2.
type Inertia float64

// Set reads the text and keeps the old value on error.
func (q *Inertia) Set(text string) error { return read(inertia, q, text) }

// UnmarshalText reads what Set reads.
func (q *Inertia) UnmarshalText(text []byte) error { return q.Set(string(text)) }

// MarshalText writes what String writes.
func (q Inertia) MarshalText() ([]byte, error) { return []byte(q.String()), nil }

// String writes the value with its unit; Set reads it back unchanged.
func (q Inertia) String() string { return inertia.format(float64(q)) }

// Type names the quantity in help texts.
func (q *Inertia) Type() string { return "inertia" }

// Hours is a duration, in h. Read from h, min and s.
type Hours float64

// Set reads the text and keeps the old value on error.
func (q *Hours) Set(text string) error { return read(hours, q, text) }

// UnmarshalText reads what Set reads.
func (q *Hours) UnmarshalText(text []byte) error { return q.Set(string(text)) }

// MarshalText writes what String writes.
func (q Hours) MarshalText() ([]byte, error) { return []byte(q.String()), nil }

// String writes the value with its unit; Set reads it back unchanged.
func (q Hours) String() string { return hours.format(float64(q)) }

// Type names the quantity in help texts.
func (q *Hours) Type() string { return "time" }

// Frequency is a frequency in Hz. Read from Hz, kHz and 1/s.
type Frequency float64

// Set reads the text and keeps the old value on error.
func (q *Frequency) Set(text string) error { return read(frequency, q, text) }

// UnmarshalText reads what Set reads.
func (q *Frequency) UnmarshalText(text []byte) error { return q.Set(string(text)) }

// MarshalText writes what String writes.
func (q Frequency) MarshalText() ([]byte, error) { return []byte(q.String()), nil }

// String writes the frequency with its unit.
func (q Frequency) String() string { return frequency.format(float64(q)) }

// Type names the kind of value in the help of a flag.
func (q *Frequency) Type() string { return "frequency" }

// Minutes is a duration, in min. Read from min, h and s.
type Minutes float64

// Set reads the text and keeps the old value on error.
func (q *Minutes) Set(text string) error { return read(minutes, q, text) }

// UnmarshalText reads what Set reads.
func (q *Minutes) UnmarshalText(text []byte) error { return q.Set(string(text)) }

// MarshalText writes what String writes.
func (q Minutes) MarshalText() ([]byte, error) { return []byte(q.String()), nil }

// String writes the value with its unit; Set reads it back unchanged.
func (q Minutes) String() string { return minutes.format(float64(q)) }

// Type names the quantity in help texts.
func (q *Minutes) Type() string { return "time" }

// Fraction is a share of a whole: 1 means 100 %. People type percent, with or
// without the sign: "1%" and "1" are both 0.01.
type Fraction float64

// Set reads the text and keeps the old value on error.
func (q *Fraction) Set(text string) error { return read(fraction, q, text) }

// UnmarshalText reads what Set reads.
func (q *Fraction) UnmarshalText(text []byte) error { return q.Set(string(text)) }

// MarshalText writes what String writes.
func (q Fraction) MarshalText() ([]byte, error) { return []byte(q.String()), nil }

// String writes the value in percent; Set reads it back to within rounding.
func (q Fraction) String() string { return fraction.format(float64(q)) }

// Type names the quantity in help texts.
func (q *Fraction) Type() string { return "percent" }

// Scalar is a finite number without a unit, such as a ratio or a sum of money.
type Scalar float64

// Set reads the text and keeps the old value on error.
func (q *Scalar) Set(text string) error { return read(scalar, q, text) }

// UnmarshalText reads what Set reads.
func (q *Scalar) UnmarshalText(text []byte) error { return q.Set(string(text)) }

// MarshalText writes what String writes.
func (q Scalar) MarshalText() ([]byte, error) { return []byte(q.String()), nil }

// String writes the number; Set reads it back unchanged.
func (q Scalar) String() string { return scalar.format(float64(q)) }

// Type names the quantity in help texts.
func (q *Scalar) Type() string { return "number" }

// Count is a whole number, such as one of parts.
type Count int

// mostCounted is more than anyone counts of one part.
const mostCounted = 1_000_000

// UnmarshalText reads a whole number and keeps the old value on error.
func (q *Count) UnmarshalText(text []byte) error {
	n, err := strconv.Atoi(strings.TrimSpace(string(text)))
	if v, e := strconv.ParseFloat(strings.TrimSpace(string(text)), 64); e == nil && math.Abs(v) > mostCounted || errors.Is(err, strconv.ErrRange) {
		return fmt.Errorf("%q: the number is too large: expected a whole number of at most %d", text, mostCounted)
	}
	if err != nil {
		return fmt.Errorf("%q: expected a whole number such as 2", text)
	}
	*q = Count(n)
	return nil
}

// MarshalText writes what UnmarshalText reads.
func (q Count) MarshalText() ([]byte, error) { return strconv.AppendInt(nil, int64(q), 10), nil }
