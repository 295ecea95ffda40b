package solid

import (
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/vector"
	"swapworth/mesh"
)

// Moved returns the result with its points, forces and moments as they are after a
// motion of the part: that of a part which was straightened before it was solved, in
// the coordinates of its file.
func (r Result) Moved(t mesh.Transform) Result {
	point := func(p *[3]float64) { *p = array(t.Apply(vector.Of(*p))) }
	turn := func(v *[3]float64) { *v = array(t.Turn(vector.Of(*v))) }
	cases := make([]CaseResult, len(r.Cases))
	for i, c := range r.Cases {
		point(&c.StressAt)
		turn(&c.Applied)
		turn(&c.Reaction)
		turn(&c.Turning) // about the new origin the forces add their own
		c.Turning = array(r3.Add(vector.Of(c.Turning), r3.Cross(t.Shift, vector.Of(c.Applied))))
		c.Reactions = append([]Reaction(nil), c.Reactions...)
		for k := range c.Reactions {
			turn(&c.Reactions[k].Force)
			turn(&c.Reactions[k].Moment)
			point(&c.Reactions[k].Centre)
		}
		c.Peaks = append([]Peak(nil), c.Peaks...)
		for k := range c.Peaks {
			point(&c.Peaks[k].At)
		}
		cases[i] = c
	}
	r.Cases = cases
	return r
}

func array(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }
