package section

var iBeam = family{
	name: "I", sizes: "HEIGHTxWIDTHxWEBxFLANGE", example: "I 200x100x5.6x8.5mm r12",
	also:    []string{"i", "h", "ibeam", "hbeam", "isection", "hsection"},
	letters: []string{"h", "b w", "tw s t", "tf t"},
	rounded: true,
	short:   evenWalls,
	outline: func(d []float64, r float64) ([]path, error) {
		h, w, tw, tf := d[0], d[1], d[2], d[3]
		p := profile{height: h, width: w, web: tw, flange: tf, left: (w - tw) / 2, below: true, above: true, radius: r}
		return []path{p.outline()}, fits(w-tw, h-2*tf, r, min((w-tw)/2, (h-2*tf)/2))
	},
	thickest: thicker,
}
