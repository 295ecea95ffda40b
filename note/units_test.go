package note

import (
	"bytes"
	"regexp"
	"strings"
	"testing"

	"github.com/clipperhouse/displaywidth"

	"swapworth/beam"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/note/render"
	"swapworth/quantity"
	"swapworth/swap"
	"swapworth/swap/fit"
)

// metricUnit matches a number in a metric unit, and a heading that names one.
var metricUnit = regexp.MustCompile(`[0-9][ \x{00a0}](?:[cm]?m|kg|g|N|k?N|[MG]Pa)[0-9]?(?:[^\w.]|$)` +
	`|(?:, ?|\()(?:mm|g|N|kg|MPa|GPa)[0-9]?(?:[ /),;]|$)|\bN/mm|\bkg/m3|\bper (?:kg|gram)`)

// imperialDocuments are notes of every kind.
func imperialDocuments(t *testing.T) map[string]render.Document {
	t.Helper()
	c := demoCase(t)
	r := decidedDemo(t, c)
	r.Units, c.Units = quantity.Imperial, quantity.Imperial
	arm, err := mesh.Load("../testdata/arm_old.stl", mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	al := materials.Elastic{YoungsModulus: 70000, Poisson: 0.33, Yield: 250}
	bent, err := beam.OfPart(referencePart(t, "slab"), al, beam.Setup{Span: mesh.X, Load: mesh.Z, Force: 20})
	if err != nil {
		t.Fatal(err)
	}
	material, err := materials.Default().Find("6061-T6")
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]render.Document{
		"compare": Compare(r, c), "short": Short(r), "rank": Rank(swap.Ranking{Old: r.Old, Redesigns: []swap.Result{r}}, []swap.Case{c}),
		"section": namedSection(t, "tube 20x2mm").Document(), "solid": solidReport(t).Document(),
		"beam":     BeamReport{File: "slab.stl", Result: bent}.Document(),
		"fit":      FitReport{Result: fit.Compare(arm.Mesh, arm.Mesh, fit.Options{})}.Document(),
		"mesh":     NewMeshReport(arm).Document(),
		"material": MaterialDocument(material), "materials": MaterialList{Materials: materials.Default().All()}.Document(),
	}
	for name, d := range all {
		d.Units = quantity.Imperial
		all[name] = d
	}
	return all
}

func TestNoMetricUnitIsLeftInAnImperialNote(t *testing.T) {
	for name, d := range imperialDocuments(t) {
		for _, f := range []render.Format{render.Terminal, render.Markdown, render.CSV} {
			for _, line := range strings.Split(string(rendered(t, f, d)), "\n") {
				if strings.Contains(line, "tube 20") { // as it was typed
					continue
				}
				if found := metricUnit.FindString(line); found != "" {
					t.Errorf("%s as %s: %q in %q", name, f, found, line)
				}
				if f == render.Terminal && displaywidth.String(line) > 80 {
					t.Errorf("%s: %d columns: %s", name, displaywidth.String(line), line)
				}
			}
		}
	}
}

func TestNoMetricUnitIsLeftInAnImperialFigure(t *testing.T) {
	text := regexp.MustCompile(`>([^<]+)</text>`)
	drawn := 0
	for name, d := range imperialDocuments(t) {
		for _, b := range d.Blocks {
			later, ok := b.(render.Later)
			if !ok {
				continue
			}
			for _, p := range later(quantity.Imperial) {
				picture, ok := p.(render.Picture)
				if !ok {
					continue
				}
				svg, err := picture.SVG()
				if err != nil {
					t.Fatal(err)
				}
				drawn++
				for _, said := range text.FindAllSubmatch(svg, -1) {
					if found := metricUnit.Find(said[1]); found != nil {
						t.Errorf("%s, %s: %q in %q", name, picture.Title, found, said[1])
					}
				}
			}
		}
	}
	if drawn < 8 {
		t.Errorf("only %d figures were drawn", drawn)
	}
}

// 1 in = 25.4 mm and 1 lbf/in = 0.175127 N/mm (NIST SP 811, B.8).
func TestAnImperialNoteSaysTheSameAsTheMetricOne(t *testing.T) {
	d := render.Document{Units: quantity.Imperial, Blocks: []render.Block{
		render.Table{Header: []string{"", "old", "new"}, Rows: [][]string{
			{"size, mm", "101.6 x 25.4", "50.8 x 25.4"}, {"stiffness, N/mm", "17.51", "times 0.5"}, {"mass, g", "65.0", "412"}}},
		render.Table{Title: "Inertia", Unit: "g mm2", Header: []string{"", "x"}, Rows: [][]string{{"x", "292640"}}},
		render.Lines{AsIs: true, Lines: []render.Line{{Text: "swapworth --load 20 N"}}},
	}}
	got := string(rendered(t, render.Terminal, d))
	for _, want := range []string{"size, in", "4 x 1", "2 x 1", "stiffness, lbf/in", "100", "times 0.5", "mass, oz", "2.29", "14.5", "Inertia, lb in2", "1\n", "--load 20 N"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
	if b := rendered(t, render.JSON, d, map[string]float64{"mass_g": 65}); !bytes.Contains(b, []byte(`"mass_g": 65`)) {
		t.Errorf("JSON: %s", b)
	}
}

// 110.44 g = 3.8957 oz and 36.25 N/mm = 206.99 lbf/in (NIST SP 811, B.8): rows of the
// comparison are converted before they are rounded, not from 110 g.
func TestRowsOfAComparisonAreConvertedExactly(t *testing.T) {
	r := storedResult(t)
	r.Units = quantity.Imperial
	r.Old.Mass = &swap.Range{Low: 110.03, Nominal: 110.44, High: 111.26}
	old := 36.25
	r.Stiffness = r.Stiffness[:1]
	r.Stiffness[0].Old, r.Stiffness[0].OldTurn = &old, nil
	for name, d := range map[string]render.Document{"short": Short(r), "full": Compare(r, demoCase(t))} {
		text := string(rendered(t, render.Terminal, d))
		for _, want := range []string{"3.90", " 207"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: no %q in\n%s", name, want, text)
			}
		}
	}
}
