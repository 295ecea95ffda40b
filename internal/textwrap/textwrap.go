// Package textwrap breaks text into lines, in columns of a terminal or in any other
// unit, and keeps a number beside its unit.
package textwrap

import (
	"strings"

	"github.com/clipperhouse/displaywidth"
)

// Tie is the space that holds two words on one line; Columns writes it as a plain
// one.
const Tie = "\u00a0"

// Untied turns the spaces that hold words together into plain ones, for formats
// that are read by programs or pasted.
func Untied(s string) string { return strings.ReplaceAll(s, Tie, " ") }

// Columns breaks text between words into lines of at most width columns. Words that
// are tied together are parted only when they do not fit on a line of their own,
// and a single word, such as a path or a hash, is broken inside for no less.
func Columns(text string, width int) []string {
	return In(text, width, displaywidth.String)
}

// In is Columns in any unit that measure measures text in.
func In[N int | float64](text string, width N, measure func(string) N) []string {
	var words []string
	for group := range strings.SplitSeq(text, " ") {
		group = strings.ReplaceAll(group, Tie, " ")
		if measure(group) <= width {
			words = append(words, group)
		} else {
			words = append(words, strings.Fields(group)...)
		}
	}
	return fill(words, width, measure)
}

// fill sets words into lines of at most the width.
func fill[N int | float64](words []string, width N, measure func(string) N) []string {
	var lines []string
	line := ""
	for _, word := range words {
		if measure(word) == 0 {
			continue
		}
		if longer := line + " " + word; line != "" && measure(longer) <= width {
			line = longer
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for measure(word) > width {
			head, rest := breakWord(word, width, measure)
			lines = append(lines, head)
			word = rest
		}
		line = word
	}
	if line != "" || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// breakWord splits off the longest beginning that fits, at least one character.
func breakWord[N int | float64](word string, width N, measure func(string) N) (head, rest string) {
	used := 0
	g := displaywidth.StringGraphemes(word)
	for g.Next() {
		if used > 0 && measure(word[:used+len(g.Value())]) > width {
			break
		}
		used += len(g.Value())
	}
	return word[:used], word[used:]
}
