package section

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/mesh/cut"
)

// gear is an outline of n points of which none can be left out.
func gear(n int) cut.Region {
	loop := make([]r2.Vec, n)
	for i := range loop {
		a := 2 * math.Pi * float64(i) / float64(n)
		s, c := math.Sincos(a)
		r := 50 + 0.5*math.Sin(float64(n)/50*a)
		loop[i] = r2.Vec{X: r * c, Y: r * s}
	}
	return only(loop, ngon(r2.Vec{}, 20, 200))
}

func BenchmarkOf10000Points(b *testing.B) {
	r := gear(10000)
	for b.Loop() {
		if _, err := Of(r); err != nil {
			b.Fatal(err)
		}
	}
}

func benchmarkTorsion(b *testing.B, r cut.Region, tolerance float64) {
	for b.Loop() {
		res, err := torsionWithin(r, 0.3, tolerance)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(res.Triangles), "triangles")
		b.ReportMetric(100*res.Error, "error-%")
	}
}

func BenchmarkTorsionOf10000Points(b *testing.B) { benchmarkTorsion(b, gear(10000), defaultTolerance) }

func BenchmarkTorsionOfRolledSection(b *testing.B) {
	s, err := ParseShape("IPE 200")
	if err != nil {
		b.Fatal(err)
	}
	benchmarkTorsion(b, s.Region(), defaultTolerance)
}

func BenchmarkTorsionOfThinStrip(b *testing.B) {
	benchmarkTorsion(b, only(box(0, 0, 200, 2)), defaultTolerance)
}

func BenchmarkTorsionOfPocketedPlateRoughly(b *testing.B) {
	benchmarkTorsion(b, only(box(0, 0, 70, 6), box(10, 0.5, 15, 5), box(50, 0.5, 58, 5)), 1e-2)
}

func BenchmarkShearOfPocketedPlateRoughly(b *testing.B) {
	r := only(box(0, 0, 70, 6), box(10, 0.5, 15, 5), box(50, 0.5, 58, 5))
	for b.Loop() {
		if _, err := shearAreas(r, 0.3, 1e-2); err != nil {
			b.Fatal(err)
		}
	}
}
