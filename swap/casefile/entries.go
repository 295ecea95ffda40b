package casefile

import (
	"fmt"
	"strconv"
	"strings"

	"swapworth/quantity"
)

// SideLength is a side of the part and a length, typed as "+z=8mm".
type SideLength struct {
	Side   string
	Length quantity.Length
}

// UnmarshalText reads a side, an equals sign and a length.
func (s *SideLength) UnmarshalText(text []byte) error {
	side, length, ok := strings.Cut(string(text), "=")
	if !ok {
		return fmt.Errorf("%q: expected a side and a length such as +z=8mm", text)
	}
	s.Side = strings.TrimSpace(side)
	return s.Length.Set(length)
}

// MarshalText writes what UnmarshalText reads.
func (s SideLength) MarshalText() ([]byte, error) {
	return []byte(s.Side + "=" + s.Length.String()), nil
}

// HoleCount is a number of holes and their diameter, typed as "6x8mm".
type HoleCount struct {
	Count    int
	Diameter quantity.Length
}

// UnmarshalText reads a count, an x and a diameter.
func (h *HoleCount) UnmarshalText(text []byte) error {
	count, diameter, ok := strings.Cut(strings.ToLower(string(text)), "x")
	n, err := strconv.Atoi(strings.TrimSpace(count))
	if !ok || err != nil || n < 1 {
		return fmt.Errorf("%q: expected a count and a diameter such as 6x8mm", text)
	}
	h.Count = n
	return h.Diameter.Set(diameter)
}

// MarshalText writes what UnmarshalText reads.
func (h HoleCount) MarshalText() ([]byte, error) {
	return fmt.Appendf(nil, "%dx%s", h.Count, h.Diameter), nil
}

// Pulley is a toothed pulley on the motor and the pitch of its belt, typed as
// "20x2mm".
type Pulley struct {
	Teeth int
	Pitch quantity.Length
}

// UnmarshalText reads the teeth, an x and the pitch.
func (p *Pulley) UnmarshalText(text []byte) error {
	teeth, pitch, ok := strings.Cut(strings.ToLower(string(text)), "x")
	n, err := strconv.Atoi(strings.TrimSpace(teeth))
	if !ok || err != nil || n < 1 {
		return fmt.Errorf("%q: expected the teeth and the pitch of the belt such as 20x2mm", text)
	}
	p.Teeth = n
	return p.Pitch.Set(pitch)
}

// MarshalText writes what UnmarshalText reads.
func (p Pulley) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

// String writes what UnmarshalText reads.
func (p Pulley) String() string { return fmt.Sprintf("%dx%s", p.Teeth, p.Pitch) }

// Bought is a bought part, typed as "name, mass, price a piece".
type Bought struct {
	Name  string
	Mass  quantity.Mass
	Price float64
}

// UnmarshalText reads a name, a mass and a price with commas between them.
func (b *Bought) UnmarshalText(text []byte) error {
	fields := strings.Split(string(text), ",")
	if len(fields) != 3 || strings.TrimSpace(fields[0]) == "" {
		return fmt.Errorf("%q: expected a name, a mass and a price such as \"thin plate, 48g, 12.50\"", text)
	}
	b.Name = strings.TrimSpace(fields[0])
	if err := b.Mass.Set(fields[1]); err != nil {
		return err
	}
	price, err := strconv.ParseFloat(strings.TrimSpace(fields[2]), 64)
	if err != nil || price < 0 {
		return fmt.Errorf("%q: expected a price such as 12.50", strings.TrimSpace(fields[2]))
	}
	b.Price = price
	return nil
}

// MarshalText writes what UnmarshalText reads.
func (b Bought) MarshalText() ([]byte, error) {
	return fmt.Appendf(nil, "%s, %s, %g", b.Name, b.Mass, b.Price), nil
}
