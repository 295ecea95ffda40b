package quantity

import (
	"fmt"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// ForceVector is a force by model axis, in N, typed as "10,0,-5 N". Of three
// numbers each may carry a unit; one on the last alone counts for all three.
type ForceVector r3.Vec

// MomentVector is a moment by model axis, in N mm, typed as "0,0,2 N m".
type MomentVector r3.Vec

// AccelerationVector is an acceleration by model axis, in m/s2, typed as
// "20,0,0 m/s2". Read from m/s2, mm/s2, ft/s2, in/s2 and g, standard gravity.
type AccelerationVector r3.Vec

var acceleration = dimension{"an acceleration", "20 m/s2", []unit{
	{"m/s2", 1}, {"mm/s2", 1e-3}, {"ft/s2", 12 * inch / 1000}, {"in/s2", inch / 1000}, {"g", gravity}}, true, 1e-6, 1e9}

// vector reads three numbers with commas between them.
func (d dimension) vector(text, example string) (r3.Vec, error) {
	expected := fmt.Errorf("%q: expected %s along x, y and z such as %q", text, d.name, example)
	parts := strings.Split(text, ",")
	if len(parts) != 3 {
		return r3.Vec{}, expected
	}
	last := strings.TrimSpace(parts[2])
	shared := last[len(number.FindString(last)):]
	if !bare(parts[0]) || !bare(parts[1]) {
		shared = ""
	}
	var v [3]float64
	for i, part := range parts {
		if i < 2 {
			part += shared
		}
		x, _, err := d.parse(part)
		if err != nil {
			return r3.Vec{}, expected
		}
		v[i] = x
	}
	return r3.Vec{X: v[0], Y: v[1], Z: v[2]}, nil
}

// formatVector writes what vector reads back unchanged.
func (d dimension) formatVector(v r3.Vec) string {
	return fmt.Sprintf("%g,%g,%g %s", v.X, v.Y, v.Z, d.units[0].symbol)
}

// Set reads the text and keeps the old value on error.
func (q *ForceVector) Set(text string) error {
	return setVector(force, (*r3.Vec)(q), text, "10,0,-5 N")
}

// UnmarshalText reads what Set reads.
func (q *ForceVector) UnmarshalText(text []byte) error { return q.Set(string(text)) }

// MarshalText writes what String writes.
func (q ForceVector) MarshalText() ([]byte, error) { return []byte(q.String()), nil }

// String writes the value with its unit; Set reads it back unchanged.
func (q ForceVector) String() string { return force.formatVector(r3.Vec(q)) }

// Type names the quantity in help texts.
func (q *ForceVector) Type() string { return "x,y,z" }

// Set reads the text and keeps the old value on error.
func (q *MomentVector) Set(text string) error {
	return setVector(moment, (*r3.Vec)(q), text, "0,0,2 N m")
}

// UnmarshalText reads what Set reads.
func (q *MomentVector) UnmarshalText(text []byte) error { return q.Set(string(text)) }

// MarshalText writes what String writes.
func (q MomentVector) MarshalText() ([]byte, error) { return []byte(q.String()), nil }

// String writes the value with its unit; Set reads it back unchanged.
func (q MomentVector) String() string { return moment.formatVector(r3.Vec(q)) }

// Type names the quantity in help texts.
func (q *MomentVector) Type() string { return "x,y,z" }

// Set reads the text and keeps the old value on error.
func (q *AccelerationVector) Set(text string) error {
	return setVector(acceleration, (*r3.Vec)(q), text, "20,0,0 m/s2")
}

// UnmarshalText reads what Set reads.
func (q *AccelerationVector) UnmarshalText(text []byte) error { return q.Set(string(text)) }

// MarshalText writes what String writes.
func (q AccelerationVector) MarshalText() ([]byte, error) { return []byte(q.String()), nil }

// String writes the value with its unit; Set reads it back unchanged.
func (q AccelerationVector) String() string { return acceleration.formatVector(r3.Vec(q)) }

// Type names the quantity in help texts.
func (q *AccelerationVector) Type() string { return "x,y,z" }

func setVector(d dimension, into *r3.Vec, text, example string) error {
	v, err := d.vector(text, example)
	if err == nil {
		*into = v
	}
	return err
}
