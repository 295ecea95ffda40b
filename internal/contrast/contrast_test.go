package contrast

import (
	"image/color"
	"math"
	"testing"
)

func TestContrastIsThatOfTheStandard(t *testing.T) {
	// WCAG 2.2: black on white is 21 to 1; #767676 is the lightest grey that
	// reaches 4.5 on white, 4.54 (from memory).
	if got := Of(color.Black, color.White); math.Abs(got-21) > 1e-9 {
		t.Errorf("black on white: %.3f", got)
	}
	if got := Of(color.NRGBA{0x76, 0x76, 0x76, 0xff}, color.White); math.Abs(got-4.54) > 0.01 {
		t.Errorf("#767676 on white: %.3f", got)
	}
}
