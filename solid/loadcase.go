package solid

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/vector"
	"swapworth/materials"
	"swapworth/solid/internal/grid"
	"swapworth/solid/internal/multigrid"
	"swapworth/solid/internal/region"
)

// applied are the loads of a case: as tractions, and on one grid as nodal forces,
// all of them and those of the stated forces and moments apart, which measure how
// far their places move.
type applied struct {
	forces, moments, others []region.Traction // others: pressures, and masses that ride along
	all, force, moment      []float64
	forceSize, momentSize   float64 // N, N mm; zero where there is none
	gross                   float64 // sum of the sizes of everything that loads, N
	acts                    []Act
}

// apply returns the loads of case i on a grid.
func (c *check) apply(sys *system, i int) (applied, error) {
	out, err := c.tractions(sys.c, i)
	if err != nil {
		return out, err
	}
	nodal := func(list []region.Traction) []float64 {
		f := make([]float64, sys.Length())
		for _, t := range list {
			t.Nodal(sys.c, c.s, sys.System, f)
		}
		return f
	}
	out.force, out.moment, out.all = nodal(out.forces), nodal(out.moments), nodal(out.others)
	out.gross += c.accelerate(sys, i, out.all)
	multigrid.Axpy(1, out.force, out.all)
	multigrid.Axpy(1, out.moment, out.all)
	return out, nil
}

// tractions returns the loads of case i but for own acceleration, with the sizes
// of their places as the grid has them.
func (c *check) tractions(cs *grid.Cells, i int) (out applied, err error) {
	var forces, moments [][3]float64
	for _, l := range c.loads[i] {
		e, err := l.at.Extent(cs, c.s)
		if err != nil {
			return out, err
		}
		out.acts = append(out.acts, c.actOf(cs, l, e))
		if vector.Norm(l.force) > 0 {
			into := &out.forces
			if l.riding {
				into = &out.others
			} else {
				forces = append(forces, l.force)
			}
			*into = append(*into, region.Spread(l.at, e, l.force))
			out.gross += vector.Norm(l.force)
		}
		if vector.Norm(l.moment) > 0 {
			moments = append(moments, l.moment)
			t, err := region.Twist(l.at, e, l.moment)
			if err != nil {
				return out, err
			}
			out.moments = append(out.moments, t)
			lever := math.Sqrt((e.Second[0][0] + e.Second[1][1] + e.Second[2][2]) / e.Size)
			out.gross += vector.Norm(l.moment) / max(lever, c.s.Tol)
		}
		if l.pressure != 0 {
			if l.at.Box != nil {
				return out, fmt.Errorf("solid: load case %q: a pressure acts on a surface, and %s has no flat face; name a face, a bore or a rim", c.p.Cases[i].Name, l.at.Name)
			}
			out.others = append(out.others, region.Press(l.at, l.pressure))
			out.gross += math.Abs(l.pressure) * e.Size
		}
	}
	out.forceSize, out.momentSize = sizeOf(forces), sizeOf(moments)
	return out, nil
}

// actOf tells what a place takes, for people.
func (c *check) actOf(cs *grid.Cells, l caseLoad, e region.Extent) Act {
	force := l.force
	if l.pressure != 0 {
		l.at.Over(cs, c.s, func(p *region.Point) {
			for a := range 3 {
				force[a] -= l.pressure * p.Size * p.Normal[a]
			}
		})
	}
	at, m := c.f.point(e.Centre), c.f.outAxial(l.moment)
	return Act{Place: l.at.Name, Centre: [3]float64{at.X, at.Y, at.Z}, Force: c.f.outArray(force),
		Moment: [3]float64{m.X, m.Y, m.Z}, Pressure: l.pressure}
}

// accelerate adds what the material of the part lags behind with to f and returns
// its size, N.
func (c *check) accelerate(sys *system, i int, f []float64) float64 {
	a := c.f.vector(c.p.Cases[i].Acceleration)
	if vector.Norm(a) == 0 {
		return 0
	}
	total := 0.0
	sys.eachShare(c.e.Density, func(p int, mass float64) {
		total += mass
		for k := range 3 {
			f[p+k] -= mass * newtonPerGram * a[k]
		}
	})
	return total * newtonPerGram * vector.Norm(a)
}

// sizeOf returns the size of the sum of vectors, or, where they cancel, the sum
// of their sizes.
func sizeOf(vectors [][3]float64) float64 {
	var sum [3]float64
	total := 0.0
	for _, v := range vectors {
		for a := range 3 {
			sum[a] += v[a]
		}
		total += vector.Norm(v)
	}
	if s := vector.Norm(sum); s > 1e-6*total {
		return s
	}
	return total
}

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

// measure finds how far the loaded places move along the forces and turn about
// the moments for displacements u times scale: what does work on them, over their
// size.
func (r *CaseResult) measure(load applied, u []float64, scale float64) {
	if load.forceSize > 0 {
		r.forward = scale * multigrid.Dot(load.force, u) / load.forceSize
	}
	if load.momentSize > 0 {
		r.turn = scale * multigrid.Dot(load.moment, u) / load.momentSize
	}
}

// kind is the first in which the case has a stiffness on this grid.
func (r *CaseResult) kind() Kind {
	switch {
	case r.Load > 0 && r.forward > 0:
		return ByForce
	case r.Load == 0 && r.Moment > 0 && r.turn > 0:
		return ByMoment
	}
	return ByDeflection
}

// setKind fills in what a kind of stiffness has.
func (r *CaseResult) setKind(k Kind) {
	r.Kind = k
	r.Stiffness, r.Angular, r.Rotation, r.Deflection = 0, 0, 0, r.Largest
	switch k {
	case ByForce:
		r.Deflection, r.Stiffness = r.forward, r.Load/r.forward
	case ByMoment:
		r.Rotation, r.Angular = r.turn, r.Moment/r.turn
	}
}

// settle extrapolates the measure of case n from those on the grids and returns the
// doubt about it. Where the kind differs between grids, the largest deflection counts.
func (r *CaseResult) settle(grids []Grid, n int, rate float64) (doubt float64) {
	kind := r.Kind
	for _, g := range grids {
		if g.cases[n].Kind != kind {
			kind = ByDeflection
		}
	}
	var k []float64
	for _, g := range grids {
		on := g.cases[n]
		on.setKind(kind)
		k = append(k, on.Measure())
	}
	limit, doubt := extrapolate(k, rate)
	switch kind {
	case ByForce:
		r.forward = r.Load / limit
	case ByMoment:
		r.turn = r.Moment / limit
	default:
		r.Largest = 1 / limit
	}
	r.setKind(kind)
	return doubt
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

// bySupports splits a problem into those whose cases share their supports, in
// the order in which these first appear.
func (p Problem) bySupports() (parts []Problem) {
	for _, c := range p.Cases {
		holds := p.holds(c)
		k := 0
		for k < len(parts) && !slices.Equal(parts[k].Supports, holds) {
			k++
		}
		if k == len(parts) {
			one := p
			one.Supports, one.Cases = holds, nil
			parts = append(parts, one)
		}
		c.Supports = nil
		parts[k].Cases = append(parts[k].Cases, c)
	}
	return parts
}

// checkEach solves problems with different supports one after the other and
// lists their cases in the order of whole. Grids, frequencies and the deflected
// shape are those of the first.
func (b *Body) checkEach(ctx context.Context, e materials.Elastic, whole Problem, parts []Problem, opt Options) (Result, error) {
	start := time.Now()
	told := opt.Progress
	found := map[string]CaseResult{}
	var out Result
	for k, p := range parts {
		if told != nil {
			opt.Progress = func(share float64) { told((float64(k) + share) / float64(len(parts))) }
		}
		r, err := b.Check(ctx, e, p, opt)
		if err != nil {
			return out, err
		}
		for i, c := range r.Cases {
			found[fmt.Sprint(k, i)] = c
		}
		if k == 0 {
			out = r
			opt.Shape, opt.Modes = false, 0
			continue
		}
		for _, w := range r.Warnings {
			if !slices.Contains(out.Warnings, w) {
				out.Warnings = append(out.Warnings, w)
			}
		}
	}
	out.Cases = nil
	next := make([]int, len(parts))
	for _, c := range whole.Cases {
		for k, p := range parts {
			if slices.Equal(p.Supports, whole.holds(c)) {
				out.Cases = append(out.Cases, found[fmt.Sprint(k, next[k])])
				next[k]++
			}
		}
	}
	out.Seconds = time.Since(start).Seconds()
	return out, nil
}
