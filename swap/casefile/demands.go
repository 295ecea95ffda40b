package casefile

import (
	"encoding"
	"fmt"
	"reflect"

	"swapworth/swap"
)

// field returns the place of a demand's limit, by the key that has its name.
func (c *Criteria) field(d swap.Demand) reflect.Value {
	v := reflect.ValueOf(c).Elem()
	for i := range v.NumField() {
		if v.Type().Field(i).Tag.Get("toml") == d.Name {
			return v.Field(i)
		}
	}
	panic("no key of [criteria] for the demand " + d.Name) // a test asks for every one
}

// SetDemand reads the limit of a demand from text.
func (c *Criteria) SetDemand(d swap.Demand, text string) error {
	to := c.field(d)
	v := reflect.New(to.Type().Elem())
	if err := v.Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(text)); err != nil {
		return err
	}
	to.Set(v)
	return nil
}

// demands writes the limits that were given in the units of the decision.
func (c *Criteria) demands(to *swap.Demands) error {
	for _, d := range swap.AllDemands() {
		given := c.field(d)
		if given.IsNil() {
			continue
		}
		v := given.Elem().Float()
		switch {
		case v < 0 && d.Zero:
			return fmt.Errorf("--%s %s: expected 0 or more", d.Name, given.Interface())
		case v <= 0 && !d.Zero:
			return fmt.Errorf("--%s %s: expected more than 0", d.Name, given.Interface())
		}
		*d.Limit(to) = &v
	}
	return nil
}
