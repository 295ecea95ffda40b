package note

import (
	"fmt"

	"swapworth/mesh"
	"swapworth/note/render"
	"swapworth/quantity"
)

// MeshReport is what `mesh` prints of one file, with its stable JSON keys. A
// volume is nil where the faces do not close.
type MeshReport struct {
	File           string       `json:"file"`
	SHA256         string       `json:"sha256"`
	Format         string       `json:"format"`
	Unit           string       `json:"unit"`
	Triangles      int          `json:"triangles"` // in the file
	Faces          int          `json:"faces"`     // after repair
	Vertices       int          `json:"vertices"`
	Size           [3]float64   `json:"size_mm"`
	Closed         bool         `json:"closed"`
	Balanced       bool         `json:"balanced"` // the volume is definite, though bodies may touch along edges
	Turned         bool         `json:"turned"`   // the file's faces looked inwards
	Volume         *float64     `json:"volume_mm3"`
	OpenEdges      int          `json:"open_edges"`
	OverusedEdges  int          `json:"overused_edges"`
	FlippedEdges   int          `json:"flipped_edges"`
	ZeroAreaFaces  int          `json:"zero_area_faces"`
	DuplicateFaces int          `json:"duplicate_faces"`
	GapCount       int          `json:"gap_count"`
	Gaps           []MeshGap    `json:"gaps"` // the largest, when there are many
	Faults         []MeshFault  `json:"faults"`
	ShellCount     int          `json:"shell_count"`
	Shells         []MeshShell  `json:"shells"`        // the largest, when there are many
	Intersections  []MeshPlace  `json:"intersections"` // the first, when there are many
	CrossingPairs  int          `json:"intersection_count"`
	Overlaps       []MeshPair   `json:"overlaps"` // the first, when there are many
	OverlapPairs   int          `json:"overlap_count"`
	Union          *MeshUnion   `json:"union"` // nil where no shells overlap
	Through        bool         `json:"passes_through_itself"`
	Repairs        []MeshRepair `json:"repairs"`
	Warnings       []string     `json:"warnings"`
}

// MeshGap is a connected run of open edges.
type MeshGap struct {
	At    [3]float64 `json:"at_mm"`
	Edges int        `json:"edges"`
}

// MeshFault is the first place of one kind of fault.
type MeshFault struct {
	What string     `json:"what"`
	At   [3]float64 `json:"at_mm"`
}

// MeshShell is one connected body.
type MeshShell struct {
	Faces  int        `json:"faces"`
	Closed bool       `json:"closed"`
	Volume *float64   `json:"volume_mm3"`
	Cavity bool       `json:"cavity"`
	Min    [3]float64 `json:"min_mm"`
	Max    [3]float64 `json:"max_mm"`
}

// MeshPlace is where two faces, numbered from 1, pass through each other.
type MeshPlace struct {
	Faces [2]int     `json:"faces"`
	At    [3]float64 `json:"at_mm"`
}

// MeshPair is two shells, numbered from 1 as they are listed, that share space.
type MeshPair struct {
	Shells [2]int     `json:"shells"`
	At     [3]float64 `json:"at_mm"`
}

// MeshUnion is the volume of what shells that overlap fill together, and its
// uncertainty.
type MeshUnion struct {
	Volume float64 `json:"volume_mm3"`
	Error  float64 `json:"error_mm3"`
}

// MeshRepair is one thing that was changed.
type MeshRepair struct {
	What        string     `json:"what"`
	At          [3]float64 `json:"at_mm"`
	AddedArea   float64    `json:"added_area_mm2"`
	AddedVolume float64    `json:"added_volume_mm3"`
	Less        float64    `json:"less_volume_mm3"` // the true volume may be so much less
	More        float64    `json:"more_volume_mm3"`
	Earlier     bool       `json:"earlier"` // before this file was written; where is not known
}

// maxListed bounds the shells and repairs of a report.
const maxListed = 100

// NewMeshReport lays out what was found about a mesh, and looks for faces that
// pass through each other.
func NewMeshReport(l *mesh.Loaded) MeshReport {
	r := l.Report
	report := MeshReport{
		File: l.Path, SHA256: l.SHA256, Format: l.Format, Unit: l.Unit.String(),
		Triangles: l.Triangles, Faces: len(l.Mesh.Faces), Vertices: len(l.Mesh.Vertices),
		Size: coordinates(l.Mesh.Bounds().Size()), Closed: r.Closed, Balanced: r.Balanced, Turned: l.Turned,
		OpenEdges: r.OpenEdges, OverusedEdges: r.OverusedEdges, FlippedEdges: r.FlippedEdges,
		ZeroAreaFaces: r.ZeroAreaFaces, DuplicateFaces: r.DuplicateFaces,
		GapCount: r.GapTotal, ShellCount: len(r.Shells), OverlapPairs: r.OverlapTotal,
		Gaps: []MeshGap{}, Faults: []MeshFault{}, Shells: []MeshShell{}, Repairs: []MeshRepair{},
		Intersections: []MeshPlace{}, Overlaps: []MeshPair{},
		Warnings: append([]string{}, l.Warnings...),
	}
	if r.Closed || r.Balanced {
		report.Volume = new(l.Mesh.SignedVolume())
		if len(r.Overlaps) > 0 {
			report.Union = &MeshUnion{*report.Volume - r.Twice.Volume, r.TwiceErrorMM3}
		}
	}
	report.Through = r.Through != nil
	for _, o := range r.Overlaps {
		report.Overlaps = append(report.Overlaps,
			MeshPair{[2]int{o.Shells[0] + 1, o.Shells[1] + 1}, coordinates(o.At)})
	}
	var crossings []mesh.Intersection
	crossings, report.CrossingPairs = mesh.Intersections(l.Mesh)
	for _, x := range crossings {
		report.Intersections = append(report.Intersections,
			MeshPlace{[2]int{x.Faces[0] + 1, x.Faces[1] + 1}, coordinates(x.At)})
	}
	for _, g := range r.Gaps {
		report.Gaps = append(report.Gaps, MeshGap{coordinates(g.At), g.Edges})
	}
	for _, f := range r.Faults {
		report.Faults = append(report.Faults, MeshFault{f.What, coordinates(f.At)})
	}
	for _, s := range r.Shells[:min(len(r.Shells), maxListed)] {
		report.Shells = append(report.Shells, newMeshShell(s))
	}
	for _, p := range l.Repairs {
		less, more := p.Doubt()
		report.Repairs = append(report.Repairs,
			MeshRepair{p.What, coordinates(p.At), p.AddedAreaMM2, p.AddedVolumeMM3, less, more, p.Earlier})
	}
	return report
}

func newMeshShell(s mesh.Shell) MeshShell {
	shell := MeshShell{
		Faces: s.Faces, Closed: s.Closed, Cavity: s.Cavity,
		Min: coordinates(s.Box.Min), Max: coordinates(s.Box.Max),
	}
	if s.Closed {
		shell.Volume = &s.VolumeMM3
	}
	return shell
}

// Document lays the report out for reading.
func (r MeshReport) Document() render.Document {
	d := render.Document{Title: "Mesh of " + r.File, Lead: []render.Line{r.lead()}}
	for _, w := range r.Warnings {
		d.Lead = append(d.Lead, render.Line{Text: "Warning: " + w + ".", Tone: render.Caution})
	}
	d.Blocks = append(d.Blocks, r.counts(), r.bodies())
	for _, t := range []render.Table{r.gaps(), r.faults(), r.intersections(), r.repairs()} {
		if len(t.Rows) > 0 {
			d.Blocks = append(d.Blocks, t)
		}
	}
	d.Blocks = append(d.Blocks, render.Detail{Block: render.Lines{Title: "File", Lines: []render.Line{
		{Text: "SHA-256 " + r.SHA256}, {Text: r.Format + ", read in " + r.Unit},
	}}})
	return d
}

func (r MeshReport) lead() render.Line {
	switch {
	case r.Through:
		return render.Line{Text: "The surface passes through itself: what it encloses is not clear, its volume is not to be trusted.", Tone: render.Bad}
	case r.Closed && r.CrossingPairs > 0:
		return render.Line{Text: "The mesh is closed, but faces pass through each other: its volume may count space more than once.", Tone: render.Caution}
	case r.Closed && len(r.Overlaps) > 0:
		return render.Line{Text: "The mesh is closed, but shells overlap: its volume counts space more than once.", Tone: render.Caution}
	case r.Closed:
		return render.Line{Text: "The mesh is closed: it bounds a solid.", Tone: render.Good}
	case r.Balanced:
		return render.Line{Text: "Bodies of the mesh touch along edges: its volume is definite, its strength there is not.", Tone: render.Caution}
	}
	return render.Line{Text: "The mesh is not closed: it has no definite volume. " + r.nextStep(), Tone: render.Bad}
}

func (r MeshReport) nextStep() string {
	if len(r.Repairs) > 0 {
		return "What is left needs the modelling program."
	}
	return "--repair may mend it."
}

func (r MeshReport) counts() render.Table {
	row := func(what string, n int) []string { return []string{what, fmt.Sprint(n)} }
	t := render.Table{Header: []string{"measure", "value"}, Rows: [][]string{
		row("triangles in the file", r.Triangles),
		row("vertices", r.Vertices),
		{"size, mm", vector(r.Size, " x ")},
		{"volume, mm3", optional(r.Volume, 7)},
		row("open edges (one face)", r.OpenEdges),
		row("edges of more than two faces", r.OverusedEdges),
		row("edges between faces that look opposite ways", r.FlippedEdges),
		row("faces without area", r.ZeroAreaFaces),
		row("faces that are there twice", r.DuplicateFaces),
		row("gaps", r.GapCount),
		row("pairs of faces that pass through each other", r.CrossingPairs),
		row("shells", r.ShellCount),
	}}
	if r.Union != nil {
		t.Rows = append(t.Rows, []string{"volume with shared space counted once, mm3",
			quantity.Number(r.Union.Volume, 6) + " +- " + quantity.Number(r.Union.Error, 2)})
	}
	return t
}

// shown bounds the rows of a list in a table.
const shown = 10

func (r MeshReport) bodies() render.Table {
	t := render.Table{
		Title:  titled("Shells, largest first", r.ShellCount),
		Header: []string{"shell", "kind", "faces", "volume, mm3", "box from, mm", "box to, mm"},
		Align:  "llrrrr",
	}
	for i, s := range r.Shells[:min(len(r.Shells), shown)] {
		t.Rows = append(t.Rows, []string{fmt.Sprint(i + 1), s.kind(), fmt.Sprint(s.Faces),
			optional(s.Volume, 6), vector(s.Min, ", "), vector(s.Max, ", ")})
	}
	return t
}

func (s MeshShell) kind() string {
	switch {
	case !s.Closed:
		return "open"
	case s.Cavity:
		return "cavity"
	case *s.Volume < 0:
		return "inside out"
	}
	return "body"
}

func (r MeshReport) gaps() render.Table {
	t := render.Table{Title: titled("Gaps, longest first", r.GapCount), Header: []string{"middle at, mm", "edges"}}
	for _, g := range r.Gaps[:min(len(r.Gaps), shown)] {
		t.Rows = append(t.Rows, []string{vector(g.At, ", "), fmt.Sprint(g.Edges)})
	}
	return t
}

func (r MeshReport) faults() render.Table {
	t := render.Table{Title: "First place of each fault", Header: []string{"fault", "at, mm"}}
	for _, f := range r.Faults {
		t.Rows = append(t.Rows, []string{f.What, vector(f.At, ", ")})
	}
	return t
}

func (r MeshReport) intersections() render.Table {
	t := render.Table{
		Title:  titled("Faces that pass through each other", r.CrossingPairs),
		Header: []string{"faces", "at, mm"},
	}
	for _, x := range r.Intersections[:min(len(r.Intersections), shown)] {
		t.Rows = append(t.Rows, []string{fmt.Sprintf("%d, %d", x.Faces[0], x.Faces[1]), vector(x.At, ", ")})
	}
	return t
}

func (r MeshReport) repairs() render.Table {
	t := render.Table{
		Title:  titled("Repairs", len(r.Repairs)),
		Header: []string{"what was done", "at, mm", "area added, mm2", "volume in doubt, mm3"},
	}
	for _, p := range r.Repairs[:min(len(r.Repairs), shown)] {
		doubt := quantity.Number(p.More, 4)
		if p.Less != p.More {
			doubt = fmt.Sprintf("-%s to +%s", quantity.Number(p.Less, 4), doubt)
		}
		at := vector(p.At, ", ")
		if p.Earlier {
			at = missing
		}
		t.Rows = append(t.Rows, []string{p.What, at, quantity.Number(p.AddedArea, 4), doubt})
	}
	return t
}

// titled adds to a title that a list is longer than what is shown of it.
func titled(title string, count int) string {
	if count > shown {
		return fmt.Sprintf("%s (%d of %d)", title, shown, count)
	}
	return title
}

// StreamReport is what `mesh --stream` prints of one file.
type StreamReport struct {
	File      string     `json:"file"`
	SHA256    string     `json:"sha256"`
	Format    string     `json:"format"`
	Unit      string     `json:"unit"`
	Triangles int64      `json:"triangles"`
	Balanced  bool       `json:"balanced"`
	Turned    bool       `json:"turned"`
	Volume    *float64   `json:"volume_mm3"` // nil where faces are missing, doubled or turned
	Area      float64    `json:"area_mm2"`
	Size      [3]float64 `json:"size_mm"`
	Min       [3]float64 `json:"min_mm"`
	Max       [3]float64 `json:"max_mm"`
	Warnings  []string   `json:"warnings"`
}

// NewStreamReport lays out what one pass over a file told.
func NewStreamReport(s *mesh.Streamed) StreamReport {
	r := StreamReport{
		File: s.Path, SHA256: s.SHA256, Format: s.Format, Unit: s.Unit.String(), Triangles: s.Triangles,
		Balanced: s.Balanced, Turned: s.Turned, Area: s.AreaMM2,
		Size: coordinates(s.Box.Size()), Min: coordinates(s.Box.Min), Max: coordinates(s.Box.Max),
		Warnings: append([]string{}, s.Warnings...),
	}
	if s.Balanced {
		r.Volume = &s.VolumeMM3
	}
	return r
}

// Document lays the report out for reading.
func (r StreamReport) Document() render.Document {
	lead := render.Line{Text: "Every edge is used as often one way as the other: the volume is definite.", Tone: render.Good}
	if !r.Balanced {
		lead = render.Line{Text: "Edges do not match: the mesh has no definite volume. Without --stream, mesh says where.", Tone: render.Bad}
	}
	d := render.Document{Title: "Mesh of " + r.File, Lead: []render.Line{lead}}
	for _, w := range r.Warnings {
		d.Lead = append(d.Lead, render.Line{Text: "Warning: " + w + ".", Tone: render.Caution})
	}
	d.Blocks = []render.Block{
		render.Table{Header: []string{"measure", "value"}, Rows: [][]string{
			{"triangles in the file", fmt.Sprint(r.Triangles)},
			{"size, mm", vector(r.Size, " x ")},
			{"box from, mm", vector(r.Min, ", ")},
			{"box to, mm", vector(r.Max, ", ")},
			{"volume, mm3", optional(r.Volume, 7)},
			{"area, mm2", quantity.Number(r.Area, 7)},
		}},
		render.Detail{Block: render.Lines{Title: "File", Lines: []render.Line{{Text: "SHA-256 " + r.SHA256}, {Text: r.Format + ", read in " + r.Unit}}}},
	}
	return d
}
