package render

import (
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"
)

// Format is an output format. The zero value is the terminal table.
type Format int

// The output formats.
const (
	Terminal Format = iota // plain text of at most 80 columns
	Paste                  // the main table alone, in Markdown
	Markdown
	CSV
	JSON // the result itself, not the document
	HTML // one self-contained page
	PDF
)

var FormatNames = [...]string{"table", "paste", "markdown", "csv", "json", "html", "pdf"}

// formatOfExtension holds the file endings that name a format.
var formatOfExtension = map[string]Format{
	".txt": Terminal, ".md": Markdown, ".markdown": Markdown, ".csv": CSV,
	".json": JSON, ".html": HTML, ".htm": HTML, ".pdf": PDF,
}

// String returns the name a person types.
func (f Format) String() string {
	if f < 0 || int(f) >= len(FormatNames) {
		return fmt.Sprintf("format(%d)", int(f))
	}
	return FormatNames[f]
}

// Extension returns the file ending that fits the format, with its dot.
func (f Format) Extension() string {
	switch f {
	case Terminal:
		return ".txt"
	case Paste, Markdown:
		return ".md"
	}
	return "." + f.String()
}

// Formats lists the names for a help text.
func Formats() string {
	last := len(FormatNames) - 1
	return strings.Join(FormatNames[:last], ", ") + " or " + FormatNames[last]
}

// Endings lists the endings that name a format, for an error.
func Endings() string {
	list := slices.Sorted(maps.Keys(formatOfExtension))
	last := len(list) - 1
	return strings.Join(list[:last], ", ") + " or " + list[last]
}

// ParseFormat reads a format by its name, in either case; "md" and "text" are
// accepted too.
func ParseFormat(s string) (Format, error) {
	name := strings.ToLower(strings.TrimSpace(s))
	switch name {
	case "md":
		return Markdown, nil
	case "text", "txt":
		return Terminal, nil
	}
	for i, n := range FormatNames {
		if name == n {
			return Format(i), nil
		}
	}
	return 0, fmt.Errorf("format %q: expected %s", s, Formats())
}

// FormatOfFile returns the format that the ending of a file name asks for; ok
// is false when it names none.
func FormatOfFile(path string) (f Format, ok bool) {
	f, ok = formatOfExtension[strings.ToLower(filepath.Ext(path))]
	return f, ok
}
