package section

import (
	"fmt"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/mesh/cut"
)

// families is the catalogue, in the order in which Usage lists it. A section
// shape is its file and its line here.
var families = []*family{
	&rectangle,
	&square,
	&round,
	&tube,
	&rectTube,
	&angle,
	&channel,
	&tee,
	&iBeam,
	&hexagon,
}

// family is a kind of simple section. Solid bars and hollow sections give the
// width, along the first axis, before the height; open profiles give the
// height, along the second axis, first, as their standards do.
type family struct {
	name    string   // that String writes
	sizes   string   // what its numbers stand for
	example string   // as written
	also    []string // further names, in small letters without spaces

	// letters that drawings and standards mark each size with, the usual one
	// first; their number is the number of sizes.
	letters []string
	rounded bool // takes a radius after the sizes

	// short completes a shorter list of sizes, such as one side of a square
	// tube; nil where it cannot.
	short func(d []float64) []float64

	// outline draws the section from its sizes and its radius, in mm: the outer
	// path counter-clockwise, then holes clockwise. It refuses sizes that do not
	// fit together. The lower left corner of the upright rectangle around it
	// lies at the origin.
	outline func(d []float64, r float64) ([]path, error)

	// bar holds what has a closed form in torsion and shear; nil otherwise.
	bar func(d []float64, poisson float64) barForm
	// thickest is the greatest thickness of a thin open section's walls, which
	// rules its stress in torsion, T t/J (Roark); nil for others.
	thickest func(d []float64) float64
}

// barForm is what tables give for bars.
type barForm struct {
	j       float64 // mm4
	modulus float64 // mm3, torque over the largest shear stress
	shear   float64 // share of the area effective in shear
	warps   bool    // the warping constant is solved for; a round has none
}

// mostSizes bounds the sizes of a family, so that shapes can be compared.
const mostSizes = 6

// Shape is a simple section named by its dimensions. Shapes come from
// ParseShape, which checks that the dimensions fit together. The origin of a
// shape's coordinates is the lower left corner of the upright rectangle that
// holds it. Two shapes are equal, by ==, when they are written alike.
type Shape struct {
	family *family
	sizes  [mostSizes]float64 // mm
	radius float64            // mm, of the root or of the outer corners
}

// Usage returns a line for each family of shapes: an example and what its
// numbers stand for.
func Usage() []string {
	var lines []string
	for _, f := range families {
		lines = append(lines, fmt.Sprintf("%-26s %s", f.example, f.sizes))
	}
	return lines
}

// sizeDigits is the number of significant digits that a size is kept to, more
// than any drawing has, so that what String writes is what it is.
const sizeDigits = 10

// String writes the shape so that ParseShape reads the same shape back, such as
// "I 200x100x5.6x8.5mm r12mm".
func (s Shape) String() string {
	if s.family == nil {
		return ""
	}
	var texts []string
	for _, d := range s.dims() {
		texts = append(texts, digits(d))
	}
	out := s.family.name + " " + strings.Join(texts, "x") + "mm"
	if s.radius > 0 {
		out += " r" + digits(s.radius) + "mm"
	}
	return out
}

// UnmarshalText reads what ParseShape reads, for case files.
func (s *Shape) UnmarshalText(text []byte) error {
	parsed, err := ParseShape(string(text))
	if err == nil {
		*s = parsed
	}
	return err
}

// MarshalText writes what String writes.
func (s Shape) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// paths draws the shape; newShape has checked that it can be drawn.
func (s Shape) paths() []path {
	p, _ := s.family.outline(s.dims(), s.radius)
	return p
}

// Region returns the shape's outline as polygons, in mm; arcs are drawn with
// chords between points on them.
func (s Shape) Region() cut.Region {
	var p cut.Polygon
	for i, q := range s.paths() {
		if i == 0 {
			p.Outer = q.loop()
		} else {
			p.Holes = append(p.Holes, q.loop())
		}
	}
	return cut.Region{p}
}

// Properties returns those of the shape, exact for straight sides and arcs.
func (s Shape) Properties() Properties {
	box := s.Region().Bounds()
	about := r2.Scale(0.5, r2.Add(box.Min, box.Max))
	paths := s.paths()
	out := Properties{Outlines: 1, Holes: len(paths) - 1, Low: box.Min, High: box.Max}
	var m moments
	for _, p := range paths {
		m.addPath(p, about)
	}
	out.fill(m, about)
	return out
}

// Torsion returns what the function Torsion does for the shape: in closed form
// where there is one, else solved on its outline. Bars and round tubes have
// exact torsion constants and Cowper's shear areas.
func (s Shape) Torsion(poisson float64) (TorsionResult, error) {
	if err := checkPoisson(poisson); err != nil {
		return TorsionResult{}, err
	}
	if s.family.bar == nil {
		out, err := Torsion(s.Region(), poisson)
		if err == nil && s.family.thickest != nil {
			out.Modulus = out.J / s.family.thickest(s.dims())
		}
		return out, err
	}
	plain := s.Properties()
	form := s.family.bar(s.dims(), poisson)
	out := TorsionResult{Pieces: 1, Area: plain.Area, ShearCentre: plain.Centroid,
		J: form.j, JLow: form.j, JHigh: form.j, Modulus: form.modulus}
	out.ShearArea = [2]float64{form.shear * plain.Area, form.shear * plain.Area}
	if form.warps {
		solved, err := Torsion(s.Region(), poisson)
		if err != nil {
			return out, err
		}
		out.Warping = solved.Warping
	}
	return out, nil
}
