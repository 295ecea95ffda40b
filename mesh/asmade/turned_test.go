package asmade

import (
	"math"
	"testing"

	"swapworth/mesh"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// turned revolves a closed profile of (radius, height), counter-clockwise, about
// z in the chords of circle.
func turned(profile ...r2.Vec) Part {
	var corners []r3.Vec
	at := func(p r2.Vec, k int) r3.Vec {
		s, c := math.Sincos(2 * math.Pi * float64(k%chords) / chords)
		return r3.Vec{X: p.X * c, Y: p.X * s, Z: p.Y}
	}
	for i, p := range profile {
		q := profile[(i+1)%len(profile)]
		for k := range chords {
			a, b, c, d := at(p, k), at(p, k+1), at(q, k+1), at(q, k)
			corners = append(corners, a, b, c, a, c, d)
		}
	}
	return Read(mesh.Weld(corners))
}

func TestEdgeBreaksAroundABoreAndARim(t *testing.T) {
	const c = 0.8
	p := turned(r2.Vec{X: 10}, r2.Vec{X: 20}, r2.Vec{X: 20, Y: 12 - c}, r2.Vec{X: 20 - c, Y: 12},
		r2.Vec{X: 10 + c, Y: 12}, r2.Vec{X: 10, Y: 12 - c})
	if r := mesh.Check(p.Mesh); !r.Closed || p.Mesh.SignedVolume() <= 0 {
		t.Fatalf("the drawn part: %+v", r)
	}
	// frustums over polygons: circleArea(1) (R^2 + R r + r^2) c / 3
	frustum := func(a, b float64) float64 { return circleArea(1) * (a*a + a*b + b*b) * c / 3 }
	lacks := circleArea(20)*c - frustum(20, 20-c) + frustum(10, 10+c) - circleArea(10)*c
	v, err := WithoutChamfers(p)
	sound(t, p, v, err, lacks)
	if h := Read(v.Mesh).Features.Holes; len(h) != 1 || h[0].Chamfer > 1e-6 || math.Abs(h[0].Diameter-20) > 1e-3 {
		t.Errorf("the bore afterwards: %+v", h)
	}
}

func TestAnUnfacedRingKeepsItsEdgeBreaks(t *testing.T) {
	const c = 0.8
	p := turned(r2.Vec{X: 10}, r2.Vec{X: 20}, r2.Vec{X: 20, Y: 12 - c}, r2.Vec{X: 20 - c, Y: 12},
		r2.Vec{X: 10 + c, Y: 12}, r2.Vec{X: 10, Y: 12 - c})
	v, err := Unfaced(p, up, 15)
	sound(t, p, v, err, 3*(circleArea(20)-circleArea(10)))
}

func TestARingOverAndUnderSize(t *testing.T) {
	const d = 0.2
	p := turned(r2.Vec{X: 10}, r2.Vec{X: 20}, r2.Vec{X: 20, Y: 12}, r2.Vec{X: 10, Y: 12})
	v, err := Oversize(p, d)
	sound(t, p, v, err, (circleArea(20+d)-circleArea(10-d))*(12+2*d)-(circleArea(20)-circleArea(10))*12)
	v, err = AtLimit(p, Medium, false)
	// 40 -> 0.3, 20 -> 0.2, 12 -> 0.2 of ISO 2768-m
	sound(t, p, v, err, (circleArea(20-.15)-circleArea(10+.1))*(12-.2)-(circleArea(20)-circleArea(10))*12)
}
