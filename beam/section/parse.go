package section

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"swapworth/quantity"
)

// familyOf holds every name that people use for a family, in small letters and
// without spaces.
var familyOf = map[string]*family{}

// sizeLetters are all that mark a size of some family.
var sizeLetters = map[string]bool{"r": true, "radius": true}

var errUnknownName error

func init() {
	var names []string
	for _, f := range families {
		names = append(names, f.name)
		familyOf[strings.ToLower(f.name)] = f
		for _, n := range f.also {
			familyOf[n] = f
		}
		for _, choice := range f.letters {
			for _, l := range strings.Fields(choice) {
				sizeLetters[l] = true
			}
		}
	}
	errUnknownName = fmt.Errorf("the name is not known; use %s", strings.Join(names, ", "))
}

// ParseShape reads a simple section such as
//
//	rect 40x4mm    round 1/2in    tube 20 x 2    angle 40x40x4    IPE 200
//	recttube 40x20x2 r4    channel 100x50x6x8    I 200x100x5,6x8,5 r12
//	tube d20 t2            I h200 b100 tw5.6 tf8.5 r12
//
// Letters may be small or capital, spaces are free, sizes are separated by x,
// × or *, or marked with their letter. A size without a unit takes the unit of
// the sizes beside it, else mm; a comma between digits is a decimal comma. A
// further size after the last is the radius. The whole text is read: what is not
// understood is an error that names it.
func ParseShape(text string) (Shape, error) {
	if len(text) > longestText {
		return Shape{}, fmt.Errorf("section %.20q...: expected at most %d characters, and there are %d", text, longestText, len(text))
	}
	shape, err := parseShape(text)
	if err != nil {
		return Shape{}, fmt.Errorf("section %q: %w", text, err)
	}
	return shape, nil
}

// longestText is the length of a section in words beyond which it is none: five sizes
// with names, units and fractions take a hundred. What is not understood is tried as
// often as it is long, so that a text of a megabyte would take hours.
const longestText = 300

func parseShape(text string) (Shape, error) {
	if m := designation.FindStringSubmatch(text); m != nil {
		if shape, ok := rolled(strings.ToLower(m[1] + m[2])); ok {
			return shape, nil
		}
	}
	f, rest, err := splitName(text)
	if err != nil {
		return Shape{}, err
	}
	shape, err := readSizes(f, rest)
	if err != nil {
		return Shape{}, fmt.Errorf("%w; write %s %s, such as %s", err, f.name, f.sizes, f.example)
	}
	return shape, nil
}

// joiner reports whether a rune only joins the words of a name.
func joiner(r rune) bool { return unicode.IsSpace(r) || r == '-' || r == '_' || r == ':' }

// designation is a name such as IPE 200 or hea-100.
var designation = regexp.MustCompile(`^\s*([A-Za-z]+)[\s_:-]*([0-9]+)\s*$`)

const diameterSigns = "Øø⌀∅"

func letterRune(r rune) bool { return unicode.IsLetter(r) && !strings.ContainsRune(diameterSigns, r) }

// splitName finds the family by the longest run of leading words that names one.
func splitName(text string) (*family, string, error) {
	var found *family
	var rest string
	name := ""
	for at := 0; at < len(text); {
		word := strings.TrimLeftFunc(text[at:], joiner)
		at = len(text) - len(word)
		end := strings.IndexFunc(word, func(r rune) bool { return !letterRune(r) })
		if end < 0 {
			end = len(word)
		}
		if end == 0 {
			break
		}
		name += strings.ToLower(word[:end])
		at += end
		if f, ok := familyOf[name]; ok {
			found, rest = f, text[at:]
		}
	}
	switch {
	case found != nil:
		return found, rest, nil
	case name == "":
		return nil, "", errors.New("expected a name and sizes, such as rect 40x4mm")
	}
	return nil, "", errUnknownName
}

// item is one size as written.
type item struct {
	cross        bool   // an x stands before it
	letter       string // in small letters; empty without
	number, unit string
}

// readSizes reads all that follows the name.
func readSizes(f *family, rest string) (Shape, error) {
	items, err := itemsOf(rest)
	if err != nil {
		return Shape{}, err
	}
	texts := make([]string, len(items))
	units := make([]string, len(items))
	for i, it := range items {
		texts[i], units[i] = it.number, it.unit
	}
	values, err := lengths(texts, units)
	if err != nil {
		return Shape{}, err
	}
	if lettered(items) {
		return byLetter(f, items, values)
	}
	return inOrder(f, items, values)
}

// lettered reports whether every size has its letter. A diameter alone before
// further sizes without letters is only marked as one.
func lettered(items []item) bool {
	for i, it := range items {
		if it.letter == "" || it.letter == "r" && i == len(items)-1 && i > 0 && items[0].letter == "" {
			return false
		}
	}
	return len(items) > 0
}

// inOrder takes the sizes in the family's order, then the radius.
func inOrder(f *family, items []item, values []float64) (Shape, error) {
	radius, n := 0.0, len(items)
	if n > 0 && items[n-1].letter == "r" {
		n--
		radius = values[n]
	}
	for i, it := range items[:n] {
		switch {
		case it.letter == "d" && i == 0 && strings.Contains(f.letters[0], "d"):
		case it.letter != "":
			return Shape{}, fmt.Errorf("%q stands among sizes without a letter", it.letter+it.number)
		case it.cross != (i > 0):
			return Shape{}, fmt.Errorf("expected an x before %q", it.number)
		}
	}
	sizes := values[:n]
	if most := len(f.letters); f.rounded && n == len(items) && n == most+1 {
		sizes, radius = values[:most], values[most]
	}
	return newShape(f, sizes, radius)
}

// byLetter takes each size by its letter.
func byLetter(f *family, items []item, values []float64) (Shape, error) {
	given := map[string]float64{}
	for i, it := range items {
		if _, twice := given[it.letter]; twice {
			return Shape{}, fmt.Errorf("the size %s is given twice", it.letter)
		}
		given[it.letter] = values[i]
	}
	used := map[string]bool{"r": true}
	var sizes []float64
	var usual []string
	for _, choice := range f.letters {
		fields := strings.Fields(choice)
		usual = append(usual, fields[0])
		for _, l := range fields {
			if v, ok := given[l]; ok {
				sizes, used[l] = append(sizes, v), true
				break
			}
		}
	}
	for _, it := range items {
		if !used[it.letter] {
			return Shape{}, fmt.Errorf("a %s has no size %q; its sizes are %s", f.name, it.letter, strings.Join(usual, ", "))
		}
	}
	return newShape(f, sizes, given["r"])
}

// reader takes a text apart from its front.
type reader struct{ rest string }

func (r *reader) space() { r.rest = strings.TrimLeftFunc(r.rest, unicode.IsSpace) }

// take reads one of some runes.
func (r *reader) take(set string) bool {
	c, n := utf8.DecodeRuneInString(r.rest)
	if n == 0 || !strings.ContainsRune(set, c) {
		return false
	}
	r.rest = r.rest[n:]
	return true
}

// word reads a run of letters, without taking it.
func (r *reader) word() string {
	end := strings.IndexFunc(r.rest, func(c rune) bool { return !letterRune(c) })
	if end < 0 {
		end = len(r.rest)
	}
	return r.rest[:end]
}

// notUnderstood names what is left, at most a few words of it.
func (r *reader) notUnderstood() error {
	piece := strings.TrimSpace(r.rest)
	if runes := []rune(piece); len(runes) > 20 {
		piece = string(runes[:20]) + "..."
	}
	return fmt.Errorf("%q is not understood", piece)
}

// itemsOf reads sizes to the end of the text. A hyphen right after the name
// joins it to them; brackets may hold them all.
func itemsOf(text string) ([]item, error) {
	r := &reader{text}
	r.take("-_:")
	r.space()
	bracket := r.take("(")
	r.space()
	var items []item
	for r.rest != "" && !(bracket && r.rest[0] == ')') {
		it, err := r.item(len(items) == 0)
		if err != nil {
			return nil, err
		}
		items = append(items, it)
		r.space()
	}
	if bracket && !r.take(")") {
		return nil, errors.New("a bracket is open")
	}
	r.space()
	if r.rest != "" {
		return nil, r.notUnderstood()
	}
	return items, nil
}

// item reads what separates a size from the one before, its letter, its number
// and its unit.
func (r *reader) item(first bool) (it item, err error) {
	if !first {
		it.cross = r.take("xX×*")
		if !it.cross {
			r.take(",;")
		}
		r.space()
	}
	start := *r
	if w := r.word(); w != "" {
		it.letter = strings.ToLower(w)
		r.rest = r.rest[len(w):]
		if !sizeLetters[it.letter] {
			return it, start.notUnderstood()
		}
		if it.letter == "radius" {
			it.letter = "r"
		}
		r.space()
		r.take("=:")
	} else if r.take(diameterSigns) {
		it.letter = "d"
	}
	r.space()
	if it.number, err = r.number(); err != nil {
		return it, err
	}
	if it.number == "" {
		if strings.TrimSpace(start.rest) == "" {
			return it, errors.New("a size is missing at the end")
		}
		return it, start.notUnderstood()
	}
	it.unit = r.unit()
	return it, nil
}

var (
	fractionPattern = regexp.MustCompile(`^(?:([0-9]+)[ -]+)?([0-9]+)/([0-9]+)`) // 1/4 or 1 1/2
	decimalPattern  = regexp.MustCompile(`^(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)(?:[eE][+-]?[0-9]+)?`)
	thousands       = regexp.MustCompile(`^[0-9]{1,3},[0-9]{3}$`)
)

// number reads a decimal number or a fraction, empty where there is none.
func (r *reader) number() (string, error) {
	if len(r.rest) > 1 && r.rest[0] == '-' && strings.ContainsRune("0123456789.,", rune(r.rest[1])) {
		return "", errors.New("a size is below zero")
	}
	if m := fractionPattern.FindStringSubmatch(r.rest); m != nil {
		whole, _ := strconv.ParseFloat(m[1], 64) // empty is 0
		above, _ := strconv.ParseFloat(m[2], 64)
		below, _ := strconv.ParseFloat(m[3], 64)
		if below == 0 {
			return "", fmt.Errorf("%q is no size", m[0])
		}
		r.rest = r.rest[len(m[0]):]
		return strconv.FormatFloat(whole+above/below, 'g', -1, 64), nil
	}
	n := strings.TrimSuffix(decimalPattern.FindString(r.rest), ",") // a comma that no decimals follow separates
	if thousands.MatchString(n) {
		return "", fmt.Errorf("%q may mean thousands or decimals; write it with a point or without", n)
	}
	r.rest = r.rest[len(n):]
	return strings.Replace(n, ",", ".", 1), nil
}

// unit reads a unit, which an x or the next letter may follow at once.
func (r *reader) unit() string {
	after := *r
	after.space()
	if after.take(`"″`) {
		*r = after
		return "in"
	}
	w := after.word()
	for end := len(w); end > 0; end-- {
		next := strings.ToLower(w[end:])
		if isUnit(w[:end]) && (next == "" || next == "x" || sizeLetters[next]) {
			r.rest = after.rest[end:]
			return w[:end]
		}
	}
	return ""
}

func isUnit(text string) bool {
	var q quantity.Length
	return q.Set("1"+text) == nil
}

// lengths reads sizes in mm. One without a unit takes the next unit, and after
// the last unit that one.
func lengths(numbers, units []string) ([]float64, error) {
	unit := ""
	for i := len(units) - 1; i >= 0; i-- { // the next unit to the right
		if units[i] == "" {
			units[i] = unit
		}
		unit = units[i]
	}
	out := make([]float64, len(numbers))
	for i := range numbers {
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
