package ask

import (
	"fmt"
	"strings"

	"swapworth/beam"
	"swapworth/mass"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/quantity"
	"swapworth/solid"
	"swapworth/swap"
	"swapworth/swap/casefile"
)

// questions lists everything that the case leaves open and a person may know.
func questions(known casefile.File, r swap.Result, table *materials.Table) []Question {
	var out []Question
	for _, make := range []func(casefile.File, swap.Result, *materials.Table) []Question{
		unitQuestion, stockQuestions, redesignQuestions, loadQuestions, machineQuestions, limitQuestions, makingQuestions,
	} {
		out = append(out, make(known, r, table)...)
	}
	return out
}

// about makes a question of what was tried in place of one assumption; none where
// nothing was tried.
func about(r swap.Result, assumption, key, text string, cell func(world) string) (Question, bool) {
	all, tried := worlds(r, assumption)
	if len(all) == 0 {
		return Question{}, false
	}
	q := Question{Key: key, Text: text, Worth: worth(all, cell), effort: tried[0].Effort}
	for _, t := range tried {
		q.blocks = q.blocks || t.Blocks && t.Verdict != r.Explored.Judged
	}
	q.Why = why(r.Explored.Judged, tried)
	q.Unknown = "it stays " + tried[0].From
	return q, true
}

// why says what the answers turn, at most two of them by name.
func why(base swap.Verdict, tried []swap.Tried) string {
	var turns []string
	for _, t := range tried {
		if t.Verdict != base {
			turns = append(turns, fmt.Sprintf("%s: %s", t.To, t.Verdict))
		}
	}
	const named = 2
	more := ""
	if len(turns) > named {
		more = fmt.Sprintf("; and %d more", len(turns)-named)
		turns = turns[:named]
	}
	if len(turns) == 0 {
		return ""
	}
	return fmt.Sprintf("As it is taken now, the numbers say %s; with %s%s.", base, strings.Join(turns, "; with "), more)
}

// into makes the answer of one key, as the case file reads it.
func into(table, key string) func(string) (casefile.File, error) {
	return func(text string) (casefile.File, error) {
		line := fmt.Sprintf("%q = %q\n", key, text)
		if table != "" {
			line = "[" + table + "]\n" + line
		}
		f, err := casefile.Parse([]byte(line))
		return f, plain(err)
	}
}

// plain takes the place in a file off an error: the person typed no file.
func plain(err error) error {
	if err == nil {
		return nil
	}
	text := err.Error()
	if i := strings.Index(text, `"`); i >= 0 && strings.HasPrefix(text, "line ") {
		text = text[i:]
	}
	return fmt.Errorf("%s", text)
}

func unitQuestion(known casefile.File, r swap.Result, _ *materials.Table) []Question {
	side := r.Explored.Doubtful
	if side == "" {
		return nil
	}
	name := map[string]string{"old": "stock part", "new": "redesign"}[side]
	return []Question{{
		Key: side + ".unit", Text: "In which unit is the file of the " + name + "?",
		Why: r.Reasons[0] + ".", Unknown: "it stays as it was read, and no verdict is firm",
		Choices: []string{"mm", "cm", "m", "in"}, Worth: 1, blocks: true, answer: into(side, "unit"),
	}}
}

// effortTell is that of what the person knows or does not; it comes after a look.
const effortTell = 3

func stockQuestions(known casefile.File, r swap.Result, table *materials.Table) []Question {
	var out []Question
	add := func(have bool, key, text string, cell func(world) string, set func(*Question)) {
		if q, ok := about(r, swap.StockMaterial, key, text, cell); ok && !have {
			q.answer = into("old", strings.TrimPrefix(key, "old."))
			set(&q)
			out = append(out, q)
		}
	}
	add(known.Old.Weight != nil, "old.weight", "What does one stock part weigh, with all hardware off?", apart, func(q *Question) { q.Example = "65g or 2.3 oz" })
	add(known.Old.Magnet != nil, "old.magnet", "Does a magnet hold on the stock part?",
		byMaterial(table, func(m materials.Material) string { return fmt.Sprint(m.Magnet.Holds) }),
		func(q *Question) { q.Choices = []string{"yes", "no"} })
	add(known.Old.Colour != nil, "old.colour", "Which colour is the stock part where it is scratched?",
		byMaterial(table, func(m materials.Material) string { return strings.Join(m.Colour.Groups, " ") }),
		func(q *Question) { q.Choices = mass.ColourNames() })
	add(known.Old.Material != nil, "old.material", "What is the stock part made of, as far as you know?", apart,
		func(q *Question) {
			q.Example, q.effort, q.answer = "S235 or aluminium", effortTell, material(table, "old")
		})
	return out
}

// byMaterial tells worlds apart by what one sees of their material.
func byMaterial(table *materials.Table, look func(materials.Material) string) func(world) string {
	return func(w world) string {
		name, _, _ := strings.Cut(w.is, " (") // of the one that was taken, with how it is known
		m, err := table.Find(name)
		if err != nil {
			return w.is
		}
		return look(m)
	}
}

// material reads a name that the table knows.
func material(table *materials.Table, side string) func(string) (casefile.File, error) {
	return func(text string) (casefile.File, error) {
		if _, err := table.Find(text); err != nil {
			return casefile.File{}, err
		}
		return into(side, "material")(text)
	}
}

func redesignQuestions(known casefile.File, r swap.Result, table *materials.Table) []Question {
	q, ok := about(r, swap.RedesignMaterial, "new.material", "What will the redesign be cut from?", apart)
	if !ok || known.New.Material != nil {
		return nil
	}
	q.Example, q.answer = "6061-T6 or POM", material(table, "new")
	return []Question{q}
}

func loadQuestions(known casefile.File, r swap.Result, _ *materials.Table) []Question {
	var out []Question
	if q, ok := about(r, swap.LoadDirection, "load.along", "Along which axis of the file does the load act?", apart); ok {
		q.Choices = []string{"x", "y", "z"}
		q.answer = func(text string) (casefile.File, error) {
			axis, err := mesh.ParseAxis(text)
			return casefile.File{Load: casefile.Load{Along: []mesh.Axis{axis}}}, err
		}
		out = append(out, q)
	}
	if q, ok := about(r, swap.HowHeld, "load.support", "How is the part held: "+strings.Join(beam.Supports(), ", ")+"? Or by which holes is it bolted?", apart); ok {
		q.Example, q.answer = "cantilever, or hole:1 hole:2", held
		out = append(out, q)
	}
	if q, ok := about(r, swap.LoadSize, "load.force", "How large is the load?", apart); ok {
		q.Example, q.Unknown, q.answer = "20N or 5 lbf", "strength is left open", into("load", "force")
		out = append(out, q)
	}
	return out
}

// held reads a support, or the places where the part is bolted.
func held(text string) (f casefile.File, err error) {
	support, err := beam.ParseSupport(text)
	if err == nil {
		f.Load.Support = &support
		return f, nil
	}
	for _, word := range strings.FieldsFunc(text, func(c rune) bool { return c == ' ' || c == ';' }) {
		if _, err := solid.ParsePlace(word, mesh.X); err != nil {
			return f, fmt.Errorf("%q: expected %s, or places such as hole:1 hole:2", text, strings.Join(beam.Supports(), ", "))
		}
		f.Load.Fix = append(f.Load.Fix, word)
	}
	return f, nil
}

func machineQuestions(known casefile.File, r swap.Result, _ *materials.Table) []Question {
	var out []Question
	if q, ok := about(r, swap.MovingMass, "machine.moving-mass", "What does everything that moves weigh, the stock parts included?", apart); ok {
		q.Example, q.Unknown, q.answer = "1.2kg or 2.6 lb", "the saving is judged by itself", into("machine", "moving-mass")
		out = append(out, q)
	}
	if q, ok := about(r, swap.PartCount, "machine.count", "How many such parts move?", apart); ok && known.Machine.Count == nil {
		q.Example, q.Unknown, q.answer = "2", "one is taken", into("machine", "count")
		out = append(out, q)
	}
	if q, ok := about(r, swap.DriveLimit, "machine.drive-limited", "What can the drive not go beyond: its force, or the speed and acceleration of its controller?", apart); ok {
		q.Choices, q.answer = []string{"force", "speed"}, into("machine", "drive-limited")
		out = append(out, q)
	}
	return out
}

func limitQuestions(_ casefile.File, r swap.Result, _ *materials.Table) []Question {
	var out []Question
	for _, l := range []struct{ assumption, key, text, example string }{
		{swap.LeastSaving, "min-saving", "What is the least saving of mass that is worth it to you?", "10%"},
		{swap.LeastStiffness, "min-stiffness-ratio", "Which share of the stock part's stiffness must the redesign keep?", "0.9"},
		{swap.LeastSafety, "min-safety-factor", "Which safety factor to yield do you ask for?", "2"},
	} {
		if q, ok := about(r, l.assumption, "criteria."+l.key, l.text, apart); ok {
			q.Example, q.answer = l.example, into("criteria", l.key)
			out = append(out, q)
		}
	}
	if q, ok := about(r, swap.MostHours, "criteria.max-hours", hoursText(r), apart); ok {
		q.Example, q.Unknown, q.answer = "4h", "no limit", into("criteria", "max-hours")
		out = append(out, q)
	}
	return out
}

func hoursText(r swap.Result) string {
	if r.Cost == nil || r.Cost.Hours == nil {
		return "How many hours may it take at most?"
	}
	return fmt.Sprintf("It takes about %.2g h. How many may it take at most?", *r.Cost.Hours)
}

func makingQuestions(known casefile.File, r swap.Result, _ *materials.Table) []Question {
	var out []Question
	if q, ok := about(r, swap.ScaleResolution, "scale-resolution", "What is the smallest step that the scale shows?", apart); ok {
		q.Example, q.answer = "1g", into("", "scale-resolution")
		out = append(out, q)
	}
	if q, ok := about(r, swap.Facing, "made.not-faced", facingText(r), apart); ok && r.Explored.PlateSide != "" {
		q.Choices, q.answer = []string{faced, leftAsPlate}, facing(r)
		out = append(out, q)
	}
	return out
}

// The answers to whether the redesign is faced.
const (
	faced       = "yes, it is faced as drawn"
	leftAsPlate = "no, it keeps the plate's thickness"
)

func facingText(r swap.Result) string {
	return fmt.Sprintf("Will the redesign be faced down from a plate of %.3g mm?", r.Explored.PlateThickness)
}

func facing(r swap.Result) func(string) (casefile.File, error) {
	return func(text string) (f casefile.File, err error) {
		if text == leftAsPlate {
			side := casefile.SideLength{Side: r.Explored.PlateSide, Length: quantity.Length(r.Explored.PlateThickness)}
			f.Made.NotFaced = []casefile.SideLength{side}
		}
		return f, nil
	}
}
