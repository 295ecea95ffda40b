package note

import (
	"strings"

	"swapworth/note/render"
	"swapworth/quantity"
	"swapworth/swap"
)

// partNames name the parts of a comparison by their JSON keys.
var partNames = map[string]string{"old": "stock part", "new": "redesign"}

// reactionTable lists the force and the moment at every hold. Per part and case
// the forces add up to the load, turned round.
func reactionTable(r swap.Result) render.Table {
	t := render.Table{
		Title:  "What the holds take",
		Header: []string{"part", "case", "held at", "force x, y, z, N", "moment x, y, z, N mm"},
		Align:  "lllrr",
	}
	for _, one := range r.Reactions {
		t.Rows = append(t.Rows, []string{partNames[one.Part], one.Case, one.Place, triple(one.Force), triple(one.Moment)})
	}
	return t
}

func triple(v [3]float64) string {
	biggest := max(v[0], -v[0], v[1], -v[1], v[2], -v[2])
	out := make([]string, len(v))
	for i, x := range v {
		if x*x < 1e-8*biggest*biggest { // the last digits of a balance are no force
			x = 0
		}
		out[i] = quantity.Short(x, 3)
	}
	return strings.Join(out, "; ")
}

// boltTable lists every bolt with what it takes, the worst of the redesign marked.
func boltTable(r swap.Result) render.Table {
	t := render.Table{
		Title:  "Bolts in the held holes; factor 1 is enough, * marks the worst of the redesign",
		Header: []string{"part", "case", "hole", "tension, N", "shear, N", "prying, N mm", "factor", "by", ""},
		Align:  "llrrrrrll",
	}
	worst := -1
	for i, b := range r.Bolts {
		if b.Part == "new" && (worst < 0 || b.Factor < r.Bolts[worst].Factor) {
			worst = i
		}
	}
	for i, b := range r.Bolts {
		mark := ""
		if i == worst {
			mark = "*"
		}
		t.Rows = append(t.Rows, []string{
			partNames[b.Part], b.Case, quantity.Short(float64(b.Hole), 3), quantity.Short(b.Tension, 3), quantity.Short(b.Shear, 3),
			quantity.Short(b.Prying, 3), quantity.Short(b.Factor, 3), b.Worst, mark,
		})
	}
	return t
}
