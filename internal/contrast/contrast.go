// Package contrast measures how well a colour stands out from another. Tests alone
// import it.
package contrast

import (
	"image/color"
	"math"
)

// Of is the contrast ratio of two opaque colours, from 1 to 21: (L1 + 0.05)/(L2 + 0.05)
// of their relative luminances, the lighter first (WCAG 2.2).
func Of(a, b color.Color) float64 {
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

// luminance is the relative luminance of WCAG 2.2.
func luminance(c color.Color) float64 {
	l := Linear(c)
	return 0.2126*l[0] + 0.7152*l[1] + 0.0722*l[2]
}

// Linear returns red, green and blue, each from 0 to 1, without the transfer function
// of sRGB (IEC 61966-2-1).
func Linear(c color.Color) [3]float64 {
	n := color.NRGBAModel.Convert(c).(color.NRGBA)
	return [3]float64{linear(n.R), linear(n.G), linear(n.B)}
}

func linear(v uint8) float64 {
	s := float64(v) / 255
	if s <= 0.04045 {
		return s / 12.92
	}
	return math.Pow((s+0.055)/1.055, 2.4)
}
