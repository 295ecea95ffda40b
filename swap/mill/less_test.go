package mill

import (
	"math"
	"testing"

	"swapworth/mesh"
	"swapworth/mesh/asmade"

	"gonum.org/v1/gonum/spatial/r3"
)

func bar(t *testing.T) asmade.Part {
	t.Helper()
	return asmade.Read(mesh.Cuboid(r3.Vec{}, r3.Vec{X: 100, Y: 40, Z: 5}))
}

func TestDrillingTheStockPart(t *testing.T) {
	job := Job{Count: 2, Family: "aluminium", Density: 2700, PricePerKg: 10, HourlyValue: 30}
	l, err := Drilled(bar(t), 6, 10, BenchTop(), job)
	if err != nil {
		t.Fatal(err)
	}
	// two parts with 6 bores of pi/4 100 mm2 through 5 mm
	within(t, "saved", l.Saved, 2*6*math.Pi/4*100*5*2700e-6, 1e-9)
	if l.Total <= 0 || math.Abs(l.Total-30*l.Hours) > 1e-9 || math.Abs(*l.PerGram-l.Total/l.Saved) > 1e-12 {
		t.Errorf("%+v", l)
	}
	if _, err := Drilled(bar(t), 60, 10, BenchTop(), job); err == nil {
		t.Error("drilled away more than half of the part")
	}
}

func TestTrimmingTheStockPart(t *testing.T) {
	job := Job{Count: 1, Family: "aluminium", Density: 2700, HourlyValue: 30}
	l, err := Trimmed(bar(t), r3.Vec{X: 1}, 12, BenchTop(), job)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "saved", l.Saved, 12*40*5*2700e-6, 1e-9)
	within(t, "rest", l.Mesh.SignedVolume(), 88*40*5, 1e-9)
	if _, err := Trimmed(bar(t), r3.Vec{X: 1}, 100, BenchTop(), job); err == nil {
		t.Error("trimmed the whole part away")
	}
}

func TestABoughtPlate(t *testing.T) {
	l, err := Bought("carbon plate", 60, 35, 24, 2)
	if err != nil {
		t.Fatal(err)
	}
	if l.Saved != 50 || l.Total != 48 || *l.PerGram != 0.96 || l.Hours != 0 {
		t.Errorf("%+v", l)
	}
	heavier, err := Bought("steel plate", 60, 90, 5, 1)
	if err != nil || heavier.PerGram != nil {
		t.Errorf("a heavier plate has a price of a saved gram: %+v", heavier)
	}
}
