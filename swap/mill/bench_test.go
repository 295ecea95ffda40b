package mill

import (
	"testing"

	"swapworth/materials"
	"swapworth/mesh/asmade"
)

// A part of 27 618 triangles, one of deep slots and a free form of 20 160: what
// judging takes, the mesh read and its features found.
func BenchmarkCheck(b *testing.B) {
	block := stacked(b, slab(2, rectangle(0, 0, 120, 60)), layer{38, fins(15, 64./15, 4, 60), nil})
	for name, p := range map[string]asmade.Part{"carriage": carriage(b), "fins": block, "free form": asmade.Read(bowl(70))} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				Check(asmade.Part{Mesh: p.Mesh, Features: p.Features, Square: p.Square}, BenchTop(), Stuff{materials.Metal, 2700})
			}
		})
	}
}
