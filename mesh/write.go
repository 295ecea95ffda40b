package mesh

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"io"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
	"swapworth/internal/files"
)

// WriteFile writes the mesh as a binary STL in millimetres. The file appears whole
// or not at all; an existing file is replaced only when overwrite is set, a file
// that was read never. Coordinates are rounded to float32, which is all that STL
// holds.
func WriteFile(path string, m *Mesh, overwrite bool) error {
	return files.Write(path, overwrite, func(w io.Writer) error {
		if err := Write(w, m); err != nil {
			return fmt.Errorf("%s cannot be written: %w", files.Show(path), err)
		}
		return nil
	})
}

// Write writes the mesh to w as a binary STL in millimetres. A coordinate that
// float32 cannot hold is an error.
func Write(w io.Writer, m *Mesh) error {
	if uint64(len(m.Faces)) > math.MaxUint32 {
		return fmt.Errorf("%d triangles are more than a binary STL holds", len(m.Faces))
	}
	buffered := bufio.NewWriterSize(w, 1<<16)
	var head [preambleSize]byte
	copy(head[:], "binary STL, millimetres")
	binary.LittleEndian.PutUint32(head[headerSize:], uint32(len(m.Faces)))
	if _, err := buffered.Write(head[:]); err != nil {
		return err
	}
	var record [recordSize]byte
	for f := range m.Faces {
		a, b, c := m.Triangle(f)
		for i, v := range [4]r3.Vec{unitNormal(a, b, c), a, b, c} {
			for k, x := range [3]float64{v.X, v.Y, v.Z} {
				if math.Abs(x) > math.MaxFloat32 || math.IsNaN(x) {
					return fmt.Errorf("face %d: coordinate %g does not fit an STL file", f+1, x)
				}
				binary.LittleEndian.PutUint32(record[12*i+4*k:], math.Float32bits(float32(x)))
			}
		}
		if _, err := buffered.Write(record[:]); err != nil {
			return err
		}
	}
	return buffered.Flush()
}

// unitNormal returns the unit normal of a triangle, zero where it has none.
func unitNormal(a, b, c r3.Vec) r3.Vec {
	n := r3.Cross(r3.Sub(b, a), r3.Sub(c, a))
	if length := r3.Norm(n); length > 0 && !math.IsInf(length, 0) {
		return r3.Scale(1/length, n)
	}
	return r3.Vec{}
}
