package mesh_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"swapworth/mesh"
)

func TestSizesThatNoUnitExplainsAreRefused(t *testing.T) {
	for _, c := range []struct {
		size   float64
		refuse bool
	}{{1e-30, true}, {1e-7, true}, {1e-3, false}, {20, false}, {1e7, false}, {1e12, true}, {1e30, true}} {
		var text strings.Builder
		text.WriteString("solid tetrahedron\n")
		for _, f := range [][3][3]float64{
			{{0, 0, 0}, {0, 1, 0}, {1, 0, 0}}, {{0, 0, 0}, {1, 0, 0}, {0, 0, 1}},
			{{0, 0, 0}, {0, 0, 1}, {0, 1, 0}}, {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
		} {
			text.WriteString("facet normal 0 0 0\nouter loop\n")
			for _, p := range f {
				fmt.Fprintf(&text, "vertex %g %g %g\n", p[0]*c.size, p[1]*c.size, p[2]*c.size)
			}
			text.WriteString("endloop\nendfacet\n")
		}
		text.WriteString("endsolid\n")
		_, err := mesh.LoadFrom(bytes.NewReader([]byte(text.String())), "t.stl", mesh.Options{})
		if (err != nil) != c.refuse {
			t.Errorf("a side of %g mm: error %v", c.size, err)
		}
		if err != nil && !strings.Contains(err.Error(), "no part has that size") {
			t.Errorf("a side of %g mm: %v", c.size, err)
		}
	}
}
