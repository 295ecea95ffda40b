package figure

import (
	"math"

	"gonum.org/v1/plot"

	"swapworth/quantity"
)

// tickText places marks as usual and writes large numbers with spaces between
// thousands instead of an exponent.
type tickText struct{}

func (tickText) Ticks(low, high float64) []plot.Tick {
	ticks := plot.DefaultTicks{}.Ticks(low, high)
	for i, t := range ticks {
		if t.Label != "" {
			ticks[i].Label = grouped(quantity.Short(t.Value, 6))
		}
	}
	return ticks
}

// decadeTicks marks a logarithmic axis: 1, 2 and 5 of every power of ten named,
// the rest unnamed.
type decadeTicks struct{}

func (decadeTicks) Ticks(low, high float64) []plot.Tick {
	var ticks []plot.Tick
	for decade := math.Pow10(int(math.Floor(math.Log10(low)))); decade <= high; decade *= 10 {
		for k := 1.0; k < 10; k++ {
			if v := k * decade; v >= low && v <= high {
				t := plot.Tick{Value: v}
				if k == 1 || k == 2 || k == 5 {
					t.Label = grouped(quantity.Short(v, 6))
				}
				ticks = append(ticks, t)
			}
		}
	}
	return ticks
}

// grouped puts a space between thousands of a whole part of five digits or more.
func grouped(s string) string {
	end := len(s)
	for i, r := range s {
		if r == '.' || r == 'e' {
			end = i
			break
		}
	}
	start := 0
	if end > 0 && s[0] == '-' {
		start = 1
	}
	if end-start < 5 {
		return s
	}
	for i := end - 3; i > start; i -= 3 {
		s = s[:i] + " " + s[i:]
	}
	return s
}

func finite(v float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	return v
}
