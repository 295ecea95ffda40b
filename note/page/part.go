package page

import (
	"context"
	"encoding/base64"
	"errors"
	"fmt"
	"net/http"
	"path/filepath"
	"runtime/debug"

	"swapworth/mesh"
	"swapworth/mesh/feature"
	"swapworth/note/figure"
	"swapworth/quantity"
)

// partHead says what the numbers after it are, and what a person may point at.
type partHead struct {
	Name     string     `json:"name"`
	Size     string     `json:"size"`
	Low      [3]float64 `json:"low"` // of the box around the part, mm
	High     [3]float64 `json:"high"`
	Vertices int        `json:"vertices"` // three float32 each, mm
	Faces    int        `json:"faces"`    // three uint32 each, then the index of each one's place, -1 for none
	Edges    int        `json:"edges"`    // two uint32 each
	Places   []place    `json:"places"`
	Warnings []string   `json:"warnings"`
	Views    string     `json:"views,omitempty"` // three views as the address of a picture, with words for it
	ViewsAlt string     `json:"views_alt,omitempty"`
}

// part shows one part as soon as its file is there: triangles, edges and the places
// at which it may be held or loaded, in the words of the command line. Asked with
// ?views it sends three views in place of triangles.
func (s *server) part(w http.ResponseWriter, r *http.Request) {
	s.send(w, r, "application/octet-stream", func(u upload) ([]byte, error) {
		return s.drawnPart(r.Context(), u, r.URL.Query().Has("views"))
	})
}

// drawnPart reads the one file of a form and packs what the page shows of it.
func (s *server) drawnPart(ctx context.Context, u upload, views bool) (b []byte, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			s.Log.Printf("part: a fault of this program: %v\n%s", fault, debug.Stack())
			err = fmt.Errorf("a fault of this program, not of your file: %v; please report it with the file and version %s", fault, s.Version)
		}
	}()
	sent := append(u.of("old"), u.of("new")...)
	if len(sent) != 1 {
		return nil, errors.New("expected the file of one part")
	}
	loaded, units, err := s.Load(ctx, sent[0].path, sent[0].field == "new", flags(u.values, false))
	if err != nil {
		return nil, u.inOwnWords(err)
	}
	head := partHead{Name: sent[0].name, Warnings: append([]string{}, loaded.Warnings...)}
	if !loaded.Report.Closed {
		head.Warnings = append(head.Warnings, "the mesh is not closed and is refused as it is: see \u201c"+labelOf("repair")+"\u201d")
	}
	found := feature.Find(loaded.Mesh)
	where := placesOf(units, loaded.Mesh, &found)
	head.Places = append([]place{}, where.places...)
	box := loaded.Mesh.Bounds()
	head.Low, head.High = array(box.Min), array(box.Max)
	size := box.Size()
	unit, factor := units.Unit("mm", max(size.X, size.Y, size.Z))
	head.Size = fmt.Sprintf("%s x %s x %s %s", quantity.Short(factor*size.X, 4), quantity.Short(factor*size.Y, 4), quantity.Short(factor*size.Z, 4), unit)
	if views {
		return packedViews(units, head, loaded.Mesh, found.Holes)
	}
	return packedMesh(head, loaded.Mesh, where.owner)
}

// packedViews has the three views of a part in place of its triangles.
func packedViews(units quantity.System, head partHead, m *mesh.Mesh, holes []feature.Hole) ([]byte, error) {
	f := figure.ThreeViews(units, []figure.PartView{{Name: filepath.Base(head.Name), Mesh: m, Marks: figure.HoleNumbers(holes)}})
	svg, err := f.SVG()
	if err != nil {
		return nil, err
	}
	head.Views, head.ViewsAlt = "data:image/svg+xml;base64,"+base64.StdEncoding.EncodeToString(svg), f.Alt
	return newPacket(head)
}

func packedMesh(head partHead, m *mesh.Mesh, owner []int32) ([]byte, error) {
	edges := figure.SharpEdges(m)
	head.Vertices, head.Faces, head.Edges = len(m.Vertices), len(m.Faces), len(edges)
	b, err := newPacket(head)
	if err != nil {
		return nil, err
	}
	p := packet(b)
	p.vectors(m.Vertices)
	for _, f := range m.Faces {
		p.integers(f[:]...)
	}
	p.integers(owner...)
	for _, e := range edges {
		p.integers(e[:]...)
	}
	return p, nil
}
