package note

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// golden compares what was written with the file of that name, byte for byte.
func golden(t *testing.T, name string, got []byte) {
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
		t.Errorf("%s differs from what is written now; look at it, then run go test ./note -update\n%s",
			path, got)
	}
}

// sample holds every kind of block and the texts that trip renderers.
func sample() Document {
	return Document{
		Title: "Sample note",
		Lead: []Line{
			{"Verdict: check first", Caution},
			{"Because the stock part was said to be steel, but its weight of 64.8 g over 23.6 cm3 says aluminium.", Bad},
		},
		Blocks: []Block{
			Table{Title: "Both parts", Header: []string{"", "old", "new", "change"}, Rows: [][]string{
				{"mass, g", "64.8", "41.2", "-36.4 %"},
				{"material", "said: S235; weighed: aluminium of some alloy", "7075-T6", ""},
				{"file", "a|b_c*.stl", "=cmd<script>.stl", "-"},
			}},
			Lines{Title: "Criteria", Lines: []Line{{"stiffness ratio at least 0.9: met", Good}}},
			List{Title: "What to check first", Ordered: true, Items: []string{"weigh the part", "# of bolts"}},
			List{Title: "Cautions", Items: []string{"An estimate, not a proof."}},
			Detail{Table{Title: "Inputs", Header: []string{"file", "SHA-256"}, Rows: [][]string{
				{"old.stl", "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef"},
			}, Align: "ll"}},
		},
	}
}

func rendered(t *testing.T, f Format, d Document) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Render(&b, f, false, map[string]any{"verdict": "check first"}, d); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestEveryFormatOfTheSampleIsAsLookedAt(t *testing.T) {
	for _, f := range []Format{Terminal, Paste, Markdown, CSV, JSON} {
		golden(t, "sample_"+f.String()+f.Extension(), rendered(t, f, sample()))
	}
}
