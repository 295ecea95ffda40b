package section

// The heel of an angle is at the lower left.
var angle = family{
	name: "angle", sizes: "HEIGHTxWIDTHxTHICKNESS", example: "angle 40x40x4mm",
	also:    []string{"l", "equalangle", "unequalangle"},
	letters: []string{"h a", "b w", "t s"},
	rounded: true,
	short:   evenLegs,
	outline: func(d []float64, r float64) ([]path, error) {
		h, w, t := d[0], d[1], d[2]
		p := profile{height: h, width: w, web: t, flange: t, below: true, radius: r}
		return []path{p.outline()}, fits(w-t, h-t, r, min(w-t, h-t))
	},
	thickest: func(d []float64) float64 { return d[2] },
}
