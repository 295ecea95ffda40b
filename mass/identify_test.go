package mass_test

import (
	"fmt"
	"math"
	"testing"

	"swapworth/internal/property"
	"swapworth/mass"
	"swapworth/materials"
	"swapworth/mesh"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func yes(v bool) *bool { return &v }

// carriagePlate is the measured density of a 41366 mm3 plate on a 1 g scale.
func carriagePlate(grams float64) materials.Range {
	return mass.DensityOf(mass.Weighing{Grams: grams, Resolution: 1}.Range(), materials.Exactly(41366))
}

func TestAPlateWeighedAt112GramsIsAluminiumAndNotSteel(t *testing.T) {
	table := materials.Default()
	found := mass.Identify(carriagePlate(112), table, mass.Observation{})
	if found[0].Family != "aluminium" || found[0].Match != 1 {
		t.Errorf("best is %+v", found[0])
	}
	for _, c := range found {
		if c.Material == "S235" && c.Match != 0 {
			t.Errorf("steel matches by %g", c.Match)
		}
	}
	if len(found) != len(table.All()) {
		t.Errorf("%d of %d materials listed", len(found), len(table.All()))
	}
}

func TestAMagnetTellsSteelFromStainless(t *testing.T) {
	table := materials.Default()
	weight := carriagePlate(325) // 7857 kg/m3: both fit
	for magnet, families := range map[bool][]string{
		true:  {"structural steel", "alloy steel", "tool steel"},
		false: {"stainless steel"},
	} {
		found := mass.Identify(weight, table, mass.Observation{Magnet: yes(magnet)})
		for _, c := range found {
			m, err := table.Find(c.Material)
			if err != nil || m.Magnet.Holds != magnet {
				t.Errorf("magnet %v: %s is listed", magnet, c.Material)
			}
		}
		ok := false
		for _, f := range families {
			ok = ok || found[0].Family == f
		}
		if !ok || found[0].Match == 0 {
			t.Errorf("magnet %v: best is %+v", magnet, found[0])
		}
	}
}

func TestColourTellsBrassFromSteelAndCopper(t *testing.T) {
	// 8470 kg/m3 is near neither, but 350 g on a 25 g scale leaves all three open.
	density := mass.DensityOf(mass.Weighing{Grams: 350, Resolution: 50}.Range(), materials.Exactly(41366))
	for colour, family := range map[string]string{"yellow": "brass", "red": "copper"} {
		found := mass.Identify(density, materials.Default(), mass.Observation{Colour: colour})
		for _, c := range found {
			if c.Family == "structural steel" {
				t.Errorf("%s: %s is listed", colour, c.Material)
			}
		}
		listed := false
		for _, c := range found {
			listed = listed || c.Family == family && c.Match > 0
		}
		if !listed {
			t.Errorf("%s: no %s among %v", colour, family, found[:5])
		}
	}
}

func TestMatchIsTheOverlapOverTheShorterInterval(t *testing.T) {
	r := func(low, high float64) materials.Range {
		return materials.Range{Low: low, Nominal: (low + high) / 2, High: high}
	}
	for _, c := range []struct {
		a, b materials.Range
		want float64
	}{
		{r(0, 10), r(5, 25), 0.5},
		{r(0, 10), r(2, 4), 1},
		{r(2, 4), r(0, 10), 1},
		{r(0, 10), r(11, 12), 0},
		{r(0, 10), r(10, 12), 0},
		{r(5, 5), r(0, 10), 1},
		{r(0, 10), r(10, 10), 1},
		{r(11, 11), r(0, 10), 0},
		{r(5, 5), r(5, 5), 1},
		{r(5, 5), r(6, 6), 0},
	} {
		if got := mass.Match(c.a, c.b); math.Abs(got-c.want) > 1e-15 {
			t.Errorf("%v on %v: %g, want %g", c.a, c.b, got, c.want)
		}
	}
}

func TestMatchIsSymmetricAndBounded(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		draw := func(name string) materials.Range {
			low := rapid.Float64Range(100, 9000).Draw(t, name)
			return materials.Range{Low: low, Nominal: low, High: low + rapid.Float64Range(0, 2000).Draw(t, name+" width")}
		}
		a, b := draw("a"), draw("b")
		x, y := mass.Match(a, b), mass.Match(b, a)
		if x != y || !(x >= 0 && x <= 1) {
			t.Fatalf("%v on %v: %g and %g", a, b, x, y)
		}
		if mass.Match(a, a) != 1 {
			t.Fatalf("%v does not match itself", a)
		}
	})
}

func TestOfEqualMatchesTheNearerNominalComesFirst(t *testing.T) {
	found := mass.Identify(materials.Range{Low: 1000, Nominal: 2650, High: 9000}, materials.Default(), mass.Observation{})
	for i := 1; i < len(found); i++ {
		a, b := found[i-1], found[i]
		if a.Match < b.Match || a.Match == b.Match &&
			math.Abs(a.Density.Nominal-2650) > math.Abs(b.Density.Nominal-2650) {
			t.Fatalf("%+v before %+v", a, b)
		}
	}
}

func TestTheScaleAndTheVolumeWidenTheDensity(t *testing.T) {
	got := mass.DensityOf(mass.Weighing{Grams: 65, Resolution: 1}.Range(),
		materials.Range{Low: 23900, Nominal: 24000, High: 24200})
	want := materials.Range{Low: 64.5 / 24200e-6, Nominal: 65 / 24000e-6, High: 65.5 / 23900e-6}
	for _, c := range [][2]float64{{got.Low, want.Low}, {got.Nominal, want.Nominal}, {got.High, want.High}} {
		if relative(c[0], c[1]) > 1e-14 {
			t.Errorf("got %v, want %v", got, want)
		}
	}
}

func ExampleIdentify() {
	p := mass.Of(mesh.Cuboid(r3.Vec{}, r3.Vec{X: 120, Y: 40, Z: 5}))
	weighed := mass.Weighing{Grams: 65, Resolution: 1}.Range()
	density := mass.DensityOf(weighed, mass.VolumeRange(p, nil))
	magnet := false
	best := mass.Identify(density, materials.Default(), mass.Observation{Magnet: &magnet})[0]
	fmt.Printf("%.0f to %.0f kg/m3: %s, match %.1f\n", density.Low, density.High, best.Family, best.Match)
	// Output: 2688 to 2729 kg/m3: aluminium, match 1.0
}
