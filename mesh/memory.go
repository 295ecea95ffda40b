package mesh

import (
	"fmt"

	"swapworth/internal/memory"
)

// What reading, welding, checking and measuring take at most, in bytes; measured
// with 2 and 20 million triangles as 201 and 185 a triangle.
const (
	bytesPerTriangle = 220
	bytesBesides     = 50 << 20
)

// fits refuses a mesh for which there is no room, by what is free, in bytes; 0
// stands for not known.
func fits(triangles, free int64) error {
	need := bytesBesides + bytesPerTriangle*triangles
	if free == 0 || need <= free {
		return nil
	}
	return fmt.Errorf("its %d triangles need about %s of memory, %s are free: "+
		"swapworth mesh --stream measures a file of any size", triangles, memory.Text(need), memory.Text(free))
}
