package note

import (
	"strings"

	"swapworth/internal/files"
	"swapworth/note/render"
	"swapworth/swap"
)

// RememberedBlocks name what came from the file that keeps the machine, none where
// nothing did.
func RememberedBlocks(r *swap.Remembered) []render.Block {
	if r == nil {
		return nil
	}
	return []render.Block{render.Lines{Title: "From your machine file", AsIs: true, Lines: lines(render.Plain,
		strings.Join(r.Fields, "; ")+". "+files.Show(r.File)+" keeps it; --no-machine leaves it out")}}
}

// rememberedLine is the same in what two lines of a screen hold.
func rememberedLine(r swap.Remembered) string {
	return clipped("From your machine file: "+strings.Join(r.Fields, "; "), 2*78)
}
