package section

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/internal/textwrap"
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

func (s Shape) dims() []float64 { return s.sizes[:len(s.family.letters)] }

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

func digits(x float64) string { return strconv.FormatFloat(x, 'g', sizeDigits, 64) }

// kept is a size in mm as String writes it.
func kept(x float64) float64 {
	y, err := strconv.ParseFloat(digits(x), 64)
	if err != nil {
		return x
	}
	return y
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

// Sizes beyond these are slips of the unit, in mm.
const (
	leastSize = 1e-4
	mostSize  = 1e6
)

// newShape puts sizes and radius, in mm, into a shape.
func newShape(f *family, sizes []float64, radius float64) (Shape, error) {
	s := Shape{family: f, radius: kept(radius)}
	n := len(sizes)
	if n != len(f.letters) && f.short != nil {
		sizes = f.short(sizes)
	}
	if len(sizes) != len(f.letters) {
		return Shape{}, fmt.Errorf("a %s does not take %d %s", f.name, n, textwrap.Plural(n, "size"))
	}
	for i, d := range sizes {
		switch {
		case !(d > 0):
			return Shape{}, fmt.Errorf("the size %g mm is not above zero", d)
		case d < leastSize || d > mostSize:
			return Shape{}, fmt.Errorf("the size %g mm is not between %g and %g mm", d, leastSize, mostSize)
		}
		s.sizes[i] = kept(d)
	}
	switch {
	case radius != 0 && !f.rounded:
		return Shape{}, fmt.Errorf("a %s has no radius", f.name)
	case !(radius >= 0) || radius != 0 && (radius < leastSize || radius > mostSize):
		return Shape{}, fmt.Errorf("the radius %g mm is not between %g and %g mm", radius, leastSize, mostSize)
	}
	_, err := f.outline(s.dims(), s.radius)
	return s, err
}

var errNoRoom = errors.New("the walls leave no room between them")

// fits refuses walls that leave no room, and a radius over the most.
func fits(across, along, r, most float64) error {
	if !(across > 0 && along > 0) {
		return errNoRoom
	}
	if r > most {
		return fmt.Errorf("the radius %g mm does not fit, at most %.4g mm does", r, most)
	}
	return nil
}

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

// sum adds the terms of a series over odd n, whose terms fall so fast that a
// hundred leave out less than rounding.
func sum(term func(n float64) float64) (s float64) {
	for n := 1.0; n < 200; n += 2 {
		s += term(n)
	}
	return s
}

func fourth(x float64) float64 { return math.Pow(x, 4) }
