package mesh

import (
	"fmt"
	"strconv"
	"strings"
)

// Unit is the length that one unit of a file's coordinates stands for. STL
// does not say; the zero value is the millimetre.
type Unit int

// The units that a file's coordinates may be in.
const (
	Millimetre Unit = iota
	Centimetre
	Metre
	Inch
)

// units lists the units in the order of their values.
var units = [...]struct {
	name string
	mm   float64 // millimetres in one unit; the inch is 25.4 mm by definition (ISO 80000-3)
}{{"mm", 1}, {"cm", 10}, {"m", 1000}, {"in", 25.4}}

// unitWords are other ways to write the units.
var unitWords = map[string]Unit{"inch": Inch, "inches": Inch, `"`: Inch,
	"millimetre": Millimetre, "millimetres": Millimetre, "millimeter": Millimetre, "millimeters": Millimetre}

// ParseUnit reads "mm", "cm", "m" or "in" in either case, or inches and millimetres in
// full.
func ParseUnit(s string) (Unit, error) {
	for u := range units {
		if strings.EqualFold(strings.TrimSpace(s), units[u].name) {
			return Unit(u), nil
		}
	}
	if u, ok := unitWords[strings.ToLower(strings.TrimSpace(s))]; ok {
		return u, nil
	}
	hint := ""
	if w := strings.ToLower(strings.TrimSpace(s)); w == "imperial" || w == "metric" {
		hint = "; --units is what results are written in"
	}
	return 0, fmt.Errorf("unit %q: expected mm, cm, m or in%s", s, hint)
}

// UnmarshalText reads what ParseUnit reads, for flags and files.
func (u *Unit) UnmarshalText(text []byte) (err error) {
	*u, err = ParseUnit(string(text))
	return err
}

// MarshalText writes what String writes.
func (u Unit) MarshalText() ([]byte, error) { return []byte(u.String()), nil }

// millimetres returns how many millimetres one unit is.
func (u Unit) millimetres() float64 { return units[u].mm }

// String returns "mm", "cm", "m" or "in".
func (u Unit) String() string { return units[u].name }

// Bounds on the largest side of a part that a small shop makes, in mm. Outside
// of them the unit is more likely wrong than the part that small or large.
const (
	smallestPart = 1.0
	largestPart  = 3000.0
)

// unitWarning returns a warning when a part's largest side, in mm, says that
// its file was read in the wrong unit, and names the likelier one; else "".
func unitWarning(largest float64, read Unit) string {
	if largest == 0 || largest >= smallestPart && largest <= largestPart {
		return ""
	}
	text := fmt.Sprintf("the largest side is %s mm when read in %s", plain(largest), read)
	if likely, ok := likelyUnit(largest / read.millimetres()); ok && likely != read {
		return fmt.Sprintf("%s: if that is wrong, try --unit %s (%s mm)", text, likely,
			plain(largest/read.millimetres()*likely.millimetres()))
	}
	return text + ": check the unit of the file"
}

// senseless refuses sizes that no unit explains: the squares and cubes of such
// lengths leave the range in which areas, moments and stiffness are computed.
func senseless(largest float64, read Unit) error {
	if largest == 0 || largest >= 1e-6 && largest <= 1e9 {
		return nil
	}
	return fmt.Errorf("the largest side is %.3g mm when read in %s: no part has that size; check the file", largest, read)
}

// likelyUnit guesses the unit of a file from the largest side of its part in
// file units: the first, in the order of how common it is, that makes the part
// of a usual size of 10 mm to 1000 mm.
func likelyUnit(largest float64) (Unit, bool) {
	for _, u := range []Unit{Millimetre, Metre, Inch, Centimetre} {
		if mm := largest * u.millimetres(); mm >= 10 && mm <= 1000 {
			return u, true
		}
	}
	return 0, false
}

// plain writes a length with four digits and without an exponent.
func plain(mm float64) string {
	if mm >= 1000 {
		return strconv.FormatFloat(mm, 'f', 0, 64)
	}
	return strconv.FormatFloat(mm, 'g', 4, 64)
}
