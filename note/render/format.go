package render

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"swapworth/internal/textwrap"
)

// Format is an output format by the name a person types; the empty one is the
// terminal table. Each is told of by a kind in a file of its own.
type Format string

// kind is what there is to know of a format.
type kind struct {
	name    Format
	title   string   // what it is called
	also    []string // other names
	endings []string // those of files that ask for it; the first is the one it gets
	media   string   // its type as the web names it (RFC 6838)
	drawn   bool     // shows figures, or names their files
	paged   bool     // begins with the first page
	copied  bool     // is pasted or read by programs, so no spaces that tie words
	write   func(w io.Writer, p printed) error
	extent  func(written []byte) string // how long it is; nil where its size says it all
}

// printed is what a format writes: JSON the result, the others the document.
type printed struct {
	doc    Document
	result any
	colour bool // for a terminal that wants it
}

// kinds lists every format in the order that help tells of them.
var kinds = []kind{terminalKind, pasteKind, markdownKind, csvKind, jsonKind, htmlKind, pdfKind}

// kind finds the format among those there are.
func (f Format) kind() (kind, error) {
	if f == "" {
		return terminalKind, nil
	}
	for _, k := range kinds {
		if k.name == f {
			return k, nil
		}
	}
	return kind{}, fmt.Errorf("format %q: expected %s", string(f), Formats())
}

// Extension returns the file ending that fits the format, with its dot.
func (f Format) Extension() string {
	k, err := f.kind()
	if err != nil {
		return ""
	}
	return k.endings[0]
}

// MediaType is the type of the format as the web names it.
func (f Format) MediaType() string {
	k, _ := f.kind()
	return k.media
}

// All lists every format.
func All() []Format {
	out := make([]Format, len(kinds))
	for i, k := range kinds {
		out[i] = k.name
	}
	return out
}

// Formats lists the names for a help text.
func Formats() string {
	var names []string
	for _, f := range All() {
		names = append(names, string(f))
	}
	return listed(names)
}

// Endings lists the endings that name a format, for an error.
func Endings() string {
	var all []string
	for _, k := range kinds {
		all = append(all, k.endings...)
	}
	slices.Sort(all)
	return listed(slices.Compact(all))
}

func listed(words []string) string {
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

// ParseFormat reads a format by one of its names, in either case.
func ParseFormat(s string) (Format, error) {
	name := strings.ToLower(strings.TrimSpace(s))
	for _, k := range kinds {
		if name == string(k.name) || slices.Contains(k.also, name) {
			return k.name, nil
		}
	}
	return "", fmt.Errorf("format %q: expected %s", s, Formats())
}

// FormatOfFile returns the format that the ending of a file name asks for; ok
// is false when it names none. Where several share an ending, it is the last one's:
// a whole Markdown note, not its table.
func FormatOfFile(path string) (f Format, ok bool) {
	ending := strings.ToLower(filepath.Ext(path))
	for _, k := range kinds {
		if slices.Contains(k.endings, ending) {
			f, ok = k.name, true
		}
	}
	return f, ok
}

// lineCount is how long a text is.
func lineCount(written []byte) string {
	return textwrap.Counted(bytes.Count(written, []byte("\n")), "line")
}
