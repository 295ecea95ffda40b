package beam

import (
	"testing"

	"swapworth/materials"
	"swapworth/mesh"
)

// A tube 50x25, wall 2.5, 190 long, its end face evenly loaded: quadratic
// tetrahedra (gmsh and GetFEM, 50 505 unknowns) give 949.8 and 2998 N/mm. At the end
// its webs move by 1/996.2 and 1/3031 mm/N; the walls across the load add the rest.
func TestWallsAcrossTheLoadBendAtAnOpenEnd(t *testing.T) {
	e := materials.Elastic{YoungsModulus: 70000, Poisson: 0.33}
	tube := only(box(0, 0, 50, 25), box(2.5, 2.5, 47.5, 22.5))[0]
	m := flatPart(t, 190, tube.Outer, tube.Holes...)
	for _, c := range []struct {
		load      mesh.Axis
		end, webs float64
	}{{mesh.Y, 949.8, 996.2}, {mesh.X, 2998, 3031}} {
		r := ofPart(t, m, e, Setup{Span: mesh.Z, Load: c.load})
		near(t, "stiffness at the end", *r.Stiffness, c.end, 0.035)
		inside := 189.9
		s := Setup{Span: mesh.Z, Load: c.load, At: &inside}
		webs := *ofPart(t, m, e, s).Stiffness
		near(t, "what the walls give way by", 1 / *r.Stiffness - 1/webs, 1/c.end-1/c.webs, 0.4)
	}
}
