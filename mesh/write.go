package mesh

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"io"
	"math"

	"swapworth/internal/files"
	"swapworth/internal/triangle"

	"gonum.org/v1/gonum/spatial/r3"
)

// WriteFile writes the mesh as a binary STL in millimetres. The file appears whole
// or not at all; an existing file is replaced only when overwrite is set, a file
// that was read never. Coordinates are rounded to float32, which is all that STL
// holds.
func WriteFile(path string, m *Mesh, overwrite bool) error {
	return writeFile(path, m, plainHeader, overwrite)
}

// WriteFile is WriteFile of the loaded mesh. The header says what was mended and
// how much less and more the true volume may be, which Load reads again: a plugged
// hole stays one.
func (l *Loaded) WriteFile(path string, overwrite bool) error {
	header := plainHeader
	if len(l.Repairs) > 0 {
		less, more := 0.0, 0.0
		for _, r := range l.Repairs {
			l, m := r.Doubt()
			less, more = less+l, more+m
		}
		header = fmt.Sprintf(mendedHeader, less, more)
	}
	return writeFile(path, l.Mesh, header, overwrite)
}

// The headers of the files that are written; at most headerSize bytes.
const (
	plainHeader  = "binary STL, millimetres"
	mendedHeader = plainHeader + "; mended: volume -%.6g +%.6g mm3"
)

// mendedBefore reads from a header that the mesh was mended when it was written.
func mendedBefore(header []byte, unit Unit) (Repair, bool) {
	var less, more float64
	if n, _ := fmt.Sscanf(string(header), mendedScan, &less, &more); n < 2 || !(less >= 0 && more >= 0) {
		return Repair{}, false
	}
	mm := unit.millimetres()
	cube := mm * mm * mm
	return Repair{What: "mended before this file was written, as its header says", Earlier: true,
		LessMM3: cube * less, MoreMM3: cube * more}, true
}

// mendedScan is mendedHeader to read.
const mendedScan = plainHeader + "; mended: volume -%g +%g mm3"

func writeFile(path string, m *Mesh, header string, overwrite bool) error {
	return files.Write(path, overwrite, func(w io.Writer) error {
		if err := write(w, m, header); err != nil {
			return fmt.Errorf("%s cannot be written: %w", files.Show(path), err)
		}
		return nil
	})
}

// Write writes the mesh to w as a binary STL in millimetres. A coordinate that
// float32 cannot hold is an error.
func Write(w io.Writer, m *Mesh) error { return write(w, m, plainHeader) }

func write(w io.Writer, m *Mesh, header string) error {
	if uint64(len(m.Faces)) > math.MaxUint32 {
		return fmt.Errorf("%d triangles are more than a binary STL holds", len(m.Faces))
	}
	buffered := bufio.NewWriterSize(w, 1<<16)
	var head [preambleSize]byte
	copy(head[:headerSize], header)
	binary.LittleEndian.PutUint32(head[headerSize:], uint32(len(m.Faces)))
	if _, err := buffered.Write(head[:]); err != nil {
		return err
	}
	var record [recordSize]byte
	for f := range m.Faces {
		a, b, c := m.Triangle(f)
		for i, v := range [4]r3.Vec{triangle.Normal(a, b, c), a, b, c} {
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
