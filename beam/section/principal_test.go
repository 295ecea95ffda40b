package section

import "testing"

// An upright section read from a file is off upright by the last digit of its
// coordinates, to either side; the angle must not jump by half a turn with it.
func TestAngleOfAnUprightSectionDoesNotJump(t *testing.T) {
	for _, ixy := range []float64{-0.008, -1e-9, 0, 1e-9, 0.008} {
		_, _, angle := principal(302, 21032, ixy)
		near(t, "angle", angle, 90, 1e-6)
	}
}
