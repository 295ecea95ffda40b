package render

import (
	"regexp"
	"strings"
)

// Origin is what a note says of the run that made it: the version, the command
// line that reproduces it, and the files beside the meshes that went into it.
type Origin struct {
	Version, Command string
	Files            []string // each with its SHA-256
}

// plainWord matches what a POSIX shell takes as it is.
var plainWord = regexp.MustCompile(`^[A-Za-z0-9_@%+=:,./-]+$`)

// CommandLine joins words so that a POSIX shell splits them again as they were.
func CommandLine(words ...string) string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = w
		if !plainWord.MatchString(w) {
			out[i] = "'" + strings.ReplaceAll(w, "'", `'\''`) + "'"
		}
	}
	return strings.Join(out, " ")
}

// MadeBy returns the document with its origin at the end.
func (d Document) MadeBy(o Origin) Document {
	made := Lines{Title: "How this was made", AsIs: true, Lines: []Line{
		{Text: "swapworth " + o.Version}, {Text: "Reproduce it with: " + o.Command},
	}}
	for _, f := range o.Files {
		made.Lines = append(made.Lines, Line{Text: "With " + f})
	}
	d.Blocks = append(d.Blocks[:len(d.Blocks):len(d.Blocks)], Detail{made})
	return d
}
