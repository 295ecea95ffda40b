package draw

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"swapworth/internal/property"
)

// gonum sorts and counts; values that repeat, that are in order and that have no limit
// are among the samples.
func TestQuantilesAreThoseOfTheSortedSample(t *testing.T) {
	agree := func(t interface{ Errorf(string, ...any) }, p float64, sample []float64) {
		sorted := slices.Clone(sample)
		slices.Sort(sorted)
		if got, want := quantile(p, slices.Clone(sample)), stat.Quantile(p, stat.Empirical, sorted, nil); got != want {
			t.Errorf("at %g of %v: %g, want %g", p, sample, got, want)
		}
	}
	property.Check(t, func(t *rapid.T) {
		values := rapid.OneOf(rapid.Float64Range(-3, 3), rapid.SampledFrom([]float64{1, 2, math.Inf(1), math.Inf(-1)}))
		agree(t, rapid.Float64Range(1e-6, 1).Draw(t, "share"), rapid.SliceOfN(values, 1, 60).Draw(t, "sample"))
	})
	long := make([]float64, Count)
	for i, u := range rand.New(rand.NewPCG(1, 2)).Perm(Count) {
		long[i] = float64(u)
	}
	for _, p := range []float64{0.025, 0.5, 0.975, 1} {
		agree(t, p, long)
	}
	if got := quantile(0.5, []float64{1, math.NaN(), 2}); !math.IsNaN(got) {
		t.Errorf("a sample with no number in it has the quantile %g", got)
	}
}

func BenchmarkInterval(b *testing.B) {
	sample := make([]float64, Count)
	for range b.N {
		copy(sample, uniformsOf(ofValues, 5))
		Interval(sample, 0.5)
	}
}
