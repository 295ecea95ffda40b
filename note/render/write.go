package render

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	"swapworth/internal/files"
	"swapworth/internal/textwrap"
	"swapworth/quantity"
)

// Target says in which format a result goes where. An empty Path is the writer
// given to Write. An existing file is left alone unless Overwrite is set.
type Target struct {
	Format    Format
	Path      string
	Overwrite bool
}

// Write sends a result out: JSON is the result itself, every other format is
// rendered from the document. The same input gives the same bytes. A file
// appears whole or not at all; wrote says what it holds, and is empty without one.
func Write(w io.Writer, t Target, result any, doc Document) (wrote string, err error) {
	if t.Path == "" {
		if t.Format == PDF && isTerminal(w) {
			return "", errors.New("a PDF is not for a terminal; name a file with -o FILE.pdf")
		}
		return "", Render(w, t.Format, colourWanted(w), result, doc)
	}
	// Said before the work of rendering; the write itself checks again.
	if err := files.Check(t.Path, t.Overwrite); err != nil {
		return "", err
	}
	var b bytes.Buffer
	if err := Render(&b, t.Format, false, result, doc); err != nil {
		return "", err
	}
	k, err := t.Format.kind()
	if err != nil {
		return "", err
	}
	return files.Show(t.Path) + ": " + k.says(b.Bytes()), WriteFile(t.Path, b.Bytes(), t.Overwrite)
}

// says tells in a few words what was written in this format.
func (k kind) says(written []byte) string {
	text := k.title
	if k.extent != nil {
		text += ", " + k.extent(written)
	}
	return text + ", " + sizeOf(len(written))
}

// sizeOf is a count of bytes for reading, in the units of SI.
func sizeOf(bytes int) string {
	for _, u := range []struct {
		name string
		size float64
	}{{"MB", 1e6}, {"kB", 1e3}} {
		if v := float64(bytes) / u.size; v >= 0.9995 {
			return quantity.Number(v, 3) + " " + u.name
		}
	}
	return fmt.Sprintf("%d bytes", bytes)
}

// Render writes the document, or for JSON the result, in the given format.
// Colour is for the terminal table alone.
func Render(w io.Writer, f Format, colour bool, result any, doc Document) error {
	k, err := f.kind()
	if err != nil {
		return err
	}
	return k.write(w, printed{laidOut(k, doc), result, colour})
}

// laidOut is the document as a format writes it: in the units asked for, its figures
// worked out where they are shown, what the first page says left out of its appendix.
func laidOut(k kind, doc Document) Document {
	if k.drawn {
		doc = expanded(doc)
	}
	if k.paged && len(doc.Front) > 0 {
		doc.Blocks = appendix(doc.Blocks)
	} else {
		doc.Front = nil
	}
	doc = cleaned(inUnits(doc))
	if k.copied {
		doc = mapDocument(doc, textwrap.Untied)
	}
	return doc
}

// expanded puts the blocks in place that were left for later.
func expanded(doc Document) Document {
	expand := func(blocks []Block) (out []Block) {
		for _, b := range blocks {
			if later, ok := b.(Later); ok {
				out = append(out, later(doc.Units)...)
			} else {
				out = append(out, b)
			}
		}
		return out
	}
	doc.Front, doc.Blocks = expand(doc.Front), expand(doc.Blocks)
	return doc
}

// appendix leaves out what stands on the first page.
func appendix(blocks []Block) (out []Block) {
	for _, b := range blocks {
		switch b.(type) {
		case OnFront, Undrawn:
		default:
			out = append(out, b)
		}
	}
	return out
}

// WriteFile writes data to a file that appears whole or not at all; an existing
// one is an error unless overwrite is set.
func WriteFile(path string, data []byte, overwrite bool) error {
	return files.Write(path, overwrite, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}
