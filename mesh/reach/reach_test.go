package reach

import (
	"testing"

	"swapworth/mesh"
	"swapworth/mesh/feature"
)

func BenchmarkLook(b *testing.B) {
	l, err := mesh.Load("../../testdata/reference/carriage_new.stl", mesh.Options{})
	if err != nil {
		b.Fatal(err)
	}
	f := feature.Find(l.Mesh)
	sq := feature.Axes(l.Mesh, f.Faces)
	for b.Loop() {
		v := Look(l.Mesh, f, sq)
		n := 0
		for _, s := range v.Samples {
			if s.Seen == 0 {
				n++
			}
		}
		b.ReportMetric(float64(n), "hidden")
		b.ReportMetric(float64(len(v.Samples)), "samples")
		b.ReportMetric(float64(len(v.Ways)), "ways")
		b.ReportMetric(float64(len(v.Mesh.Faces)), "faces")
	}
}
