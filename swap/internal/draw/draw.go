// Package draw propagates what is known within bounds by Monte Carlo, as JCGM 101:2008
// says: a quantity is drawn by the distribution that its bounds stand for, and what is
// computed from the draws has a 95 % interval. The seed is fixed, so that the same question
// has the same answer.
package draw

import (
	"math"
	"math/rand/v2"
	"sync"

	"swapworth/materials"
)

// Range is a quantity known within bounds.
type Range = materials.Range

// Count is the number of Monte Carlo trials. JCGM 101:2008, 7.2.2 asks for far
// more than 1/(1-p) trials at coverage p; at p = 0.95 this is a thousandfold.
const Count = 20_000

// Stream names one uncertain input. Each stream has its own fixed seed, so that
// changing one input leaves the draws of the others as they were.
type Stream uint64

// uniforms keeps draws in [0, 1), by seed and stream. They are made when something
// is first judged: most commands never ask.
var uniforms sync.Map // uniform -> func() []float64

type uniform struct {
	seed uint64
	of   Stream
}

// The seeds of the draws of a quantity, and of its limits where they are not exactly known.
const (
	ofValues = 0x5357_4150
	ofLimits = 0x4c49_4d49
)

func uniformsOf(seed uint64, s Stream) []float64 {
	made, _ := uniforms.LoadOrStore(uniform{seed, s}, sync.OnceValue(func() []float64 {
		r := rand.New(rand.NewPCG(seed, uint64(s)))
		u := make([]float64, Count)
		for i := range u {
			u[i] = r.Float64()
		}
		return u
	}))
	return made.(func() []float64)()
}

// Sampler keeps what was drawn of a range, since the questions that are asked one after
// another differ in few inputs. It may be used from several goroutines at once. The zero
// value has drawn nothing.
type Sampler struct{ kept sync.Map } // drawn -> []float64

type drawn struct {
	from  Range
	by    Stream
	shape string
}

// Triangular returns every draw of a range with a mode by a stream. Nobody may
// change it.
func (d *Sampler) Triangular(r Range, s Stream) []float64 {
	return d.drawn(r, s, "triangular", triangular)
}

// Even returns every draw of a range of which only the bounds are known, by a stream.
// Nobody may change it.
func (d *Sampler) Even(r Range, s Stream) []float64 { return d.drawn(r, s, "even", rectangular) }

// Bounded returns every draw of a range whose bounds themselves are known inexactly,
// such as those of a material in a handbook or of a load that somebody judged, by a
// stream. Nobody may change it.
func (d *Sampler) Bounded(r Range, s Stream) []float64 {
	if kept, ok := d.kept.Load(drawn{r, s, "bounded"}); ok {
		return kept.([]float64)
	}
	sample, at := make([]float64, Count), uniformsOf(ofLimits, s)
	for i, u := range uniformsOf(ofValues, s) {
		sample[i] = inexact(r, at[i], u)
	}
	d.kept.Store(drawn{r, s, "bounded"}, sample)
	return sample
}

func (d *Sampler) drawn(r Range, s Stream, shape string, quantile func(Range, float64) float64) []float64 {
	if kept, ok := d.kept.Load(drawn{r, s, shape}); ok {
		return kept.([]float64)
	}
	sample := make([]float64, Count)
	for i, u := range uniformsOf(ofValues, s) {
		sample[i] = quantile(r, u)
	}
	d.kept.Store(drawn{r, s, shape}, sample)
	return sample
}

// triangular returns the quantile at u of the triangular distribution with r as
// 0 %, mode and 100 % (JCGM 101:2008, 6.4.5 for the symmetric case).
func triangular(r Range, u float64) float64 {
	width := r.High - r.Low
	if width <= 0 {
		return r.Nominal
	}
	if left := (r.Nominal - r.Low) / width; u < left {
		return r.Low + math.Sqrt(u*width*(r.Nominal-r.Low))
	}
	return r.High - math.Sqrt((1-u)*width*(r.High-r.Nominal))
}

// rectangular returns the quantile at u of the uniform distribution over r, which is
// all that two bounds say (JCGM 101:2008, 6.4.2): those of a scale of limited
// resolution, and those within which a handbook puts a material.
func rectangular(r Range, u float64) float64 { return r.Low + u*(r.High-r.Low) }

// limitsKnown is how far the limits of a handbook value, or of one that a person judges,
// may be off, as a share of half the width between them. A limit that is written with one digit n stands for all from
// n - 1/2 to n + 1/2 (JCGM 101:2008, 6.4.3.4, its example), which is 1/(2n) of it: a
// quarter in the mean over first digits as they occur, log10(1 + 1/n) (Benford). It is
// also the share that JCGM 100:2008, G.4.2 takes where a spread is judged.
const limitsKnown = 0.25

// inexact returns the value at u of a range whose limits lie d to either side of where
// they are stated, for the draw v of them: the curvilinear trapezoid of JCGM 101:2008,
// 6.4.3.3. The middle between the limits stays where it is.
func inexact(r Range, v, u float64) float64 {
	d := limitsKnown * (r.High - r.Low) / 2
	if r.Low > 0 {
		d = min(d, r.Low/2) // what cannot be negative stays positive
	}
	low := r.Low - d + 2*d*v
	return low + (r.High+r.Low-2*low)*u
}

// Interval returns the 95 % interval of the sample around a nominal value. It
// changes the order of the sample. The nominal value is kept inside the bounds: where
// the inputs are lopsided their modes need not lie in the middle 95 %.
func Interval(sample []float64, nominal float64) Range {
	low, high := quantile(0.025, sample), quantile(0.975, sample)
	return Range{Low: min(low, nominal), Nominal: nominal, High: max(high, nominal)}
}
