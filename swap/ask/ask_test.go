package ask

import (
	"context"
	"slices"
	"strings"
	"testing"

	"swapworth/beam"
	"swapworth/materials"
	"swapworth/swap"
	"swapworth/swap/casefile"
)

// result is a comparison of which only what asks on is filled in.
func result(judged swap.Verdict, tried ...swap.Tried) swap.Result {
	return swap.Result{Verdict: judged, Reasons: []string{"why"}, Explored: swap.Exploration{Judged: judged, Tried: tried}}
}

func next(t *testing.T, known casefile.File, r swap.Result, asked ...string) Question {
	t.Helper()
	q, _ := Next(known, r, materials.Default(), asked)
	return q
}

func stock(to string, v swap.Verdict) swap.Tried {
	return swap.Tried{Assumption: swap.StockMaterial, From: "S235 (assumed)", To: to, Verdict: v, Blocks: true}
}

func direction(v swap.Verdict) swap.Tried {
	return swap.Tried{Assumption: swap.LoadDirection, From: "z (assumed)", To: "y", Verdict: v, Effort: 1}
}

func TestWhatTurnsNothingIsNotAsked(t *testing.T) {
	r := result(swap.Swap, stock("6061-T6", swap.Swap), direction(swap.Swap))
	if q, ok := Next(casefile.File{}, r, materials.Default(), nil); ok {
		t.Errorf("asked %s, which can turn nothing", q.Key)
	}
}

// Worth by hand. Four worlds, swap swap keep keep, of which a weight tells all: 4/4 - 2/4.
// A magnet tells steel (swap, the one taken) from three that it does not hold on (swap,
// keep, keep): (1 + 2)/4 - 2/4. The direction has two worlds that differ: 2/2 - 1/2, but
// forbids no verdict as the material does. Brass alone is yellow: (2 + 1)/4 - 2/4.
func TestTheQuestionMostWorthAskingComesFirst(t *testing.T) {
	r := result(swap.Swap, stock("304", swap.Swap), stock("6061-T6", swap.Keep), stock("CuZn39Pb3", swap.Keep), direction(swap.Keep))
	all := map[string]float64{}
	for _, q := range questions(casefile.File{}, r, materials.Default()) {
		all[q.Key] = q.Worth
	}
	for key, want := range map[string]float64{"old.weight": 0.5, "old.magnet": 0.25, "old.colour": 0.25, "old.material": 0.5, "load.along": 0.5} {
		if all[key] != want {
			t.Errorf("%s is worth %g, want %g", key, all[key], want)
		}
	}
	var order []string
	for {
		q, ok := Next(casefile.File{}, r, materials.Default(), order)
		if !ok {
			break
		}
		order = append(order, q.Key)
	}
	if want := []string{"old.weight", "old.material", "old.magnet", "old.colour", "load.along"}; !slices.Equal(order, want) {
		t.Errorf("asked in the order %v, want %v", order, want)
	}
}

// The order is no list: it follows what the numbers turn.
func TestTheOrderFollowsTheNumbers(t *testing.T) {
	steel := result(swap.Keep, direction(swap.Keep), swap.Tried{Assumption: swap.LeastSaving, From: "10 % (usual)", To: "5 %", Verdict: swap.Swap, Effort: 2},
		swap.Tried{Assumption: swap.LeastSaving, From: "10 % (usual)", To: "20 %", Verdict: swap.Keep, Effort: 2})
	if q := next(t, casefile.File{}, steel); q.Key != "criteria.min-saving" {
		t.Errorf("first asked %q", q.Key)
	}
	if q := next(t, casefile.File{}, result(swap.Keep, direction(swap.Swap))); q.Key != "load.along" {
		t.Errorf("first asked %q", q.Key)
	}
}

func TestAnAnswerIsACaseOrSaysWhatWasExpected(t *testing.T) {
	q := next(t, casefile.File{}, result(swap.Swap, stock("6061-T6", swap.Keep)))
	f, err := q.Answer("222,5 g")
	if err != nil || f.Old.Weight == nil || f.Old.Weight.Grams != 222.5 {
		t.Errorf("222,5 g is read as %+v, %v", f.Old.Weight, err)
	}
	if _, err = q.Answer("20mm"); err == nil || err.Error() != `"20mm": expected a mass such as 65g or 0.14 lb; mm is a unit of length` {
		t.Errorf("20mm: %v", err)
	}
	if !strings.Contains(q.Why, "6061-T6: keep") || !strings.Contains(q.Unknown, "S235 (assumed)") {
		t.Errorf("why %q, unknown %q", q.Why, q.Unknown)
	}
}

func TestAPartIsHeldByASupportOrByItsBolts(t *testing.T) {
	q := next(t, casefile.File{}, result(swap.Swap, swap.Tried{Assumption: swap.HowHeld, From: "cantilever (assumed)", To: "fixed-fixed", Verdict: swap.Keep}))
	if f, err := q.Answer("propped"); err != nil || f.Load.Support == nil || *f.Load.Support != beam.Propped {
		t.Errorf("propped is read as %+v, %v", f.Load, err)
	}
	if f, err := q.Answer("hole:1 hole:2"); err != nil || !slices.Equal(f.Load.Fix, []string{"hole:1", "hole:2"}) {
		t.Errorf("two holes are read as %+v, %v", f.Load, err)
	}
	if _, err := q.Answer("glued"); err == nil || !strings.Contains(err.Error(), "or places such as hole:1 hole:2") {
		t.Errorf("glued: %v", err)
	}
}

func TestAUnitInDoubtIsAskedBeforeAll(t *testing.T) {
	r := result(swap.Swap, stock("6061-T6", swap.Keep))
	r.Explored.Doubtful = "new"
	q := next(t, casefile.File{}, r)
	if f, err := q.Answer("in"); q.Key != "new.unit" || err != nil || f.New.Unit == nil {
		t.Errorf("asked %s; answer %v", q.Key, err)
	}
}

// A whole talk: a bar of unknown metal, 100 x 20 x 5 mm or 10 cm3, against one of
// aluminium 8 mm thick. Of steel it weighs 78.5 g against 43.2 g, and the other is
// 1.6^3 x 69/210 = 1.35 times as stiff; of aluminium the other is heavier. Each answer is
// put in until nothing is left that could turn the verdict.
func TestATalkEndsWhereNothingCanTurnTheVerdict(t *testing.T) {
	table := materials.Default()
	light, err := table.Find("6061-T6")
	if err != nil {
		t.Fatal(err)
	}
	known := casefile.File{}
	answers := map[string]string{"old.weight": "78.5g", "load.along": "z", "load.support": "cantilever", "load.force": "5N",
		"criteria.min-stiffness-ratio": "0.1", "criteria.min-saving": "10%", "machine.moving-mass": "2kg", "criteria.max-hours": "10h",
		"criteria.min-safety-factor": "2", "machine.count": "1", "machine.drive-limited": "force", "scale-resolution": "0.1g",
		"made.not-faced": faced}
	var asked []string
	var r swap.Result
	for range 20 {
		c := caseOf(t, known)
		c.New.Material, c.Explore = &light, true
		if r, err = swap.Decide(context.Background(), c); err != nil {
			t.Fatal(err)
		}
		q, ok := Next(known, r, table, asked)
		if !ok {
			break
		}
		text, ok := answers[q.Key]
		if !ok {
			t.Fatalf("asked %s, %q", q.Key, q.Text)
		}
		said, err := q.Answer(text)
		if err != nil {
			t.Fatalf("%s: %v", q.Key, err)
		}
		known, asked = known.Over(said), append(asked, q.Key)
	}
	t.Log(asked)
	if asked[0] != "old.weight" || r.Verdict != swap.Swap || len(asked) > 10 {
		t.Errorf("asked %v, and the verdict is %q (%v)", asked, r.Verdict, r.Reasons)
	}
	if r.Condition != nil {
		t.Errorf("all was answered and the verdict still holds only %s", *r.Condition)
	}
}

// caseOf is the case of what was answered, with bars in place of meshes.
func caseOf(t *testing.T, f casefile.File) swap.Case {
	t.Helper()
	text := "[old]\nsection = 'rect 20x5mm'\nlength = '100mm'\n[new]\nsection = 'rect 20x8mm'\nlength = '100mm'\n"
	shape, err := casefile.Parse([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	check := "beam" // a bar is one, and quick
	shape.Load.Check = &check
	c, err := shape.Over(f).Case(false)
	if err != nil {
		t.Fatal(err)
	}
	return c
}
