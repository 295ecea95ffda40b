package note

import (
	"path/filepath"
	"strings"

	"swapworth/note/render"
	"swapworth/swap"
)

// namesOf are the files of a note, in whose names no unit is converted.
func namesOf(paths ...string) []string {
	var out []string
	for _, p := range paths {
		out = append(out, p, filepath.Base(p))
	}
	return out
}

func fullStop(s string) string {
	if s == "" || strings.ContainsRune(".!?", rune(s[len(s)-1])) {
		return s
	}
	return s + "."
}

func lines(t render.Tone, texts ...string) []render.Line {
	var out []render.Line
	for _, text := range texts {
		if text != "" {
			out = append(out, render.Line{Text: fullStop(text), Tone: t})
		}
	}
	return out
}

func capital(s string) string {
	if s == "" {
		return ""
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// letter marks the i-th finding: a, b, c and on.
func letter(i int) string { return string(rune('a' + i%26)) }

// clippedIn cuts a text as it is written in the units of the note.
func clippedIn(r swap.Result, text string, most int) string {
	return clipped(r.Units.Text(text, namesOf(r.Old.File, r.New.File)...), most)
}

// clipped cuts a text at a word where it is longer than a screen gives it.
func clipped(text string, most int) string {
	runes := []rune(text)
	if len(runes) <= most {
		return text
	}
	kept := string(runes[:most-4])
	if cut := strings.LastIndex(kept, " "); cut > 0 { // a word longer than there is room for is cut itself
		kept = kept[:cut]
	}
	return strings.TrimRight(kept, " ,;:") + " ..."
}

func sentence(text string) string {
	if text == "" {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:] + "."
}
