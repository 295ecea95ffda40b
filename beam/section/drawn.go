package section

import (
	"errors"
	"fmt"
	"strconv"

	"swapworth/internal/textwrap"
)

// Sizes beyond these are slips of the unit, in mm.
const (
	leastSize = 1e-4
	mostSize  = 1e6
)

var errNoRoom = errors.New("the walls leave no room between them")

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

func (s Shape) dims() []float64 { return s.sizes[:len(s.family.letters)] }

// kept is a size in mm as String writes it.
func kept(x float64) float64 {
	y, err := strconv.ParseFloat(digits(x), 64)
	if err != nil {
		return x
	}
	return y
}

func digits(x float64) string { return strconv.FormatFloat(x, 'g', sizeDigits, 64) }
