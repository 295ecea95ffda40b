package joint

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
	"swapworth/mesh/feature"
)

// ISO 4032:1999, table 1, dw least; ISO 4762, dw least of M5 (geartoolkit.com/standard/iso/
// iso-4762). ASME B18.2.2: 7/16 in across flats of a 1/4 nut, from memory.
func TestSeatsAreBearingDiametersNotWidthsAcrossFlats(t *testing.T) {
	for text, want := range map[string]float64{"M3": 4.6, "M4": 5.9, "M5": 6.9, "M6": 8.9, "M8": 11.6, "M10": 14.6, "M12": 16.6, "M16": 22.5, "1/4-20": 0.95 * 11.11} {
		if got := seatDiameter(thread(t, text), false); math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %.2f mm, want %g", text, got, want)
		}
	}
	if got := seatDiameter(thread(t, "M5"), true); got != 8.03 {
		t.Errorf("socket head M5: %g mm", got)
	}
	// by hand: 0.75 x 8226 N on pi/4 (6.9^2 - 5.5^2)
	preload := class(t, "8.8").preload(thread(t, "M5"))
	if got := seatPressure(preload, seatDiameter(thread(t, "M5"), false), 5.5); math.Abs(got-452) > 1 {
		t.Errorf("an M5 nut presses with %.0f MPa, want 452", got)
	}
	j := plate(t)
	j.Head = 0
	r, err := Check(j)
	if err != nil || !strings.Contains(strings.Join(r.Cautions, "\n"), "a plain washer of 10 mm takes the pressure to") {
		t.Errorf("%v, %v", r.Cautions, err)
	}
}

// EN 1993-1-8, table 3.4: 0.6 for classes 4.6, 5.6 and 8.8, 0.5 for 4.8, 5.8, 6.8
// and 10.9, on the stress area.
func TestShearOfBoltsByClass(t *testing.T) {
	m8 := thread(t, "M8")
	for name, share := range map[string]float64{"4.6": 0.6, "5.6": 0.6, "8.8": 0.6, "4.8": 0.5, "5.8": 0.5, "6.8": 0.5, "10.9": 0.5, "12.9": 0.5, "A2-70": 0.5} {
		c := class(t, name)
		if got, want := c.shearStrength(m8), share*c.Tensile*m8.stressArea(); math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %.0f N, want %.0f", name, got, want)
		}
	}
}

// Tensile stress areas of unified threads, in2, as suppliers print them after ASME B1.1
// (mwcomponents.com, material strengths; scribd.com/document/219093147). SAE J429: proof load
// of 1/4-20 grade 5, 85 ksi (coxhardware.com/t-bolt-torque.aspx) on 0.0318 in2, 2700 lbf.
// Area of internal thread that strips, in2 an inch of engagement, which classes 2A and 2B
// give (scribd.com/document/219093147).
func TestInchThreads(t *testing.T) {
	for text, want := range map[string]float64{"1/4-20": 0.0318, "5/16-18": 0.0524, "3/8-16": 0.0775, "1/4-28": 0.0364, "#10-24": 0.0175, "#10-32": 0.0200, "1/2-13": 0.1419} {
		th := thread(t, text)
		if got := th.stressArea() / 645.16; math.Abs(got/want-1) > 0.006 {
			t.Errorf("%s: %.4f in2, want %.4f", text, got, want)
		}
		if th.String() != text {
			t.Errorf("%s is written %s", text, th)
		}
	}
	for text, want := range map[string]float64{"#10-24": 0.401, "1/4-20": 0.539, "5/16-18": 0.682, "3/8-16": 0.828, "1/2-13": 1.12} {
		area, _ := thread(t, text).strippingAreas(25.4)
		if got := area / 645.16; math.Abs(got/want-1) > 0.03 {
			t.Errorf("%s: %.3f in2 of thread strip an inch, want %.3f", text, got, want)
		}
	}
	if got := class(t, "Grade 5").proofLoad(thread(t, "1/4-20")) / 4.44822; math.Abs(got/2700-1) > 0.01 {
		t.Errorf("proof load %.0f lbf", got)
	}
}

// cornered is a plate of 80 x 50 x 6 with a hole of 5.5 mm at a corner, 8 mm from
// the low x side and 12 from the low y side, and one in the middle.
func cornered(t *testing.T) (*mesh.Mesh, feature.Hole) {
	t.Helper()
	p := cut.Polygon{Outer: []r2.Vec{{}, {X: 80}, {X: 80, Y: 50}, {Y: 50}}}
	for _, c := range [][2]float64{{8, 12}, {40, 25}} {
		var loop []r2.Vec
		for k := range 64 {
			sin, cos := math.Sincos(-2 * math.Pi * float64(k) / 64)
			loop = append(loop, r2.Vec{X: c[0] + 2.75*cos, Y: c[1] + 2.75*sin})
		}
		p.Holes = append(p.Holes, loop)
	}
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), cut.Layer{Region: cut.Region{p}, Thickness: 6})
	if err != nil {
		t.Fatal(err)
	}
	return m, feature.Holes(m)[0]
}

func TestEdgesAreMeasuredAlongTheShear(t *testing.T) {
	m, h := cornered(t)
	for _, c := range []struct {
		shear     r3.Vec
		end, side float64
	}{
		{r3.Vec{X: -1}, 8, 12},
		{r3.Vec{Y: -5}, 12, 8},
		{r3.Vec{Y: 2, Z: 7}, 38, 8}, // what acts along the bolt does not count
	} {
		end, side, err := edgesAlong(m, h, c.shear)
		if err != nil || math.Abs(end-c.end) > 0.01 || math.Abs(side-c.side) > 0.01 {
			t.Errorf("%v: %.2f and %.2f mm, %v; want %g and %g", c.shear, end, side, err, c.end, c.side)
		}
	}
	if end, _, _ := edgesAlong(m, h, r3.Vec{X: 32, Y: 13}); math.Abs(end-math.Hypot(32, 13)+2.75) > 0.02 {
		t.Errorf("the next hole is %.1f mm away", end)
	}
}

// By hand: k1 = 2.8 x 8/5.5 - 1.7 = 2.373, ab = 12/16.5, 290 MPa, 5 x 6 mm; the cap
// of 1.5 rules.
func TestAHeldHoleIsJudgedByItsOwnLoads(t *testing.T) {
	m, h := cornered(t)
	j := Joint{Thread: thread(t, "M5"), Class: class(t, "10.9"), Plate: material(t, "6061-T6"), Head: 10}
	hold := Hold{Hole: h, Force: r3.Vec{X: 30, Y: -400, Z: 250}, Moment: r3.Vec{X: 300, Y: -400, Z: 90}}
	if got := []float64{hold.Axial(), r3.Norm(hold.Shear()), hold.Prying(), hold.Twist()}; math.Abs(got[0]-250) > 1e-6 ||
		math.Abs(got[1]-math.Hypot(30, 400)) > 1e-6 || math.Abs(got[2]-500) > 1e-6 || math.Abs(got[3]-90) > 1e-6 {
		t.Errorf("loads %v", got)
	}
	r, err := CheckHold(m, j, hold)
	if err != nil {
		t.Fatal(err)
	}
	if f := finding(t, r, "bearing"); !near(f.Capacity, 1.5*290*30, 1e-3) {
		t.Errorf("bearing %.0f N", f.Capacity)
	}
	if f := finding(t, r, "opening"); !near(f.Load, 250+500/5, 1e-6) {
		t.Errorf("tension with prying %.1f N", f.Load)
	}
	if f := finding(t, r, "slipping"); !near(f.Load, math.Hypot(30, 400)+90/((10+5.5)/4), 1e-3) {
		t.Errorf("sliding %.1f N", f.Load)
	}
	worst, ok := r.Worst()
	for _, f := range r.Findings {
		if !ok || f.Factor/f.Least < worst.Factor/worst.Least {
			t.Errorf("%s is worse than %s", f.Name, worst.Name)
		}
	}
	// nearer to the side than to the end: k1 rules, not 2.5
	if got := bearing(5, 5.5, 6, 12, 8, 290); !near(got, (2.8*8/5.5-1.7)*12/16.5*290*30, 1e-9) {
		t.Errorf("corner hole %.0f N", got)
	}
}
