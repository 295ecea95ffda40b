package mill

import (
	"math"
	"slices"

	"swapworth/internal/textwrap"
)

// shop is a profile with the way its machine cuts one family of materials.
type shop struct {
	Profile
	cutting Cutting
}

// rpm returns the spindle speed for a surface speed in m/min, kept within the
// machine's range.
func (s shop) rpm(speed, diameter float64) float64 {
	n := 1000 * speed / (math.Pi * diameter)
	return min(max(n, s.Spindle.MinRPM), s.Spindle.MaxRPM)
}

// feed returns the feed of a cutter in mm/min: feed a tooth, teeth, turns.
func (s shop) feed(c Cutter) float64 {
	return c.Feed * s.cutting.Feed * c.Flutes * s.rpm(s.cutting.MillSpeed, c.Diameter)
}

// share returns the factors on ap and ae that together make the engagement
// factor of the material.
func (s shop) share() float64 { return math.Sqrt(s.cutting.Engagement) }

// depth returns the axial depth of one pass, mm.
func (s shop) depth(c Cutter) float64 { return c.AP * s.share() }

// width returns the radial engagement of a roughing pass, mm, at most the cutter's
// diameter. A cutter that faces or finishes a floor keeps its own: in a harder
// material it goes shallower and slower, not narrower.
func (s shop) width(c Cutter) float64 { return min(c.AE*s.share(), c.Diameter) }

// removal returns the removal rate of a cutter in mm3/min: ap ae feed, or what
// the spindle's power allows.
func (s shop) removal(c Cutter) float64 {
	power := s.Spindle.Power * s.Spindle.Efficiency / s.cutting.Energy * 60
	return min(s.depth(c)*s.width(c)*s.feed(c), power)
}

// passes returns how many passes of a depth are needed.
func passes(total, each float64) float64 { return math.Ceil(total/each - 1e-9) }

// operations lists what one good part takes, in the order of the work.
func (s shop) operations(w Work) []Operation {
	air := s.Handling.AirFactor
	var out []Operation
	add := func(name string, minutes float64, how string, args ...any) {
		if minutes > 0 {
			out = append(out, Operation{Name: name, Minutes: minutes, How: said(how, args...)})
		}
	}
	add("Sawing the blank", s.Handling.Saw, "%v min", s.Handling.Saw)
	add("Set-ups", float64(w.SetUps)*s.Handling.SetUp, "%d x %v min", w.SetUps, s.Handling.SetUp)
	tools := s.tools(w)
	add("Tool changes", float64(tools)*s.Handling.ToolChange, "%d x %v min", tools, s.Handling.ToolChange)
	s.facing(w, add)
	if w.RoughVolume > 0 {
		rate := s.removal(s.Cutter.Rough)
		add("Roughing", air*w.RoughVolume/rate, "%v mm3 / %v mm3/min x %v", w.RoughVolume, rate, air)
	}
	s.finishing(w, add)
	s.hard(w, add)
	if w.ContourLength > 0 {
		c := s.Cutter.Contour
		length := w.ContourLength + math.Pi*c.Diameter // the path runs half a cutter outside
		n := passes(w.ContourDepth, s.depth(c))
		add("Outline", air*n*length/s.feed(c), "%v x %v mm / %v mm/min x %v", textwrap.Counted(int(n), "pass"), length, s.feed(c), air)
	}
	s.drilling(w, add)
	if w.ChamferLength > 0 {
		feed := s.feed(s.Cutter.Chamfer)
		add("Chamfers", air*w.ChamferLength/feed, "%v mm / %v mm/min x %v", w.ChamferLength, feed, air)
	}
	add("Deburr and wash", s.Handling.Finish, "%v min", s.Handling.Finish)
	add("Measuring", s.Handling.Measure, "%v min", s.Handling.Measure)
	return out
}

type adder = func(name string, minutes float64, how string, args ...any)

func (s shop) facing(w Work, add adder) {
	c := s.Cutter.Face
	path, how := 0.0, ""
	for _, f := range w.Faced {
		n := passes(f.Depth, s.depth(c))
		path += n * f.Area / c.AE
		if how != "" {
			how += " + "
		}
		how += said("%v x %v mm2 / %v mm", textwrap.Counted(int(n), "pass"), f.Area, c.AE)
	}
	add("Facing", s.Handling.AirFactor*path/s.feed(c), "(%s) / %v mm/min x %v", how, s.feed(c), s.Handling.AirFactor)
}

func (s shop) finishing(w Work, add adder) {
	c := s.Cutter.Finish
	n := passes(w.WallDepth, s.depth(c))
	path := n*w.WallLength + w.FloorArea/c.AE
	add("Finishing pockets", s.Handling.AirFactor*path/s.feed(c),
		"(%v of %v mm of wall + %v mm2 of floor / %v mm) / %v mm/min x %v",
		textwrap.Counted(int(n), "pass"), w.WallLength, w.FloorArea, c.AE, s.feed(c), s.Handling.AirFactor)
}

// hard adds what hard places take beyond the rest. Corners tighter than the
// finisher are gone over with the small cutter, at a depth of half its diameter a
// pass and over the finisher's diameter along both walls. Thin walls are finished
// twice, the first time to leave them stock to stand on. In deep places roughing
// and finishing slow down as the cutter gets longer (common practice).
func (s shop) hard(w Work, add adder) {
	h, air := w.Hard, s.Handling.AirFactor
	if h.Corners > 0 {
		c := s.Cutter.Finish
		c.Feed *= h.Cutter / c.Diameter
		c.Diameter, c.AP = h.Cutter, h.Cutter/2
		path := passes(h.Height, s.depth(c)) * 2 * s.Cutter.Finish.Diameter
		add("Tight corners", air*path/s.feed(c), "%v mm of path with a %v mm cutter / %v mm/min x %v", path, h.Cutter, s.feed(c), air)
	}
	finish := air * (passes(w.WallDepth, s.depth(s.Cutter.Finish))*w.WallLength + w.FloorArea/s.Cutter.Finish.AE) / s.feed(s.Cutter.Finish)
	add("Thin walls", h.Thin*finish, "%v of the finishing again", h.Thin)
	rough := 0.0
	if w.RoughVolume > 0 {
		rough = air * w.RoughVolume / s.removal(s.Cutter.Rough)
	}
	add("Deep places", h.Deep*max(0, h.Excess-1)*(rough+finish), "%v of roughing and finishing, %v times as long", h.Deep, h.Excess)
}

// drilling adds up all holes: drilled up to the largest drill, milled above.
func (s shop) drilling(w Work, add adder) {
	minutes := 0.0
	for _, h := range w.Holes {
		minutes += s.hole(h)
	}
	add("Holes", minutes, "%v, %v min each to position", textwrap.Counted(len(w.Holes), "hole"), s.Handling.Position)
}

// hole returns the minutes for one hole. A drill runs its depth and 0.3
// diameters for its point.
func (s shop) hole(h HoleCut) float64 {
	minutes := s.Handling.Position
	if h.Diameter <= s.Drill.MaxDiameter {
		feed := min(s.Drill.FeedPerMM*h.Diameter, s.Drill.MaxFeed) * s.rpm(s.cutting.DrillSpeed, h.Diameter)
		cut := (h.Depth + 0.3*h.Diameter) / feed
		if h.Depth > s.Drill.PeckDepth*h.Diameter {
			cut *= s.Drill.PeckFactor
		}
		minutes += cut
	} else {
		minutes += s.Handling.AirFactor * math.Pi / 4 * h.Diameter * h.Diameter * h.Depth / s.removal(s.Cutter.Rough)
	}
	switch {
	case h.Sink:
		minutes += s.Drill.Countersink
	case h.HeadDiameter > 0:
		ring := math.Pi / 4 * (h.HeadDiameter*h.HeadDiameter - h.Diameter*h.Diameter) * h.HeadDepth
		minutes += s.Handling.Position + s.Handling.AirFactor*ring/s.removal(s.Cutter.Rough)
	}
	return minutes
}

// tools counts the tool changes of one part: each cutter once, each drill size
// once with a spot drill before them, the facing cutter once a side.
func (s shop) tools(w Work) int {
	n := len(w.Faced)
	if w.Hard.Corners > 0 {
		n++
	}
	if w.RoughVolume > 0 {
		n++
	}
	if w.WallLength > 0 || w.FloorArea > 0 {
		n++
	}
	if w.ContourLength > 0 {
		n++
	}
	if w.ChamferLength > 0 {
		n++
	}
	var drills []float64
	sink := false
	for _, h := range w.Holes {
		sink = sink || h.Sink
		d := math.Round(h.Diameter*10) / 10
		if h.Diameter <= s.Drill.MaxDiameter && !slices.Contains(drills, d) {
			drills = append(drills, d)
		}
	}
	if len(drills) > 0 {
		n += len(drills) + 1
	}
	if sink {
		n++
	}
	return n
}
