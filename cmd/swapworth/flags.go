package main

import (
	"encoding"
	"fmt"
	"strings"

	"github.com/spf13/pflag"

	"swapworth/quantity"
)

// optional is a flag that leaves its pointer nil until it is given, so that a
// case file can fill what the command line left open.
type optional[T any] struct {
	to    **T
	parse func(string) (T, error)
	kind  string
}

func (o optional[T]) Set(text string) error {
	v, err := o.parse(text)
	if err != nil {
		return err
	}
	*o.to = &v
	return nil
}

func (o optional[T]) String() string { return "" }
func (o optional[T]) Type() string   { return o.kind }

// textValue is what quantities, axes, units and supports are: values that read
// themselves from text.
type textValue[T any] interface {
	*T
	encoding.TextUnmarshaler
}

// textFlag registers an optional flag of such a value.
func textFlag[T any, P textValue[T]](f *pflag.FlagSet, to **T, name, kind, usage string) {
	f.Var(optional[T]{to, parseText[T, P], kind}, name, usage)
}

func parseText[T any, P textValue[T]](text string) (v T, err error) {
	err = P(&v).UnmarshalText([]byte(text))
	return v, err
}

// wordFlag registers an optional flag that takes a word as it is.
func wordFlag(f *pflag.FlagSet, to **string, name, kind, usage string) {
	f.Var(optional[string]{to, func(s string) (string, error) { return s, nil }, kind}, name, usage)
}

// floatFlag registers an optional flag that takes a plain number.
func floatFlag(f *pflag.FlagSet, to **float64, name, usage string) {
	f.Var(optional[float64]{to, func(s string) (float64, error) {
		v, err := parseText[quantity.Scalar](s)
		return float64(v), err
	}, "number"}, name, usage)
}

// loadFlag registers the force that a part is loaded with. Nothing is no load.
func loadFlag(f *pflag.FlagSet, to **quantity.Force, usage string) {
	f.Var(optional[quantity.Force]{to, func(s string) (quantity.Force, error) {
		v, err := parseText[quantity.Force](s)
		if err == nil && v == 0 {
			err = fmt.Errorf("%q: expected a force other than zero", s)
		}
		return v, err
	}, "force"}, "load", usage)
}

// repeated is a flag that may be given several times, or once with commas.
type repeated[T any] struct {
	to    *[]T
	parse func(string) (T, error)
	kind  string
}

func (r repeated[T]) Set(text string) error {
	if err := mixed(text); err != nil {
		return err
	}
	var read []T
	last := ""
	for i, one := range strings.Split(text, ",") {
		v, err := r.parse(one)
		if err != nil && i > 0 { // +z=8,5mm is one side, not two
			last += "," + one
			if v, joined := r.parse(last); joined == nil {
				read[len(read)-1] = v
				continue
			}
		}
		if err != nil {
			return err
		}
		read, last = append(read, v), one
	}
	*r.to = append(*r.to, read...)
	return nil
}

// mixed refuses a list in which only the last number has a unit: the comma of
// 4,5mm may be a decimal one.
func mixed(text string) error {
	list := strings.Split(text, ",")
	last := strings.TrimSpace(list[len(list)-1])
	if len(list) < 2 || strings.Trim(last, "0123456789.") == "" {
		return nil
	}
	for _, one := range list[:len(list)-1] {
		if one = strings.TrimSpace(one); one != "" && strings.Trim(one, "0123456789.") == "" {
			return fmt.Errorf("%q: expected a unit at each number of the list, or a decimal point", text)
		}
	}
	return nil
}

func (r repeated[T]) String() string { return "" }
func (r repeated[T]) Type() string   { return r.kind }

// list is a repeated flag whose text may itself hold commas.
type list[T any] repeated[T]

func (l list[T]) Set(text string) error {
	v, err := l.parse(text)
	if err == nil {
		*l.to = append(*l.to, v)
	}
	return err
}

func (l list[T]) String() string { return "" }
func (l list[T]) Type() string   { return l.kind }

// listFlag registers a flag that may be given several times; commas are part of
// its text.
func listFlag(f *pflag.FlagSet, to *[]string, name, kind, usage string) {
	f.Var(list[string]{to, func(s string) (string, error) { return s, nil }, kind}, name, usage)
}
