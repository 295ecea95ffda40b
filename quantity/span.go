package quantity

import (
	"fmt"
	"strings"
)

// Span is a quantity that is known within bounds, typed as "2..4h" or "15N..25N"; a
// unit on the upper bound alone counts for both. One value, "2.5h", is both bounds.
type Span[Q Spanned] struct{ Low, High Q }

// Spanned are the quantities that people know within bounds.
type Spanned interface {
	Force | Hours | Scalar
	dimension() dimension
}

func (Force) dimension() dimension  { return force }
func (Hours) dimension() dimension  { return hours }
func (Scalar) dimension() dimension { return scalar }

// between is what stands between the bounds.
const between = ".."

// UnmarshalText reads the text and keeps the old value on error. The bounds may be the
// same, and stand in their order.
func (s *Span[Q]) UnmarshalText(text []byte) error {
	var q Q
	d, typed := q.dimension(), string(text)
	first, second, two := strings.Cut(typed, between)
	if !two {
		v, _, err := d.parse(typed)
		if err == nil {
			*s = Span[Q]{Q(v), Q(v)}
		}
		return err
	}
	high, _, err := d.parse(second)
	if err != nil {
		return fmt.Errorf("%q: %w", typed, err)
	}
	if upper := strings.TrimSpace(second); bare(first) {
		first += upper[len(number.FindString(upper)):]
	}
	low, _, err := d.parse(first)
	switch {
	case err != nil:
		return fmt.Errorf("%q: %w", typed, err)
	case low > high:
		return fmt.Errorf("%q: expected the lower bound first, as in %s", typed, Span[Q]{Q(high), Q(low)})
	}
	*s = Span[Q]{Q(low), Q(high)}
	return nil
}

// MarshalText writes what String writes.
func (s Span[Q]) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// String writes one value or both bounds with their unit; UnmarshalText reads it back
// unchanged.
func (s Span[Q]) String() string {
	var q Q
	d := q.dimension()
	if s.Low == s.High {
		return d.format(float64(s.Low))
	}
	return d.format(float64(s.Low)) + between + d.format(float64(s.High))
}

// Middle returns the value halfway between the bounds.
func (s Span[Q]) Middle() Q { return (s.Low + s.High) / 2 }
