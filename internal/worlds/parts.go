package worlds

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"

	"swapworth/internal/evidence"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/asmade"
	"swapworth/solid"
	"swapworth/swap"
)

// Parts makes pairs of parts that nobody has seen from a seed: plates, arms, sections,
// links and the like, and of each a redesign of another thickness in another alloy. Only
// pairs that bolt on and can be milled stay. done is told how many there are.
func Parts(ctx context.Context, seed uint64, count int, done func(int)) ([]Pair, error) {
	const tried = 4 // shapes for each pair that is wanted
	shapes, err := evidence.BlindParts(seed, tried*count)
	if err != nil {
		return nil, err
	}
	rng := rand.New(rand.NewPCG(seed, 0x70616972))
	var out []Pair
	for _, shape := range shapes {
		if len(out) == count {
			break
		}
		p, err := pairOf(shape.Name+", "+shape.Family, shape.Mesh, rng)
		if err != nil {
			continue // a hole across leaves nothing to stretch
		}
		fit, err := p.settle(ctx)
		if err != nil {
			return nil, err
		}
		if fit {
			out = append(out, p)
			done(len(out))
		}
	}
	return out, nil
}

// swaps are alloys of stock part and redesign, and how many times as thick the redesign
// is: a light metal for steel is made thicker, and one for its like thinner.
var swaps = []struct {
	old, new    string
	least, most float64
}{
	{"S235", "6061-T6", 1.2, 1.7}, {"304", "7075-T6", 1.2, 1.7}, {"6061-T6", "7075-T6", 0.8, 1}, {"6082-T6", "6082-T6", 0.8, 0.98},
}

func pairOf(name string, m *mesh.Mesh, rng *rand.Rand) (Pair, error) {
	kind := swaps[rng.IntN(len(swaps))]
	times := kind.least + (kind.most-kind.least)*rng.Float64()
	size := m.Bounds().Size()
	thin, long := mesh.X, mesh.X
	for _, a := range []mesh.Axis{mesh.Y, mesh.Z} {
		if a.Of(size) < thin.Of(size) {
			thin = a
		}
		if a.Of(size) > long.Of(size) {
			long = a
		}
	}
	thick := math.Round(10*times*thin.Of(size)) / 10
	n, err := mesh.Stretch(m, thin, thick, nil)
	load := func(m *mesh.Mesh) *mesh.Loaded {
		return &mesh.Loaded{Path: "part.stl", Mesh: m, Triangles: len(m.Faces), Report: mesh.Check(m)}
	}
	return Pair{
		Name: fmt.Sprintf("%s, %g mm %s, %g mm %s", name, thin.Of(size), kind.old, thick, kind.new),
		Old:  load(m), New: load(n), OldAlloy: kind.old, NewAlloy: kind.new, Span: long, Along: thin,
	}, err
}

// settle finds how both parts really are, and a force under which the redesign is 1.3 to
// 4 times as strong as it needs to be; it reports whether the pair bolts on, can be milled
// and has a stiffness.
func (p *Pair) settle(ctx context.Context) (bool, error) {
	table := materials.Default()
	var alloys [2]materials.Material
	for i, name := range []string{p.OldAlloy, p.NewAlloy} {
		var err error
		if alloys[i], err = table.Find(name); err != nil {
			return false, err
		}
	}
	p.Force = 1
	r, err := swap.Decide(ctx, swap.Case{
		Old: swap.Side{Loaded: p.Old, Material: &alloys[0]}, New: swap.Side{Loaded: p.New, Material: &alloys[1]}, SameFrame: true,
		Table: table, Limits: swap.DefaultLimits(), Loading: swap.Loading{Span: &p.Span, Along: []mesh.Axis{p.Along}},
	})
	if err != nil || !r.Fit.OK || len(r.Fit.Blocking) > 0 || r.Millable == nil || !r.Millable.OK || r.Stiffness[0].Ratio == nil {
		return false, nil
	}
	if p.OldTruth, err = p.truth(ctx, p.Old.Mesh, alloys[0]); err != nil {
		return false, err
	}
	if p.NewTruth, err = p.truth(ctx, p.New.Mesh, alloys[1]); err != nil {
		return false, err
	}
	name := rand.New(rand.NewPCG(uint64(len(p.New.Mesh.Faces)), uint64(1000*p.NewTruth.Volume(0, 0))))
	p.Force = alloys[1].Strength.Value / p.NewTruth.Stress(0, 0) / (1.3 + 2.7*name.Float64())
	return true, nil
}

// truth solves a part at the full budget, peaks included, and on the small one at both
// limits of both errors of its sizes. Between them volume and stiffness are parabolas of
// the logarithm; stress goes with the section modulus as docs/decision.md derives it.
func (p *Pair) truth(ctx context.Context, m *mesh.Mesh, alloy materials.Material) (Piece, error) {
	made := asmade.Read(m)
	by, thin, err := deviations(made)
	if err != nil {
		return Piece{}, err
	}
	full, err := p.solve(ctx, m, alloy, solid.Options{Peaks: true})
	if err != nil {
		return Piece{}, err
	}
	small := solid.Quick()
	small.NoStress = true
	quick, err := p.solve(ctx, m, alloy, small)
	if err != nil {
		return Piece{}, err
	}
	var volume, stiff [2][2]float64 // by error; logarithms at the lower and upper limit
	for e := range 2 {
		for side, sign := range []float64{-1, 1} {
			var faces [3]float64
			for k := range faces {
				if (k == thin) == (e == 0) {
					faces[k] = sign * by[k] / 2
				}
			}
			off, err := asmade.Drifted(made, faces)
			if err != nil {
				return Piece{}, err
			}
			solved, err := p.solve(ctx, off, alloy, small)
			if err != nil {
				return Piece{}, err
			}
			volume[e][side] = math.Log(off.SignedVolume() / m.SignedVolume())
			stiff[e][side] = math.Log(solved.Stiffness / quick.Stiffness)
		}
	}
	at := func(of [2][2]float64, depth, outline float64) float64 {
		return math.Exp(parabola(of[0], depth) + parabola(of[1], outline))
	}
	return Piece{
		Volume:    func(d, o float64) float64 { return m.SignedVolume() * at(volume, d, o) },
		Stiffness: func(d, o float64) float64 { return full.Stiffness / alloy.YoungsModulus.Value * at(stiff, d, o) },
		Stress:    func(d, o float64) float64 { return full.MaxStress / math.Sqrt(at(stiff, d, o)*at(volume, d, o)) },
	}, nil
}

// parabola goes through 0 in the middle and the two values at -1 and 1.
func parabola(ends [2]float64, x float64) float64 {
	return (ends[1]-ends[0])/2*x + (ends[1]+ends[0])/2*x*x
}

// solve is one solution under 1 N.
func (p *Pair) solve(ctx context.Context, m *mesh.Mesh, alloy materials.Material, o solid.Options) (solid.CaseResult, error) {
	problem, err := solid.EndProblem(m, p.Span, p.Along, "cantilever", 1)
	if err != nil {
		return solid.CaseResult{}, err
	}
	r, err := solid.Check(ctx, m, alloy.Elastic(), problem, o)
	if err != nil {
		return solid.CaseResult{}, err
	}
	return r.Cases[0], nil
}
