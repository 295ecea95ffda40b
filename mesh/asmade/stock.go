package asmade

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/textwrap"
	"swapworth/internal/vector"
	"swapworth/mesh"
)

// StockLeft returns the part with stock left in its pockets on both ends of the
// direction in which it is milled, and in its windows: wall on their walls, floor
// on their floors, mm, along their normals, as a cautious or unfinished job leaves
// it. The foot of a wall keeps the fillet of the cutter, the rim its chamfer or
// rounding; both shift with what they join. Round holes up to the diameter bored
// are drilled or bored to size and stay as drawn.
//
// A pocket in which so much stock cannot be left is skipped: a note names its
// place, and Error holds what it would have added.
func StockLeft(p Part, axis r3.Vec, wall, floor, bored float64) (Variant, error) {
	if wall < 0 || floor < 0 || wall+floor == 0 || math.IsInf(wall+floor, 0) || math.IsNaN(wall+floor) {
		return Variant{}, fmt.Errorf("stock left of %.4g mm on walls and %.4g mm on floors: expected amounts of 0 or more, not both 0", wall, floor)
	}
	l := p.lie(axis)
	openings := l.openings(bored)
	if len(openings) == 0 {
		return Variant{}, Absent("the part has no pocket or window along the milling direction, so no stock can be left in one" + l.drilledNote(bored, "; "))
	}
	s := stockLeft{lay: l, wall: wall, floor: floor, nearWall: l.nearest(wall0), nearLevel: l.nearest(level)}
	var skipped []opening
	for len(openings) > 0 {
		m, misfit, err := s.leave(openings)
		if err == nil {
			return s.variant(m, misfit, openings, skipped, bored), nil
		}
		var out []opening
		openings, out = s.withRoom(openings, err)
		skipped = append(skipped, out...)
	}
	return s.variant(p.share(), 0, nil, skipped, bored), nil
}

// withRoom parts the openings in which the stock can be left, each on its own,
// from the others. Where each of them has room and all together have not, the one
// nearest to where it failed is taken out.
func (s stockLeft) withRoom(openings []opening, failed error) (room, none []opening) {
	for _, o := range openings {
		if _, _, err := s.leave([]opening{o}); err != nil {
			none = append(none, o)
		} else {
			room = append(room, o)
		}
	}
	if len(none) > 0 {
		return room, none
	}
	k := 0
	var at misplaced
	if errors.As(failed, &at) {
		k = s.closest(openings, at.at)
	}
	return append(openings[:k:k], openings[k+1:]...), openings[k : k+1]
}

const wall0 = wall // the role, where an amount has its name

// opening is a pocket, or with Floor empty a window.
type opening struct {
	Pocket
	at r3.Vec // the middle of its floor, or of its walls
}

func (o opening) String() string {
	kind := "pocket"
	if len(o.Floor) == 0 {
		kind = "window"
	}
	return fmt.Sprintf("%s at (%.4g, %.4g, %.4g)", kind, o.at.X, o.at.Y, o.at.Z)
}

// openings lists the pockets of both ends and the windows.
func (l *lay) openings(bored float64) []opening {
	pockets := append(l.pockets(l.axis, bored), l.pockets(r3.Scale(-1, l.axis), bored)...)
	var out []opening
	for _, p := range pockets {
		out = append(out, opening{p, l.part.middle(p.Floor)})
	}
	for _, w := range l.windows(pockets, bored) {
		o := opening{Pocket: Pocket{Walls: w}, at: l.part.middle(w)}
		for _, f := range w {
			o.WallArea += l.part.area(f)
		}
		out = append(out, o)
	}
	return out
}

// middle returns the centre of area of faces.
func (p Part) middle(faces []int32) r3.Vec {
	var sum r3.Vec
	all := 0.0
	for _, f := range faces {
		area := p.area(f)
		sum, all = r3.Add(sum, r3.Scale(area, p.centre(f))), all+area
	}
	return r3.Scale(1/all, sum)
}

// closest returns the opening with a corner nearest to a point.
func (l *lay) closest(openings []opening, at r3.Vec) int {
	best, least := 0, math.Inf(1)
	for k, o := range openings {
		for _, faces := range [][]int32{o.Floor, o.Walls} {
			for _, f := range faces {
				for _, v := range l.part.Mesh.Faces[f] {
					if far := r3.Norm(r3.Sub(l.part.Mesh.Vertices[v], at)); far < least {
						best, least = k, far
					}
				}
			}
		}
	}
	return best
}

// stockLeft is how much is left where.
type stockLeft struct {
	*lay
	wall, floor         float64
	nearWall, nearLevel map[int32]int32
}

// leave moves the walls and floors of the openings.
func (s stockLeft) leave(openings []opening) (*mesh.Mesh, float64, error) {
	by := map[int32]float64{}
	for _, o := range openings {
		for _, f := range o.Floor {
			by[f] = s.floor
		}
		for _, f := range o.Walls {
			by[f] = s.wall
		}
	}
	rise := s.rise(openings)
	m, misfit, err := s.part.offset(func(list []demand, f, v int32) []demand {
		switch s.role[f] {
		case unsized:
			return list
		case breaks, foot:
			up := s.runs[s.run[f]].up
			return append(list, demand{up, by[s.near(s.nearLevel, f)]}, demand{s.joins(s.nearWall, f, v), by[s.near(s.nearWall, f)]})
		}
		if d, ok := rise[v]; ok {
			list = append(list, d)
		}
		return append(list, demand{s.outward(f, v), by[f]})
	}, nil)
	if err != nil {
		return nil, 0, err
	}
	return m, misfit + s.feetDoubt(by) + s.cornerDoubt(by), nil
}

// rise asks of corners within a wall that they rise with the floor, the less the
// higher they lie, so that rows of small triangles do not fold where the floor
// rises by more than their height. They stay in the wall.
func (s stockLeft) rise(openings []opening) map[int32]demand {
	if s.floor == 0 {
		return nil
	}
	out := map[int32]demand{}
	inside := map[int32]bool{}
	for _, o := range openings {
		low, high := math.Inf(1), math.Inf(-1)
		for _, f := range o.Walls {
			inside[f] = true
			for _, v := range s.part.Mesh.Faces[f] {
				h := r3.Dot(s.part.Mesh.Vertices[v], o.Side)
				low, high = min(low, h), max(high, h)
			}
		}
		if len(o.Floor) == 0 || high <= low {
			continue
		}
		for _, f := range o.Walls {
			for _, v := range s.part.Mesh.Faces[f] {
				out[v] = demand{o.Side, s.floor * (high - r3.Dot(s.part.Mesh.Vertices[v], o.Side)) / (high - low)}
			}
		}
	}
	for f, corners := range s.part.Mesh.Faces {
		if !inside[int32(f)] {
			for _, v := range corners {
				delete(out, v)
			}
		}
	}
	return out
}

func (s stockLeft) near(of map[int32]int32, f int32) int32 {
	if g, ok := of[f]; ok {
		return g
	}
	return -1
}

// feetDoubt bounds what the fillet of a foot may be off, mm3: it keeps its
// radius, as a cutter with that corner leaves it. Were it smaller by the stock, as
// a ball of the same path leaves it, its surface would move by w cos^2 + f sin^2
// between wall and floor.
func (s stockLeft) feetDoubt(by map[int32]float64) (doubt float64) {
	for f, r := range s.role {
		if r != foot {
			continue
		}
		w, h := by[s.near(s.nearWall, int32(f))], by[s.near(s.nearLevel, int32(f))]
		sin := math.Abs(r3.Dot(s.shape[f], s.axis))
		cos := math.Sqrt(max(0, 1-sin*sin))
		doubt += s.part.area(int32(f)) * math.Abs(w*cos+h*sin-w*cos*cos-h*sin*sin)
	}
	return doubt
}

// cornerDoubt bounds what outer corners of walls may be off, mm3: they are left
// sharp, and a cutter that rolls around a corner which turns by t leaves
// (tan t/2 - t/2) w^2 less on each mm of it.
func (s stockLeft) cornerDoubt(by map[int32]float64) (doubt float64) {
	for f, r := range s.role {
		if r != wall || by[int32(f)] == 0 {
			continue
		}
		for k, g := range s.part.Features.Skin.Neighbour[f] {
			if g < int32(f) || by[g] == 0 || s.role[g] != wall || !s.part.convex(int32(f), g, k) {
				continue
			}
			half := vector.DegreesBetween(s.shape[f], s.shape[g]) * math.Pi / 360
			doubt += (math.Tan(min(half, 1.5)) - half) * s.wall * s.wall * r3.Norm(s.part.edge(int32(f), k))
		}
	}
	return doubt
}

func (s stockLeft) variant(m *mesh.Mesh, misfit float64, made, skipped []opening, bored float64) Variant {
	pockets, windows := 0, 0
	for _, o := range made {
		if len(o.Floor) > 0 {
			pockets++
		} else {
			windows++
		}
	}
	var in []string
	if pockets > 0 {
		in = append(in, textwrap.Counted(pockets, "pocket"))
	}
	if windows > 0 {
		in = append(in, textwrap.Counted(windows, "window"))
	}
	if len(made) == 0 {
		in = []string{"no pocket"}
	}
	name := fmt.Sprintf("%.3g mm left on walls and %.3g mm on floors of %s", s.wall, s.floor, strings.Join(in, " and "))
	v := s.part.variant(name, m, misfit)
	v.Error += s.wouldAdd(skipped)
	for _, o := range skipped {
		v.Notes = append(v.Notes, fmt.Sprintf("skipped: the %s has no room for so much stock", o))
	}
	if n := s.milledRound(made); n > 0 {
		v.Notes = append(v.Notes, fmt.Sprintf("%s wider than %.4g mm taken as milled, with stock", textwrap.Counted(n, "round opening"), bored))
	}
	if note := s.drilledNote(bored, ""); note != "" {
		v.Notes = append(v.Notes, note)
	}
	return v
}

// milledRound counts the openings that are round all the way.
func (s stockLeft) milledRound(openings []opening) (n int) {
	round := s.part.holesUpTo(math.Inf(1))
	for _, o := range openings {
		if !slices.ContainsFunc(o.Walls, func(f int32) bool { return !round[f] }) {
			n++
		}
	}
	return n
}

// wouldAdd bounds what stock in openings adds, mm3.
func (s stockLeft) wouldAdd(openings []opening) (sum float64) {
	for _, o := range openings {
		sum += s.wall*o.WallArea + s.floor*o.Area
		for _, f := range o.Feet {
			sum += (s.wall + s.floor) * s.part.area(f)
		}
	}
	return sum
}

// drilledNote says which holes along the axis get no stock; empty for none.
func (l *lay) drilledNote(bored float64, before string) string {
	n, widest := 0, 0.0
	for _, h := range l.part.Features.Holes {
		if h.Diameter <= bored && math.Abs(r3.Dot(h.Axis, l.axis)) > levelCosine {
			n, widest = n+1, max(widest, h.Diameter)
		}
	}
	if n == 0 {
		return ""
	}
	return before + fmt.Sprintf("no stock in %s up to %.4g mm, drilled or bored to size", textwrap.Counted(n, "round hole"), widest)
}
