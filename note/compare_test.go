package note

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"swapworth/beam"
	"swapworth/internal/golden"
	"swapworth/internal/textwrap"
	"swapworth/mass"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/feature"
	"swapworth/note/render"
	"swapworth/swap"
)

// demoCase is the demo plates with invented weights and loads: a plate said to be steel
// that weighs what aluminium would.
func demoCase(t *testing.T) swap.Case { return caseOf(t, "plate_old", "plate_new", 71) }

// caseOf compares two parts of testdata/.
func caseOf(t *testing.T, old, new string, grams float64) swap.Case {
	t.Helper()
	table := materials.Default()
	find := func(name string) *materials.Material {
		m, err := table.Find(name)
		if err != nil {
			t.Fatal(err)
		}
		return &m
	}
	load := func(name string) *mesh.Loaded {
		l, err := mesh.Load(filepath.Join("..", "testdata", name+".stl"), mesh.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	return swap.Case{
		Old:     swap.Side{Loaded: load(old), Material: find("S235"), Weight: &mass.Weighing{Grams: grams, Resolution: 1}},
		New:     swap.Side{Loaded: load(new), Material: find("7075-T6")},
		Count:   2,
		Machine: swap.Machine{MovingMass: 1500},
		Loading: swap.Loading{Force: 20},
		Limits:  swap.DefaultLimits(),
		Table:   table,
	}
}

// demoResult decides the demo case once for all tests.
var demoResult swap.Result

func decidedDemo(t *testing.T, c swap.Case) swap.Result {
	t.Helper()
	if demoResult.Verdict == "" {
		demoResult = decided(t, c)
	}
	return demoResult
}

func decided(t *testing.T, c swap.Case) swap.Result {
	t.Helper()
	r, err := swap.Decide(context.Background(), c)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestTheVerdictAndItsReasonComeFirst(t *testing.T) {
	c := demoCase(t)
	r := decidedDemo(t, c)
	text := string(rendered(t, render.Terminal, Compare(r, c)))
	first, rest, _ := strings.Cut(text, "\n")
	if first != "Verdict: "+string(r.Verdict) {
		t.Errorf("the first line is %q", first)
	}
	if !strings.HasPrefix(strings.Join(strings.Fields(rest), " "), strings.Join(strings.Fields(r.Reasons[0]), " ")) {
		t.Errorf("the reason %q does not follow the verdict:\n%s", r.Reasons[0], rest)
	}
}

// leaves collects every number of a JSON value.
func leaves(v any, into []float64) []float64 {
	switch v := v.(type) {
	case float64:
		return append(into, v)
	case []any:
		for _, e := range v {
			into = leaves(e, into)
		}
	case map[string]any:
		for _, e := range v {
			into = leaves(e, into)
		}
	}
	return into
}

// texts collects every string of a JSON value.
func texts(v any, into map[string]bool) map[string]bool {
	switch v := v.(type) {
	case string:
		into[v] = true
	case []any:
		for _, e := range v {
			texts(e, into)
		}
	case map[string]any:
		for _, e := range v {
			texts(e, into)
		}
	}
	return into
}

var numeral = regexp.MustCompile(`^-?\d+(\.\d+)?$`)

func TestEveryNumberOfTheNoteIsOneOfTheJSON(t *testing.T) {
	c := demoCase(t)
	slab, err := mesh.Load(filepath.Join("..", "testdata", "reference", "slab.stl"), mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	results, cases := map[string]swap.Result{"as it is": decidedDemo(t, c)}, map[string]swap.Case{"as it is": c}
	for name, change := range map[string]func(*swap.Case){
		"two meshes": func(c *swap.Case) {
			*c = swap.Case{Old: swap.Side{Loaded: slab}, New: swap.Side{Loaded: slab}, Table: c.Table, Limits: c.Limits}
		},
		"heavier": func(c *swap.Case) {
			c.Old.Loaded, c.New.Loaded = slab, slab
			c.Old.Weight = nil
			c.Old.Material, c.New.Material = c.New.Material, c.Old.Material
			c.Loading.Method = swap.ByBeam
		},
	} {
		c := c
		change(&c)
		results[name], cases[name] = decided(t, c), c
	}
	for name, r := range results {
		if n := holdNumbers(t, name, r, Compare(r, cases[name])); n < 20 {
			t.Errorf("%s: only %d numbers were checked", name, n)
		}
	}
	full := storedResult(t)
	holdNumbers(t, "every block filled", full, Compare(full, swap.Case{}))
	c.Loading.Method, c.Old.Loaded, c.New.Loaded, c.Old.Weight = swap.ByBeam, slab, slab, nil
	varied, err := swap.Vary(t.Context(), c, swap.Variation{Thickness: []float64{5, 7}})
	if err != nil {
		t.Fatal(err)
	}
	holdNumbers(t, "varied", varied, Vary(varied, c))
}

// holdNumbers looks up every number of the document's tables in the JSON of the
// result, and returns how many there were.
func holdNumbers(t *testing.T, name string, result any, doc render.Document) (checked int) {
	t.Helper()
	var tree any
	if err := json.Unmarshal(rendered(t, render.JSON, render.Document{}, result), &tree); err != nil {
		t.Fatal(err)
	}
	known, words := leaves(tree, nil), texts(tree, map[string]bool{})
	for _, b := range doc.Blocks {
		table, ok := render.Bare(b).(render.Table)
		if !ok || table.Title == "Inputs" || strings.HasPrefix(table.Title, "What would turn") {
			continue // these come from the question
		}
		for _, row := range table.Rows {
			if table.Title == "Where the answer turns" {
				row = row[:2] // the meaning repeats the limit as it was asked
			}
			for _, cell := range row {
				if spoken(words, textwrap.Untied(cell)) {
					continue // taken from the JSON as it is
				}
				for _, word := range strings.FieldsFunc(textwrap.Untied(cell), func(r rune) bool { return strings.ContainsRune(" ()x,;", r) }) {
					if !numeral.MatchString(word) {
						continue
					}
					checked++
					if !roundedFrom(word, known) {
						t.Errorf("%s: %s of %q in %q is no number of the JSON", name, word, cell, table.Title)
					}
				}
			}
		}
	}
	return checked
}

// spoken reports whether a cell is a string of the JSON, as it is or as a sentence.
func spoken(words map[string]bool, cell string) bool {
	plain := strings.TrimSuffix(cell, ".")
	return words[cell] || words[plain] || plain != "" && words[strings.ToLower(plain[:1])+plain[1:]]
}

// roundedFrom reports whether the text is one of the values rounded to its own
// decimals: as it is, without its sign (a saving said as lighter or heavier), or
// as percent (a probability).
func roundedFrom(text string, values []float64) bool {
	_, fraction, _ := strings.Cut(text, ".")
	said, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return false
	}
	half := 0.5*math.Pow(10, -float64(len(fraction))) + 1e-9
	for _, v := range values {
		for _, shown := range []float64{v, math.Abs(v), 100 * v} {
			if math.Abs(shown-said) <= half {
				return true
			}
		}
	}
	return false
}

// storedResult is a comparison with every block filled; its numbers are invented
// where the program did not find them.
func storedResult(t *testing.T) swap.Result {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("testdata", "compare.json"))
	if err != nil {
		t.Fatal(err)
	}
	var r swap.Result
	if err := json.Unmarshal(b, &r); err != nil {
		t.Fatal(err)
	}
	return r
}

func TestTheJSONOfAComparisonReadsBackAsTheSame(t *testing.T) {
	for _, want := range []swap.Result{storedResult(t), decidedDemo(t, demoCase(t))} {
		first := rendered(t, render.JSON, render.Document{}, want)
		var got swap.Result
		if err := json.Unmarshal(first, &got); err != nil {
			t.Fatal(err)
		}
		if again := rendered(t, render.JSON, render.Document{}, got); !bytes.Equal(first, again) {
			line, was, is := golden.FirstDifference(first, again)
			t.Errorf("line %d was %q and comes back as %q", line, was, is)
		}
	}
}

func TestANoteOfTwoPlatesIsAsLookedAt(t *testing.T) {
	c := caseOf(t, "reference/carriage_old", "reference/carriage_new", 112)
	c.Table = nil // values of materials may be amended; the note's look may not
	r := storedResult(t)
	at := []float64{40.1, 60}
	r.Drawing = &swap.Drawing{
		Old: swap.Drawn{Mesh: c.Old.Loaded.Mesh, Holes: feature.Holes(c.Old.Loaded.Mesh), Bent: []swap.Bent{{Along: mesh.Z, WeakestAt: &at[0]}, {Along: mesh.Y}}},
		New: swap.Drawn{Mesh: c.New.Loaded.Mesh, Holes: feature.Holes(c.New.Loaded.Mesh), Bent: []swap.Bent{{Along: mesh.Z, WeakestAt: &at[1]}, {Along: mesh.Y}}},
	}
	for x := 0.0; x <= 120; x += 10 {
		r.Drawing.Old.Bent[0].Points = append(r.Drawing.Old.Bent[0].Points, beam.Point{At: x, EI: 5.1e7})
		r.Drawing.New.Bent[0].Points = append(r.Drawing.New.Bent[0].Points, beam.Point{At: x, EI: 8.8e7 - 1e6*x/2})
	}
	doc := Compare(r, c).MadeBy(render.Origin{Version: "0.0.0", Command: "swapworth compare carriage_old.stl carriage_new.stl"})
	for _, f := range render.All() {
		if f == render.JSON {
			continue // the result may gain keys; that its JSON reads back is tested above
		}
		golden.Check(t, "compare_"+string(f)+f.Extension(), rendered(t, f, doc, r))
	}
}
