// Package worlds asks whether the odds of a comparison are those one could bet on. It
// makes worlds in which the true alloy lots, sizes, weights, loads and scale are known,
// shows the comparison what a person would see of each, and counts how often the truth
// lay in the stated ranges and how many firm verdicts were wrong.
//
// Lengths are mm, masses g, forces N, stresses MPa.
package worlds

import (
	"context"
	"math"
	"math/rand/v2"
	"strings"

	"swapworth/beam"
	"swapworth/mass"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/asmade"
	"swapworth/swap"
)

// Pair is a stock part and a redesign with all that a person states of them.
type Pair struct {
	Name               string
	Old, New           *mesh.Loaded
	OldAlloy, NewAlloy string
	Span, Along        mesh.Axis
	Force              float64 // in the middle of what is stated
	Method             swap.Method

	OldTruth, NewTruth Piece
}

// Piece is how a part really is for sizes between their limits, -1 to 1: how deep the
// mill went, and where its cutter ran.
type Piece struct {
	Volume    func(depth, outline float64) float64 // mm3
	Stiffness func(depth, outline float64) float64 // over Young's modulus, mm
	Stress    func(depth, outline float64) float64 // over the force, 1/mm2
}

// The worlds. Every range that the program is told of, or takes from the material table,
// holds the truth only as well as such ranges do: the true spread is its half-width times
// a factor drawn evenly between leastSpread and mostSpread, once for each quantity of each
// lot.
const (
	leastSpread, mostSpread = 0.7, 1.4

	scaleError = 0.005 // stated of the scale's calibration, as a share
	loadOpen   = 0.2   // stated of the load, to either side, as a share
	unweighed  = 4     // one world in so many has a stock part that nobody put on a scale
	rungs      = 100   // a scale resolves at least a share of one in so many
)

// Tally is what a run of worlds showed.
type Tally struct {
	Worlds                 int
	Saving, Ratio, Safety  Coverage
	Swaps, Keeps, Checks   int
	WrongSwaps, WrongKeeps int
	Weighed, WeighedChecks int
}

// Coverage counts how often a stated 95 % range held the truth.
type Coverage struct{ Held, Of int }

func (c *Coverage) add(r *swap.Range, truth float64) {
	if r == nil {
		return
	}
	c.Of++
	if r.Contains(truth) {
		c.Held++
	}
}

// Share is the share held.
func (c Coverage) Share() float64 { return float64(c.Held) / float64(c.Of) }

// Firm is the number of firm verdicts, Wrong that of those the truth does not bear out.
func (t Tally) Firm() int  { return t.Swaps + t.Keeps }
func (t Tally) Wrong() int { return t.WrongSwaps + t.WrongKeeps }

// Add counts another tally in.
func (t *Tally) Add(o Tally) {
	t.Worlds += o.Worlds
	for _, c := range []struct{ to, of *Coverage }{{&t.Saving, &o.Saving}, {&t.Ratio, &o.Ratio}, {&t.Safety, &o.Safety}} {
		c.to.Held, c.to.Of = c.to.Held+c.of.Held, c.to.Of+c.of.Of
	}
	t.Swaps, t.Keeps, t.Checks = t.Swaps+o.Swaps, t.Keeps+o.Keeps, t.Checks+o.Checks
	t.WrongSwaps, t.WrongKeeps = t.WrongSwaps+o.WrongSwaps, t.WrongKeeps+o.WrongKeeps
	t.Weighed, t.WeighedChecks = t.Weighed+o.Weighed, t.WeighedChecks+o.WeighedChecks
}

// Run draws n worlds from a seed, over all pairs in turn, and tells after each how many
// are done.
func Run(ctx context.Context, pairs []Pair, n int, seed uint64, done func(int)) (Tally, error) {
	var t Tally
	deciders := make([]swap.Decider, len(pairs))
	for i := range n {
		w, err := draw(pairs[i%len(pairs)], rand.New(rand.NewPCG(seed, uint64(i))), i)
		if err != nil {
			return t, err
		}
		r, err := deciders[i%len(pairs)].Decide(ctx, w.shown)
		if err != nil {
			return t, err
		}
		t.count(w, r)
		if done != nil {
			done(i + 1)
		}
	}
	return t, nil
}

// world is one draw: what a person sees, and what is true.
type world struct {
	shown                 swap.Case
	saving, ratio, safety float64 // percent, new over old, to yield
}

// lot draws the true value of a range that spreads by a factor of what is stated.
func lot(r materials.Range, rng *rand.Rand) float64 {
	spread := leastSpread + (mostSpread-leastSpread)*rng.Float64()
	middle, half := (r.Low+r.High)/2, (r.High-r.Low)/2
	return middle + spread*half*(2*rng.Float64()-1)
}

// piece is a part of one lot as it came off the mill.
type piece struct{ mass, stiffness, stress, strength float64 }

func milled(t Piece, m materials.Material, rng *rand.Rand) piece {
	depth, outline := 2*rng.Float64()-1, 2*rng.Float64()-1
	return piece{
		mass:      lot(m.Density, rng) * t.Volume(depth, outline) * 1e-6,
		stiffness: lot(m.Modulus(), rng) * t.Stiffness(depth, outline),
		stress:    t.Stress(depth, outline),
		strength:  lot(m.Strength.Bounds(), rng),
	}
}

func draw(p Pair, rng *rand.Rand, i int) (world, error) {
	table := materials.Default()
	oldAlloy, err := table.Find(p.OldAlloy)
	if err != nil {
		return world{}, err
	}
	newAlloy, err := table.Find(p.NewAlloy)
	if err != nil {
		return world{}, err
	}
	old, new := milled(p.OldTruth, oldAlloy, rng), milled(p.NewTruth, newAlloy, rng)
	stated := materials.PlusMinus(p.Force, loadOpen*p.Force)
	load := lot(stated, rng)
	cantilever := beam.Cantilever
	c := swap.Case{
		Old: swap.Side{Loaded: p.Old, Material: &oldAlloy}, New: swap.Side{Loaded: p.New, Material: &newAlloy},
		SameFrame: true, Table: table, Limits: asked(rng),
		Loading: swap.Loading{
			Span: &p.Span, Along: []mesh.Axis{p.Along}, Support: &cantilever,
			Force: p.Force, ForceRange: &stated, Method: p.Method,
		},
	}
	c.Making.Plan.BlankThickness = thickness(p.New.Mesh) // of the plate at hand
	if i%unweighed != 0 {
		c.Old.Weight = weigh(old.mass, rng)
	}
	return world{
		shown: c, saving: 100 * (1 - new.mass/old.mass), ratio: new.stiffness / old.stiffness,
		safety: new.strength / (new.stress * load),
	}, nil
}

// asked draws the limits that a person sets, within what the program itself calls usual.
func asked(rng *rand.Rand) swap.Limits {
	l := swap.DefaultLimits()
	l.MinSaving, l.SavingAsked = 0.05+0.15*rng.Float64(), true
	l.MinStiffnessRatio, l.StiffnessAsked = 0.8+0.2*rng.Float64(), true
	l.MinSafetyFactor, l.SafetyAsked = 1.5+1.5*rng.Float64(), true
	return l
}

// weigh reads a mass off a scale that is off by its own error and rounds to its step.
func weigh(grams float64, rng *rand.Rand) *mass.Weighing {
	step := []float64{0.1, 1}[rng.IntN(2)]
	if step > grams/rungs {
		step = 0.1
	}
	shown := grams * (1 + lot(materials.PlusMinus(0, scaleError), rng))
	return &mass.Weighing{Grams: math.Round(shown/step) * step, Resolution: step, Error: scaleError}
}

func thickness(m *mesh.Mesh) float64 {
	size := m.Bounds().Size()
	return min(size.X, size.Y, size.Z)
}

// count holds a result against the truth of its world.
func (t *Tally) count(w world, r swap.Result) {
	t.Worlds++
	t.Saving.add(&r.Saving.Percent, w.saving)
	t.Ratio.add(r.Stiffness[0].Ratio, w.ratio)
	for _, c := range r.Criteria {
		if strings.HasPrefix(c.Name, "safety factor") {
			t.Safety.add(c.Value, w.safety)
		}
	}
	l := w.shown.Limits
	met := w.saving >= 100*l.MinSaving && w.ratio >= l.MinStiffnessRatio && w.safety >= l.MinSafetyFactor
	switch r.Verdict {
	case swap.Swap:
		t.Swaps++
		if !met {
			t.WrongSwaps++
		}
	case swap.Keep:
		t.Keeps++
		if met {
			t.WrongKeeps++
		}
	default:
		t.Checks++
	}
	if w.shown.Old.Weight != nil {
		t.Weighed++
		if r.Verdict == swap.CheckFirst {
			t.WeighedChecks++
		}
	}
}

// deviations are what class m permits of the thickness of the material along each of the
// part's own axes, and which of them is the thinnest.
func deviations(p asmade.Part) (by [3]float64, thin int, err error) {
	by, err = p.Deviations(asmade.Medium)
	return by, p.Thinnest(), err
}
