package section

// The flange of a tee is on top.
var tee = family{
	name: "tee", sizes: "HEIGHTxWIDTHxWEBxFLANGE", example: "tee 50x50x6x6mm",
	also:    []string{"t"},
	letters: []string{"h", "b w", "tw s t", "tf t"},
	rounded: true,
	short:   evenWalls,
	outline: func(d []float64, r float64) ([]path, error) {
		h, w, tw, tf := d[0], d[1], d[2], d[3]
		p := profile{height: h, width: w, web: tw, flange: tf, left: (w - tw) / 2, above: true, radius: r}
		return []path{p.outline()}, fits(w-tw, h-tf, r, min((w-tw)/2, h-tf))
	},
	thickest: thicker,
}
