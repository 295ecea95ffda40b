package swap

import "swapworth/materials"

// Range is a quantity known within bounds; in results of Monte Carlo it holds
// the 2.5 % point, the value from nominal inputs and the 97.5 % point.
type Range = materials.Range

// within returns the range v*(1-f), v, v*(1+f).
func within(v, f float64) Range { return materials.PlusMinus(v, f*v) }

func overlap(a, b Range) bool { return a.Low <= b.High && b.Low <= a.High }
