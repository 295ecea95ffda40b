package mesh

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"sync/atomic"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/files"
	"swapworth/internal/memory"
	"swapworth/internal/textwrap"
)

// Options says how a mesh file is read. The zero value reads millimetres and
// changes nothing about the mesh.
type Options struct {
	Unit Unit // of the file's coordinates; they are scaled to mm
	// Repair, when set, mends what can be mended, which Loaded lists. Package
	// mesh/repair has one.
	Repair Repairer
	// MaxTriangles bounds the size of a file that is read; 0 means
	// defaultMaxTriangles.
	MaxTriangles int
	// Progress, when set, is told now and then which share of a file of known
	// length has been read.
	Progress func(share float64)
	// Context, when set, ends reading and mending when it is done.
	Context context.Context

	room int64 // bytes that reading may take, for tests; 0 means what is free
}

// defaultMaxTriangles is a limit that a part of a machine does not meet; a
// mesh of that size takes about 12 GB of memory.
const defaultMaxTriangles = 100_000_000

// Loaded is a mesh with where it came from and what was found about it.
type Loaded struct {
	Path      string // as given; "standard input" for "-"
	SHA256    string // of the file as stored, in hexadecimal
	Format    string // "binary STL" or "ASCII STL", with ", gzip" when compressed
	Unit      Unit   // in which the coordinates were read
	Triangles int    // in the file
	Mesh      *Mesh  // in mm, after turning and repair
	Report    Report // of Mesh
	Turned    bool   // faces of the file, all or of some shells, looked inwards and were turned
	Repairs   []Repair
	Warnings  []string

	RepairTried bool // with Options.Repair, whatever came of it
}

// Load reads the STL file at path, or standard input when path is "-". Files
// compressed with gzip are recognised by their content. A closed mesh whose
// faces look inwards is turned, and so are faces that differ from their neighbours
// in nothing else, which Turned and a warning say; nothing else that could be meant
// otherwise is changed without Options.Repair. An open mesh is no error: see Report.
func Load(path string, opt Options) (*Loaded, error) {
	return LoadContext(opt.context(), path, opt)
}

func (o Options) context() context.Context {
	if o.Context == nil {
		return context.Background()
	}
	return o.Context
}

// LoadContext is Load that gives up reading when ctx is done.
func LoadContext(ctx context.Context, path string, opt Options) (*Loaded, error) {
	file, name, err := openFile(path)
	if err != nil {
		return nil, err
	}
	defer file.Close() // only read from
	return load(ctx, file, name, opt)
}

// stdinTaken is the standard input that a part was read from: it can be read
// once, and two parts may be read at the same time.
var stdinTaken atomic.Pointer[os.File]

// openFile opens a file to read, standard input for "-", and returns the name
// to show for it.
func openFile(path string) (file *os.File, name string, err error) {
	if path == "-" {
		if stdinTaken.Swap(os.Stdin) == os.Stdin {
			return nil, "", errors.New("standard input holds one part only: name a file for the other")
		}
		return os.Stdin, "standard input", nil
	}
	file, err = files.Open(path)
	return file, path, err
}

// LoadFrom reads an STL file from r; name stands for it in errors.
func LoadFrom(r io.Reader, name string, opt Options) (*Loaded, error) {
	return load(opt.context(), r, name, opt)
}

func load(ctx context.Context, r io.Reader, name string, opt Options) (*Loaded, error) {
	hash := sha256.New()
	c := &contents{free: cmp.Or(opt.room, memory.Free())}
	format, err := c.read(watched(ctx, r, opt), hash, cmp.Or(opt.MaxTriangles, defaultMaxTriangles))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", files.Show(name), err)
	}
	l := &Loaded{
		Path: name, SHA256: hex.EncodeToString(hash.Sum(nil)), Format: format,
		Unit: opt.Unit, Triangles: len(c.corners) / 3, Warnings: c.warnings,
		Mesh: weldFile(c.corners, opt.Unit), RepairTried: opt.Repair != nil,
	}
	c.corners = nil
	if err := l.examine(ctx, c.header, opt); err != nil {
		return nil, fmt.Errorf("%s: %w", files.Show(name), err)
	}
	return l, nil
}

// examine settles, mends where asked, turns and reports on the mesh that was read.
func (l *Loaded) examine(ctx context.Context, header []byte, opt Options) error {
	size := l.Mesh.Bounds().Size()
	largest := max(size.X, size.Y, size.Z)
	if err := senseless(largest, opt.Unit); err != nil {
		return err
	}
	m, edges, turned, said := settled(l.Mesh)
	l.Mesh, l.Turned = m, turned
	l.Warnings = append(l.Warnings, said...)
	if earlier, ok := mendedBefore(header, opt.Unit); ok {
		l.Repairs = append(l.Repairs, earlier)
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if opt.Repair != nil {
		l.repair(opt.Repair.Mend)
		edges = EdgesOf(l.Mesh)
	}
	before := l.Mesh
	l.Report = l.turnInsideOut(edges)
	if err := ctx.Err(); err != nil {
		return err
	}
	if opt.Repair != nil && l.Report.OverlapTotal > 0 {
		l.repair(opt.Repair.Unite)
		l.Report = Check(l.Mesh)
	}
	l.Warnings = append(l.Warnings, l.Report.overlapWarnings()...)
	if near := l.nearMisses(); near != "" {
		l.Warnings = append(l.Warnings, near)
	}
	if w := unitWarning(largest, opt.Unit); w != "" {
		l.Warnings = append(l.Warnings, w)
	}
	l.known(before, edges)
	if l.Report.Closed || l.Report.Balanced {
		l.Report.RoundingMM3 = roundingDoubt(l.Mesh)
		if w := l.roundingWarning(); w != "" {
			l.Warnings = append(l.Warnings, w)
		}
	}
	return nil
}

// roundingWarning says that a part lies so far from the origin that its file cannot
// hold it well.
func (l *Loaded) roundingWarning() string {
	volume := abs(l.signedVolume(l.Report))
	if l.Report.RoundingMM3 <= negligible*volume {
		return ""
	}
	b := l.Mesh.Bounds()
	return fmt.Sprintf("the part lies %.3g m from the origin, where the numbers of an STL file are up to %.2g mm apart: "+
		"that leaves its volume open by %.3g mm3; move it to the origin before it is exported",
		max(r3.Norm(b.Min), r3.Norm(b.Max))/1000, l.Mesh.rounding(), l.Report.RoundingMM3)
}

func (l *Loaded) repair(step func(*Mesh) (*Mesh, []Repair)) {
	var done []Repair
	l.Mesh, done = step(l.Mesh)
	l.Repairs = append(l.Repairs, done...)
}

// nearMisses says that corners at the gaps of a mesh nearly meet.
func (l *Loaded) nearMisses() string {
	if l.Report.OpenEdges == 0 {
		return ""
	}
	n, farthest := nearMisses(l.Mesh)
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("%s within %.2g mm of another without meeting it: --repair joins them",
		corners(n, "at a gap lies", "at gaps lie"), farthest)
}

// turnInsideOut turns what is closed and inside out, all of the mesh or the
// shells that lie beside the others, and returns the report of what is then. edges
// is the table of the mesh.
func (l *Loaded) turnInsideOut(edges *Edges) Report {
	report, b := checkEdges(l.Mesh, edges)
	if report.Balanced && l.signedVolume(report) < 0 {
		l.turn("the faces looked inwards: the mesh was turned right way round", func(int) bool { return true })
		report, b = CheckBodies(l.Mesh)
	}
	if out := report.insideOut(b); len(out) > 0 {
		l.turn(fmt.Sprintf("%s of %d looked inwards without lying in another and was turned right way round",
			textwrap.Counted(len(out), "shell"), len(report.Shells)), func(f int) bool { return b.Of[f] >= 0 && out[b.Of[f]] })
		report, _ = CheckBodies(l.Mesh)
	}
	return report
}

// overlapWarnings says which shells share space and what that does to the
// volume.
func (r Report) overlapWarnings() (list []string) {
	const most = 3
	for _, o := range r.Overlaps[:min(most, len(r.Overlaps))] {
		if inner, outer := o.Shells[1], o.Shells[0]; r.Shells[inner].Within {
			list = append(list, fmt.Sprintf("shell %d lies inside shell %d and looks outwards: taken for solid; "+
				"if it is a cavity, turn its faces, and the part has %.4g mm3 less",
				inner+1, outer+1, r.Shells[inner].VolumeMM3))
			continue
		}
		list = append(list, fmt.Sprintf("shells %d and %d share space near (%.4g, %.4g, %.4g) mm",
			o.Shells[0]+1, o.Shells[1]+1, o.At.X, o.At.Y, o.At.Z))
	}
	if more := r.OverlapTotal - most; more > 0 {
		list = append(list, fmt.Sprintf("%d more pairs of shells share space", more))
	}
	switch {
	case r.Through != nil:
		list = append(list, fmt.Sprintf("the surface passes through itself near (%.4g, %.4g, %.4g) mm: about %.3g mm3 are enclosed "+
			"more than once or inside out, so the volume is not to be trusted", r.Through.At.X, r.Through.At.Y, r.Through.At.Z, r.Through.WrongMM3))
	case r.OverlapTotal == 0:
	case r.Twice.Volume < 0:
		list = append(list, fmt.Sprintf("a shell that looks inwards reaches out of its body: what lies outside is not taken off, "+
			"which gives %.4g mm3 more than the faces add up to, give or take %.2g", -r.Twice.Volume, r.TwiceErrorMM3))
	default:
		list = append(list, fmt.Sprintf(
			"the volume counts the space that shells share more than once: %.4g mm3 too much, give or take %.2g",
			r.Twice.Volume, r.TwiceErrorMM3))
	}
	return list
}

// Volume returns the volume of a balanced mesh, in mm3, from that of its
// shells where they have one.
func (l *Loaded) signedVolume(report Report) (sum float64) {
	if !report.Closed {
		return l.Mesh.SignedVolume()
	}
	for _, s := range report.Shells {
		sum += s.VolumeMM3
	}
	return sum
}

// known keeps the edge table of the final mesh for those who ask for neighbours.
func (l *Loaded) known(before *Mesh, edges *Edges) {
	if l.Mesh == before {
		l.Mesh.across = edges.Opposite
	}
}

// turn turns the chosen faces and says so.
func (l *Loaded) turn(why string, chosen func(f int) bool) {
	turned := &Mesh{Vertices: l.Mesh.Vertices, Faces: make([][3]int32, len(l.Mesh.Faces))}
	for f, face := range l.Mesh.Faces {
		if chosen(f) {
			face = turnedFace(face)
		}
		turned.Faces[f] = face
	}
	l.Mesh, l.Turned = turned, true
	l.Warnings = append(l.Warnings, why)
}

// insideOut returns the shells of a sound mesh that look inwards and lie beside
// the others.
func (r Report) insideOut(b Bodies) map[int32]bool {
	out := map[int32]bool{}
	for i, s := range b.Shells {
		if r.Balanced && s.Closed && s.VolumeMM3 < 0 && !s.Cavity && !b.Shares[i] {
			out[int32(i)] = true
		}
	}
	return out
}
