package fit

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/feature"
)

// Envelope compares the space that both parts take, in directions in which the
// old part is square.
type Envelope struct {
	Old  [3]float64 `json:"old_mm"` // extent along the three directions
	New  [3]float64 `json:"new_mm"`
	Grew []Growth   `json:"grew"`

	Outline Outline `json:"outline"`
}

// Growth is how far the new part stands out beyond the old one's outline on one
// side.
type Growth struct {
	Side      string     `json:"side"` // such as +z
	Direction [3]float64 `json:"direction"`
	Amount    float64    `json:"mm"`
}

// grown is the least growth worth a word, mm.
const grown = 0.02

// envelope compares the parts' reach on the six sides, and where those do not
// show it, in 24 directions around each of the three axes.
func envelope(old Part, new *mesh.Mesh, t mesh.Transform) Envelope {
	square := feature.Axes(old.Mesh, old.Features.Faces)
	moved := new.Transformed(t)
	a, b := square.Box(old.Mesh), square.Box(moved)
	e := Envelope{Old: array(a.Size()), New: array(b.Size()), Grew: []Growth{}}
	for k, d := range square {
		up := coordinate(b.Max, k) - coordinate(a.Max, k)
		down := coordinate(a.Min, k) - coordinate(b.Min, k)
		e.add(d, 1, up)
		e.add(d, -1, down)
	}
	e.Outline = outline(old, moved)
	if len(e.Grew) == 0 {
		e.addOblique(square, old.Mesh.Vertices, moved.Vertices)
	}
	return e
}

func coordinate(v r3.Vec, k int) float64 { return [3]float64{v.X, v.Y, v.Z}[k] }

func (e *Envelope) add(d r3.Vec, side, amount float64) {
	if amount > grown {
		d = r3.Scale(side, d)
		e.Grew = append(e.Grew, Growth{nameOf(d), array(d), amount})
	}
}

// obliques is how many directions about each axis the outline is looked at along,
// every 15 degrees: what grew between two of them shows by cos 7.5 degrees, 99 %, in
// the nearer.
const obliques = 24

// addOblique finds the direction between the sides in which the outline grew
// most.
func (e *Envelope) addOblique(square feature.Square, old, new []r3.Vec) {
	var best r3.Vec
	most := grown
	for k := range 3 {
		u, v := square[(k+1)%3], square[(k+2)%3]
		for i := range obliques {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / obliques)
			d := r3.Add(r3.Scale(cos, u), r3.Scale(sin, v))
			if gap := support(new, d) - support(old, d); gap > most {
				best, most = d, gap
			}
		}
	}
	e.add(best, 1, most*math.Copysign(1, r3.Norm(best)-0.5))
}
