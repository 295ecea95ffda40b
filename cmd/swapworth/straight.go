package main

import (
	"swapworth/mesh"
	"swapworth/mesh/feature"
	"swapworth/solid"
)

// straightened is a part as it is judged: turned so that its own sides lie along the
// axes, where it lies askew in its file.
type straightened struct {
	mesh     *mesh.Mesh
	turn     mesh.Transform // of the file into it
	askew    bool
	from, to feature.Features
}

// straighten turns a part that lies askew, and has said what was done.
func straighten(m *mesh.Mesh, assume func(format string, args ...any)) straightened {
	s := straightened{mesh: m, turn: mesh.Identity(), from: feature.Find(m)}
	turn, askew := s.from.OwnFrame(m)
	if !askew {
		return s
	}
	s.mesh, s.turn, s.askew = m.Transformed(turn), turn, true
	s.to = feature.Find(s.mesh)
	assume("the part lies askew in its file; it is judged, and drawn, along its own sides: %s", feature.Sides(turn, s.mesh.Bounds()))
	return s
}

// place takes a place of the file to the part as it is judged.
func (s straightened) place(p solid.Place) (solid.Place, error) {
	if !s.askew {
		return p, nil
	}
	return p.Carried(s.turn, s.from, s.to)
}

// holes lists the part's holes as it is judged, numbered as in the file.
func (s straightened) holes() []feature.Hole {
	out := append([]feature.Hole(nil), s.from.Holes...)
	for i := range out {
		out[i].Centre, out[i].Axis = s.turn.Apply(out[i].Centre), s.turn.Turn(out[i].Axis)
	}
	return out
}

// result gives what was found the coordinates of the file.
func (s straightened) result(r solid.Result) solid.Result {
	if !s.askew {
		return r
	}
	return r.Moved(s.turn.Inverse())
}
