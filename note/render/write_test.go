package render

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/clipperhouse/displaywidth"
	"pgregory.net/rapid"

	"swapworth/internal/property"
	"swapworth/materials"
	"swapworth/quantity"
)

func TestAFormatIsReadByItsName(t *testing.T) {
	for _, f := range All() {
		got, err := ParseFormat(" " + strings.ToUpper(string(f)))
		if err != nil || got != f {
			t.Errorf("ParseFormat(%q) = %v, %v", f, got, err)
		}
	}
	_, err := ParseFormat("docx")
	if err == nil || !strings.Contains(err.Error(), Formats()) {
		t.Errorf("an unknown format should list the known ones, got %v", err)
	}
	if f, ok := FormatOfFile("Note.PDF"); f != PDF || !ok {
		t.Errorf("Note.PDF names %v, %v", f, ok)
	}
}

func TestAnExistingFileIsLeftAlone(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "note.md")
	if err := os.WriteFile(path, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	target := Target{Format: Markdown, Path: path}
	_, err := Write(nil, target, nil, sample())
	if err == nil || !strings.Contains(err.Error(), "--overwrite") || strings.Contains(err.Error(), "\n") {
		t.Errorf("want one line that names --overwrite, got %v", err)
	}
	if b, _ := os.ReadFile(path); string(b) != "mine" {
		t.Errorf("the file now holds %q", b)
	}
	target.Overwrite = true
	if _, err := Write(nil, target, nil, sample()); err != nil {
		t.Fatal(err)
	}
	if b, _ := os.ReadFile(path); !bytes.Equal(b, rendered(t, Markdown, sample())) {
		t.Error("the file does not hold what the terminal would get")
	}
	left, _ := os.ReadDir(dir)
	if len(left) != 1 {
		t.Errorf("temporary files are left behind: %v", left)
	}
}

func TestAFolderOrAMissingFolderIsOneClearLine(t *testing.T) {
	dir := t.TempDir()
	for _, path := range []string{dir, filepath.Join(dir, "none", "note.md")} {
		_, err := Write(nil, Target{Format: Markdown, Path: path, Overwrite: true}, nil, sample())
		if err == nil || strings.Contains(err.Error(), "\n") || !strings.Contains(err.Error(), path) {
			t.Errorf("%s: got %v", path, err)
		}
	}
}

// A name taken between the first look and the last step must not be replaced.
func TestAFileThatAppearsMeanwhileIsLeftAlone(t *testing.T) {
	path := filepath.Join(t.TempDir(), "note.md")
	if err := os.WriteFile(path, []byte("theirs"), 0o644); err != nil {
		t.Fatal(err)
	}
	err := WriteFile(path, []byte("ours"), false)
	if err == nil || !strings.Contains(err.Error(), "exists") {
		t.Errorf("got %v", err)
	}
	if b, _ := os.ReadFile(path); string(b) != "theirs" {
		t.Errorf("the file now holds %q", b)
	}
}

func TestJSONWritesNullForWhatIsNoNumber(t *testing.T) {
	v := struct {
		A float64         `json:"a"`
		B []float64       `json:"b"`
		C materials.Range `json:"c"`
		D *float64        `json:"d"`
		E string          `json:"e"`
		F []string        `json:"f"`
	}{A: math.NaN(), B: []float64{math.Inf(1), 1e-9, 0.1}, C: materials.Exactly(math.Inf(-1)), E: "bad \xff bytes"}
	var b bytes.Buffer
	if err := writeJSON(&b, v); err != nil {
		t.Fatal(err)
	}
	var got map[string]any
	if err := json.Unmarshal(b.Bytes(), &got); err != nil {
		t.Fatalf("%v\n%s", err, b.Bytes())
	}
	list := got["b"].([]any)
	if got["a"] != nil || list[0] != nil || list[1] != 1e-9 || list[2] != 0.1 {
		t.Errorf("got %v", got)
	}
	if got["d"] != nil || got["f"] == nil {
		t.Errorf("a missing value should be null and an empty list a list: %v", got)
	}
}

func TestJSONNumbersReadBackExactly(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		v := rapid.Float64().Draw(t, "v")
		var b bytes.Buffer
		if err := writeJSON(&b, v); err != nil {
			t.Fatal(err)
		}
		var back float64
		if err := json.Unmarshal(b.Bytes(), &back); err != nil || back != v {
			t.Fatalf("%v came back as %v from %s: %v", v, back, b.Bytes(), err)
		}
	})
}

// anyText draws words a person, a file system or an attacker could put into a
// note: wide characters, escapes, markup and bytes that are no UTF-8.
func anyText() *rapid.Generator[string] {
	word := rapid.OneOf(
		rapid.String(),
		rapid.StringMatching(`[a-z0-9./_-]{1,120}`),
		rapid.SampledFrom([]string{"\x1b[31m", "<script>", "|", "漢字かな", "👩‍🔧", "=1+1", "\xff\xfe", "a\nb", "é́́", "\u202e"}),
	)
	return rapid.Map(rapid.SliceOfN(word, 0, 8), func(w []string) string { return strings.Join(w, " ") })
}

func anyDocument(t *rapid.T) Document {
	columns := rapid.IntRange(1, 8).Draw(t, "columns")
	row := rapid.SliceOfN(anyText(), columns, columns)
	return Document{
		Title: anyText().Draw(t, "title"),
		Lead:  []Line{{anyText().Draw(t, "lead"), Bad}},
		Blocks: []Block{
			Table{Title: anyText().Draw(t, "caption"), Header: row.Draw(t, "header"), Rows: rapid.SliceOfN(row, 0, 5).Draw(t, "rows")},
			List{Title: "list", Items: rapid.SliceOfN(anyText(), 0, 3).Draw(t, "items"), Ordered: true},
		},
	}
}

func TestATerminalLineIsNeverWiderThan80Columns(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		var b bytes.Buffer
		if err := Render(&b, Terminal, false, nil, anyDocument(t)); err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(b.String()) {
			line = strings.TrimSuffix(line, "\n")
			if w := displaywidth.String(line); w > pageColumns {
				t.Fatalf("%d columns: %q", w, line)
			}
			if strings.ContainsAny(line, "\x1b\x07\r") {
				t.Fatalf("a control character got through: %q", line)
			}
		}
	})
}

func TestCSVHasRecordsOfEqualLengthAndNoFormula(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		var b bytes.Buffer
		if err := Render(&b, CSV, false, nil, anyDocument(t)); err != nil {
			t.Fatal(err)
		}
		records, err := csv.NewReader(&b).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range records {
			for _, f := range r {
				if strings.HasPrefix(f, "=") || strings.HasPrefix(f, "@") {
					t.Fatalf("%q would run in a spreadsheet", f)
				}
			}
		}
	})
}

func TestEveryFormatBearsAnyText(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		d := anyDocument(t)
		for _, f := range []Format{Paste, Markdown, HTML, PDF} {
			if err := Render(&bytes.Buffer{}, f, false, nil, d); err != nil {
				t.Fatalf("%v: %v", f, err)
			}
		}
	})
}

func TestTheSameInputGivesTheSameBytes(t *testing.T) {
	for _, f := range All() {
		first := rendered(t, f, sample())
		for range 3 {
			if !bytes.Equal(first, rendered(t, f, sample())) {
				t.Errorf("%v differs from one run to the next", f)
			}
		}
	}
}

func TestColourIsForTerminalsThatWantIt(t *testing.T) {
	var plain, loud bytes.Buffer
	if _, err := Write(&plain, Target{}, nil, sample()); err != nil {
		t.Fatal(err)
	}
	if err := Render(&loud, Terminal, true, nil, sample()); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(plain.String(), "\x1b") {
		t.Error("a pipe got colour")
	}
	if !strings.Contains(loud.String(), "\x1b[31;1m") {
		t.Error("a bad line got no colour")
	}
}

func TestFiguresAreWorkedOutOnlyWhereTheyAreShown(t *testing.T) {
	for _, f := range All() {
		worked := false
		doc := Document{Title: "t", Blocks: []Block{
			Table{Header: []string{"a"}, Rows: [][]string{{"b"}}},
			Later(func(quantity.System) []Block {
				worked = true
				return []Block{List{Title: "late", Items: []string{"came late"}}}
			}),
		}}
		shown := bytes.Contains(rendered(t, f, doc), []byte("came late"))
		if want := f == Markdown || f == HTML || f == PDF; worked != want || shown != want && f != PDF {
			t.Errorf("%v: worked out %v, shown %v, want %v", f, worked, shown, want)
		}
	}
}
