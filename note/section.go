package note

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/beam/section"
	"swapworth/mesh"
	"swapworth/mesh/cut"
	"swapworth/note/figure"
	"swapworth/note/render"
	"swapworth/quantity"
)

// SectionReport is what `section` prints: the properties with what they are of.
type SectionReport struct {
	File    string `json:"file"`    // empty for a named section
	Section string `json:"section"` // empty for a cut
	Cut     *Cut   `json:"cut"`     // nil for a named section
	section.Report
	Material    *string    `json:"material"`
	Assumptions []string   `json:"assumptions"`
	Region      cut.Region `json:"-"` // for the figure
}

// Cut says where a part was cut and which way the section's axes point.
type Cut struct {
	Axis   string     `json:"axis"`  // empty for an oblique cut
	At     *float64   `json:"at_mm"` // nil for an oblique cut
	Origin [3]float64 `json:"origin_mm"`
	Normal [3]float64 `json:"normal"`
	First  [3]float64 `json:"first"`
	Second [3]float64 `json:"second"`
	axes   [2]string
}

// AxisCut describes a cut at right angles to an axis, at a position in mm.
func AxisCut(a mesh.Axis, at float64) *Cut {
	c := cutOf(mesh.AxisPlane(a, at))
	c.Axis, c.At = a.String(), &at
	c.axes = [2]string{a.Next().String(), a.Next().Next().String()}
	return c
}

// ObliqueCut describes a cut by any plane.
func ObliqueCut(p mesh.Plane) *Cut {
	c := cutOf(p)
	c.axes = [2]string{"u", "v"}
	return c
}

func cutOf(p mesh.Plane) *Cut {
	plain := func(v r3.Vec) [3]float64 { return [3]float64{v.X + 0, v.Y + 0, v.Z + 0} } // -0 + 0 is 0
	return &Cut{Origin: plain(p.Origin), Normal: plain(p.Normal), First: plain(p.U), Second: plain(p.V)}
}

// place says where the cut lies.
func (c *Cut) place() string {
	if c.At != nil {
		return fmt.Sprintf("%s = %s mm", c.Axis, quantity.Short(*c.At, 6))
	}
	return "the plane through " + vector(c.Origin, ", ")
}

// Document lays the section out for reading.
func (r SectionReport) Document() render.Document {
	doc := render.Document{Title: "Section: " + r.Section}
	if r.Cut != nil {
		doc.Title = "Section of " + r.File + " at " + r.Cut.place()
	}
	doc.Lead = append([]render.Line{{Text: r.pieces()}}, warningLines(r.Warnings)...)
	doc.Blocks = append(doc.Blocks, r.plainTable(), r.solvedTable())
	doc.Blocks = append(doc.Blocks, render.List{Title: "How to read this", Items: r.remarks()})
	doc.Blocks = append(doc.Blocks, render.Later(func(u quantity.System) []render.Block {
		return []render.Block{render.Picture{Figure: r.figure(u)}}
	}))
	return doc
}

func (r SectionReport) axes() (first, second string) {
	if r.Cut == nil {
		return "x", "y"
	}
	return r.Cut.axes[0], r.Cut.axes[1]
}

func (r SectionReport) pieces() string {
	text := r.Section + ": "
	if r.Cut != nil {
		text = r.File + " cut at " + r.Cut.place() + ": "
	}
	if r.Outlines == 1 {
		text += "one piece"
	} else {
		text += fmt.Sprintf("%d pieces", r.Outlines)
	}
	switch r.Holes {
	case 0:
		text += " without holes"
	case 1:
		text += " with one hole"
	default:
		text += fmt.Sprintf(" with %d holes", r.Holes)
	}
	return text + "."
}

func (r SectionReport) plainTable() render.Table {
	x, y := r.axes()
	row := func(name string, v float64) []string { return []string{name, quantity.Number(v, 6)} }
	product := r.Ixy
	if math.Abs(product) < 1e-6*r.I1 {
		product = 0 // the coordinates in the file have seven digits
	}
	return render.Table{
		Title:  "Area and bending",
		Header: []string{"measure", "value"},
		Rows: [][]string{
			{fmt.Sprintf("size along %s and %s, mm", x, y), pair(r.Size, " x ", 6)},
			row("area, mm2", r.Area),
			row("perimeter, mm", r.Perimeter),
			{fmt.Sprintf("centroid (%s, %s), mm", x, y), pair(r.Centroid, ", ", 6)},
			row("second moment of area about "+x+", mm4", r.Ixx),
			row("second moment of area about "+y+", mm4", r.Iyy),
			row("product of area, mm4", product),
			row("largest second moment, mm4", r.I1),
			row("smallest second moment, mm4", r.I2),
			{fmt.Sprintf("axis of the largest, from %s towards %s, degrees", x, y), quantity.Fixed(r.AngleDeg, 2)},
			row(fmt.Sprintf("section modulus about %s, +%s side, mm3", x, y), r.Wxx[0]),
			row(fmt.Sprintf("section modulus about %s, -%s side, mm3", x, y), r.Wxx[1]),
			row(fmt.Sprintf("section modulus about %s, +%s side, mm3", y, x), r.Wyy[0]),
			row(fmt.Sprintf("section modulus about %s, -%s side, mm3", y, x), r.Wyy[1]),
			row("radius of gyration about "+x+", mm", r.Radius[0]),
			row("radius of gyration about "+y+", mm", r.Radius[1]),
		},
	}
}

func (r SectionReport) solvedTable() render.Table {
	x, y := r.axes()
	t := render.Table{Title: "Torsion and shear", Header: []string{"measure", "value"}}
	add := func(name, value string) { t.Rows = append(t.Rows, []string{name, value}) }
	add("torsion constant, mm4", optional(r.J, 5))
	add("torsion modulus (torque over stress), mm3", optional(r.Modulus, 4))
	shear, centre := [2]string{missing, missing}, missing
	if r.ShearArea != nil {
		shear = [2]string{quantity.Number(r.ShearArea[0], 5), quantity.Number(r.ShearArea[1], 5)}
	}
	if r.ShearCentre != nil {
		centre = pair(settled(*r.ShearCentre, r.Size), ", ", 5)
	}
	add("shear area along "+x+", mm2", shear[0])
	add("shear area along "+y+", mm2", shear[1])
	add(fmt.Sprintf("shear centre (%s, %s), mm", x, y), centre)
	add("warping constant, mm6", r.warping())
	return t
}

// settled rounds to a hundred-thousandth of the section's size what the solver
// leaves beyond.
func settled(p, size [2]float64) [2]float64 {
	step := 1e-5 * max(size[0], size[1])
	for i, v := range p {
		if math.Abs(v) < step {
			p[i] = 0
		}
	}
	return p
}

// warping is zero for a round, where only rounding is left of it.
func (r SectionReport) warping() string {
	if r.Warping != nil && *r.Warping < 1e-9*r.I1*r.Area {
		return "0"
	}
	return optional(r.Warping, 4)
}

func (r SectionReport) remarks() []string {
	x, y := r.axes()
	var out []string
	switch {
	case r.Cut == nil:
		out = append(out, "x points to the right and y up; coordinates count from the lower left corner of the"+
			" upright rectangle around the section.")
	case r.Cut.At == nil:
		out = append(out, fmt.Sprintf("u points along (%s) and v along (%s) in the part; coordinates count from (%s).",
			vector(r.Cut.First, ", "), vector(r.Cut.Second, ", "), vector(r.Cut.Origin, ", ")))
	default:
		out = append(out, fmt.Sprintf("Coordinates are those of the part; a force along %s bends about %s.", y, x))
	}
	for _, a := range r.Assumptions {
		out = append(out, sentence(a))
	}
	if r.J == nil {
		return out
	}
	shear := fmt.Sprintf("Shear areas hold for a Poisson's ratio of %s.", quantity.Short(r.Poisson, 3))
	if r.Triangulated > 0 && r.JBounds != nil {
		shear += fmt.Sprintf(" The torsion constant lies between %s and %s mm4; solver's error %s %%.",
			quantity.Number(r.JBounds[0], 5), quantity.Number(r.JBounds[1], 5), quantity.Number(*r.SolverError, 1))
	}
	return append(out, shear)
}

func (r SectionReport) figure(u quantity.System) figure.Figure {
	size := pair(r.Size, " x ", 4) + " mm"
	view := figure.SectionView{
		Name: r.Section, At: size, Region: r.Region,
		Centroid: r2.Vec{X: r.Centroid[0], Y: r.Centroid[1]}, Axes: [2]mesh.Axis{mesh.X, mesh.Y},
		Says: fmt.Sprintf("area %s mm2", quantity.Number(r.Area, 4)),
	}
	if r.Cut != nil {
		view.Name, view.At = r.File, r.Cut.place()
		if a, err := mesh.ParseAxis(r.Cut.Axis); err == nil {
			view.Axes = [2]mesh.Axis{a.Next(), a.Next().Next()}
		}
	}
	f := figure.Sections(u, "The section", []figure.SectionView{view})
	f.Alt = fmt.Sprintf("%s, %s: its outline, %s, with the axes through its centroid.", view.Name, view.At, size)
	return f
}

// pair writes two numbers.
func pair(v [2]float64, between string, digits int) string {
	return quantity.Short(v[0], digits) + between + quantity.Short(v[1], digits)
}
