package warp

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

// wavy is a round with n points and 200 waves, so that no point can be left out.
func wavy(n int) []r2.Vec {
	out := make([]r2.Vec, n)
	for i := range out {
		a := 2 * math.Pi * float64(i) / float64(n)
		s, c := math.Sincos(a)
		r := 50 + 0.5*math.Sin(200*a)
		out[i] = r2.Vec{X: r * c, Y: r * s}
	}
	return out
}

func box(x0, y0, x1, y1 float64) []r2.Vec {
	return []r2.Vec{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

func reversed(loop []r2.Vec) []r2.Vec {
	out := make([]r2.Vec, len(loop))
	for i, p := range loop {
		out[len(loop)-1-i] = p
	}
	return out
}

func circle(x, y, r float64, n int) []r2.Vec {
	out := make([]r2.Vec, n)
	for i := range out {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = r2.Vec{X: x + r*c, Y: y + r*s}
	}
	return out
}

func BenchmarkOutlineOf10000Points(b *testing.B) {
	loops := [][]r2.Vec{wavy(10000), reversed(circle(0, 0, 20, 500))}
	for b.Loop() {
		p, err := Solve(loops, Options{Tolerance: 1e-3, Points: 400000})
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(p[0].Error, "error")
		b.ReportMetric(float64(p[0].Triangles), "triangles")
	}
}

func BenchmarkPlateWithHoles(b *testing.B) {
	loops := [][]r2.Vec{box(0, 0, 70, 6), reversed(box(10, 0.5, 15, 5)), reversed(box(50, 0.5, 58, 5))}
	for b.Loop() {
		if _, err := Solve(loops, Options{Tolerance: 1e-2, Points: 400000, NoTorsion: true}); err != nil {
			b.Fatal(err)
		}
	}
}
