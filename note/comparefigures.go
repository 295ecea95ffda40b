package note

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/beam/section"
	"swapworth/mesh"
	"swapworth/mesh/cut"
	"swapworth/mesh/feature"
	"swapworth/note/figure"
	"swapworth/note/render"
	"swapworth/quantity"
	"swapworth/swap"
)

// compareFigures draws what no table says: where parts bend, and how far each
// uncertain input moves the answer.
func compareFigures(u quantity.System, r swap.Result) []render.Block {
	return asBlocks(append(bendingFigures(u, r), driverFigures(u, r)...))
}

func asBlocks(figures []figure.Figure) []render.Block {
	blocks := make([]render.Block, len(figures))
	for i, f := range figures {
		blocks[i] = render.Picture{Figure: f}
	}
	return blocks
}

// driverFigures has one chart for each uncertain quantity.
func driverFigures(u quantity.System, r swap.Result) []figure.Figure {
	var out []figure.Figure
	for i := 0; i < len(r.Drivers); {
		what := r.Drivers[i].Quantity
		name, _, _ := strings.Cut(what, " (") // without its unit
		var rows []figure.SpreadRow
		for ; i < len(r.Drivers) && r.Drivers[i].Quantity == what; i++ {
			rows = append(rows, figure.SpreadRow{Name: r.Drivers[i].Input, Range: r.Drivers[i].Range})
		}
		out = append(out, figure.Spreads(u, "What makes the "+name+" uncertain", what+", if only this input were uncertain", rows))
	}
	return out
}

// drawnFigures shows the parts themselves; a result read back from JSON has none.
func drawnFigures(u quantity.System, r swap.Result) (out []render.Block) {
	d := r.Drawing
	if d == nil {
		return nil
	}
	both := bothParts(d)
	for _, f := range []figure.Figure{figure.ThreeViews(u, both), figure.Shaded(figure.Whole, both)} {
		out = append(out, render.OnFront{Block: render.Picture{Figure: f}})
	}
	if d.Old.Shape != nil && d.New.Shape != nil {
		out = append(out, render.Picture{Figure: figure.StressViews(u, "Stress under the first load case, bent as it bends",
			figure.LoadedPart{Name: "stock part", Mesh: d.Old.Mesh, Shape: d.Old.Shape}, figure.LoadedPart{Name: "redesign", Mesh: d.New.Mesh, Shape: d.New.Shape})})
	}
	return out
}

func bothParts(d *swap.Drawing) []figure.PartView {
	redesign := partView("redesign", 1, d.New, d.Span)
	redesign.Places = millablePlaces(d.HardPlaces)
	return []figure.PartView{partView("stock part", 0, d.Old, d.Span), redesign}
}

// bendingFigures show where parts that are beams bend; there are none for others.
func bendingFigures(u quantity.System, r swap.Result) (out []figure.Figure) {
	d := r.Drawing
	if d == nil {
		return nil
	}
	if f, ok := weakestSections(u, d); ok {
		out = append(out, f)
	}
	for i := range d.Old.Bent {
		if f, ok := rigidityFigure(u, d, i); ok {
			out = append(out, f)
		}
	}
	return out
}

// partView marks the weakest place under the first load direction.
func partView(name string, series int, p swap.Drawn, span mesh.Axis) figure.PartView {
	v := figure.PartView{Name: name, Series: series, Mesh: p.Mesh, Marks: figure.HoleNumbers(p.Holes)}
	if p.Held != nil {
		v.Signs = figure.SignsOf(*p.Held)
	}
	if at, ok := weakestPlace(p, span); ok {
		v.Cuts = []figure.CutMark{{Axis: span, At: at, Name: "A"}}
	}
	return v
}

// holeMarks numbers the holes as the findings about bolting on do.
func holeMarks(m *mesh.Mesh) []figure.PointMark { return figure.HoleNumbers(feature.Find(m).Holes) }

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
func cutInside(m *mesh.Mesh, span mesh.Axis, at float64) (cut.Region, error) {
	box := m.Bounds()
	step := 1e-6 * span.Of(box.Size())
	return cut.Section(m, mesh.AxisPlane(span, min(max(at, span.Of(box.Min)+step), span.Of(box.Max)-step)))
}

// weakestSections cuts both parts at their weakest places.
func weakestSections(u quantity.System, d *swap.Drawing) (figure.Figure, bool) {
	var views []figure.SectionView
	for i, p := range []swap.Drawn{d.Old, d.New} {
		at, ok := weakestPlace(p, d.Span)
		if !ok {
			return figure.Figure{}, false
		}
		v, err := sectionView([]string{"stock part", "redesign"}[i], p.Mesh, d.Span, p.Bent[0].Along, at)
		if err != nil {
			return figure.Figure{}, false // a plane that grazes a face cuts nothing worth showing
		}
		views = append(views, v)
	}
	return figure.Sections(u, "Section A, at the weakest place", views), true
}

func sectionView(name string, m *mesh.Mesh, span, along mesh.Axis, at float64) (figure.SectionView, error) {
	cut, err := cutInside(m, span, at)
	if err != nil {
		return figure.SectionView{}, err
	}
	s, err := section.Of(cut)
	if err != nil {
		return figure.SectionView{}, err
	}
	moment := s.Ixx
	if along == span.Next() {
		moment = s.Iyy
	}
	return figure.SectionView{
		Name: name, At: fmt.Sprintf("%v = %s mm", span, quantity.Short(at, 4)), Region: cut,
		Centroid: r2.Vec{X: s.Centroid.X, Y: s.Centroid.Y},
		Axes:     [2]mesh.Axis{span.Next(), span.Next().Next()},
		Says:     fmt.Sprintf("area %s mm2, second moment %s mm4 for load along %v", quantity.Number(s.Area, 3), quantity.Number(moment, 3), along),
	}, nil
}

// rigidityFigure draws EI along the span for one load direction.
func rigidityFigure(u quantity.System, d *swap.Drawing, direction int) (figure.Figure, bool) {
	var curves []figure.Curve
	for i, p := range []swap.Drawn{d.Old, d.New} {
		b := p.Bent[direction]
		if len(b.Points) == 0 {
			continue
		}
		c := figure.Curve{Name: []string{"stock part", "redesign"}[i]}
		for _, q := range b.Points {
			c.X, c.Y = append(c.X, q.At), append(c.Y, q.EI/1e6)
		}
		curves = append(curves, c)
	}
	if len(curves) == 0 {
		return figure.Figure{}, false
	}
	along := d.Old.Bent[direction].Along
	f, err := figure.Rigidity(u, fmt.Sprintf("Flexural rigidity along the span, load along %v", along), fmt.Sprintf("%v, mm", d.Span), curves)
	return f, err == nil
}
