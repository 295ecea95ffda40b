package mill

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/textwrap"
	"swapworth/mesh"
	"swapworth/mesh/asmade"
	"swapworth/mesh/cut"
)

// Lesser is something smaller than a redesign that may do as well: the stock
// part drilled or trimmed, or a bought plate. Hours and money are for all
// pieces.
type Lesser struct {
	Name    string     `json:"name"`
	Saved   float64    `json:"saved_g"` // all pieces together
	Hours   float64    `json:"hours"`
	Total   float64    `json:"total"`
	PerGram *float64   `json:"per_gram_saved"`
	Mesh    *mesh.Mesh `json:"-"` // the part after it; nil where its shape is not known
}

func (l Lesser) priced() Lesser {
	if l.Saved > 0 {
		perGram := l.Total / l.Saved
		l.PerGram = &perGram
	}
	return l
}

// Drilled returns what lightening holes in the stock part save: n holes of a
// diameter in mm, through the part along its milling axis. Where they go is not
// asked, so the section they weaken is not known either; the area they take may
// not exceed half of the part's outline. The stock part itself is the blank: the
// job's price of material does not count.
func Drilled(p asmade.Part, n int, diameter float64, profile Profile, j Job) (Lesser, error) {
	if n < 1 || !(diameter > 0) || math.IsInf(diameter, 0) {
		return Lesser{}, fmt.Errorf("%d lightening holes of %.4g mm: expected at least one and a diameter above 0", n, diameter)
	}
	thickness := frameOf(p, asmade.MillAxis(p)).Box(p.Mesh).Size().Z
	whole, err := Measure(p, profile, Plan{BlankThickness: thickness})
	if err != nil {
		return Lesser{}, err
	}
	each := math.Pi / 4 * diameter * diameter
	if taken := float64(n) * each; taken > whole.Outline/2 {
		return Lesser{}, fmt.Errorf("%d holes of %.4g mm take %.4g mm2, more than half of the part's outline of %.4g mm2", n, diameter, taken, whole.Outline)
	}
	// the mean thickness under the outline, pockets and holes counted in
	thick := whole.PartVolume / whole.Outline
	w := Work{Blank: whole.Part, SetUps: 1}
	for range n {
		w.Holes = append(w.Holes, HoleCut{Diameter: diameter, Depth: whole.Part[2]})
	}
	e, err := onStockPart(w, profile, j)
	if err != nil {
		return Lesser{}, err
	}
	return Lesser{
		Name:  fmt.Sprintf("stock part with %s of %.4g mm", textwrap.Counted(n, "hole"), diameter),
		Saved: float64(j.Count) * float64(n) * each * thick * j.Density * 1e-6,
		Hours: e.Hours, Total: e.Labour,
	}.priced(), nil
}

// Trimmed returns what cutting a strip off one side of the stock part saves.
// side is a unit vector, by the width of the strip in mm. The mesh of the trimmed
// part comes with it.
func Trimmed(p asmade.Part, side r3.Vec, by float64, profile Profile, j Job) (Lesser, error) {
	high := math.Inf(-1)
	low := math.Inf(1)
	for _, v := range p.Mesh.Vertices {
		h := r3.Dot(v, side)
		low, high = min(low, h), max(high, h)
	}
	if !(by > 0) || by >= high-low {
		return Lesser{}, fmt.Errorf("trimming %.4g mm off a part %.4g mm long that way: expected more than 0 and less than the part", by, high-low)
	}
	plane, err := mesh.PlaneFromNormal(r3.Scale(high-by, side), side)
	if err != nil {
		return Lesser{}, fmt.Errorf("trimming: %w", err)
	}
	rest, err := cut.Clip(p.Mesh, plane)
	if err != nil {
		return Lesser{}, fmt.Errorf("trimming: %w", err)
	}
	edge, err := cut.Section(p.Mesh, plane)
	if err != nil {
		return Lesser{}, fmt.Errorf("trimming: %w", err)
	}
	box := edge.Bounds()
	long, deep := box.Max.X-box.Min.X, box.Max.Y-box.Min.Y
	if deep > long {
		long, deep = deep, long
	}
	w := Work{SetUps: 1, ContourLength: long, ContourDepth: deep}
	e, err := onStockPart(w, profile, j)
	if err != nil {
		return Lesser{}, err
	}
	removed := p.Mesh.SignedVolume() - rest.SignedVolume()
	return Lesser{
		Name:  fmt.Sprintf("stock part trimmed by %.4g mm", by),
		Saved: float64(j.Count) * removed * j.Density * 1e-6,
		Hours: e.Hours, Total: e.Labour, Mesh: rest,
	}.priced(), nil
}

// onStockPart estimates work on parts that are there already: no stock to buy.
func onStockPart(w Work, profile Profile, j Job) (Estimate, error) {
	j.PricePerKg, j.Quoted, j.Made = 0, nil, true
	return Make(w, profile, j)
}

// Bought returns what a bought part of known mass in g saves over the stock
// part, price in money a piece; it takes no hours.
func Bought(name string, stockGrams, boughtGrams, price float64, count int) (Lesser, error) {
	if !(boughtGrams > 0) || !(price >= 0) || count < 1 {
		return Lesser{}, fmt.Errorf("bought part %q of %.4g g at %.4g: expected a mass above 0, a price of 0 or more and at least one piece", name, boughtGrams, price)
	}
	return Lesser{
		Name: name, Saved: float64(count) * (stockGrams - boughtGrams), Total: float64(count) * price,
	}.priced(), nil
}
