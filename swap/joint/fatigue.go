package joint

import (
	"fmt"
	"math"
	"strings"

	"swapworth/materials"
)

// cycle is a stress that repeats: it swings by Amplitude to both sides of Mean,
// MPa.
type cycle struct{ Amplitude, Mean float64 }

// cycleOf returns the cycle between a largest stress, MPa, and ratio times it:
// ratio -1 is fully reversed, 0 comes and goes, 1 is steady.
func cycleOf(largest, ratio float64) cycle {
	return cycle{math.Abs(largest) * (1 - ratio) / 2, largest * (1 + ratio) / 2}
}

// mode is how a section is loaded.
type mode int

// The modes, with the load factor of Shigley, eq. 6-26.
const (
	bending mode = iota // 1
	axial               // 0.85
	twist               // 0.59
)

func (m mode) factor() float64 { return [...]float64{1, 0.85, 0.59}[m] }

// endurance is the amplitude of fully reversed stress that a part, not a
// specimen, survives for Cycles cycles, MPa.
type endurance struct {
	Value    float64
	Cycles   float64
	Source   string
	Cautions []string
}

// specimenStrength returns the fatigue strength of smooth specimens, MPa: the
// table's, or by the common estimate from the tensile strength R, MPa:
//
//	steel           0.5 R up to 700, at 1e6 cycles (Shigley, eq. 6-8, page 309)
//	cast iron       0.4 R up to 160, at 1e6 (Norton, Machine Design, eq. 6.5, from memory)
//	aluminium       0.4 R up to 130, at 5e8 (the same)
//	copper alloys   0.4 R up to 100, at 5e8 (the same)
//
// Other materials without a value are refused.
func specimenStrength(m materials.Material) (materials.Fatigue, error) {
	if m.Fatigue.Value > 0 {
		return m.Fatigue, nil
	}
	estimates := map[string]struct{ share, most, cycles float64 }{
		"structural steel": {0.5, 700, 1e6}, "alloy steel": {0.5, 700, 1e6}, "tool steel": {0.5, 700, 1e6},
		"stainless steel": {0.5, 700, 1e6}, "cast iron": {0.4, 160, 1e6}, "aluminium": {0.4, 130, 5e8},
		"brass": {0.4, 100, 5e8}, "bronze": {0.4, 100, 5e8}, "copper": {0.4, 100, 5e8},
	}
	e, ok := estimates[m.Family]
	if !ok || m.Tensile.Value == 0 {
		return materials.Fatigue{}, fmt.Errorf("%s: no fatigue strength is known for it: a load that repeats cannot be judged", m.Name)
	}
	return materials.Fatigue{
		Value: min(e.share*m.Tensile.Value, e.most), Cycles: e.cycles,
		Source: fmt.Sprintf("estimated as %g of the tensile strength, at most %g MPa, machine-design textbooks, from memory", e.share, e.most),
	}, nil
}

// milledLightMetal is the surface factor of milled metals other than steel, for
// which the curve of steel is not meant (common practice).
const milledLightMetal = 0.8

// enduranceOf returns the endurance of a milled part from that of specimens, by
// Marin's factors: surface, size and load (Shigley, eq. 6-18). thickness is
// the section's depth in the direction of bending and width the other side, mm.
func enduranceOf(m materials.Material, mode mode, width, thickness float64) (endurance, error) {
	specimen, err := specimenStrength(m)
	if err != nil {
		return endurance{}, err
	}
	surface := milledLightMetal
	if isSteel(m.Family) {
		surface = surfaceFactor(m.Tensile.Value)
	}
	size := 1.0
	if mode != axial {
		size = sizeFactor(0.808 * math.Sqrt(width*thickness))
	}
	e := endurance{
		Value:  specimen.Value * surface * size * mode.factor(),
		Cycles: specimen.Cycles,
		Source: specimen.Source,
	}
	if !isSteel(m.Family) && m.Family != "titanium" && m.Family != "cast iron" {
		e.Cautions = append(e.Cautions, fmt.Sprintf("%s has no endurance limit: the value holds for %s cycles,"+
			" beyond them it keeps falling", m.Name, cycles(specimen.Cycles)))
	}
	return e, nil
}

// cycles writes 5e+08 as 5e8.
func cycles(n float64) string {
	return strings.NewReplacer("e+0", "e", "e+", "e").Replace(fmt.Sprintf("%.0e", n))
}

func isSteel(family string) bool {
	switch family {
	case "structural steel", "alloy steel", "tool steel", "stainless steel":
		return true
	}
	return false
}

// surfaceFactor returns k_a = 4.51 R^-0.265, at most 1, of machined steel with
// tensile strength R, MPa (Shigley, eq. 6-19 and table 6-2).
func surfaceFactor(tensile float64) float64 {
	if tensile <= 0 {
		return milledLightMetal
	}
	return min(1, 4.51*math.Pow(tensile, -0.265))
}

// sizeFactor returns k_b of a section in bending or twist with the effective
// diameter d, mm: 1.24 d^-0.107 up to 51 mm, 1.51 d^-0.157 above (Shigley, eq.
// 6-20). The effective diameter of a rectangle that does not rotate is 0.808
// sqrt(h b) (eq. 6-25).
func sizeFactor(diameter float64) float64 {
	switch {
	case diameter <= 2.79:
		return 1
	case diameter <= 51:
		return min(1, 1.24*math.Pow(diameter, -0.107))
	}
	return 1.51 * math.Pow(diameter, -0.157)
}

// goodman returns the safety factor n of a cycle against fatigue,
//
//	amplitude/endurance + mean/tensile = 1/n
//
// (modified Goodman line, Shigley, eq. 6-46). A mean in compression
// counts as none, which is safe. Stresses at a notch must be multiplied by its
// stress concentration before.
func goodman(c cycle, endurance, tensile float64) float64 {
	if endurance <= 0 || tensile <= 0 {
		return 0
	}
	used := math.Abs(c.Amplitude)/endurance + max(0, c.Mean)/tensile
	if used == 0 {
		return math.Inf(1)
	}
	return 1 / used
}

// firstCycleYield returns the safety factor against yielding at the peak of the
// cycle (Langer line, Shigley, eq. 6-44).
func firstCycleYield(c cycle, yield float64) float64 {
	peak := math.Abs(c.Amplitude) + math.Abs(c.Mean)
	if peak == 0 {
		return math.Inf(1)
	}
	return yield / peak
}
