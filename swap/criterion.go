package swap

import (
	"fmt"
	"strings"
)

// Criterion is one demand on the redesign. Probability and Met are nil when
// the criterion was not judged; Missing then names the flag that would judge it.
type Criterion struct {
	kind        criterionKind
	demand      *Demand  // that it comes from; nil for those that always hold
	usual       bool     // nobody set its limit
	open        bool     // all that it takes is known, and mechanics leaves it open
	Name        string   `json:"name"`
	Limit       *float64 `json:"limit"`
	AtMost      bool     `json:"at_most"` // the limit is an upper one
	Value       *Range   `json:"value"`
	Probability *float64 `json:"probability"`
	Met         *bool    `json:"met"`
	Missing     string   `json:"missing,omitempty"`
}

// criterionKind says what a criterion is about.
type criterionKind int

const (
	gainCriterion criterionKind = iota
	savingCriterion
	stiffnessCriterion
	safetyCriterion
	demandCriterion // a limit that a person set, of the list in demand.go
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

// ruling is a criterion with what each draw says of it: nil where it is not judged.
type ruling struct {
	Criterion
	met []bool
}

// ruled is a criterion with what each draw says of it.
func ruled(kind criterionKind, name string, limit float64, value Range, met []bool, nominally bool) ruling {
	probability := shareOf(met)
	return ruling{Criterion{
		kind: kind, Name: name, Limit: &limit, Value: &value, Probability: &probability, Met: &nominally,
	}, met}
}

func notRuled(kind criterionKind, name string, limit float64, flag string) ruling {
	return ruling{Criterion: Criterion{kind: kind, Name: name, Limit: &limit, Missing: flag}}
}

func atLeast(sample []float64, limit float64) []bool {
	met := make([]bool, len(sample))
	for i, v := range sample {
		met[i] = v >= limit
	}
	return met
}

func atMost(sample []float64, limit float64) []bool {
	met := make([]bool, len(sample))
	for i, v := range sample {
		met[i] = v <= limit
	}
	return met
}

// shareOf returns the share of draws that are true.
func shareOf(met []bool) float64 {
	n := 0
	for _, yes := range met {
		if yes {
			n++
		}
	}
	return float64(n) / float64(len(met))
}

// sampled is what a demand is held against, once or for every load case: a sample that
// may be sorted and its nominal value, or what to give where it is not known.
type sampled struct {
	name    string // with its unit; also that of its row in a figure
	sample  []float64
	nominal float64
	missing string
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

// grows reports whether more thickness helps a criterion.
func (c Criterion) grows() bool {
	switch c.kind {
	case stiffnessCriterion, safetyCriterion:
		return true
	case demandCriterion:
		return c.demand.grows
	}
	return false
}

// money writes a sum that a criterion compares, in the currency that its name ends in.
func (c Criterion) money(v Range) string {
	_, currency, _ := strings.Cut(c.Name, ", ")
	return strings.TrimSpace(span(v) + " " + currency)
}

// short reports whether a criterion is judged and not met with a confidence.
func (c Criterion) short(asked float64) bool { return c.Probability != nil && *c.Probability < asked }

// ofShape reports whether a criterion is about mass, stiffness or strength.
func (c Criterion) ofShape() bool {
	return c.kind != demandCriterion || c.demand.grows || c.demand.weighs
}

// over is how far an upper limit is exceeded, as a share of the value.
func (c Criterion) over() (share float64, ok bool) {
	if c.Limit == nil || c.Value.High <= 0 {
		return 0, false
	}
	return max(0, 1-*c.Limit/c.Value.High), true
}

// Needed is what a redesign that is no `swap` lacks of one, as far as that can be
// computed: each change alone makes the criteria met that it bears on, with the
// confidence asked for.
type Needed struct {
	Thicker *float64 `json:"thicker_mm"`  // along its thinnest direction, floors of pockets included
	Lighter *float64 `json:"lighter_g"`   // each, as stiff and strong as it is
	Cheaper *float64 `json:"cheaper"`     // in all
	Hours   *float64 `json:"hours_fewer"` // in all

	// Change is the largest of them as a share of what it changes: how far the redesign
	// is from meeting everything. Nil where no change that is computed would do.
	Change *float64 `json:"change"`

	Says []string `json:"says"` // in words
}

// missingForSafety names the flag that would let the safety factor be judged.
func missingForSafety(in inputs, d direction) string {
	switch {
	case d.new.refused != "":
		return "--check solid"
	case in.load(d) <= 0:
		return "--load"
	default:
		return "--new-material with a known strength"
	}
}
