package solid

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/materials"
	"swapworth/solid/internal/region"
)

// caseLoad is a load, or what a mass that rides along weighs, on the grid's axes.
type caseLoad struct {
	at       *region.Region
	force    [3]float64 // N
	moment   [3]float64 // N mm
	pressure float64    // MPa
	riding   bool       // the force is that of an accelerated mass, not a stated one
}

// validate refuses what does not load or hold the part, by name.
func (p Problem) validate(m materials.Elastic) error {
	if len(p.Cases) == 0 {
		return fmt.Errorf("solid: nothing loads the part; name a load")
	}
	for _, c := range p.Cases {
		if len(p.Supports) == 0 && len(c.Supports) == 0 {
			return fmt.Errorf("solid: nothing holds the part in load case %q; name a support or a place to fix", c.Name)
		}
		if err := c.validate(p.holds(c), m); err != nil {
			return err
		}
	}
	return nil
}

// holds returns what holds the part in a case.
func (p Problem) holds(c Case) []Support {
	if len(c.Supports) > 0 {
		return c.Supports
	}
	return p.Supports
}

func (c Case) validate(holds []Support, e materials.Elastic) error {
	total := accelerationScale(c, e)
	for _, l := range c.Loads {
		size := r3.Norm(l.Force) + r3.Norm(l.Moment) + math.Abs(l.Pressure)
		if math.IsNaN(size) || math.IsInf(size, 0) {
			return fmt.Errorf("solid: load case %q at %s: expected finite numbers", c.Name, l.Place)
		}
		if l.Pressure != 0 && !l.Place.onSurface() {
			return fmt.Errorf("solid: load case %q: a pressure acts on a surface, and %s is a piece of material; name a face, a bore or a rim", c.Name, l.Place)
		}
		if slices.Contains(holds, Support{Place: l.Place, Hold: held}) {
			return fmt.Errorf("solid: load case %q acts on %s, which is held; load another place", c.Name, l.Place)
		}
		total += size
	}
	for _, m := range c.Masses {
		if !(m.Grams > 0) || math.IsInf(m.Grams, 0) {
			return fmt.Errorf("solid: load case %q: a mass of %g g at %s; expected a number above zero", c.Name, m.Grams, m.Place)
		}
	}
	if c.Acceleration != (r3.Vec{}) && !(e.Density > 0) {
		return fmt.Errorf("solid: load case %q accelerates the part, whose density is not known; give a density", c.Name)
	}
	if !(total > 0) || math.IsInf(total, 0) {
		return fmt.Errorf("solid: load case %q has nothing that loads the part; give a force, a moment, a pressure or an acceleration other than zero", c.Name)
	}
	return nil
}

// accelerationScale is above zero where own acceleration loads the part.
func accelerationScale(c Case, e materials.Elastic) float64 {
	if len(c.Masses) == 0 && !(e.Density > 0) {
		return 0
	}
	return r3.Norm(c.Acceleration)
}

// locateLoads finds the places of a case's loads, then those of its masses.
func (c *check) locateLoads(where *part, cs Case) (spots []spot, err error) {
	var places []Place
	for _, l := range cs.Loads {
		places = append(places, l.Place)
	}
	for _, m := range cs.Masses {
		places = append(places, m.Place)
	}
	for _, pl := range places {
		at, err := where.locate(pl)
		if err != nil {
			return nil, err
		}
		c.warn(at.warning)
		spots = append(spots, at)
	}
	return spots, nil
}

// layLoads brings a case's loads into the frame: those stated, then the forces of
// the masses that ride along, -m a.
func (f frame) layLoads(cs Case, at []spot, lay func(spot, Place) *region.Region) (out []caseLoad) {
	for k, l := range cs.Loads {
		out = append(out, caseLoad{
			at: lay(at[k], l.Place), force: f.vector(l.Force), moment: f.axial(l.Moment), pressure: l.Pressure})
	}
	for k, m := range cs.Masses {
		out = append(out, caseLoad{at: lay(at[len(cs.Loads)+k], m.Place), riding: true,
			force: f.vector(r3.Scale(-m.Grams*newtonPerGram, cs.Acceleration))})
	}
	return out
}

// newtonPerGram turns g times m/s2 into N.
const newtonPerGram = 1e-3
