package page

import (
	"fmt"
	"math"
	"net/http"
	"path/filepath"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/note/figure"
	"swapworth/quantity"
	"swapworth/solid"
	"swapworth/swap"
)

// drawn is a part as its solution moves it, for the view.
type drawn struct {
	name  string
	sent  int // which redesign it is in the form's order; -1 for the stock part
	part  swap.Drawn
	units quantity.System
	times float64 // the movement is enlarged, one value for all parts of an answer
	peak  float64 // MPa, the end of the scale, the same
}

// shown says which parts of an answer the view can show.
type shown struct {
	Part int    `json:"part"` // of the answer
	Sent int    `json:"sent"` // -1 for the stock part, else the number of the redesign's file
	Name string `json:"name"`
}

func (d drawn) head(i int) shown { return shown{i, d.sent, d.name} }

// drawings are the parts of results that were solved in three dimensions; the stock
// part once.
func drawings(names []string, results ...swap.Result) (all []drawn) {
	var loaded []figure.LoadedPart
	add := func(units quantity.System, name string, sent int, p swap.Drawn) {
		if p.Shape != nil {
			all = append(all, drawn{name: name, sent: sent, part: p, units: units})
			loaded = append(loaded, figure.LoadedPart{Mesh: p.Mesh, Shape: p.Shape})
		}
	}
	for i, r := range results {
		if r.Drawing == nil {
			continue
		}
		if i == 0 {
			add(r.Units, "stock part", -1, r.Drawing.Old)
		}
		add(r.Units, filepath.Base(r.New.File), slices.Index(names, r.New.File), r.Drawing.New)
	}
	if len(all) == 0 {
		return nil
	}
	times, peak := figure.Enlargement(loaded), 0.0
	for _, d := range all {
		peak = max(peak, slices.Max(append([]float64{0}, d.part.Shape.Stress...)))
	}
	for i := range all {
		all[i].times, all[i].peak = times, peak
	}
	return all
}

// drawnHead says what the numbers after it are: points and their movement, three
// float32 each, stress and strain energy as shares of the ramp, one each, then the
// corners of the faces, uint32, and the edges: both ends of all at rest, three float32
// each, and the movement of these.
type drawnHead struct {
	Name   string      `json:"name"`
	Low    [3]float64  `json:"low"`
	High   [3]float64  `json:"high"`
	Points int         `json:"points"`
	Faces  int         `json:"faces"`
	Edges  int         `json:"edges"`
	Times  float64     `json:"times"` // the movement is shown enlarged
	Said   string      `json:"said"`
	Ramp   []string    `json:"ramp"` // colours, from nothing to the end of the scale
	Scales []scale     `json:"scales"`
	Holes  []holeMark  `json:"holes"`
	Signs  []signShown `json:"signs"`
}

// scale is the legend of one quantity.
type scale struct {
	Title string            `json:"title"`
	Marks []figure.RampMark `json:"marks"`
}

type holeMark struct {
	Number int    `json:"number"`
	Ends   []mark `json:"ends"`
}

// signShown is a hold or a load where the solution has it.
type signShown struct {
	Kind  string     `json:"kind"` // hold, force, moment or pressure
	At    [3]float64 `json:"at"`
	Along [3]float64 `json:"along"`
}

// shape sends one part of a kept answer for the view.
func (s *server) shape(w http.ResponseWriter, r *http.Request) {
	a, ok := s.kept.get(r.PathValue("id"))
	n, err := strconv.Atoi(r.PathValue("part"))
	if !ok || err != nil || n < 0 || n >= len(a.drawn) {
		http.Error(w, "there is no such answer here any more; compare again", http.StatusNotFound)
		return
	}
	b, err := a.drawn[n].packed()
	if err != nil {
		s.Log.Printf("shape: %v", err)
		http.Error(w, "the part cannot be shown", http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "application/octet-stream")
	_, _ = w.Write(b) // a browser that has gone away needs no answer
}

func (d drawn) packed() ([]byte, error) {
	m, shape := d.part.Mesh, d.part.Shape
	edges := figure.SharpEdges(m)
	box := m.Bounds()
	energy := figure.EnergyMarks()
	energy[len(energy)-1].Text = "10" // the title says of what
	head := drawnHead{
		Name: d.name, Low: array(box.Min), High: array(box.Max),
		Points: len(shape.Points), Faces: len(shape.Faces), Edges: len(edges), Times: d.times, Said: d.said(), Ramp: figure.Ramp(),
		Scales: []scale{
			{"Equivalent stress under the first load case", figure.StressMarks(d.units, d.peak)},
			{"Strain energy, times its mean in the part: what is light carries little", energy},
		},
		Holes: []holeMark{}, Signs: signsOf(d.part.Held),
	}
	for _, h := range d.part.Holes {
		p := holePlace(d.units, h)
		head.Holes = append(head.Holes, holeMark{h.Number, p.Ends})
	}
	b, err := newPacket(head)
	if err != nil {
		return nil, err
	}
	p := packet(b)
	p.vectors(shape.Points)
	p.vectors(shape.Moves)
	for _, v := range shape.Stress {
		p.floats(v / max(d.peak, math.SmallestNonzeroFloat32))
	}
	for _, v := range shape.Energy {
		p.floats(min(figure.EnergyShare(v), 1))
	}
	for _, f := range shape.Faces {
		p.integers(f[:]...)
	}
	ends := make([]r3.Vec, 0, 2*len(edges))
	for _, e := range edges {
		ends = append(ends, m.Vertices[e[0]], m.Vertices[e[1]])
	}
	p.vectors(ends)
	p.vectors(movesAt(ends, shape))
	return p, nil
}

// movesAt are the movements of points that the solved surface has too: corners of the
// mesh, carried through the axes of the solution and back.
func movesAt(points []r3.Vec, shape *solid.Deflected) []r3.Vec {
	const cell = 1e-4 // mm, far above rounding and far below the distance of two corners
	key := func(v r3.Vec) [3]int64 {
		return [3]int64{int64(math.Round(v.X / cell)), int64(math.Round(v.Y / cell)), int64(math.Round(v.Z / cell))}
	}
	known := make(map[[3]int64]r3.Vec, len(shape.Points))
	for i, q := range shape.Points {
		known[key(q)] = shape.Moves[i]
	}
	moves := make([]r3.Vec, len(points))
	for i, q := range points {
		moves[i] = known[key(q)]
	}
	return moves
}

// said is the part's answer in a line.
func (d drawn) said() string {
	largest, peak := 0.0, 0.0
	for i, v := range d.part.Shape.Moves {
		largest = max(largest, math.Sqrt(v.X*v.X+v.Y*v.Y+v.Z*v.Z))
		peak = max(peak, d.part.Shape.Stress[i])
	}
	return d.units.Text(fmt.Sprintf("it moves by %s mm at most; the stress at its surface reaches %s MPa", quantity.Number(largest, 3), quantity.Number(peak, 3)))
}

// signsOf are the holds and loads of a solved case.
func signsOf(held *solid.CaseResult) (out []signShown) {
	out = []signShown{}
	if held == nil {
		return out
	}
	kinds := map[figure.SignKind]string{figure.SignHold: "hold", figure.SignForce: "force", figure.SignMoment: "moment", figure.SignPressure: "pressure"}
	for _, s := range figure.SignsOf(*held) {
		out = append(out, signShown{kinds[s.Kind], array(s.At), array(s.Along)})
	}
	return out
}
