package render

import (
	"encoding/csv"
	"slices"
	"strings"
	"testing"
)

func TestASpreadsheetGetsOneNumberACell(t *testing.T) {
	d := Document{Blocks: []Block{
		Table{Title: "Both parts", Header: []string{"", "stock part", "difference"}, Rows: [][]string{
			{"size, mm", "160 x 30 x 14", ""},
			{"mass each, g", "71.0 (70.5 to 71.5)", "4.56 lighter (1.91 to 6.86)"},
			{"stiffness, N/mm", "36.2", "times 0.97 (0.80 to 1.08)"},
			{"material", "6061-T6", ""},
		}},
		Table{Title: "Holes", Header: []string{"old", "depth, mm", "centre, mm", "suits"}, Rows: [][]string{
			{"1", "6 -> 7", "66 0 3", "M4 clearance"}, {"none", "12", "133 0 6", "3 with a sentence behind it"}}},
		Table{Title: "Where it turns", Header: []string{"", "value"}, Rows: [][]string{{"largest moving inertia", "626 kg mm2"}, {"asked", "at least 3"}}},
	}}
	records, err := csv.NewReader(strings.NewReader(string(rendered(t, CSV, d)))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"Both parts||stock part|stock part low|stock part high|difference|difference low|difference high|difference note",
		"Both parts|size, mm x|160", "Both parts|size, mm z|14",
		"Both parts|mass each, g|71.0|70.5|71.5|4.56|1.91|6.86|lighter",
		"Both parts|stiffness, N/mm|36.2|||0.97|0.80|1.08|times",
		"Both parts|material|6061-T6",
		"Holes|old|depth, mm before|depth, mm after|centre, mm x|centre, mm y|centre, mm z|suits",
		"Holes|1|6|7|66|0|3|M4 clearance", "Holes|none|12|12|133|0|6|3 with a sentence behind it",
		"Where it turns||value|value note", "Where it turns|largest moving inertia|626|kg mm2", "Where it turns|asked|3|at least",
	} {
		if !slices.ContainsFunc(records, func(r []string) bool { return strings.TrimRight(strings.Join(r, "|"), "|") == want }) {
			t.Errorf("no record %s in\n%v", want, records)
		}
	}
}
