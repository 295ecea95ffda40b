package solid

import (
	"fmt"
	"math"
	"slices"

	"swapworth/materials"
	"swapworth/solid/internal/brick"
	"swapworth/solid/internal/multigrid"

	"gonum.org/v1/gonum/spatial/r3"
)

// caseLoad is a load, or what a mass that rides along weighs, on the grid's axes.
type caseLoad struct {
	at       *region
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
		if slices.Contains(holds, Clamped(l.Place)) {
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
func (f frame) layLoads(cs Case, at []spot, lay func(spot, Place) *region) (out []caseLoad) {
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

// axial returns the components of a moment: in a left-handed frame the sign of
// every cross product turns.
func (f frame) axial(v r3.Vec) [3]float64 {
	if f.mirrored() {
		v = r3.Scale(-1, v)
	}
	return f.vector(v)
}

// outAxial returns the model moment with components x along the grid axes.
func (f frame) outAxial(x [3]float64) r3.Vec {
	v := f.out(x)
	if f.mirrored() {
		v = r3.Scale(-1, v)
	}
	return v
}

// patchOf is one integration point of a place: its cell, the corner functions
// there, its share of the area (mm2) or volume (mm3), and the normal out of the
// material, zero inside.
type patchOf struct {
	cell   [3]int
	n      [brick.Corners]float64
	size   float64
	at     [3]float64
	normal [3]float64
}

// over calls visit with the integration points of a region.
func (c *cells) over(s *surface, r *region, visit func(p *patchOf)) {
	var p patchOf
	add := func(cell [3]int, n *[brick.Corners]float64, size float64) {
		p.cell, p.n, p.size, p.at = cell, *n, size, [3]float64{}
		for v := range brick.Corners { // the brick's own map: exact for what is linear
			for a, i := range [3]int{cell[0] + v>>2, cell[1] + v>>1&1, cell[2] + v&1} {
				p.at[a] += n[v] * c.lines[a][i]
			}
		}
		visit(&p)
	}
	if r.box != nil {
		c.integrateBox(s, r.box, add)
		return
	}
	c.facets(s, r, func(cell [3]int, poly [][3]float64, normal [3]float64) {
		p.normal = normal
		c.integrate(cell, poly, func(n *[brick.Corners]float64, area float64) { add(cell, n, area) })
	})
}

// traction is a load of so much per mm2 of a surface or per mm3 of material, N.
type traction struct {
	on  *region
	per func(p *patchOf) [3]float64
}

// nodal adds the nodal forces of a traction on a surface to f: the integral of N t.
func (s *system) nodal(on *surface, t traction, f []float64) {
	s.c.over(on, t.on, func(p *patchOf) {
		v := t.per(p)
		for k := range brick.Corners {
			at := s.EntryAt(p.cell[0]+k>>2, p.cell[1]+k>>1&1, p.cell[2]+k&1)
			for a := range 3 {
				f[at+a] += p.n[k] * p.size * v[a]
			}
		}
	})
}

// extent is what a region weighs as a homogeneous body: its size (mm2 or mm3),
// its centre, and the integrals of products of coordinates about that.
type extent struct {
	size   float64
	centre [3]float64
	second [3][3]float64
}

func (c *cells) extentOf(s *surface, r *region) (e extent, err error) {
	kept := r.on(c)
	if kept != nil && kept.extent != nil {
		return *kept.extent, nil
	}
	var first [3]float64
	c.over(s, r, func(p *patchOf) {
		e.size += p.size
		for a := range 3 {
			first[a] += p.size * p.at[a]
		}
	})
	if e.size == 0 && c.lost > 0 {
		return e, fmt.Errorf("solid: nothing holds the body on which %s lies, for it hangs together with no other; hold it too, or join the bodies in the CAD program", r.name)
	}
	if e.size == 0 {
		return e, fmt.Errorf("solid: no material at %s to load; name another place", r.name)
	}
	for a := range 3 {
		e.centre[a] = first[a] / e.size
	}
	c.over(s, r, func(p *patchOf) {
		for a := range 3 {
			for b := range 3 {
				e.second[a][b] += p.size * (p.at[a] - e.centre[a]) * (p.at[b] - e.centre[b])
			}
		}
	})
	if kept != nil {
		kept.extent = &e
	}
	return e, nil
}

// spread is a force spread evenly over a region.
func spread(r *region, e extent, force [3]float64) traction {
	for a := range 3 {
		force[a] /= e.size
	}
	return traction{r, func(*patchOf) [3]float64 { return force }}
}

// twist is a moment about the centre of a region, spread as w x (x - centre) with
// (integral of |r|^2 I - r r^T) w = moment. On a flat face that is the bending and
// torsion traction of a stiff plate; the rotation that does work on it is the mean
// one of the place.
func twist(r *region, e extent, moment [3]float64) (traction, error) {
	var j [9]float64
	trace := e.second[0][0] + e.second[1][1] + e.second[2][2]
	for a := range 3 {
		for b := range 3 {
			j[3*a+b] = -e.second[a][b]
		}
		j[4*a] += trace
	}
	var inv [9]float64
	multigrid.InvertBlock(j[:], inv[:], 3)
	w := times(&inv, moment)
	back := times(&j, w)
	for a := range 3 {
		if d := back[a] - moment[a]; !(math.Abs(d) <= 1e-6*norm(moment)) {
			return traction{}, fmt.Errorf("solid: %s is too narrow to take a moment; name another place", r.name)
		}
	}
	return traction{r, func(p *patchOf) [3]float64 {
		var d [3]float64
		for a := range 3 {
			d[a] = p.at[a] - e.centre[a]
		}
		return cross(w, d)
	}}, nil
}

// press is a pressure against a surface.
func press(r *region, pressure float64) traction {
	return traction{r, func(p *patchOf) [3]float64 {
		return [3]float64{-pressure * p.normal[0], -pressure * p.normal[1], -pressure * p.normal[2]}
	}}
}

func times(m *[9]float64, v [3]float64) (out [3]float64) {
	for a := range 3 {
		for b := range 3 {
			out[a] += m[3*a+b] * v[b]
		}
	}
	return
}

func cross(u, v [3]float64) [3]float64 {
	return [3]float64{u[1]*v[2] - u[2]*v[1], u[2]*v[0] - u[0]*v[2], u[0]*v[1] - u[1]*v[0]}
}

// onSurface reports whether a place is a piece of surface whatever the part.
func (p Place) onSurface() bool {
	return p.kind != insideBox && p.kind != section && p.kind != endPoint
}
