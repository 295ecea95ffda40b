// Package golden compares what is written with files that somebody looked at.
// Tests alone import it.
package golden

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// Check compares what was written with testdata/golden/NAME, byte for byte, or
// rewrites that file under -update.
func Check(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", "golden", name)
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		line, was, is := FirstDifference(want, got)
		t.Errorf("%s differs from what is written now, first in line %d; look at it, then run go test with -update\nwas %.200q\nis  %.200q",
			path, line, was, is)
	}
}

// FirstDifference returns the number of the first line that differs, and that line
// of both.
func FirstDifference(a, b []byte) (line int, inA, inB []byte) {
	as, bs := bytes.Split(a, []byte("\n")), bytes.Split(b, []byte("\n"))
	for i := range min(len(as), len(bs)) {
		if !bytes.Equal(as[i], bs[i]) {
			return i + 1, as[i], bs[i]
		}
	}
	return min(len(as), len(bs)) + 1, nil, nil
}
