package section

import (
	"fmt"
	"regexp"
	"strings"
)

// letters holds the letters that drawings and standards mark each size of a
// shape with, in the order of the sizes, the usual one first.
var letters = map[Kind][]string{
	Rect:     {"w b", "h t"},
	Square:   {"a s w"},
	Round:    {"d"},
	Tube:     {"d", "t s"},
	RectTube: {"w b", "h", "t s"},
	Angle:    {"h a", "b w", "t s"},
	Channel:  {"h", "b w", "tw s t", "tf t"},
	Tee:      {"h", "b w", "tw s t", "tf t"},
	IBeam:    {"h", "b w", "tw s t", "tf t"},
	Hexagon:  {"s af"},
}

// mark is a size with its letter, such as tw 5.6.
type mark struct{ letter, size string }

var markPattern = regexp.MustCompile(`(?i)(?:^|[\s,;(])(tw|tf|af|[habwtsdr])\s*=?\s*([0-9.][0-9./]*\s*(?:mm|cm|m|in|um|thou|ft|")?)(?:$|[\s,;)])`)

// marked finds the sizes marked with letters and the name before them.
func marked(text string) (name string, marks []mark) {
	rest, at := text, 0
	for {
		m := markPattern.FindStringSubmatchIndex(rest)
		if m == nil {
			return name, marks
		}
		if len(marks) == 0 {
			name = strings.ToLower(strings.Join(strings.Fields(text[:at+m[0]]), ""))
		}
		marks = append(marks, mark{strings.ToLower(rest[m[2]:m[3]]), rest[m[4]:m[5]]})
		rest, at = rest[m[5]:], at+m[5]
	}
}

func parseMarked(name string, marks []mark) (Shape, error) {
	kind, ok := kindOf[name]
	if !ok {
		return Shape{}, errUnknownName
	}
	texts := make([]string, len(marks))
	for i, m := range marks {
		texts[i] = m.size
	}
	values, err := lengths(texts)
	if err != nil {
		return Shape{}, err
	}
	byLetter := map[string]float64{}
	for i, m := range marks {
		if _, twice := byLetter[m.letter]; twice {
			return Shape{}, fmt.Errorf("the size %s is given twice", m.letter)
		}
		byLetter[m.letter] = values[i]
	}
	radius := byLetter["r"]
	used := map[string]bool{"r": true}
	var sizes []float64
	for _, choice := range letters[kind] {
		for _, l := range strings.Fields(choice) {
			if v, ok := byLetter[l]; ok {
				sizes, used[l] = append(sizes, v), true
				break
			}
		}
	}
	for _, m := range marks {
		if !used[m.letter] {
			return Shape{}, fmt.Errorf("a %s has no size %s; its sizes are %s", kind, m.letter, usualLetters(kind))
		}
	}
	return described(kind, sizes, radius)
}

func usualLetters(kind Kind) string {
	var out []string
	for _, choice := range letters[kind] {
		first, _, _ := strings.Cut(choice, " ")
		out = append(out, first)
	}
	return strings.Join(out, ", ")
}
