package casefile

import (
	"errors"
	"fmt"

	"swapworth/beam/section"
	"swapworth/mesh"
	"swapworth/mesh/cut"
	"swapworth/quantity"
)

// bar returns a bar of a simple section along x, as if it had been read from a
// file: for a person who has no mesh of the part.
func bar(shape section.Shape, length *quantity.Length) (*mesh.Loaded, error) {
	if length == nil || *length <= 0 {
		return nil, errors.New("a simple section needs the length of the part")
	}
	m, err := cut.Extrude(shape.Region(), mesh.AxisPlane(mesh.X, 0), float64(*length))
	if err != nil {
		return nil, fmt.Errorf("section %s: %w", shape, err)
	}
	return &mesh.Loaded{
		Path: fmt.Sprintf("%s, %s long", shape, *length), Format: "simple section",
		Triangles: len(m.Faces), Mesh: m, Report: mesh.Check(m),
	}, nil
}

// load reads the part's mesh, or makes its bar.
func (p Part) load(name string, options mesh.Options) (*mesh.Loaded, error) {
	switch {
	case p.Length != nil && p.Section == nil:
		return nil, fmt.Errorf("%s part: a length of %s goes with a simple section; a mesh has its own", name, *p.Length)
	case p.Mesh != nil && p.Section != nil:
		return nil, fmt.Errorf("%s part: both a mesh and a section are given; leave one out", name)
	case p.Section != nil:
		l, err := bar(*p.Section, p.Length)
		if err != nil {
			return nil, fmt.Errorf("%s part: %w", name, err)
		}
		return l, nil
	case p.Mesh == nil:
		return nil, fmt.Errorf("no mesh for the %s part: name two STL files, or give old.mesh and new.mesh in a case file", name)
	}
	options.Unit = given(p.Unit, options.Unit)
	return mesh.Load(*p.Mesh, options)
}
