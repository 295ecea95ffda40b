package joint

import (
	"fmt"
	"math"

	"swapworth/materials"
)

// tensile returns the tensile strength of a material, MPa, or for one without it
// in the table the named strength, which is safe. 0 means unknown.
func tensile(m materials.Material) float64 {
	if m.Tensile.Value > 0 {
		return m.Tensile.Value
	}
	return m.Strength.Value
}

// shearStrength returns the shear stress, MPa, at which a material gives way: its
// tensile strength over sqrt 3 (distortion energy, Shigley, section 5-5). 0 means unknown.
func shearStrength(m materials.Material) float64 { return tensile(m) / math.Sqrt(3) }

// pullOut returns the tension, N, at which the internal thread in a material
// strips over the engagement.
func pullOut(t Thread, engagement float64, m materials.Material) float64 {
	internal, _ := t.strippingAreas(engagement)
	return internal * shearStrength(m)
}

// boltStrips returns the tension, N, at which the bolt's own thread strips.
func boltStrips(t Thread, engagement float64, c Class) float64 {
	_, external := t.strippingAreas(engagement)
	return external * c.Tensile / math.Sqrt(3)
}

// Engagement returns the length of full thread, mm, from which the bolt breaks
// before the thread in the material strips, so that a failure shows. Incomplete
// turns at the ends are not in it: add one pitch.
func Engagement(t Thread, c Class, m materials.Material) (float64, error) {
	perMM := pullOut(t, 1, m)
	if perMM <= 0 {
		return 0, fmt.Errorf("%s: no strength in the table: its thread cannot be judged", m.Name)
	}
	return c.breakingLoad(t) / perMM, nil
}
