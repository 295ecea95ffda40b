package section

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode"

	"swapworth/quantity"
)

// kindOf maps every name that people use for a shape, without spaces and in
// small letters, to its family.
var kindOf = map[string]Kind{
	"rect": Rect, "rectangle": Rect, "rectangular": Rect, "flat": Rect, "flatbar": Rect,
	"strip": Rect, "plate": Rect, "bar": Rect, "sheet": Rect, "rectbar": Rect,
	"square": Square, "squarebar": Square,
	"round": Round, "roundbar": Round, "rod": Round, "circle": Round, "shaft": Round, "disc": Round,
	"tube": Tube, "roundtube": Tube, "pipe": Tube, "chs": Tube,
	"recttube": RectTube, "rectangulartube": RectTube, "box": RectTube, "boxsection": RectTube,
	"squaretube": RectTube, "rhs": RectTube, "shs": RectTube,
	"angle": Angle, "l": Angle, "equalangle": Angle, "unequalangle": Angle,
	"channel": Channel, "u": Channel, "c": Channel,
	"tee": Tee, "t": Tee,
	"i": IBeam, "h": IBeam, "ibeam": IBeam, "hbeam": IBeam, "isection": IBeam, "hsection": IBeam,
	"hexagon": Hexagon, "hex": Hexagon, "hexagonal": Hexagon, "hexbar": Hexagon,
}

// ParseShape reads a simple section such as
//
//	rect 40x4mm    round 1/2in    tube 20 x 2    angle 40x40x4    IPE 200
//	recttube 40x20x2 r4    channel 100x50x6x8    I 200x100x5.6x8.5 r12
//	tube d20 t2            I h200 b100 tw5.6 tf8.5 r12
//
// Letters may be small or capital, spaces are free, sizes are separated by x,
// × or *, or marked with their letter. A size without a unit takes the unit of
// the sizes beside it, else mm. See Kind for the order of the sizes; a further
// size after the last is the radius.
func ParseShape(text string) (Shape, error) {
	shape, err := parseShape(text)
	if err != nil {
		return Shape{}, fmt.Errorf("section %q: %w", text, err)
	}
	return shape, nil
}

func parseShape(text string) (Shape, error) {
	if name, marks := marked(text); len(marks) > 1 {
		return parseMarked(name, marks)
	}
	name, numbers := splitName(text)
	if name == "" {
		return Shape{}, errors.New("expected a name and sizes, such as rect 40x4mm")
	}
	if shape, ok := rolled(name, numbers); ok {
		return shape, nil
	}
	kind, ok := kindOf[name]
	if !ok {
		return Shape{}, errUnknownName
	}
	if numbers == "" {
		return described(kind, nil, 0)
	}
	if negative.MatchString(text) {
		return Shape{}, fmt.Errorf("a size is below zero; write %s %s", kind, kindName[kind].dims)
	}
	sizes, radius, err := parseSizes(numbers)
	if err != nil {
		return Shape{}, err
	}
	if most := len(letters[kind]); radius == 0 && kind.hasRadius() && len(sizes) == most+1 {
		sizes, radius = sizes[:most], sizes[most]
	}
	return described(kind, sizes, radius)
}

// negative is a minus before the first size; a hyphen after the name is none.
var negative = regexp.MustCompile(`\s-[0-9.]`)

var errUnknownName = fmt.Errorf("the name is not known; use %s", strings.Join(kindNames(), ", "))

// described adds to an error how the shape is written.
func described(kind Kind, sizes []float64, radius float64) (Shape, error) {
	shape, err := newShape(kind, sizes, radius)
	if err != nil {
		return Shape{}, fmt.Errorf("%w; write %s %s, such as %s", err,
			kind, kindName[kind].dims, kindName[kind].example)
	}
	return shape, nil
}

func kindNames() []string {
	var names []string
	for _, k := range kindName {
		names = append(names, k.name)
	}
	return names
}

// splitName parts the leading words from the numbers. Spaces, hyphens and
// capitals in the name do not count, nor does a sign for diameter at its end.
func splitName(text string) (name, numbers string) {
	at := strings.IndexFunc(text, func(r rune) bool { return unicode.IsDigit(r) || r == '.' })
	if at < 0 {
		at = len(text)
	}
	name = strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || strings.ContainsRune("-_:Øø⌀", r) {
			return -1
		}
		return unicode.ToLower(r)
	}, text[:at])
	if _, known := kindOf[name]; !known {
		if short, ok := strings.CutSuffix(name, "d"); ok && kindOf[short] != Rect {
			name = short // "round d12"
		}
	}
	return name, text[at:]
}

// parseSizes reads "200x100x5.6x8.5mm r12" into mm.
func parseSizes(text string) (sizes []float64, radius float64, err error) {
	plain := strings.Map(func(r rune) rune {
		switch r {
		case 'x', 'X', '×', '*':
			return 'x'
		case ',':
			return '.'
		}
		return r
	}, text)
	body, tail, hasRadius := strings.Cut(strings.Replace(plain, "R", "r", 1), "r")
	parts := strings.Split(body, "x")
	if hasRadius {
		parts = append(parts, strings.TrimLeft(tail, "adius= "))
	}
	all, err := lengths(parts)
	if err != nil {
		return nil, 0, err
	}
	if hasRadius {
		return all[:len(all)-1], all[len(all)-1], nil
	}
	return all, 0, nil
}

// inchFraction is a size such as 1/4 or 1 1/2.
var inchFraction = regexp.MustCompile(`^(?:([0-9]+)[ -]+)?([0-9]+)/([0-9]+)`)

// lengths reads sizes in mm. One without a unit takes the next unit, and after
// the last unit that one.
func lengths(texts []string) ([]float64, error) {
	numbers, units := make([]string, len(texts)), make([]string, len(texts))
	for i, t := range texts {
		numbers[i], units[i] = splitUnit(t)
	}
	unit := ""
	for i := len(units) - 1; i >= 0; i-- { // the next unit to the right
		if units[i] == "" {
			units[i] = unit
		}
		unit = units[i]
	}
	out := make([]float64, len(texts))
	for i := range texts {
		if units[i] == "" && i > 0 {
			units[i] = units[i-1]
		}
		var q quantity.Length
		if err := q.Set(numbers[i] + units[i]); err != nil {
			return nil, err
		}
		out[i] = float64(q)
	}
	return out, nil
}

// splitUnit parts a number, which may be a fraction, from its unit.
func splitUnit(text string) (number, unit string) {
	text = strings.TrimSpace(text)
	if m := inchFraction.FindStringSubmatch(text); m != nil {
		whole, _ := strconv.ParseFloat(m[1], 64) // empty is 0
		above, _ := strconv.ParseFloat(m[2], 64)
		below, _ := strconv.ParseFloat(m[3], 64)
		value := strconv.FormatFloat(whole+above/below, 'g', -1, 64)
		return value, strings.TrimSpace(text[len(m[0]):])
	}
	at := strings.IndexFunc(text, func(r rune) bool {
		return !unicode.IsDigit(r) && !strings.ContainsRune(".+-", r)
	})
	if at < 0 {
		return text, ""
	}
	if (text[at] == 'e' || text[at] == 'E') && at+1 < len(text) && strings.ContainsRune("+-0123456789", rune(text[at+1])) {
		rest := strings.TrimLeft(text[at+1:], "+-0123456789")
		return text[:len(text)-len(rest)], strings.TrimSpace(rest)
	}
	return text[:at], strings.TrimSpace(text[at:])
}
