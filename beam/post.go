package beam

// The post between two openings a pitch p apart hands the change of the legs'
// axial forces on from leg to leg: with Q the first moment of area beyond the gap
// between two legs and I the second moment of both, T = V p Q/I. It bends in an S
// over the height of the gap, its moment being T y at the distance y from the
// middle, and shears:
//
//	T^2 integral (y^2/(E I(y)) + 6/(5 G A(y))) dy,
//
// I and A those of the post's section at the level y, less the same for a web
// without openings, which plane sections have. For even posts of breadth w it is
// the rotation of the joints of a Vierendeel girder (Blodgett, Design of Welded
// Structures; the web posts of castellated beams likewise).

// post adds the flexibility of the material between two openings to the cuts from
// the middle of the one to the middle of the other.
func (a *analysis) post(first, second opening) {
	from, to := (first.from+first.to)/2, (second.from+second.to)/2
	pitch := to - from
	mid := first.cuts[len(first.cuts)/2]
	levels := a.levels(mid)
	var between []*cut
	for c := range a.profile.cuts() {
		if c.S > from && c.S < to {
			between = append(between, c)
		}
	}
	if len(between) == 0 || mid.Shade == nil {
		return
	}
	var extra float64 // times E
	for k := 0; k+1 < len(levels); k++ {
		low, high := levels[k].high, levels[k+1].low
		if high <= low {
			continue // side by side
		}
		t := pitch * firstBeyond(mid, (low+high)/2) / along(mid.Section, a.plane)
		extra += t * t * a.postFlex(between, low, high, pitch)
	}
	for _, c := range between {
		if a.plane == 0 {
			c.ExtraU += extra / pitch
		} else {
			c.ExtraV += extra / pitch
		}
	}
}

// firstBeyond is the first moment about the centroid of a cut's cells above a
// level along the load, in mm3.
func firstBeyond(c *cut, level float64) float64 {
	g := c.Shade
	_, centre := g.orient(c.Section.Centroid)
	var q float64
	for k, f := range g.full {
		if _, y, dx, dy := g.centre(k); y > level {
			q += float64(f) * dx * dy * (y - centre)
		}
	}
	return q
}

// postFlex integrates the flexibility over the height of the gap, times E, in
// 1/mm.
func (a *analysis) postFlex(between []*cut, low, high, pitch float64) float64 {
	shear := 1.2 * 2 * (1 + a.elastic.Poisson) // 6/5 E/G
	g := between[0].Shade
	var sum float64
	for j := range g.rows() {
		step := min(g.grid.along[j+1], high) - max(g.grid.along[j], low)
		if step <= 0 {
			continue
		}
		var area, first, second, breadth float64
		for _, c := range between {
			t := c.Shade.thickness(j)
			if t == 0 {
				continue
			}
			breadth += c.Weight
			area += c.Weight * t
			first += c.Weight * t * c.S
			second += c.Weight * t * (c.S*c.S + c.Weight*c.Weight/12)
		}
		if !(area > 0) {
			continue
		}
		inertia := second - first*first/area
		y, share := g.level(j)-(low+high)/2, breadth/pitch
		sum += step * (y*y/inertia*(1-share*share*share) + shear/area*(1-share))
	}
	return max(sum, 0)
}

// thickness is the width across the load of the material in a row of cells.
func (g *idleCells) thickness(row int) float64 {
	var t float64
	for k := row * g.columns(); k < (row+1)*g.columns(); k++ {
		if f := float64(g.full[k]); f >= 0.5 {
			_, _, dx, _ := g.centre(k)
			t += f * dx
		}
	}
	return t
}
