package note

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/beam/section"
	"swapworth/mesh"
	"swapworth/mesh/feature"
	"swapworth/quantity"
	"swapworth/swap"
)

// compareFigures draws what the numbers of the result are.
func compareFigures(r swap.Result) []Block {
	out := bendingFigures(r)
	if r.Old.Mass != nil && r.New.Mass != nil {
		out = append(out, massFigure(r))
	}
	if rows := judgedRows(r); len(rows) > 0 {
		out = append(out, AgainstLimits("Criteria against their limits", rows))
	}
	out = append(out, driverFigures(r)...)
	if len(r.Turnovers) > 0 {
		out = append(out, turnoverFigure(r))
	}
	return asBlocks(out)
}

func asBlocks(figures []Figure) []Block {
	blocks := make([]Block, len(figures))
	for i, f := range figures {
		blocks[i] = f
	}
	return blocks
}

func massFigure(r swap.Result) Figure {
	return Intervals("Mass of both and what is saved", "g a piece", []IntervalRow{
		{Name: "stock part", Range: *r.Old.Mass, Series: 0},
		{Name: "redesign", Range: *r.New.Mass, Series: 1},
		{Name: "saving", Range: r.Saving.PerPart, Series: 2},
	})
}

func judgedRows(r swap.Result) []IntervalRow {
	var rows []IntervalRow
	for _, c := range r.Criteria {
		if c.Value != nil && c.Limit != nil && *c.Limit != 0 {
			rows = append(rows, IntervalRow{Name: c.Name, Range: *c.Value, Limit: c.Limit, AtMost: c.AtMost})
		}
	}
	return rows
}

// driverFigures has one chart for each uncertain quantity.
func driverFigures(r swap.Result) []Figure {
	var out []Figure
	for i := 0; i < len(r.Drivers); {
		quantity := r.Drivers[i].Quantity
		var rows []IntervalRow
		for ; i < len(r.Drivers) && r.Drivers[i].Quantity == quantity; i++ {
			rows = append(rows, IntervalRow{Name: r.Drivers[i].Input, Range: r.Drivers[i].Range, Series: 1})
		}
		out = append(out, Spreads("What makes the "+quantity+" uncertain", quantity+", if only this input were uncertain", rows))
	}
	return out
}

// turnoverFigure shows the saving as taken and under every alternative that
// changes the answer.
func turnoverFigure(r swap.Result) Figure {
	rows := []IntervalRow{{Name: "as taken: " + string(r.Verdict), Range: r.Saving.Percent, Series: 1}}
	for _, t := range r.Turnovers {
		rows = append(rows, IntervalRow{Name: fmt.Sprintf("if %s is %s: %s", t.Assumption, strings.ReplaceAll(t.To, " ", tie), t.Verdict), Range: t.Saving})
	}
	return Intervals("The saving under assumptions that turn the answer over", "saving, %", rows)
}

// drawnFigures shows the parts themselves; a result read back from JSON has none.
func drawnFigures(r swap.Result) []Figure {
	d := r.Drawing
	if d == nil {
		return nil
	}
	redesign := partView("redesign", 1, d.New, d.Span)
	redesign.Places = millablePlaces(d.HardPlaces)
	out := []Figure{ThreeViews([]PartView{partView("stock part", 0, d.Old, d.Span), redesign})}
	if d.Old.Shape != nil && d.New.Shape != nil {
		out = append(out, StressViews("Stress under the first load case, bent as it bends",
			LoadedPart{"stock part", d.Old.Mesh, d.Old.Shape}, LoadedPart{"redesign", d.New.Mesh, d.New.Shape}))
	}
	return out
}

// bendingFigures show where parts that are beams bend; there are none for others.
func bendingFigures(r swap.Result) (out []Figure) {
	d := r.Drawing
	if d == nil {
		return nil
	}
	if f, ok := weakestSections(d); ok {
		out = append(out, f)
	}
	for i := range d.Old.Bent {
		if f, ok := rigidityFigure(d, i); ok {
			out = append(out, f)
		}
	}
	return out
}

// partView marks the weakest place under the first load direction.
func partView(name string, series int, p swap.Drawn, span mesh.Axis) PartView {
	v := PartView{Name: name, Series: series, Mesh: p.Mesh, Marks: marksOf(p.Holes)}
	if p.Held != nil {
		v.Signs = SignsOf(*p.Held)
	}
	if at, ok := weakestPlace(p, span); ok {
		v.Cuts = []CutMark{{Axis: span, At: at, Name: "A"}}
	}
	return v
}

// holeMarks numbers the holes as the findings about bolting on do.
func holeMarks(m *mesh.Mesh) []PointMark { return marksOf(feature.Find(m).Holes) }

func marksOf(holes []feature.Hole) []PointMark {
	var out []PointMark
	for _, h := range holes {
		out = append(out, PointMark{At: h.Centre, Radius: h.Diameter / 2, Text: strconv.Itoa(h.Number)})
	}
	return out
}

// thinEnd is the share of the largest section below which the place of the
// largest stress is no section to show: the very end of a rounded part.
const thinEnd = 0.1

// weakestPlace returns where the part is cut for the figure, in mm along the
// span: where the stress is largest under the first load direction, or where
// the part bends most sharply if that is the vanishing end of a rounded part.
func weakestPlace(p swap.Drawn, span mesh.Axis) (at float64, ok bool) {
	if len(p.Bent) == 0 || p.Bent[0].WeakestAt == nil {
		return 0, false
	}
	at = *p.Bent[0].WeakestAt
	largest, sharpest, bend := 0.0, at, 0.0
	for _, q := range p.Bent[0].Points {
		largest = max(largest, q.Area)
		if q.Moment != nil && q.EI > 0 && math.Abs(q.At-at) > 1e-9 && math.Abs(*q.Moment)/q.EI > bend {
			sharpest, bend = q.At, math.Abs(*q.Moment)/q.EI
		}
	}
	if cut, err := cutInside(p.Mesh, span, at); err == nil && cut.Area() < thinEnd*largest {
		at = sharpest
	}
	return at, true
}

// cutInside cuts the part at a place of the span; an end is cut just inside it,
// because the end itself is a face.
func cutInside(m *mesh.Mesh, span mesh.Axis, at float64) (mesh.Region, error) {
	box := m.Bounds()
	step := 1e-6 * span.Of(box.Size())
	return mesh.Cut(m, mesh.AxisPlane(span, min(max(at, span.Of(box.Min)+step), span.Of(box.Max)-step)))
}

// weakestSections cuts both parts at their weakest places.
func weakestSections(d *swap.Drawing) (Figure, bool) {
	var views []SectionView
	for i, p := range []swap.Drawn{d.Old, d.New} {
		at, ok := weakestPlace(p, d.Span)
		if !ok {
			return Figure{}, false
		}
		v, err := sectionView([]string{"stock part", "redesign"}[i], p.Mesh, d.Span, p.Bent[0].Along, at)
		if err != nil {
			return Figure{}, false // a plane that grazes a face cuts nothing worth showing
		}
		views = append(views, v)
	}
	return Sections("Section A, at the weakest place", views), true
}

func sectionView(name string, m *mesh.Mesh, span, along mesh.Axis, at float64) (SectionView, error) {
	cut, err := cutInside(m, span, at)
	if err != nil {
		return SectionView{}, err
	}
	s, err := section.Of(cut)
	if err != nil {
		return SectionView{}, err
	}
	moment := s.Ixx
	if along == span.Next() {
		moment = s.Iyy
	}
	return SectionView{
		Name: name, At: fmt.Sprintf("%v = %s mm", span, quantity.Short(at, 4)), Region: cut,
		Centroid: r2.Vec{X: s.Centroid.X, Y: s.Centroid.Y},
		Axes:     [2]mesh.Axis{span.Next(), span.Next().Next()},
		Says:     fmt.Sprintf("area %s mm2, second moment %s mm4 for load along %v", quantity.Number(s.Area, 3), quantity.Number(moment, 3), along),
	}, nil
}

// rigidityFigure draws EI along the span for one load direction.
func rigidityFigure(d *swap.Drawing, direction int) (Figure, bool) {
	var curves []Curve
	for i, p := range []swap.Drawn{d.Old, d.New} {
		b := p.Bent[direction]
		if len(b.Points) == 0 {
			continue
		}
		c := Curve{Name: []string{"stock part", "redesign"}[i]}
		for _, q := range b.Points {
			c.X, c.Y = append(c.X, q.At), append(c.Y, q.EI/1e6)
		}
		curves = append(curves, c)
	}
	if len(curves) == 0 {
		return Figure{}, false
	}
	along := d.Old.Bent[direction].Along
	f, err := Rigidity(fmt.Sprintf("Flexural rigidity along the span, load along %v", along), fmt.Sprintf("%v, mm", d.Span), curves)
	return f, err == nil
}
