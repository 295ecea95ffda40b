package note

import (
	"fmt"
	"strings"

	"swapworth/internal/textwrap"
	"swapworth/note/render"
	"swapworth/quantity"
	"swapworth/swap"
)

// compareTable puts both parts side by side, with what the difference comes to.
func compareTable(r swap.Result) render.Table {
	t := render.Table{
		Title:  "Both parts",
		Header: []string{"", "stock part", "redesign", "difference"},
		Align:  "lrrr",
	}
	row := func(cells ...string) { t.Rows = append(t.Rows, cells) }
	row("material", textOr(r.Old.Material), textOr(r.New.Material), "")
	row("how it is known", string(r.Old.Basis), string(r.New.Basis), "")
	row("size, mm", sizeOf(r.Old), sizeOf(r.New), "")
	row("volume, mm3", quantity.Number(r.Old.Volume, 4), quantity.Number(r.New.Volume, 4), "")
	mass := inUnits(r.Units, "mass each, g", middle(r.Old.Mass), middle(r.New.Mass))
	row(mass.label, optionalInterval(mass.spanOf(r.Old.Mass), 3), optionalInterval(mass.spanOf(r.New.Mass), 3), lighter(mass.span(r.Saving.PerPart), ""))
	row("saving, %", "", "", interval(r.Saving.Percent, 3))
	if r.Count > 1 {
		all := inUnits(r.Units, fmt.Sprintf("%d pieces, g", r.Count), &r.Saving.Total.Nominal)
		row(all.label, "", "", lighter(all.span(r.Saving.Total), ""))
	}
	for _, s := range r.Stiffness {
		t.Rows = append(t.Rows, stiffnessRows(r.Units, s)...)
	}
	if r.Motion != nil {
		t.Rows = append(t.Rows, motionRows(*r.Motion)...)
	}
	if r.Millable != nil {
		row("can be milled", "", millable(*r.Millable), "")
	}
	if r.Cost != nil {
		t.Rows = append(t.Rows, costRows(*r.Cost)...)
	}
	return t
}

func textOr(s *string) string {
	if s == nil {
		return missing
	}
	return *s
}

func sizeOf(p swap.Part) string {
	return strings.Join([]string{quantity.Short(p.Size[0], 4), quantity.Short(p.Size[1], 4), quantity.Short(p.Size[2], 4)}, textwrap.Tie+"x ")
}

// lighter writes a saving in words, so that no sign has to be read: a negative
// one is heavier. Bounds on both sides of zero keep their signs.
func lighter(saving swap.Range, unit string) string {
	word := "lighter"
	switch {
	case saving.High < 0 || saving.Low == saving.High && saving.Nominal < 0:
		saving, word = saving.Scale(-1), "heavier"
	case saving.Low < 0 && saving.High > 0:
		word = "saved"
	}
	nominal, bounds, _ := strings.Cut(interval(saving, 3), " ")
	return strings.TrimSpace(nominal + unit + textwrap.Tie + word + " " + bounds)
}

func stiffnessRows(u quantity.System, s swap.Stiffness) [][]string {
	along := " " + tied(s.Among())
	ratio := missing
	if s.Ratio != nil {
		ratio = "times" + textwrap.Tie + interval(*s.Ratio, 3)
	}
	var rows [][]string
	row := func(name string, old, new *float64, difference string) {
		if old != nil || new != nil {
			m := inUnits(u, name, old, new)
			rows = append(rows, []string{m.label, optional(m.of(old), 3), optional(m.of(new), 3), difference})
		}
	}
	by := " (" + s.Method + ")"
	switch {
	case s.OldTurn != nil || s.NewTurn != nil:
		row("stiffness"+along+","+textwrap.Tie+"N mm/rad"+by, s.OldTurn, s.NewTurn, ratio)
	case s.Old == nil && s.New == nil && s.Ratio != nil:
		rows = append(rows, []string{"stiffness" + along + by, "", "", ratio})
	default:
		m := inUnits(u, "stiffness"+along+","+textwrap.Tie+"N/mm"+by, s.Old, s.New)
		rows = append(rows, []string{m.label, refusedOr(m.of(s.Old)), refusedOr(m.of(s.New)), ratio})
	}
	row("its error, up to"+textwrap.Tie+"%", s.OldError, s.NewError, "")
	row("deflection"+along+","+textwrap.Tie+"mm", s.OldDeflection, s.NewDeflection, "")
	row("natural frequency"+along+","+textwrap.Tie+"Hz", s.OldFrequency, s.NewFrequency, "")
	row("load at yield"+along+","+textwrap.Tie+"N", s.OldYieldForce, s.NewYieldForce, "")
	row("safety factor"+along, s.OldSafetyFactor, s.NewSafetyFactor, "")
	if s.OldRefused != "" || s.NewRefused != "" {
		rows = append(rows, []string{"why refused" + along, s.OldRefused, s.NewRefused, ""})
	}
	return rows
}

// tied keeps the words of a text on one line.
func tied(text string) string { return strings.ReplaceAll(text, " ", textwrap.Tie) }

func refusedOr(k *float64) string {
	if k == nil {
		return "refused"
	}
	return quantity.Number(*k, 3)
}

// gainName says under what the gain of acceleration holds.
func gainName(m *swap.Motion) string {
	if m != nil && m.DriveLimited == swap.BySpeed {
		return "acceleration gain, set by the controller"
	}
	return "acceleration gain at the same drive force"
}

func motionRows(m swap.Motion) [][]string {
	var rows [][]string
	if m.OldInertia != nil && m.NewInertia != nil {
		rows = append(rows, []string{"inertia about the pivot, kg mm2", quantity.Number(*m.OldInertia, 3), quantity.Number(*m.NewInertia, 3), ""})
	}
	if m.AccelerationGain != nil {
		rows = append(rows, []string{gainName(&m) + "," + textwrap.Tie + "%", "", "", interval(*m.AccelerationGain, 3)})
	}
	if m.ForceSaved != nil && m.DriveLimited == swap.BySpeed {
		rows = append(rows, []string{"drive force saved at the same acceleration," + textwrap.Tie + "%", "", "", interval(*m.ForceSaved, 3)})
	}
	if m.FrequencyGain != nil {
		rows = append(rows, []string{"frequency gain," + textwrap.Tie + "%", "", "", interval(*m.FrequencyGain, 3)})
	}
	return rows
}

// bounds writes those of a value that stands beside them; nothing where it is exact.
func bounds(r *swap.Range) string {
	if r == nil {
		return ""
	}
	low, high := quantity.Number(r.Low, 3), quantity.Number(r.High, 3)
	if low == high {
		return ""
	}
	return low + " to " + high
}

func costRows(c swap.Cost) [][]string {
	var rows [][]string
	for _, line := range []struct {
		name     string
		old, new *float64
		bounds   *swap.Range
	}{
		{c.In("price of the stock"), nil, c.Stock, nil}, {"hours", nil, c.Hours, c.HoursRange}, {"expected attempts", nil, c.Attempts, nil},
		{c.In("cost in all"), c.StockParts, c.Total, c.TotalRange}, {c.In("cost per gram saved"), nil, c.PerGramSaved, nil},
	} {
		if old, new := optional(line.old, 3), optional(line.new, 3); old != missing || new != missing {
			rows = append(rows, []string{line.name, strings.TrimPrefix(old, missing), new, bounds(line.bounds)})
		}
	}
	return rows
}
