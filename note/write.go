package note

import (
	"bytes"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
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
// appears whole or not at all.
func Write(w io.Writer, t Target, result any, doc Document) error {
	if t.Path == "" {
		if t.Format == PDF && isTerminal(w) {
			return errors.New("a PDF is not for a terminal; name a file with -o FILE.pdf")
		}
		return Render(w, t.Format, colourWanted(w), result, doc)
	}
	// Said before the work of rendering; the write itself checks again.
	if err := refuse(t); err != nil {
		return err
	}
	var b bytes.Buffer
	if err := Render(&b, t.Format, false, result, doc); err != nil {
		return err
	}
	return writeFile(t, b.Bytes())
}

// Render writes the document, or for JSON the result, in the given format.
// Colour is for the terminal table alone.
func Render(w io.Writer, f Format, colour bool, result any, doc Document) error {
	doc = cleaned(expanded(doc, f))
	if f == Paste || f == Markdown || f == CSV {
		doc = mapDocument(doc, untied)
	}
	switch f {
	case Terminal:
		return writeText(w, doc, colour)
	case Paste:
		return writePaste(w, doc)
	case Markdown:
		return writeMarkdown(w, doc)
	case CSV:
		return writeCSV(w, doc)
	case JSON:
		return writeJSON(w, result)
	case HTML:
		return writeHTML(w, doc)
	case PDF:
		return writePDF(w, doc)
	}
	return fmt.Errorf("format %s cannot be written", f)
}

// expanded puts the blocks in place that were left for later, where the format
// has a use for them.
func expanded(doc Document, f Format) Document {
	shown := f == Markdown || f == HTML || f == PDF
	var blocks []Block
	for _, b := range doc.Blocks {
		later, ok := b.(Later)
		switch {
		case !ok:
			blocks = append(blocks, b)
		case shown:
			blocks = append(blocks, later()...)
		}
	}
	doc.Blocks = blocks
	return doc
}

func refuse(t Target) error {
	info, err := os.Stat(t.Path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return fmt.Errorf("output %s: %w", strconv.Quote(t.Path), err)
	case info.IsDir():
		return fmt.Errorf("output %q is a folder; name a file in it", t.Path)
	case !t.Overwrite:
		return fmt.Errorf("output %q exists; choose another name or add --overwrite", t.Path)
	}
	return nil
}

// writeFile puts data beside the target and moves it there in one step, so that
// a reader never meets half a file and a failure leaves the old one.
func writeFile(t Target, data []byte) (err error) {
	f, err := beside(t.Path)
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("output %q: there is no folder %q; make it first", t.Path, filepath.Dir(t.Path))
	}
	if err != nil {
		return fmt.Errorf("output %q: %w", t.Path, errors.Unwrap(err)) // the name it carries is not the person's
	}
	defer os.Remove(f.Name()) // nothing to remove once it has been renamed
	_, err = f.Write(data)
	if e := f.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = place(f.Name(), t)
	}
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("output %q exists; choose another name or add --overwrite", t.Path)
	}
	if err != nil {
		return fmt.Errorf("output %q: %w", t.Path, err)
	}
	return nil
}

// beside creates a file of a new name in the folder of path, with the rights
// that the person gives to new files.
func beside(path string) (*os.File, error) {
	name := filepath.Join(filepath.Dir(path), ".swapworth-"+rand.Text())
	return os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
}

// place gives the finished file its name. Without Overwrite a hard link is used
// because it fails, unlike a rename, when the name is taken meanwhile; a file
// system without links gets the rename.
func place(from string, t Target) error {
	if !t.Overwrite {
		err := os.Link(from, t.Path)
		if err == nil || errors.Is(err, fs.ErrExist) {
			return err
		}
	}
	return os.Rename(from, t.Path)
}

// WriteFile writes data to a file that appears whole or not at all; an existing
// one is an error unless overwrite is set.
func WriteFile(path string, data []byte, overwrite bool) error {
	t := Target{Path: path, Overwrite: overwrite}
	if err := refuse(t); err != nil {
		return err
	}
	return writeFile(t, data)
}
