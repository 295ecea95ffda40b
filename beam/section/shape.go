package section

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/mesh"
)

// Kind is a family of simple sections.
type Kind int

// The families, with the dimensions that each is written with. Solid bars and
// hollow sections give the width, along the first axis, before the height;
// open profiles give the height, along the second axis, first, as their
// standards do.
const (
	Rect     Kind = iota // WIDTHxHEIGHT
	Square               // SIDE
	Round                // DIAMETER
	Tube                 // DIAMETERxWALL
	RectTube             // WIDTHxHEIGHTxWALL, r is the outer corner radius
	Angle                // HEIGHTxWIDTHxTHICKNESS, heel at the lower left, r is the root radius
	Channel              // HEIGHTxWIDTHxWEBxFLANGE, parallel flanges to the right, r is the root radius
	Tee                  // HEIGHTxWIDTHxWEBxFLANGE, flange on top, r is the root radius
	IBeam                // HEIGHTxWIDTHxWEBxFLANGE, r is the root radius
	Hexagon              // WIDTH ACROSS FLATS, two flats level
)

// Shape is a simple section named by its dimensions. Shapes come from
// ParseShape, which checks that the dimensions fit together. The origin of a
// shape's coordinates is the lower left corner of the upright rectangle that
// holds it.
type Shape struct {
	kind Kind
	// Dimensions in mm. A round uses width for its diameter, a square bar and
	// a hexagon use width = height. Solid shapes have no wall.
	width, height float64
	web, flange   float64 // wall thicknesses; equal for tubes and angles
	radius        float64 // root radius, or outer corner radius of a rectangular tube
}

// Kind returns the family of the shape.
func (s Shape) Kind() Kind { return s.kind }

// Radius returns the root radius of an open profile or the outer corner radius
// of a rectangular tube, in mm; 0 for sharp corners and for other shapes.
func (s Shape) Radius() float64 { return s.radius }

// kindName holds the name that a shape is written with and the dimensions that
// follow it.
var kindName = [...]struct{ name, dims, example string }{
	Rect:     {"rect", "WIDTHxHEIGHT", "rect 40x4mm"},
	Square:   {"square", "SIDE", "square 20mm"},
	Round:    {"round", "DIAMETER", "round 12mm"},
	Tube:     {"tube", "DIAMETERxWALL", "tube 20x2mm"},
	RectTube: {"recttube", "WIDTHxHEIGHTxWALL", "recttube 40x20x2mm"},
	Angle:    {"angle", "HEIGHTxWIDTHxTHICKNESS", "angle 40x40x4mm"},
	Channel:  {"channel", "HEIGHTxWIDTHxWEBxFLANGE", "channel 100x50x6x8mm"},
	Tee:      {"tee", "HEIGHTxWIDTHxWEBxFLANGE", "tee 50x50x6x6mm"},
	IBeam:    {"I", "HEIGHTxWIDTHxWEBxFLANGE", "I 200x100x5.6x8.5mm r12"},
	Hexagon:  {"hexagon", "WIDTH ACROSS FLATS", "hexagon 17mm"},
}

// String returns the name that the shape is written with.
func (k Kind) String() string { return kindName[k].name }

// Usage returns a line for each family of shapes: an example and what its
// numbers stand for.
func Usage() []string {
	var lines []string
	for _, k := range kindName {
		lines = append(lines, fmt.Sprintf("%-26s %s", k.example, k.dims))
	}
	return lines
}

// String writes the shape so that ParseShape reads it back, such as
// "I 200x100x5.6x8.5mm r12mm".
func (s Shape) String() string {
	var dims []float64
	switch s.kind {
	case Square, Round, Hexagon:
		dims = []float64{s.width}
	case Rect:
		dims = []float64{s.width, s.height}
	case Tube:
		dims = []float64{s.width, s.web}
	case RectTube:
		dims = []float64{s.width, s.height, s.web}
	case Angle:
		dims = []float64{s.height, s.width, s.web}
	default:
		dims = []float64{s.height, s.width, s.web, s.flange}
	}
	texts := make([]string, len(dims))
	for i, d := range dims {
		texts[i] = strconv.FormatFloat(d, 'g', 10, 64)
	}
	out := s.kind.String() + " " + strings.Join(texts, "x") + "mm"
	if s.radius > 0 {
		out += " r" + strconv.FormatFloat(s.radius, 'g', 10, 64) + "mm"
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

// Sizes beyond these are slips of the unit, in mm.
const (
	leastSize = 1e-4
	mostSize  = 1e6
)

// newShape puts the numbers of a text into a shape. Sizes and radius are in mm.
func newShape(kind Kind, sizes []float64, radius float64) (Shape, error) {
	s := Shape{kind: kind, radius: radius}
	if err := s.assign(sizes); err != nil {
		return Shape{}, err
	}
	for _, d := range sizes {
		if !(d > 0) {
			return Shape{}, fmt.Errorf("the size %g mm is not above zero", d)
		}
		if d < leastSize || d > mostSize {
			return Shape{}, fmt.Errorf("the size %g mm is not between %g and %g mm", d, leastSize, mostSize)
		}
	}
	if radius > 0 && !kind.hasRadius() {
		return Shape{}, fmt.Errorf("a %s has no radius", kind)
	}
	return s, s.check()
}

func (k Kind) hasRadius() bool {
	return k == RectTube || k == Angle || k == Channel || k == Tee || k == IBeam
}

// assign gives the numbers their meaning. An equal-sided shape may leave out
// the second side, an even wall the second thickness.
func (s *Shape) assign(d []float64) error {
	switch n := len(d); {
	case n == 1 && (s.kind == Square || s.kind == Round || s.kind == Hexagon):
		s.width, s.height = d[0], d[0]
	case n == 2 && s.kind == Square && d[0] == d[1]:
		s.width, s.height = d[0], d[0]
	case n == 2 && s.kind == Rect:
		s.width, s.height = d[0], d[1]
	case n == 2 && s.kind == Tube:
		s.width, s.height, s.web, s.flange = d[0], d[0], d[1], d[1]
	case n == 2 && (s.kind == RectTube || s.kind == Angle):
		s.width, s.height, s.web, s.flange = d[0], d[0], d[1], d[1]
	case n == 3 && s.kind == RectTube:
		s.width, s.height, s.web, s.flange = d[0], d[1], d[2], d[2]
	case n == 3 && s.kind.open():
		s.height, s.width, s.web, s.flange = d[0], d[1], d[2], d[2]
	case n == 4 && s.kind.open() && s.kind != Angle:
		s.height, s.width, s.web, s.flange = d[0], d[1], d[2], d[3]
	default:
		return fmt.Errorf("a %s does not take %d %s", s.kind, n, plural(n, "size", "sizes"))
	}
	return nil
}

func (k Kind) open() bool { return k >= Angle && k <= IBeam }

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// check refuses walls that do not leave a hollow or a web, and radii that do
// not fit between them.
func (s Shape) check() error {
	// room left between the walls along the first and the second axis
	var across, along float64
	switch s.kind {
	case Rect, Square, Round, Hexagon:
		return nil
	case Tube, RectTube:
		across, along = s.width-2*s.web, s.height-2*s.flange
	case Angle, Tee:
		across, along = s.width-s.web, s.height-s.flange
	case Channel, IBeam:
		across, along = s.width-s.web, s.height-2*s.flange
	}
	if across <= 0 || along <= 0 {
		return fmt.Errorf("the walls leave no room in %g x %g mm", s.width, s.height)
	}
	most := math.Inf(1)
	switch s.kind {
	case RectTube:
		most = min(s.width, s.height) / 2
	case Angle:
		most = min(across, along)
	case Tee:
		most = min(across/2, along)
	case Channel:
		most = min(across, along/2)
	case IBeam:
		most = min(across/2, along/2)
	}
	if s.radius > most {
		return fmt.Errorf("the radius %g mm does not fit, at most %.4g mm does", s.radius, most)
	}
	return nil
}

// Properties returns those of the shape in closed form: rectangles, discs
// and root fillets summed by the parallel axis theorem.
func (s Shape) Properties() Properties {
	about := r2.Vec{X: s.width / 2, Y: s.height / 2}
	out := Properties{Outlines: 1, High: r2.Vec{X: s.width, Y: s.height}}
	var m moments
	switch s.kind {
	case Rect, Square:
		m.addRect(0, 0, s.width, s.height, about, 1)
	case Round:
		m.addDisc(s.width/2, 1)
	case Tube:
		m.addDisc(s.width/2, 1)
		m.addDisc(s.width/2-s.web, -1)
		out.Holes = 1
	case RectTube:
		s.addRoundedBox(&m, 0, s.radius, 1)
		s.addRoundedBox(&m, s.web, max(s.radius-s.web, 0), -1)
		out.Holes = 1
	case Hexagon:
		loop := s.Region()[0].Outer
		m.addLoop(loop, about)
		box := mesh.Region{{Outer: loop}}.Bounds()
		out.Low, out.High = box.Min, box.Max
	default:
		s.addOpen(&m, about)
	}
	m.perimeter = s.perimeter()
	out.fill(m, about)
	return out
}
