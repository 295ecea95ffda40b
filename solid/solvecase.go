package solid

import (
	"context"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/vector"
	"swapworth/solid/internal/grid"
	"swapworth/solid/internal/region"
)

// solveCase solves case i and measures it. It returns the solution too.
func (c *check) solveCase(ctx context.Context, sys *keptSystem, i int) (CaseResult, answer, error) {
	r := CaseResult{Name: c.p.Cases[i].Name}
	load, err := c.apply(sys.system, i)
	if err != nil {
		return r, answer{}, err
	}
	s, by, err := sys.solved(ctx, load.all, load.gross, r.Name)
	if err != nil {
		return r, answer{}, err
	}
	if s.largest == 0 {
		s.largest = c.largestMove(sys.system, s.u)
	}
	r.Load, r.Moment, r.gross = load.forceSize, load.momentSize, load.gross
	r.Iterations, r.Imbalance, r.springs = s.iterations, s.imbalance, s.springs
	move := by / c.e.YoungsModulus
	r.measure(load, s.u, move)
	r.Largest = math.Abs(move) * s.largest
	r.setKind(r.kind())
	for a, v := range c.f.outArray(s.reaction) {
		r.Reaction[a] = by * v
	}
	r.Reactions = c.reactions(sys.system, s, by)
	r.Acts = load.acts
	r.Applied, r.Turning = c.resultant(sys.system, load.all)
	return r, answer{s, by}, nil
}

// resultant returns the sum of nodal forces, N, and their moment about the
// model's origin, N mm, by model axis.
func (c *check) resultant(sys *system, f []float64) (force, moment [3]float64) {
	var sum, turning [3]float64
	for t := range sys.Nodes() {
		v := [3]float64(f[sys.Entry(t):])
		m := vector.Cross(sys.Place(t), v)
		for a := range 3 {
			sum[a] += v[a]
			turning[a] += m[a]
		}
	}
	total := c.f.out(sum)
	m := r3.Add(c.f.outAxial(turning), r3.Cross(c.f.origin, total))
	return [3]float64{total.X, total.Y, total.Z}, [3]float64{m.X, m.Y, m.Z}
}

// enoughPoints is how many corners of a mesh are asked how far they move: so many
// lie well within a cell of each other on the usual grids.
const enoughPoints = 2000

// largestMove returns the largest displacement of the surface, mm: at corners of
// the mesh and where grid lines meet in material.
func (c *check) largestMove(sys *system, u []float64) (most float64) {
	cs := sys.c
	for t := range sys.Nodes() {
		inside := true // a node that hangs in the air beside cut cells tells nothing
		for v := range 8 {
			cell := sys.Around(t, v)
			inside = inside && (cell < 0 || cs.Of[cell] == grid.Void || cs.Kinds[cs.Of[cell]].Moments[0] > 0.999)
		}
		if inside {
			most = max(most, vector.Norm([3]float64(u[sys.Entry(t):])))
		}
	}
	for n := 0; n < len(c.s.Points); n += 1 + len(c.s.Points)/enoughPoints {
		p := c.s.Points[n]
		var cell [3]int
		for a := range 3 {
			cell[a] = cs.Find(a, p[a])
		}
		if cell, ok := cs.NearActive(cell, p); ok {
			most = max(most, vector.Norm(sys.moveAt(u, cell, p)))
		}
	}
	return most
}

// attach adds the masses that ride along to the masses at the entries of a vector.
func (c *check) attach(sys *system, mass []float64) error {
	first := c.p.Cases[0]
	grams, at := []float64{c.p.AttachedMass}, c.loads[0][:min(1, len(c.loads[0]))]
	if len(first.Masses) > 0 {
		grams, at = nil, c.loads[0][len(first.Loads):]
		for _, m := range first.Masses {
			grams = append(grams, m.Grams)
		}
	}
	for k, l := range at {
		if !(grams[k] > 0) {
			continue
		}
		e, err := l.at.Extent(sys.c, c.s)
		if err != nil {
			return err
		}
		share := make([]float64, len(mass))
		region.Spread(l.at, e, [3]float64{1, 1, 1}).Nodal(sys.c, c.s, sys.System, share)
		for i, w := range share {
			mass[i] += grams[k] * max(w, 0)
		}
	}
	return nil
}
