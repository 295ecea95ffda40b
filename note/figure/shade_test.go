package figure

import (
	"image"
	"image/color"
	"math"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"

	"swapworth/quantity"
)

// flatAt lifts nothing: a picture in the plane of the paper.
func flatAt(p flatPoint) vg.Point { return vg.Point{X: vg.Length(p.u), Y: vg.Length(p.v)} }

// A disc is traced as a circle: to a hundredth of its radius, with far fewer points
// than it has pixels around it.
func TestAnOutlineIsThatOfTheSurface(t *testing.T) {
	r := newRaster(100, flatPoint{u: -50, v: -50}, flatPoint{u: 50, v: 50})
	const radius, chords = 40.0, 360
	corner := func(i int) seen {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / chords)
		return seen{flatPoint{u: radius * cos, v: radius * sin}, (1 + cos) / 2}
	}
	for i := range chords {
		r.paint(seen{share: 0.5}, corner(i), corner(i+1), 0)
	}
	loops := r.outline(nil, 0)
	if len(loops) != 1 {
		t.Fatalf("%d loops around a disc", len(loops))
	}
	for _, p := range loops[0] {
		if off := math.Abs(math.Hypot(p.u, p.v) - radius); off > 0.01*radius {
			t.Errorf("(%.2f, %.2f) lies %.2f off the rim", p.u, p.v, off)
		}
	}
	if area := areaOf(loops[0]); math.Abs(area-math.Pi*radius*radius) > 0.01*area || len(loops[0]) > 80 {
		t.Errorf("%d points around %.0f, want few around %.0f", len(loops[0]), area, math.Pi*radius*radius)
	}
	// The share rises evenly with u, so what lies over a half is the right half.
	for _, p := range r.outline(r.share, 0.5)[0] {
		if p.u < -0.5 {
			t.Errorf("(%.2f, %.2f) lies in the lower half", p.u, p.v)
		}
	}
}

// What lies behind is not drawn, and what stands in front is.
func TestWhatIsCoveredIsNotPainted(t *testing.T) {
	r := newRaster(50, flatPoint{}, flatPoint{u: 100, v: 100})
	square := func(from, to, near, share float64) {
		a, b, c, d := seen{flatPoint{from, from, near}, share}, seen{flatPoint{to, from, near}, share}, seen{flatPoint{to, to, near}, share}, seen{flatPoint{from, to, near}, share}
		r.paint(a, b, c, 0)
		r.paint(a, c, d, 0)
	}
	square(0, 100, 0, 0.1)
	square(20, 80, -5, 0.9)
	if steps := r.stepsOf(func(i int) int { return int(float64(r.share[i]) * shades) }, shades-1); len(steps) != 1 {
		t.Errorf("a square behind another adds steps: %v", steps)
	}
	square(20, 80, 5, 0.9)
	if loops := r.outline(r.share, 0.5); len(loops) != 1 || math.Abs(areaOf(loops[0])-3600) > 100 {
		t.Errorf("a square in front is traced as %v", loops)
	}
}

// The picture is the same to the eye as one painted pixel by pixel: the colours differ
// by less than a step of the ramp nearly everywhere.
func TestAShadedPictureShowsTheField(t *testing.T) {
	const side = 200
	r := newRaster(side, flatPoint{}, flatPoint{u: side, v: side})
	corner := func(u, v float64) seen { return seen{flatPoint{u: u, v: v}, (u + v) / (2 * side)} }
	r.paint(corner(0, 0), corner(side, 0), corner(side, side), 0)
	r.paint(corner(0, 0), corner(side, side), corner(0, side), 0)
	c := vgimg.NewWith(vgimg.UseWH(side, side), vgimg.UseDPI(72))
	r.draw(draw.New(c), flatAt, rampColor)
	wrong := 0
	picture := c.Image().(image.Image)
	for y := 5; y < side-5; y += 5 {
		for x := 5; x < side-5; x += 5 {
			got := color.NRGBAModel.Convert(picture.At(x, y)).(color.NRGBA)
			want := rampColor(float64(x+side-1-y) / (2 * side))
			if abs(int(got.R)-int(want.R)) > 12 || abs(int(got.G)-int(want.G)) > 12 || abs(int(got.B)-int(want.B)) > 12 {
				wrong++
			}
		}
	}
	if wrong > 15 { // of 1444, on the lines between steps
		t.Errorf("%d places have another colour", wrong)
	}
}

// A stress picture of two parts was a megabyte when it was painted face by face.
func TestAStressPictureIsSmall(t *testing.T) {
	bar := loadedBar(t)
	svg, err := StressViews(quantity.Metric, "bars", bar, bar).SVG()
	if err != nil || len(svg) > 100_000 {
		t.Errorf("%d bytes, %v", len(svg), err)
	}
}
