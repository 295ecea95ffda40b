package casefile

import (
	"fmt"

	"swapworth/quantity"
	"swapworth/swap"
)

// notBelowZero refuses a negative quantity by the name of its flag.
func notBelowZero[T interface {
	~float64
	fmt.Stringer
}](flag string, v *T) error {
	if v != nil && *v < 0 {
		return fmt.Errorf("--%s %s: expected 0 or more", flag, *v)
	}
	return nil
}

// spanNotBelowZero is notBelowZero for what is typed as a span.
func spanNotBelowZero(flag string, v *quantity.Span[quantity.Scalar]) error {
	if v != nil && v.Low < 0 {
		return fmt.Errorf("--%s %s: expected 0 or more", flag, *v)
	}
	return nil
}

// within returns a typed span as a range about its middle, nil where none was given.
func within[Q quantity.Spanned](s *quantity.Span[Q]) *swap.Range {
	if s == nil {
		return nil
	}
	return &swap.Range{Low: float64(s.Low), Nominal: float64(s.Middle()), High: float64(s.High)}
}

// number returns a typed number as a plain one, nil where none was given.
func number[T ~float64](p *T) *float64 {
	if p == nil {
		return nil
	}
	v := float64(*p)
	return &v
}

// given returns what p points at, or the default where it is nil.
func given[T any](p *T, otherwise T) T {
	if p == nil {
		return otherwise
	}
	return *p
}
