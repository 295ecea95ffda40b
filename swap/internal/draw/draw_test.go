package draw

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

func TestTriangularQuantilesAgreeWithGonum(t *testing.T) {
	r := Range{Low: 2, Nominal: 3, High: 7}
	reference := distuv.NewTriangle(r.Low, r.High, r.Nominal, nil)
	for _, u := range []float64{0, 0.05, 0.2, 0.5, 0.9, 0.999} {
		if got, want := triangular(r, u), reference.Quantile(u); math.Abs(got-want) > 1e-12 {
			t.Errorf("quantile at %g is %g, want %g", u, got, want)
		}
	}
	if got := triangular(Range{Low: 5, Nominal: 5, High: 5}, 0.3); got != 5 {
		t.Errorf("an exact value is drawn as %g", got)
	}
}

// A rectangular distribution of half-width a has the standard uncertainty
// a/sqrt(3), a symmetric triangular one a/sqrt(6) (JCGM 100:2008, 4.3.7, 4.3.9).
func TestDrawsHaveTheStandardUncertaintyOfTheirDistribution(t *testing.T) {
	r := Range{Low: -1, Nominal: 0, High: 1}
	rect, tri := make([]float64, Count), make([]float64, Count)
	for i := range rect {
		rect[i], tri[i] = rectangular(r, uniformsOf(ofValues, 1)[i]), triangular(r, uniformsOf(ofValues, 4)[i])
	}
	if got, want := stat.StdDev(rect, nil), 1/math.Sqrt(3); math.Abs(got/want-1) > 0.02 {
		t.Errorf("rectangular: standard uncertainty %g, want %g", got, want)
	}
	if got, want := stat.StdDev(tri, nil), 1/math.Sqrt(6); math.Abs(got/want-1) > 0.02 {
		t.Errorf("triangular: standard uncertainty %g, want %g", got, want)
	}
}

func TestTheIntervalOfAUniformSampleHolds95Percent(t *testing.T) {
	sample := append([]float64(nil), uniformsOf(ofValues, 5)...)
	r := Interval(sample, 0.5)
	if math.Abs(r.Low-0.025) > 0.005 || math.Abs(r.High-0.975) > 0.005 {
		t.Errorf("interval %v, want 0.025 to 0.975", r)
	}
}

func TestStreamsAreIndependent(t *testing.T) {
	for a := Stream(1); a <= 27; a++ {
		for b := a + 1; b <= 27; b++ {
			if c := stat.Correlation(uniformsOf(ofValues, a), uniformsOf(ofValues, b), nil); math.Abs(c) > 0.03 {
				t.Errorf("streams %d and %d correlate by %g", a, b, c)
			}
		}
	}
}

// A range of half-width w whose limits are known to +- d has the variance w2/3 + d2/9
// (JCGM 101:2008, 6.4.3.2, expression 8, from memory), and reaches to w + d.
func TestInexactLimitsWidenARange(t *testing.T) {
	r, d := Range{Low: 9, Nominal: 10, High: 11}, limitsKnown
	sample := new(Sampler).Bounded(r, 3)
	mean, sd := stat.MeanStdDev(sample, nil)
	if want := math.Sqrt(1.0/3 + d*d/9); math.Abs(sd/want-1) > 0.02 || math.Abs(mean-10) > 0.02 {
		t.Errorf("mean %g and standard uncertainty %g, want 10 and %g", mean, sd, want)
	}
	for _, v := range sample {
		if math.Abs(v-10) > 1+d {
			t.Fatalf("a draw of %g, want within 10 +- %g", v, 1+d)
		}
	}
	for _, v := range new(Sampler).Bounded(Range{Low: 0.01, Nominal: 0.5, High: 1}, 3) {
		if v <= 0 {
			t.Fatalf("a draw of %g of what is above zero", v)
		}
	}
}
