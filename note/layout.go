package note

import (
	"strings"

	"github.com/clipperhouse/displaywidth"
)

// pageColumns is the width of a terminal that every table fits into.
const pageColumns = 80

// columnWidths divides total columns of text among the columns of a table.
// A column gets what its longest cell needs; when that is too much, the widest
// columns shrink first, so that numbers stay on one line and prose wraps.
func columnWidths(rows [][]string, columns, total int) []int {
	widths := make([]int, columns)
	sum := 0
	for _, r := range rows {
		for i, cell := range r {
			widths[i] = max(widths[i], displaywidth.String(cell))
		}
	}
	for _, w := range widths {
		sum += w
	}
	for ; sum > total; sum-- {
		widest := 0
		for i, w := range widths {
			if w > widths[widest] {
				widest = i
			}
		}
		if widths[widest] <= 1 {
			break
		}
		widths[widest]--
	}
	return widths
}

// wrap breaks text between words into lines of at most width columns; a word
// that is longer, such as a path or a hash, is broken inside.
func wrap(text string, width int) []string {
	var lines []string
	line, used := "", 0
	for _, word := range strings.Fields(text) {
		w := displaywidth.String(word)
		if used > 0 && used+1+w <= width {
			line, used = line+" "+word, used+1+w
			continue
		}
		if used > 0 {
			lines = append(lines, line)
		}
		for w > width {
			head, rest := breakWord(word, width)
			lines = append(lines, head)
			word, w = rest, displaywidth.String(rest)
		}
		line, used = word, w
	}
	if used > 0 || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// breakWord splits off the longest beginning that fits, at least one character.
func breakWord(word string, width int) (head, rest string) {
	used := 0
	g := displaywidth.StringGraphemes(word)
	for g.Next() {
		if w := g.Width(); used == 0 || displaywidth.String(word[:used])+w <= width {
			used += len(g.Value())
			continue
		}
		break
	}
	return word[:used], word[used:]
}
