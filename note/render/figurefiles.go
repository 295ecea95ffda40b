package render

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"swapworth/internal/files"
	"swapworth/internal/textwrap"
	"swapworth/quantity"
)

// pictureDPI is fine enough for print.
const pictureDPI = 200

// WriteFigures writes every figure of the document into a folder, as SVG and as
// PNG, under its number and title. It returns the document with the figures
// knowing their files, as they are reached from the folder of the note, for a
// format that can only name them, and says what it wrote.
func (d Document) WriteFigures(folder, ofNote string, overwrite bool) (drawn Document, wrote string, err error) {
	d = cleaned(inUnits(expanded(d)))
	d.Units = quantity.Metric // all of it is converted
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return d, "", fmt.Errorf("figures: %w", err)
	}
	reached, err := filepath.Rel(ofNote, folder)
	if err != nil { // one of them absolute, the other not
		reached = folder
	}
	number := 0
	for i, b := range d.Blocks {
		f, ok := Bare(b).(Picture)
		if !ok {
			continue
		}
		number++
		name := fmt.Sprintf("%d-%s", number, fileWord(f.Title))
		svg, err := f.SVG()
		if err != nil {
			return d, "", err
		}
		png, err := f.PNG(pictureDPI)
		if err != nil {
			return d, "", err
		}
		for _, file := range []struct {
			ending string
			data   []byte
		}{{".svg", svg}, {".png", png}} {
			if err := WriteFile(filepath.Join(folder, name+file.ending), file.data, overwrite); err != nil {
				return d, "", err
			}
		}
		f.File = filepath.ToSlash(filepath.Join(reached, name+".svg"))
		d.Blocks[i] = f
	}
	return d, fmt.Sprintf("%s: %s, as SVG and PNG", files.Show(folder), textwrap.Counted(number, "figure")), nil
}

// fileWord makes a title fit for the name of a file on any system.
func fileWord(title string) string {
	words := strings.FieldsFunc(strings.ToLower(title), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	})
	return strings.Join(words, "-")
}
