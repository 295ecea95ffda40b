package render

import (
	"bytes"
	"errors"
	"io"
)

// Paste is the main table alone, in Markdown.
const Paste Format = "paste"

var pasteKind = kind{
	name: Paste, title: "Markdown table", extent: lineCount, endings: []string{".md"}, media: "text/markdown; charset=utf-8", copied: true,
	write: func(w io.Writer, p printed) error { return writePaste(w, p.doc) },
}

// writePaste writes the main table alone, in Markdown, which also reads well as
// plain text.
func writePaste(w io.Writer, doc Document) error {
	for _, block := range doc.Blocks {
		t, ok := Bare(block).(Table)
		if !ok {
			continue
		}
		var b bytes.Buffer
		if err := markdownTable(&b, t); err != nil {
			return err
		}
		_, err := w.Write(b.Bytes())
		return err
	}
	return errors.New("this result has no table to paste; use another --format")
}
