package decisions

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// opening is what a layer lacks between two heights: a round or a rectangle.
type opening struct {
	loop      []r2.Vec
	low, high float64
}

// shaped builds the block that a text describes, see testdata/decisions.
func shaped(t *testing.T, text string) *mesh.Loaded {
	t.Helper()
	var l, w, h float64
	parts := strings.Split(text, ";")
	scan(t, parts[0], "%gx%gx%g", &l, &w, &h)
	var openings []opening
	for _, p := range parts[1:] {
		p = strings.TrimSpace(p)
		var x, y, z, a, b, d float64
		switch word, _, _ := strings.Cut(p, " "); word {
		case "hole":
			scan(t, p, "hole %g at %g,%g", &d, &x, &y)
			openings = append(openings, opening{round(x, y, d), 0, h})
		case "pocket":
			scan(t, p, "pocket %gx%gx%g at %g,%g", &a, &b, &d, &x, &y)
			openings = append(openings, opening{rectangle(x, y, a, b), h - d, h})
		case "cavity":
			scan(t, p, "cavity %gx%gx%g at %g,%g,%g", &a, &b, &d, &x, &y, &z)
			openings = append(openings, opening{rectangle(x, y, a, b), z, z + d})
		default:
			t.Fatalf("%q: expected hole, pocket or cavity", p)
		}
	}
	return &mesh.Loaded{Path: text, Mesh: stacked(t, rectangle(0, 0, l, w), h, openings), Format: "built"}
}

// stacked makes layers between all heights at which an opening begins or ends.
func stacked(t *testing.T, outer []r2.Vec, height float64, openings []opening) *mesh.Mesh {
	t.Helper()
	levels := []float64{0, height}
	for _, o := range openings {
		levels = append(levels, o.low, o.high)
	}
	slices.Sort(levels)
	levels = slices.Compact(levels)
	var layers []cut.Layer
	for i, top := range levels[1:] {
		p := cut.Polygon{Outer: outer}
		for _, o := range openings {
			if o.low <= levels[i] && o.high >= top {
				clockwise := slices.Clone(o.loop)
				slices.Reverse(clockwise)
				p.Holes = append(p.Holes, clockwise)
			}
		}
		layers = append(layers, cut.Layer{Region: cut.Region{p}, Thickness: top - levels[i]})
	}
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), layers...)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func rectangle(x, y, a, b float64) []r2.Vec {
	return []r2.Vec{{X: x, Y: y}, {X: x + a, Y: y}, {X: x + a, Y: y + b}, {X: x, Y: y + b}}
}

// round is a circle of flats, drawn as STL files have it.
func round(x, y, d float64) []r2.Vec {
	const flats = 48
	var out []r2.Vec
	for i := range flats {
		s, c := math.Sincos(2 * math.Pi * float64(i) / flats)
		out = append(out, r2.Vec{X: x + d/2*c, Y: y + d/2*s})
	}
	return out
}

func scan(t *testing.T, text, format string, into ...any) {
	t.Helper()
	if n, err := fmt.Sscanf(text, format, into...); err != nil || n != len(into) {
		t.Fatalf("%q: expected %s: %v", text, format, err)
	}
}
