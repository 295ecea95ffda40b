package section

// A channel has parallel flanges and opens to the right.
var channel = family{
	name: "channel", sizes: "HEIGHTxWIDTHxWEBxFLANGE", example: "channel 100x50x6x8mm",
	also:    []string{"u", "c"},
	letters: []string{"h", "b w", "tw s t", "tf t"},
	rounded: true,
	short:   evenWalls,
	outline: func(d []float64, r float64) ([]path, error) {
		h, w, tw, tf := d[0], d[1], d[2], d[3]
		p := profile{height: h, width: w, web: tw, flange: tf, below: true, above: true, radius: r}
		return []path{p.outline()}, fits(w-tw, h-2*tf, r, min(w-tw, (h-2*tf)/2))
	},
	thickest: thicker,
}
