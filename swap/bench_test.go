package swap

import (
	"context"
	"testing"

	"swapworth/materials"
	"swapworth/mesh"
)

// BenchmarkDecide compares two parts of 27 000 triangles, reading included. Its
// baseline is reading the two files.
func BenchmarkDecide(b *testing.B) {
	read := func(b *testing.B) (old, new *mesh.Loaded) {
		b.Helper()
		var err error
		if old, err = mesh.Load("../testdata/reference/carriage_old.stl", mesh.Options{}); err != nil {
			b.Fatal(err)
		}
		if new, err = mesh.Load("../testdata/reference/carriage_new.stl", mesh.Options{}); err != nil {
			b.Fatal(err)
		}
		return old, new
	}
	steel, err := materials.Default().Find("S235")
	if err != nil {
		b.Fatal(err)
	}
	b.Run("read", func(b *testing.B) {
		for b.Loop() {
			read(b)
		}
	})
	b.Run("compare", func(b *testing.B) {
		for b.Loop() {
			old, new := read(b)
			c := Case{
				Old: Side{Loaded: old, Material: &steel}, New: Side{Loaded: new},
				Limits: DefaultLimits(), Table: materials.Default(),
			}
			if _, err := Decide(context.Background(), c); err != nil {
				b.Fatal(err)
			}
		}
	})
}
