package grid

import "swapworth/solid/internal/brick"

// Kind is what makes the stiffness of one cell differ from another's: its
// edges in mm and the material in it.
type Kind struct {
	Edge    [3]float64
	Moments brick.Moments
}

// Volume returns the volume of the material, mm3.
func (k *Kind) Volume() float64 { return k.Moments[0] * k.Edge[0] * k.Edge[1] * k.Edge[2] }
