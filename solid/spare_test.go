package solid

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// A bracket plate with a wide end: cantilever 120 x 60 x 10, held at the low end
// over a third of its height, loaded at the high end.
func sparePlate(t *testing.T, cut ...SpareRegion) *mesh.Mesh {
	t.Helper()
	outline := []r2.Vec{{}, {X: 120}, {X: 120, Y: 60}, {Y: 60}}
	cuts := []float64{0, 10}
	for _, r := range cut {
		cuts = append(cuts, r.Centre[2]-r.Size[2]/2, r.Centre[2]+r.Size[2]/2)
	}
	return stackOf(t, outline, cuts, cut)
}

// stackOf builds a plate in layers between heights, with boxes cut out.
func stackOf(t *testing.T, outline []r2.Vec, heights []float64, gone []SpareRegion) *mesh.Mesh {
	t.Helper()
	var layers []cut.Layer
	sorted := sortedHeights(heights)
	for i := 1; i < len(sorted); i++ {
		p := cut.Polygon{Outer: outline}
		mid := (sorted[i] + sorted[i-1]) / 2
		for _, r := range gone {
			if math.Abs(mid-r.Centre[2]) < r.Size[2]/2 {
				x, y, a, b := r.Centre[0], r.Centre[1], r.Size[0]/2, r.Size[1]/2
				p.Holes = append(p.Holes, []r2.Vec{{X: x - a, Y: y - b}, {X: x - a, Y: y + b}, {X: x + a, Y: y + b}, {X: x + a, Y: y - b}})
			}
		}
		layers = append(layers, cut.Layer{Region: cut.Region{p}, Thickness: sorted[i] - sorted[i-1]})
	}
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, sorted[0]), layers...)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func sortedHeights(h []float64) (out []float64) {
	for _, v := range h {
		at := 0
		for at < len(out) && out[at] < v-1e-9 {
			at++
		}
		if at < len(out) && math.Abs(out[at]-v) < 1e-9 {
			continue
		}
		out = append(out[:at], append([]float64{v}, out[at:]...)...)
	}
	return
}

func TestWhatARegionCostsIsWhatCuttingItOutCosts(t *testing.T) {
	t.Parallel()
	problem := func() Problem {
		low := Clamped(EndPlace(mesh.X, false))
		at := Inside(mesh.Box{Min: r3.Vec{X: 112, Y: 20}, Max: r3.Vec{X: 120, Y: 40, Z: 10}})
		return Problem{Supports: []Support{low}, Cases: []Case{
			{Name: "y", Loads: []Load{{Place: at, Force: r3.Vec{Y: 100}}}},
			{Name: "z", Loads: []Load{{Place: at, Force: r3.Vec{Z: 100}}}},
		}}
	}
	whole := sparePlate(t)
	r := solve(t, whole, alloy, problem(), Options{Unknowns: 60000, Spare: true})
	if r.Spare == nil || len(r.Spare.Regions) == 0 {
		t.Fatalf("no region: %+v", r.Spare)
	}
	t.Logf("share %.1f %%, %d unknowns", r.Spare.SharePercent, r.Spare.Unknowns)
	for i, region := range r.Spare.Regions {
		t.Logf("region at %.1f size %.1f from %s, %.1f g, carries %.2f %%, loss %.2f %% %.2f", region.Centre, region.Size, region.From, *region.Mass, region.Carries, region.Loss, region.ByCase)
		share := region.Volume / (120 * 60 * 10)
		if share > 0.03 || i > 0 {
			continue
		}
		again := solve(t, sparePlate(t, region), alloy, problem(), Options{Unknowns: 60000})
		loss := 0.0
		for n, c := range again.Cases {
			loss = max(loss, 100*(1-c.Stiffness/r.Cases[n].Stiffness))
		}
		t.Logf("cut out: loss %.2f %%", loss)
		if math.Abs(loss-region.Loss) > region.Loss/3 {
			t.Errorf("region %d at %v: estimate %.2f %%, cut out %.2f %%", i, region.Centre, region.Loss, loss)
		}
	}
}
