package mesh

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"

	"gonum.org/v1/gonum/spatial/r3"
)

// WriteFile writes the mesh as a binary STL in millimetres. It writes to a
// temporary file in the same folder and renames that, so that path never holds
// half a file. An existing file is replaced only when overwrite is set.
// Coordinates are rounded to float32, which is all that STL holds.
func WriteFile(path string, m *Mesh, overwrite bool) (err error) {
	if _, err := os.Lstat(path); err == nil && !overwrite {
		return fmt.Errorf("%s exists: give another name, or --overwrite", showName(path))
	} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return openError(path, err)
	}
	file, err := os.CreateTemp(filepath.Dir(path), ".part-*.stl")
	if err != nil {
		return fmt.Errorf("%s cannot be written: %w", showName(path), bare(err))
	}
	defer func() {
		if err != nil {
			file.Close()           // the first error is the one to tell
			os.Remove(file.Name()) // as is this
			err = fmt.Errorf("%s cannot be written: %w", showName(path), bare(err))
		}
	}()
	if err := Write(file, m); err != nil {
		return err
	}
	if err := file.Chmod(0o644); err != nil {
		return err
	}
	if err := file.Close(); err != nil {
		return err
	}
	if overwrite {
		return os.Rename(file.Name(), path)
	}
	// A link fails when the name was taken in the meantime; a rename would replace it.
	if err := os.Link(file.Name(), path); err == nil {
		return os.Remove(file.Name())
	} else if errors.Is(err, fs.ErrExist) {
		return err
	}
	return os.Rename(file.Name(), path)
}

// bare strips the name of a temporary file off an error.
func bare(err error) error {
	var pathError *fs.PathError
	if errors.As(err, &pathError) {
		return pathError.Err
	}
	var linkError *os.LinkError
	if errors.As(err, &linkError) {
		return linkError.Err
	}
	return err
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
