package swap

import (
	"swapworth/mass"
	"swapworth/mesh"
	"swapworth/mesh/asmade"
)

// shape is one part as its mesh has it, in the frame of its file.
type shape struct {
	loaded *mesh.Loaded
	made   asmade.Part
	props  mass.Properties
	volume Range // mm3
	solver *solver
}

// shared is a part that several comparisons have in common: measured once, and with it
// solved once in every way that is asked for. The zero value has seen no part.
type shared struct{ shape once[shape] }

// measured measures the part the first time. It refuses an open mesh: without an inside
// it has no volume.
func (s *shared) measured(side Side) (shape, error) {
	return s.shape.of(func() (shape, error) {
		if err := mass.CheckClosed(side.Loaded); err != nil {
			return shape{}, err
		}
		return shapeOf(side.Loaded, side.Loaded.Mesh, 0), nil
	})
}

// shapeOf measures a mesh that was read from a file, or made from one with a
// volume known to +- volumeError mm3.
func shapeOf(l *mesh.Loaded, m *mesh.Mesh, volumeError float64) shape {
	props := mass.Of(m).Union(l.Report)
	volume := mass.VolumeRange(props, l.Repairs)
	volume.Low, volume.High = volume.Low-volumeError, volume.High+volumeError
	return shape{loaded: l, made: asmade.Read(m), props: props, volume: volume, solver: &solver{mesh: m}}
}

// withMore is the shape with a volume that may be so many mm3 larger.
func (s shape) withMore(volume float64) shape {
	wider := s.volume
	wider.High += volume
	return shape{s.loaded, s.made, s.props, wider, s.solver}
}
