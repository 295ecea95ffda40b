package quantity

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// dimension is one kind of quantity: what it is called, an example for the
// error text and the factor of each unit to the base unit, which comes first.
type dimension struct {
	name     string
	example  string
	units    []unit
	negative bool // whether values below zero make sense
	// A size other than zero is least to most, in the base unit: what lies beyond
	// is a slip, and its squares and products leave the range of a float64.
	least, most float64
}

type unit struct {
	symbol string
	toBase float64
}

// Exact by definition: 1 in = 25.4 mm, 1 lb = 453.59237 g, standard gravity
// 9.80665 m/s2 (ISO 80000-3, -4).
const (
	inch    = 25.4                   // mm
	pound   = 453.59237              // g
	gravity = 9.80665                // m/s2
	lbf     = pound / 1000 * gravity // N
	psi     = lbf / (inch * inch)    // MPa
)

// The limits are those of things that people make and weigh, with room: 1 km to
// 1 nm, 1000 t to 1 ug, the weight of 100 000 t, ten times the stiffest material
// (diamond, 1.2e6 MPa), four times the densest (osmium, 22 600 kg/m3) and less than
// the lightest foam, 1000 t at 1 km from its pivot, a century.
var (
	length = dimension{"a length", "4mm or 0.25in", []unit{
		{"mm", 1}, {"um", 1e-3}, {"cm", 10}, {"m", 1000},
		{"in", inch}, {`"`, inch}, {"ft", 12 * inch}, {"thou", inch / 1000},
		{"inch", inch}, {"inches", inch}, {"feet", 12 * inch}, {"foot", 12 * inch},
		{"millimetre", 1}, {"millimetres", 1}, {"millimeter", 1}, {"millimeters", 1},
		{"metre", 1000}, {"metres", 1000}, {"meter", 1000}, {"meters", 1000}}, true, 1e-6, 1e6}
	mass = dimension{"a mass", "65g or 0.14 lb", []unit{
		{"g", 1}, {"mg", 1e-3}, {"kg", 1000}, {"t", 1e6}, {"lb", pound}, {"oz", pound / 16},
		{"gram", 1}, {"grams", 1}, {"gramme", 1}, {"grammes", 1}, {"kilogram", 1000}, {"kilograms", 1000},
		{"lbs", pound}, {"lbm", pound}, {"pound", pound}, {"pounds", pound},
		{"ounce", pound / 16}, {"ounces", pound / 16}}, false, 1e-6, 1e9}
	force = dimension{"a force", "20N or 5 lbf", []unit{
		{"N", 1}, {"kN", 1000}, {"lbf", lbf}, {"ozf", lbf / 16}, {"kgf", gravity},
		{"newton", 1}, {"newtons", 1}}, true, 1e-6, 1e9}
	stress = dimension{"a stress", "70000MPa or 10 Msi", []unit{
		{"MPa", 1}, {"N/mm2", 1}, {"GPa", 1000}, {"kPa", 1e-3}, {"Pa", 1e-6}, {"bar", 0.1},
		{"psi", psi}, {"ksi", 1e3 * psi}, {"Msi", 1e6 * psi}}, false, 1e-9, 1e7}
	density = dimension{"a density", "2700 kg/m3 or 0.098 lb/in3", []unit{
		{"kg/m3", 1}, {"g/cm3", 1000}, {"g/cc", 1000}, {"kg/dm3", 1000}, {"t/m3", 1000},
		{"lb/in3", pound / 1000 / (inch * inch * inch * 1e-9)}}, false, 0.1, 1e5}
	inertia = dimension{"a moment of inertia", "1200 kg mm2 or 0.0012 kg m2", []unit{
		{"kg mm2", 1}, {"kg cm2", 100}, {"kg m2", 1e6}, {"g mm2", 1e-3}, {"g cm2", 0.1},
		{"lb in2", pound / 1000 * inch * inch}}, false, 1e-9, 1e18}
	hours = dimension{"a time", "1.5h or 90min", []unit{
		{"h", 1}, {"hours", 1}, {"hour", 1}, {"min", 1.0 / 60}, {"minutes", 1.0 / 60}, {"minute", 1.0 / 60},
		{"s", 1.0 / 3600}}, false, 1e-6, 1e6}
	minutes = dimension{"a time", "30min or 0.5h", []unit{
		{"min", 1}, {"minutes", 1}, {"minute", 1}, {"h", 60}, {"hours", 60}, {"hour", 60},
		{"s", 1.0 / 60}}, false, 1e-4, 1e7}
	frequency = dimension{"a frequency", "200Hz", []unit{{"Hz", 1}, {"kHz", 1000}, {"1/s", 1}}, false, 1e-6, 1e9}
	fraction  = dimension{"a percentage", "1%", []unit{{"%", 0.01}, {"percent", 0.01}}, true, 1e-9, 1e4}
	scalar    = dimension{"a number", "0.9", []unit{{"", 1}}, true, 1e-12, 1e12}
)

// others are the dimensions among which a unit is looked for that is not of the
// one expected.
func others() []dimension {
	return []dimension{length, mass, force, stress, density, inertia, moment, hours, frequency}
}

// number matches a decimal number with a point or a comma.
var number = regexp.MustCompile(`^[+-]?(?:[0-9]+[.,]?[0-9]*|[.,][0-9]+)(?:[eE][+-]?[0-9]+)?`)

// thousands matches a number whose comma may group thousands: three digits follow
// and the digits before it are not just zeros.
var thousands = regexp.MustCompile(`^[+-]?0*[1-9][0-9]*,[0-9]{3}(?:[eE]|$)`)

// plainUnit lets kg·mm², kg*mm^2 and kg mm2 all be the same unit.
var plainUnit = strings.NewReplacer(" ", "", "\t", "", "\u00a0", "", "\u202f", "", "·", "", "*", "", "^", "",
	"²", "2", "³", "3", "µ", "u", "μ", "u", "″", `"`)

// parse returns the value in the base unit and the factor of the unit typed.
func (d dimension) parse(text string) (value, unitFactor float64, err error) {
	trimmed := strings.TrimSpace(text)
	typed := number.FindString(trimmed)
	if typed == "" {
		return 0, 0, d.expected(text)
	}
	if thousands.MatchString(typed) {
		return 0, 0, fmt.Errorf("%q: is the comma a decimal one? Write %s or %s", text,
			strings.Replace(typed, ",", "", 1), strings.Replace(typed, ",", ".", 1))
	}
	unitFactor, ok := d.factor(trimmed[len(typed):])
	if !ok {
		return 0, 0, d.expected(text)
	}
	value, err = strconv.ParseFloat(pointed(typed), 64)
	inBase := times(value, unitFactor)
	base := math.Abs(inBase)
	switch {
	case err != nil || base > d.most:
		return 0, 0, fmt.Errorf("%q: the number is too large: expected %s of at most %s", text, d.name, d.format(d.most))
	case base > 0 && base < d.least || value == 0 && strings.Trim(mantissaOf(typed), "+-0.,") != "":
		return 0, 0, fmt.Errorf("%q: the number is too small: expected %s of at least %s, or 0", text, d.name, d.format(d.least))
	case value < 0 && !d.negative:
		return 0, 0, fmt.Errorf("%q: %s cannot be negative", text, d.name)
	}
	return inBase, unitFactor, nil
}

// times multiplies by a factor, and divides where it is one part of a whole number, so
// that 68 g cm2 is 6.8 kg mm2 to the last digit.
func times(value, factor float64) float64 {
	if whole := math.Round(1 / factor); factor < 1 && 1/whole == factor {
		return value / whole
	}
	return value * factor
}

// pointed writes a decimal comma as a point.
func pointed(typed string) string { return strings.Replace(typed, ",", ".", 1) }

// mantissaOf returns the digits before an exponent.
func mantissaOf(typed string) string {
	mantissa, _, _ := strings.Cut(strings.ToLower(typed), "e")
	return mantissa
}

// factor finds a unit as written, then all in capitals or all in small letters,
// so that "mPa" is never taken for "MPa", then a word in any case.
func (d dimension) factor(typed string) (float64, bool) {
	typed = plainUnit.Replace(typed)
	if typed == "" {
		return d.units[0].toBase, true
	}
	for _, u := range d.units {
		if plainUnit.Replace(u.symbol) == typed {
			return u.toBase, true
		}
	}
	for _, u := range d.units {
		s := plainUnit.Replace(u.symbol)
		if typed == strings.ToUpper(s) || typed == strings.ToLower(s) || len(s) >= shortestWord && strings.EqualFold(typed, s) {
			return u.toBase, true
		}
	}
	return 0, false
}

// shortestWord is how long the name of a unit is that no other unit has in another
// case: Grams, but not mPa.
const shortestWord = 4

// expected says what was expected, and what was found where that is a unit.
func (d dimension) expected(text string) error {
	found := ""
	trimmed := strings.TrimSpace(text)
	if typed := strings.TrimSpace(trimmed[len(number.FindString(trimmed)):]); typed != "" && typed != trimmed {
		for _, o := range others() {
			if _, ok := o.factor(typed); ok && o.name != d.name {
				_, plain, _ := strings.Cut(o.name, " ") // without its article
				found = fmt.Sprintf("; %s is a unit of %s", typed, plain)
				if weight, ok := weightOf[strings.ToLower(typed)]; ok && d.name == force.name {
					found += fmt.Sprintf(": for what weighs that much write %s%s", number.FindString(trimmed), weight)
				}
				break
			}
		}
	}
	return fmt.Errorf("%q: expected %s such as %s%s", text, d.name, d.example, found)
}

// weightOf is the unit of force that a unit of mass weighs under standard gravity.
var weightOf = map[string]string{
	"lb": "lbf", "lbs": "lbf", "lbm": "lbf", "pound": "lbf", "pounds": "lbf",
	"oz": "ozf", "ounce": "ozf", "ounces": "ozf",
	"kg": "kgf", "kilogram": "kgf", "kilograms": "kgf",
}

// format writes a value so that parse reads the same value back; zero is a
// bare "0", which flag libraries take for "no default".
func (d dimension) format(v float64) string {
	if v == 0 {
		return "0"
	}
	symbol := d.units[0].symbol
	if strings.Contains(symbol, " ") || strings.Contains(symbol, "/") {
		symbol = " " + symbol
	}
	return strconv.FormatFloat(v/d.units[0].toBase, 'g', -1, 64) + symbol
}

// read stores a parsed value, leaving the target alone on error.
func read[T ~float64](d dimension, into *T, text string) error {
	v, _, err := d.parse(text)
	if err == nil {
		*into = T(v)
	}
	return err
}
