package mill

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Floor is a thin plate of material that a pocket leaves: its thickness, how far it
// reaches along both ways in its plane, and between how many walls it stands in each.
// All lengths are mm.
type Floor struct {
	Where     [3]float64 // where it is thinnest, in the part's own file
	Thickness float64
	Size      [2]float64
	Held      [2]int // walls at the ends of each way: 0, 1 or 2
}

// slender is up to which share of its smaller side a floor is a plate whose bending
// plate theory tells: a tenth (Timoshenko and Woinowsky-Krieger, Theory of Plates and
// Shells, introduction, from memory).
const slender = 0.1

// Floors finds the floors of pockets and steps that are thin plates, one a face, each
// where it is thinnest. A plate whose both faces are the stock's own is none.
func (c *checker) floors() []Floor {
	var out []Floor
	at := map[int32]int{} // of a patch
	for _, s := range c.Samples {
		k := c.across(s.Normal)
		if k < 0 || c.inCavity[s.Face] || s.Seen == 0 || c.OnSkin(s) || c.InHole(s) {
			continue
		}
		t, behind, ok := c.Thickness(s)
		if !ok || math.Abs(r3.Dot(c.Normal(behind), c.Square[k])) < level {
			continue
		}
		patch := c.Features.Skin.Patch[s.Face]
		if i, known := at[patch]; known {
			if t < out[i].Thickness {
				out[i].Thickness, out[i].Where = t, where(s.At)
			}
			continue
		}
		f := Floor{Where: where(s.At), Thickness: t}
		c.spread(&f, c.Features.Skin.Patches[patch].Faces, k)
		if side := min(f.Size[0], f.Size[1]); t <= slender*side && f.Held != [2]int{} {
			at[patch] = len(out)
			out = append(out, f)
		}
	}
	return out
}

// across returns the square direction that a normal lies along, -1 for none.
func (c *checker) across(normal r3.Vec) int {
	for k, d := range c.Square {
		if math.Abs(r3.Dot(normal, d)) > level {
			return k
		}
	}
	return -1
}

// spread measures how far the faces of a floor reach along the two square directions
// in its plane, and where they end at the side of the box: there no wall stands.
func (c *checker) spread(f *Floor, faces []int32, normal int) {
	low := [3]float64{c.Box.Min.X, c.Box.Min.Y, c.Box.Min.Z}
	high := [3]float64{c.Box.Max.X, c.Box.Max.Y, c.Box.Max.Z}
	for i, k := range [2]int{(normal + 1) % 3, (normal + 2) % 3} {
		least, most := math.Inf(1), math.Inf(-1)
		for _, face := range faces {
			p, q, r := c.Mesh.Triangle(int(face))
			for _, v := range [3]r3.Vec{p, q, r} {
				x := r3.Dot(v, c.Square[k])
				least, most = min(least, x), max(most, x)
			}
		}
		f.Size[i] = most - least
		if least > low[k]+scratch {
			f.Held[i]++
		}
		if most < high[k]-scratch {
			f.Held[i]++
		}
	}
}

// Tooth returns how often in a second the teeth of the finishing cutter strike at the
// spindle's top speed, Hz.
func (p Profile) Tooth() float64 { return p.Spindle.MaxRPM / 60 * p.Cutter.Finish.Flutes }
