package section

// profile is an upright web with level flanges at one end or both.
type profile struct {
	height, width float64 // mm
	web, flange   float64 // mm, thicknesses
	left          float64 // mm, where the web begins along the first axis
	below, above  bool    // which flanges there are
	radius        float64 // mm, of the roots
}

// evenWalls takes one thickness for web and flanges.
func evenWalls(d []float64) []float64 {
	if len(d) != 3 {
		return nil
	}
	return []float64{d[0], d[1], d[2], d[2]}
}

// thicker is the greater of the thicknesses of web and flange.
func thicker(d []float64) float64 { return max(d[2], d[3]) }

// outline walks counter-clockwise from the lower left corner.
func (p profile) outline() path {
	left, right := p.left, p.left+p.web
	w, h, f, r := p.width, p.height, p.flange, p.radius
	var out path
	at := func(x, y float64) { out = append(out, polygon(x, y)...) }
	// fillet centred r away from the root toward (du, dv)
	fillet := func(x, y, du, dv, start float64) { out = out.quarter(x+du*r, y+dv*r, r, start, -1) }
	if p.below {
		at(0, 0)
		at(w, 0)
		at(w, f)
		fillet(right, f, 1, 1, 3)
	} else {
		at(left, 0)
		at(right, 0)
	}
	if p.above {
		fillet(right, h-f, 1, -1, 2)
		at(w, h-f)
		at(w, h)
		at(0, h)
		if left > 0 {
			at(0, h-f)
			fillet(left, h-f, -1, -1, 1)
		}
	} else {
		at(right, h)
		at(left, h)
	}
	if p.below && left > 0 {
		fillet(left, f, -1, 1, 0)
		at(0, f)
	}
	return out
}
