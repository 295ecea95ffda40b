package swap

import (
	"fmt"
	"strings"
)

// Demand is a limit that a person may set on the redesign, whatever the stock part does.
// One file holds all that belongs to one: what it is called, how it is asked for, how it
// is judged and what is said of it.
type Demand struct {
	Name  string // of the flag, and of the key in a case file and on the page
	Kind  string // of its quantity, in the help of the flag
	Usage string // in the help of the flag
	Label string // of the field of the page
	Hint  string // in that field
	Zero  bool   // a limit of nothing makes sense

	// Limit is where the criteria keep it.
	Limit func(*Demands) **float64

	atMost bool
	grows  bool // more thickness helps
	weighs bool // less mass helps
	// less says by how much a limit that neither helps is exceeded; nil where no change
	// of the redesign is known to meet it.
	less   func(n *Needed, by float64, in inputs)
	sample func(inputs) []sampled
	says   func(Criterion) string
	settle func(Criterion) string // the check that settles it where it is unsure or open
}

// demands are all of them, in the order in which they are printed.
var demands = [...]Demand{maxMass, maxDeflection, minFrequency, maxCost, maxHours}

// AllDemands returns them, for flags, case files and forms.
func AllDemands() []Demand { return demands[:] }

// sampled is what a demand is held against, once or for every load case: a sample that
// may be sorted and its nominal value, or what to give where it is not known.
type sampled struct {
	name    string // with its unit; also that of its row in a figure
	sample  []float64
	nominal float64
	missing string
}

// judge holds a demand that was made against the redesign.
func (d *Demand) judge(in inputs) []ruling {
	limit := *d.Limit(&in.limits.Demands)
	if limit == nil {
		return nil
	}
	var out []ruling
	for _, m := range d.sample(in) {
		out = append(out, d.rule(m, limit, in))
	}
	return out
}

// rule is what a demand comes to, once.
func (d *Demand) rule(m sampled, limit *float64, in inputs) ruling {
	out := ruling{Criterion: Criterion{kind: demandCriterion, Name: m.name, Limit: limit, Missing: m.missing}}
	if m.missing == "" {
		met, nominally := atLeast(m.sample, *limit), m.nominal >= *limit
		if d.atMost {
			met, nominally = atMost(m.sample, *limit), m.nominal <= *limit
		}
		out = ruled(demandCriterion, m.name, *limit, in.interval(m.sample, m.nominal), met, nominally)
	}
	out.AtMost, out.demand = d.atMost, d
	return out
}

// plainly says how a demand came out where no other words are needed.
func plainly(c Criterion) string {
	word := "at least"
	if c.AtMost {
		word = "at most"
	}
	name, unit := c.Name, ""
	if before, in, ok := strings.Cut(strings.TrimSuffix(c.Name, ")"), " ("); ok {
		name, unit = before, " "+in // each number with its unit
	}
	return fmt.Sprintf("The %s is %s%s; %s %s%s was asked for", name, span(*c.Value), unit, word, number(*c.Limit), unit)
}

// check settles a demand by something to do, or by what is missing.
func check(otherwise string) func(Criterion) string {
	return func(c Criterion) string {
		if c.Missing != "" {
			return "Give " + c.Missing
		}
		return otherwise
	}
}

func atMost(sample []float64, limit float64) []bool {
	met := make([]bool, len(sample))
	for i, v := range sample {
		met[i] = v <= limit
	}
	return met
}
