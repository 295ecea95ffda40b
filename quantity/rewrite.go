package quantity

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"swapworth/internal/textwrap"
)

// Results are computed and worded in metric units. What is below writes such words
// again in another system, number by number, with as many digits as they had.

// written lists the metric units that texts use, the longer before those they begin
// with.
var written = []string{
	"MPa m3/kg", "N mm/rad", "N m/rad", "kg mm2", "g mm2", "kg m2", "kg cm2", "g cm2", "N mm2", "N m2", "N mm", "N m",
	"N/mm2", "N/mm", "mm3/min", "cm3/min", "mm/min", "mm/s2", "mm/s", "m/min", "m/s2", "kg/m3", "g/cm3",
	"mm6", "mm4", "mm3", "mm2", "mm", "um", "cm3", "cm2", "cm", "MPa", "GPa", "kN", "kg", "g", "N",
}

const (
	space   = "[ \u00a0]"
	decimal = `[-+]?[0-9]+(?:\.[0-9]+)?(?:e[-+]?[0-9]+)?`
)

var (
	anyUnit = func() string {
		var all []string
		for _, u := range written {
			all = append(all, strings.ReplaceAll(regexp.QuoteMeta(u), " ", space))
		}
		return "(?:" + strings.Join(all, "|") + ")"
	}()
	// "64.5 (61.9 to 67.2) g", "(30, 50, 5) mm", "160 x 30 x 14 mm", "5 -> 4 mm",
	// "2 and 5 mm", "4 mm"
	amount = regexp.MustCompile(
		`(?:` + decimal + space + `\(` + decimal + space + `to` + space + decimal + `\)` +
			`|\(` + decimal + `(?:[,;]` + space + decimal + `)+\)` +
			`|` + decimal + `(?:(?:,|` + space + `(?:to|x|by|and|or|->))` + space + decimal + `)*)` +
			`(` + space + `)(` + anyUnit + `)`)
	// "9 a kg", "13.8 for each gram"
	rate      = regexp.MustCompile(`(` + decimal + `)( a kg| for each gram)\b`)
	interval  = regexp.MustCompile(decimal + space + `\(?(?:` + decimal + space + `)?to` + space + decimal)
	oneNumber = regexp.MustCompile(decimal)
	// what a label says its numbers are in: "mass each, g", "at (mm)", "MPa"
	labelled = regexp.MustCompile(`(^|, ?|,\x{00a0}|\()(` + anyUnit + `)($|[ ,);])`)
	perUnit  = regexp.MustCompile(`\bper (kg|gram)\b`)
)

// Text writes a metric text in this system: every number with a unit behind it.
// Numbers inside the names that are given, such as those of files, stay.
func (s System) Text(text string, names ...string) string {
	if s == Metric {
		return text
	}
	for _, name := range names {
		if before, after, found := strings.Cut(text, name); found && name != "" {
			return s.Text(before, names...) + name + s.Text(after, names...)
		}
	}
	return s.rates(s.amounts(text))
}

// amounts converts every amount of a text.
func (s System) amounts(text string) string {
	var out strings.Builder
	for {
		at := amount.FindStringSubmatchIndex(text)
		if at == nil {
			break
		}
		number, tie, unit := text[at[0]:at[2]], text[at[2]:at[3]], text[at[4]:at[5]]
		if skip := misread(text, at[0], at[5]); skip > 0 {
			out.WriteString(text[:at[0]+skip])
			text = text[at[0]+skip:]
			continue
		}
		out.WriteString(text[:at[0]])
		metric := strings.ReplaceAll(unit, textwrap.Tie, " ")
		symbol, factor := s.Unit(metric, largest(number))
		out.WriteString(rewritten(number, metric, factor) + tie)
		if strings.Contains(unit, textwrap.Tie) {
			symbol = strings.ReplaceAll(symbol, " ", textwrap.Tie)
		}
		out.WriteString(symbol)
		text = text[at[5]:]
	}
	return out.String() + text
}

// counts matches what numbers follow that count things.
var counts = regexp.MustCompile(`\b(?:holes?|parts?|cases?|lines?|faces?|edges?)[ \x{00a0}]$`)

// misread returns how many bytes of a match to step over where it is no amount: a
// number inside a word, or a unit that goes on as another word.
func misread(text string, from, to int) int {
	if strings.HasPrefix(text[to:], " a metre") { // an expansion, as its source gives it
		return to - from
	}
	if counts.MatchString(text[:from]) { // holes 2, 3 and not 2 mm
		if cut := strings.LastIndex(text[from:to], ", "); cut > 0 && text[from] != '(' {
			return cut + 1
		}
	}
	if to < len(text) && (isWord(text[to]) || text[to] == '/' || text[to] == '^') {
		return to - from
	}
	if from > 0 && (isWord(text[from-1]) || text[from-1] == '.' || text[from-1] == ':') {
		return len(oneNumber.FindString(text[from:]))
	}
	return 0
}

func isWord(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '_'
}

// rates converts prices of a mass.
func (s System) rates(text string) string {
	return rate.ReplaceAllStringFunc(text, func(found string) string {
		number := oneNumber.FindString(found)
		if strings.HasSuffix(found, "gram") {
			_, factor := s.Unit("g", 1)
			return rewritten(number, "", 1/factor) + " for each ounce"
		}
		_, factor := s.Unit("kg", 1)
		return rewritten(number, "", 1/factor) + " a lb"
	})
}

// UnitOf returns the metric unit that a label, the heading of a row or a column,
// gives its numbers; empty where it gives none.
func UnitOf(label string) string {
	if m := perUnit.FindStringSubmatch(label); m != nil {
		return "per " + m[1]
	}
	if m := labelled.FindAllStringSubmatch(label, -1); m != nil {
		return strings.ReplaceAll(m[len(m)-1][2], textwrap.Tie, " ")
	}
	return ""
}

// Labelled writes the label of numbers of which the largest has the given size.
func (s System) Labelled(label string, size float64) string {
	if s == Metric {
		return label
	}
	if m := perUnit.FindStringSubmatchIndex(label); m != nil {
		return label[:m[2]] + map[string]string{"kg": "lb", "gram": "ounce"}[label[m[2]:m[3]]] + label[m[3]:]
	}
	all := labelled.FindAllStringSubmatchIndex(label, -1)
	if all == nil {
		return label
	}
	m := all[len(all)-1]
	unit := label[m[4]:m[5]]
	symbol, _ := s.Unit(strings.ReplaceAll(unit, textwrap.Tie, " "), size)
	if strings.Contains(unit, textwrap.Tie) {
		symbol = strings.ReplaceAll(symbol, " ", textwrap.Tie)
	}
	return label[:m[4]] + symbol + label[m[5]:]
}

// Cell writes the numbers of a cell whose row or column is in a metric unit, for a
// largest number of the given size. Numbers that have a unit of their own, and
// ratios and percentages, are none of it.
func (s System) Cell(cell, unit string, size float64, names ...string) string {
	if s == Metric || unit == "" || !measures(cell) {
		return s.Text(cell, names...)
	}
	factor := 1 / gramsOrKilograms(s, unit)
	if !strings.HasPrefix(unit, "per ") {
		_, factor = s.Unit(unit, size)
	}
	var out strings.Builder
	for cell != "" {
		at := own.FindStringIndex(cell)
		if at == nil {
			at = []int{len(cell), len(cell)}
		}
		out.WriteString(rewritten(cell[:at[0]], unit, factor))
		out.WriteString(s.Text(cell[at[0]:at[1]], names...))
		cell = cell[at[1]:]
	}
	return out.String()
}

// own matches a number with a unit of its own, a percentage included.
var own = regexp.MustCompile(`(?:` + amount.String() + `|` + decimal + space + `(?:%|Hz|min|h)\b)`)

// measured matches the beginning of a cell whose numbers are measures: not a ratio,
// not a source that is named by numbers.
var measured = regexp.MustCompile(`^(?:(?:at least|at most|about|up to|none up to|over|under|judged) ?)?\(?` + decimal)

func measures(cell string) bool {
	return measured.MatchString(strings.ReplaceAll(cell, textwrap.Tie, " ")) && !strings.HasSuffix(cell, "%")
}

// gramsOrKilograms is how many of the mass that stands in for it are one of the
// mass that a price is for.
func gramsOrKilograms(s System, unit string) float64 {
	if unit == "per gram" {
		_, factor := s.Unit("g", 1)
		return factor
	}
	_, factor := s.Unit("kg", 1)
	return factor
}

// Largest is the size of the largest number in texts that are in the unit of their
// row or column.
func Largest(cells ...string) float64 {
	size := 0.0
	for _, c := range cells {
		if measures(c) {
			size = max(size, largest(own.ReplaceAllString(c, "")))
		}
	}
	return size
}

func largest(text string) float64 {
	size := 0.0
	for _, n := range numbersIn(text) {
		if v, err := strconv.ParseFloat(text[n[0]:n[1]], 64); err == nil {
			size = max(size, math.Abs(v))
		}
	}
	return size
}

// numbersIn returns where the numbers of a text are that are no part of a word.
func numbersIn(text string) (out [][]int) {
	for from := 0; ; {
		at := oneNumber.FindStringIndex(text[from:])
		if at == nil {
			return out
		}
		low, high := from+at[0], from+at[1]
		inside := low > 0 && (isWord(text[low-1]) || text[low-1] == ':')
		if !inside && (high == len(text) || !isWord(text[high])) {
			out = append(out, []int{low, high})
		}
		from = high
	}
}

// leastDigits is how many significant digits a converted number has at least, and
// thousandths how many decimals an inch: what a shop reads and a mill holds.
const (
	leastDigits = 3
	thousandths = 3
)

// rewritten multiplies every number of a text. The numbers of an interval keep a
// common count of decimals.
func rewritten(text, unit string, factor float64) string {
	var out strings.Builder
	last := 0
	spans := interval.FindAllStringIndex(text, -1)
	decimals := map[int]int{} // of a number, by its place
	for _, span := range spans {
		part := text[span[0]:span[1]]
		d := shownDecimals(largest(part)*factor, mostDigits(part), mostDecimals(part), unit)
		for _, n := range numbersIn(part) {
			decimals[span[0]+n[0]] = d
		}
	}
	for _, n := range numbersIn(text) {
		typed := text[n[0]:n[1]]
		v, err := strconv.ParseFloat(typed, 64)
		if err != nil {
			continue
		}
		out.WriteString(text[last:n[0]])
		last = n[1]
		if strings.HasPrefix(typed, "+") {
			out.WriteByte('+')
		}
		if d, ok := decimals[n[0]]; ok {
			out.WriteString(Fixed(rounder(v*factor, factor, typed, unit), d))
			continue
		}
		out.WriteString(oneRewritten(rounder(v*factor, factor, typed, unit), typed, unit))
	}
	return out.String() + text[last:]
}

// oneRewritten writes a converted number in the way of the metric one.
func oneRewritten(v float64, typed, unit string) string {
	if v == 0 {
		return "0"
	}
	a := math.Abs(v)
	if a < 1e-4 || a >= 1e9 {
		return strconv.FormatFloat(v, 'e', max(leastDigits, significant(typed))-1, 64)
	}
	s := Fixed(v, shownDecimals(v, significant(typed), decimalsIn(typed), unit))
	whole, padded := !strings.Contains(typed, "."), strings.Contains(typed, ".") && strings.HasSuffix(typed, "0")
	if (whole || unit == "mm") && !padded && strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// shownDecimals is the count of decimals for a converted number, of which the metric
// one gave so many digits and decimals. Inches are given to a thousandth, small ones
// to three digits.
func shownDecimals(v float64, digits, decimals int, unit string) int {
	if unit == "mm" && decimals < thousandths {
		return max(Decimals(v, leastDigits), thousandths)
	}
	if decimals == 0 {
		digits = min(digits, mostWhole)
	}
	return Decimals(v, max(leastDigits, digits))
}

// mostWhole is how many digits of a whole number are taken as known: longer ones are
// long because of their size.
const mostWhole = 6

// mostRounded is how far, as a share of a value, the rounding of its text is followed:
// half a step of three digits that begin with 1.
const mostRounded = 0.005

// rounder returns the value with the fewest digits among those that the metric text
// may have been rounded from: 5 lbf that somebody typed is read as 22.2 N and must
// not come back as 4.99 lbf. Whole millimetres are taken as exact.
func rounder(v, factor float64, typed, unit string) float64 {
	whole := !strings.Contains(typed, ".")
	if strings.Contains(typed, "e") || len(strings.Trim(typed, "+-0.")) == 0 || unit == "mm" && whole || digitsIn(typed) < leastDigits {
		return v
	}
	half := min(0.5*math.Pow10(-decimalsIn(typed))*math.Abs(factor), mostRounded*math.Abs(v))
	for digits := 1; digits < digitsIn(typed); digits++ {
		if r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', digits-1, 64), 64); err == nil && math.Abs(r-v) <= half {
			return r
		}
	}
	return v
}

// decimalsIn counts the decimals of a typed number.
func decimalsIn(typed string) int {
	_, decimals, _ := strings.Cut(mantissaOf(typed), ".")
	return len(decimals)
}

// digitsIn counts the digits of a typed number from its first that is not zero.
func digitsIn(typed string) int {
	return len(strings.TrimLeft(strings.Replace(mantissaOf(strings.TrimLeft(typed, "+-")), ".", "", 1), "0"))
}

func mostDecimals(text string) int {
	most := 0
	for _, n := range numbersIn(text) {
		most = max(most, decimalsIn(text[n[0]:n[1]]))
	}
	return most
}

func mostDigits(text string) int {
	most := 0
	for _, n := range numbersIn(text) {
		most = max(most, significant(text[n[0]:n[1]]))
	}
	return most
}

// significant counts the digits that a typed number gives, the zeros at the end of a
// whole one not.
func significant(typed string) int {
	digits := mantissaOf(strings.TrimLeft(typed, "+-"))
	if !strings.Contains(digits, ".") {
		digits = strings.TrimRight(digits, "0")
	}
	return len(strings.TrimLeft(strings.Replace(digits, ".", "", 1), "0"))
}
