package section

var rectTube = family{
	name: "recttube", sizes: "WIDTHxHEIGHTxWALL", example: "recttube 40x20x2mm",
	also:    []string{"rectangulartube", "box", "boxsection", "squaretube", "rhs", "shs"},
	letters: []string{"w b", "h", "t s"},
	rounded: true, // the outer corners
	short:   evenLegs,
	outline: func(d []float64, r float64) ([]path, error) {
		w, h, t := d[0], d[1], d[2]
		outer := roundedBox(0, 0, w, h, r)
		inner := roundedBox(t, t, w-t, h-t, max(r-t, 0)).reversed()
		return []path{outer, inner}, fits(w-2*t, h-2*t, r, min(w, h)/2)
	},
}

// evenLegs takes one side for both, before the wall.
func evenLegs(d []float64) []float64 {
	if len(d) != 2 {
		return nil
	}
	return []float64{d[0], d[0], d[1]}
}
