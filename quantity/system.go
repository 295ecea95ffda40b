package quantity

import (
	"fmt"
	"strings"
)

// System is the system of units that results are written in. The zero value is
// Metric, in which everything is computed.
type System string

// The systems: mm, g, N, MPa; or in, oz and lb, lbf, ksi.
const (
	Metric   System = ""
	Imperial System = "imperial"
)

// Set reads "metric" or "imperial", in either case.
func (s *System) Set(text string) error {
	switch strings.ToLower(strings.TrimSpace(text)) {
	case "metric", "si", "":
		*s = Metric
	case string(Imperial), "inch":
		*s = Imperial
	default:
		return fmt.Errorf("%q: expected metric or imperial, what results are written in; --unit is what STL files are in", text)
	}
	return nil
}

// String is the word that Set reads.
func (s System) String() string {
	if s == Metric {
		return "metric"
	}
	return string(s)
}

// Type names what is expected, for a flag library.
func (s *System) Type() string { return "metric|imperial" }

// UnmarshalText reads what Set reads.
func (s *System) UnmarshalText(text []byte) error { return s.Set(string(text)) }

// MarshalText writes what String writes.
func (s System) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Unit returns the unit of this system in which a value of the given size in a
// metric unit reads best, and what the value is multiplied by. A unit that has no
// other, such as Hz or %, stays.
func (s System) Unit(metric string, size float64) (unit string, factor float64) {
	if s == Metric {
		return metric, 1
	}
	return imperialOf(metric, size)
}

// imperialBase holds what stands in for a metric unit inside a composite one, such
// as N/mm or mm3/min, and how many of it are one of the metric unit.
var imperialBase = map[string]struct {
	symbol string
	factor float64
}{
	"mm": {"in", 1 / inch}, "um": {"in", 1e-3 / inch}, "cm": {"in", 10 / inch}, "m": {"in", 1000 / inch},
	"g": {"lb", 1 / pound}, "kg": {"lb", 1000 / pound},
	"N": {"lbf", 1 / lbf}, "kN": {"lbf", 1000 / lbf},
	"MPa": {"ksi", 1 / (1000 * psi)}, "GPa": {"Msi", 1 / (1000 * psi)},
	"rad": {"rad", 1}, "min": {"min", 1}, "s": {"s", 1},
}

// The sizes below which a smaller unit is used: a pound is told in ounces below one
// pound, a pressure in psi below a tenth of a ksi.
const (
	ouncesBelow = pound         // g
	psiBelow    = 0.1 * kiloPsi // MPa
	kiloPsi     = 1000 * psi
)

func imperialOf(metric string, size float64) (string, float64) {
	size = max(size, -size)
	switch {
	case metric == "g" && size < ouncesBelow, metric == "kg" && 1000*size < ouncesBelow:
		unit := imperialBase[metric]
		return "oz", 16 * unit.factor
	case metric == "MPa" && size > 0 && size < psiBelow:
		return "psi", 1 / psi
	case metric == "m/s2":
		return "ft/s2", 1000 / (12 * inch)
	}
	// A product of units each with its power, those after the stroke divided by.
	var symbols []string
	factor := 1.0
	above, below, divided := strings.Cut(metric, "/")
	for i, part := range []string{above, below} {
		if i == 1 && !divided {
			break
		}
		// what follows a space after the stroke stands above it again: MPa m3/kg
		var names []string
		for _, word := range strings.Fields(part) {
			name, power := wordOf(word)
			base, known := imperialBase[name]
			if !known {
				return metric, 1
			}
			for range power {
				if i == 0 {
					factor *= base.factor
				} else {
					factor /= base.factor
				}
			}
			if power > 1 {
				names = append(names, fmt.Sprintf("%s%d", base.symbol, power))
			} else {
				names = append(names, base.symbol)
			}
		}
		symbols = append(symbols, strings.Join(names, " "))
	}
	return strings.Join(symbols, "/"), factor
}

// wordOf parts a unit from its power.
func wordOf(word string) (name string, power int) {
	if last := word[len(word)-1]; last >= '2' && last <= '9' {
		return word[:len(word)-1], int(last - '0')
	}
	return word, 1
}
