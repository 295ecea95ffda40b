package note

import (
	"bytes"
	"testing"

	"swapworth/note/render"
)

// rendered returns the bytes of a document; for JSON those of a result.
func rendered(t *testing.T, f render.Format, d render.Document, result ...any) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := render.Render(&b, f, false, append(result, nil)[0], d); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
