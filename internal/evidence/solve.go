package evidence

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/feature"
	"swapworth/solid"

	"gonum.org/v1/gonum/spatial/r3"
)

// Row is one stiffness beside its truth.
type Row struct {
	Part, Family string
	Half         Half
	Case         string // how held and loaded, in words
	Bolted       bool   // at holes, not at a whole end

	Truth, TruthError float64 // N/mm, percent
	Ours, Stated      float64 // N/mm, percent
	Seconds           float64 // of this case's share
	Refused           error
}

// Off is how far a value lies from the truth, percent.
func (r Row) Off() float64 { return 100 * (r.Ours/r.Truth - 1) }

// Inside reports whether the value is within its stated error of the truth, which
// has one of its own.
func (r Row) Inside() bool {
	return r.Refused == nil && math.Abs(r.Off()) <= r.Stated+r.TruthError
}

// Tone is a natural frequency beside its truth.
type Tone struct {
	Part                    string
	Half                    Half
	Mode                    int
	Truth, TruthError, Ours float64
}

// PeakRow is a stress peak beside its truth.
type PeakRow struct {
	Part, Case, Where string
	Half              Half
	Truth, TruthError float64
	Ours              materials.Range // as stated
	Found             bool            // whether ours is the stress at the very place
}

// Inside reports whether the stated range reaches the truth within its error.
func (p PeakRow) Inside() bool {
	return p.Found && p.Truth*(1+p.TruthError/100) >= p.Ours.Low && p.Truth*(1-p.TruthError/100) <= p.Ours.High
}

// Settled reports whether ours has an upper end.
func (p PeakRow) Settled() bool { return p.Found && !math.IsInf(p.Ours.High, 1) }

// Off is how far the stated stress lies from the truth, in percent.
func (p PeakRow) Off() float64 { return 100 * (p.Ours.Nominal/p.Truth - 1) }

// Solved is a part made ready for the program, and what is asked of it.
type Solved struct {
	part   Part
	body   *solid.Body
	holes  []feature.Hole
	span   mesh.Axis
	matter materials.Elastic
}

// Open reads the mesh of a part.
func (p Part) Open() (*Solved, error) {
	l, err := mesh.Load(p.STL, mesh.Options{})
	if err != nil {
		return nil, err
	}
	return p.from(l.Mesh)
}

func (p Part) from(m *mesh.Mesh) (*Solved, error) {
	span, err := mesh.ParseAxis(p.Span)
	if err != nil {
		return nil, fmt.Errorf("evidence: %s: %w", p.Name, err)
	}
	body, err := solid.NewBody(m)
	if err != nil {
		return nil, fmt.Errorf("evidence: %s: %w", p.Name, err)
	}
	return &Solved{part: p, body: body, holes: feature.Find(m).Holes, span: span,
		matter: materials.Elastic{YoungsModulus: p.Young, Poisson: p.Poisson, Density: p.Density}}, nil
}

// Stiffness solves every case, those that hold the part alike in one set-up.
func (s *Solved) Stiffness(ctx context.Context, o solid.Options) ([]Row, error) {
	rows := make([]Row, len(s.part.Cases))
	for i, c := range s.part.Cases {
		rows[i] = Row{Part: s.part.Name, Family: s.part.Family, Half: s.part.Half, Case: c.words(),
			Bolted: c.Fix[0].drilled(), Truth: c.Stiffness, TruthError: c.Error}
	}
	for _, alike := range s.alike() {
		p, err := s.problem(s.part.Cases[alike[0]].Hold, 1)
		if err != nil {
			return nil, err
		}
		for _, i := range alike[1:] {
			q, err := s.problem(s.part.Cases[i].Hold, 1)
			if err != nil {
				return nil, err
			}
			p.Cases = append(p.Cases, q.Cases...)
		}
		r, err := s.body.Check(ctx, s.matter, p, o)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		for n, i := range alike {
			if rows[i].Refused = err; err != nil {
				continue
			}
			rows[i].Ours, rows[i].Stated = r.Cases[n].Stiffness, r.Cases[n].ErrorPercent
			rows[i].Seconds = r.Seconds / float64(len(alike))
		}
	}
	return rows, nil
}

// alike groups the cases that hold the part in the same places.
func (s *Solved) alike() (groups [][]int) {
	at := map[string]int{}
	for i, c := range s.part.Cases {
		key := fmt.Sprint(c.Fix)
		n, known := at[key]
		if !known {
			n = len(groups)
			at[key], groups = n, append(groups, nil)
		}
		groups[n] = append(groups[n], i)
	}
	return groups
}

// Tones finds the natural frequencies whose truth is there.
func (s *Solved) Tones(ctx context.Context, o solid.Options) ([]Tone, error) {
	ring := s.part.Ringing
	if ring == nil {
		return nil, nil
	}
	p, err := s.problem(Hold{Fix: ring.Fix, LoadAt: s.part.Cases[0].LoadAt, Along: s.part.Cases[0].Along}, 1)
	if err != nil {
		return nil, err
	}
	o.Modes = len(ring.Hertz)
	r, err := s.body.Check(ctx, s.matter, p, o)
	if err != nil {
		return nil, fmt.Errorf("evidence: %s: %w", s.part.Name, err)
	}
	var out []Tone
	for i, hz := range ring.Hertz {
		out = append(out, Tone{s.part.Name, s.part.Half, i + 1, hz, ring.Error, r.Frequencies[i]})
	}
	return out, nil
}

// Peaks finds the stress peaks whose truth is there.
func (s *Solved) Peaks(ctx context.Context, o solid.Options) ([]PeakRow, error) {
	o.Peaks = true
	var out []PeakRow
	for _, peak := range s.part.Peaks {
		p, err := s.problem(peak.Hold, peak.Force)
		if err != nil {
			return nil, err
		}
		o.LookAt = []solid.Spot{{At: vec(peak.Near[:]), Radius: peak.Radius}}
		r, err := s.body.Check(ctx, s.matter, p, o)
		if err != nil {
			return nil, fmt.Errorf("evidence: %s: %w", s.part.Name, err)
		}
		row := PeakRow{Part: s.part.Name, Half: s.part.Half, Case: peak.words(), Where: peak.Where,
			Truth: peak.Stress, TruthError: peak.Error}
		for _, found := range r.Cases[0].Peaks {
			if r3.Norm(r3.Sub(vec(found.At[:]), vec(peak.Near[:]))) <= peak.Radius+peak.Radius/4 {
				row.Ours, row.Found = found.Stress, true
			}
		}
		out = append(out, row)
	}
	return out, nil
}

// problem puts the places of the truth into the program's words. force is in N.
func (s *Solved) problem(h Hold, force float64) (solid.Problem, error) {
	p := solid.Problem{Span: s.span}
	axis, err := mesh.ParseAxis(h.Along)
	if err != nil {
		return p, fmt.Errorf("evidence: %s: %w", s.part.Name, err)
	}
	for _, f := range h.Fix {
		place, err := s.place(f)
		if err != nil {
			return p, err
		}
		p.Supports = append(p.Supports, solid.Clamped(place))
	}
	c := solid.Case{Name: h.Along}
	for _, l := range h.LoadAt {
		place, err := s.place(l)
		if err != nil {
			return p, err
		}
		c.Loads = append(c.Loads, solid.Load{Place: place, Force: r3.Scale(force/float64(len(h.LoadAt)), axis.Unit())})
	}
	p.Cases = []solid.Case{c}
	return p, nil
}

// holeOff is how far the middle of a hole may lie from where the truth has it, mm.
// Single precision of the file moves it by less than 1e-4.
const holeOff = 0.05

func (s *Solved) place(p Place) (solid.Place, error) {
	switch {
	case p.End != "":
		return solid.EndPlace(s.span, p.End == "high"), nil
	case p.Face != nil:
		return solid.FaceAt(vec(p.Face), vec(p.Normal)), nil
	}
	middle := p.Hole
	if p.Bore != nil {
		middle = p.Bore
	}
	at := vec(middle)
	for _, h := range s.holes {
		if r3.Norm(r3.Sub(h.Centre, at)) > holeOff {
			continue
		}
		if p.Bore != nil {
			return solid.Bore(h.Number), nil
		}
		return solid.Bolted(h.Number, 0), nil
	}
	return solid.Place{}, fmt.Errorf("evidence: %s: no hole at %.4g", s.part.Name, at)
}

func vec(v []float64) r3.Vec { return r3.Vec{X: v[0], Y: v[1], Z: v[2]} }

func (p Place) drilled() bool { return p.Hole != nil || p.Bore != nil }

// words says how a part is held and loaded.
func (h Hold) words() string {
	return fmt.Sprintf("%s, %s, %s", kinds(h.Fix), kinds(h.LoadAt), h.Along)
}

// kinds names places without saying where they are: end, 2 bolts, bore.
func kinds(places []Place) string {
	var names []string
	for _, p := range places {
		switch {
		case p.Hole != nil:
			names = append(names, "bolt")
		case p.Bore != nil:
			names = append(names, "bore")
		default:
			names = append(names, "end")
		}
	}
	slices.Sort(names)
	var out []string
	for i := 0; i < len(names); {
		n := 1
		for i+n < len(names) && names[i+n] == names[i] {
			n++
		}
		word := names[i]
		if n > 1 {
			word = fmt.Sprintf("%d %ss", n, names[i])
		}
		out = append(out, word)
		i += n
	}
	return strings.Join(out, " + ")
}
