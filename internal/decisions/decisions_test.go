package decisions

import (
	"context"
	"os"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"

	"swapworth/mesh"
	"swapworth/swap"
	"swapworth/swap/casefile"
)

// decision is one that was worked by hand.
type decision struct {
	Name      string   `toml:"name"`
	Hand      string   `toml:"hand"`   // the calculation, in a sentence
	Base      string   `toml:"base"`   // open: nothing is said but what is given
	Given     string   `toml:"given"`  // a case, laid over the base
	Unsaid    []string `toml:"unsaid"` // of the base
	Old       string   `toml:"old"`    // shapes
	New       string   `toml:"new"`
	Verdict   string   `toml:"verdict"`
	Because   string   `toml:"because"`   // is in the reasons
	Next      string   `toml:"next"`      // is in the next step
	Condition string   `toml:"condition"` // is in the condition; none: there is none
}

func TestDecisionsWorkedByHand(t *testing.T) {
	text, err := os.ReadFile("../../testdata/decisions/decisions.toml")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Base     struct{ Given string } `toml:"base"`
		Decision []decision             `toml:"decision"`
	}
	if err := toml.NewDecoder(strings.NewReader(string(text))).DisallowUnknownFields().Decode(&file); err != nil {
		t.Fatal(err)
	}
	const least = 40
	if len(file.Decision) < least {
		t.Errorf("%d decisions, want %d", len(file.Decision), least)
	}
	for _, d := range file.Decision {
		t.Run(d.Name, func(t *testing.T) {
			t.Parallel()
			if d.Hand == "" {
				t.Error("nobody worked it by hand")
			}
			c := d.question(t, file.Base.Given)
			r, err := swap.Decide(context.Background(), c)
			if err != nil {
				t.Fatal(err)
			}
			d.holds(t, r)
		})
	}
}

// question makes the case of the decision: its shapes stand in for meshes.
func (d decision) question(t *testing.T, base string) swap.Case {
	t.Helper()
	if d.Base == "open" {
		base = ""
	}
	f := parsed(t, base)
	for _, field := range d.Unsaid {
		if field != "old.weight" {
			t.Fatalf("unsaid %q: expected old.weight", field)
		}
		f.Old.Weight = nil
	}
	shapes := "[old]\nsection = 'rect 1x1mm'\nlength = 1\n[new]\nsection = 'rect 1x1mm'\nlength = 1\n"
	c, err := parsed(t, shapes).Over(f.Over(parsed(t, d.Given))).Case(false)
	if err != nil {
		t.Fatal(err)
	}
	c.Old.Loaded, c.New.Loaded, c.Old.Bar, c.New.Bar = shaped(t, d.Old), shaped(t, d.New), false, false
	for _, l := range []*mesh.Loaded{c.Old.Loaded, c.New.Loaded} {
		l.Triangles, l.Report = len(l.Mesh.Faces), mesh.Check(l.Mesh)
	}
	return c
}

func parsed(t *testing.T, text string) casefile.File {
	t.Helper()
	f, err := casefile.Parse([]byte(text))
	if err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	return f
}

func (d decision) holds(t *testing.T, r swap.Result) {
	t.Helper()
	condition := "none"
	if r.Condition != nil {
		condition = *r.Condition
	}
	reasons := strings.Join(r.Reasons, ". ")
	switch {
	case string(r.Verdict) != d.Verdict:
		t.Errorf("%s, want %s, for %s\nreasons: %s\nnext: %s", r.Verdict, d.Verdict, d.Hand, reasons, r.NextStep)
	case !strings.Contains(reasons, d.Because):
		t.Errorf("%q is in none of the reasons: %s", d.Because, reasons)
	case !strings.Contains(r.NextStep, d.Next):
		t.Errorf("the next step is %q, want %q in it", r.NextStep, d.Next)
	case !strings.Contains(condition, d.Condition):
		t.Errorf("holds %s, want %q in it", condition, d.Condition)
	}
}
