package swap

import (
	"math"
	"slices"

	"swapworth/materials"
	"swapworth/solid"
	"swapworth/swap/internal/draw"
)

// streamsOf returns those of a part. A redesign that is cut from the stock part's lot
// shares its material.
func (in inputs) streamsOf(side int) streams {
	old := streams{oldWeight, oldDensity, oldVolume, oldModulus, oldStrength, oldMethod, oldStress, oldGrain, [sizeErrors]draw.Stream{oldDepth, oldOutline}}
	if side == onStock {
		return old
	}
	new := streams{newWeight, newDensity, newVolume, newModulus, newStrength, newMethod, newStress, newGrain, [sizeErrors]draw.Stream{newDepth, newOutline}}
	if in.sameAlloy() {
		new.density, new.modulus, new.strength = old.density, old.modulus, old.strength
	}
	return new
}

func (in inputs) part(side int) partInputs { return [2]partInputs{in.old, in.new}[side] }

// lot is every draw of one part as a piece: its mass in g, the density of its material
// in kg/m3, and its sizes, -1 at the lower limit of the class and 1 at the upper.
// Nobody may change them.
type lot struct {
	mass, density []float64
	size          [sizeErrors][]float64
}

// lotKey is what the draws of a lot rest on.
type lotKey struct {
	reading, density, volume Range
	scale                    float64
	mass                     [sizeErrors]float64
	by                       streams
	weighed, told            bool
}

// lot draws a part. What its weight says of its sizes counts: of the draws of density,
// volume and weight those stay whose thickness lies within its limits.
func (in inputs) lot(side int) lot {
	p, by := in.part(side), in.streamsOf(side)
	key := lotKey{density: p.density, volume: p.volume, mass: p.sizes.mass, by: by}
	if p.weighed != nil {
		key.reading, key.scale, key.weighed, key.told = p.reading, p.scaleError, true, p.cast != (Range{})
		if key.told {
			key.density = p.cast
		}
	}
	if kept, ok := in.draws.lots.Load(key); ok {
		return kept.(lot)
	}
	l := key.draw(in.draws)
	if side == onRedesign && in.sameAlloy() && in.old.weighed != nil && !key.weighed {
		stock := in.lot(onStock) // whose weight has told of the lot
		l = l.of(stock.density, in.draws.Triangular(p.volume, by.volume), key.mass)
		return l // rests on more than its key
	}
	in.draws.lots.Store(key, l)
	return l
}

func (k lotKey) draw(d *sampler) lot {
	l := lot{density: d.Bounded(k.density, k.by.density)}
	for e := range l.size {
		l.size[e] = d.Even(limits, k.by.size[e])
	}
	volume := d.Triangular(k.volume, k.by.volume)
	if !k.weighed {
		return l.of(l.density, volume, k.mass)
	}
	reading, off := d.Even(k.reading, k.by.weight), d.Bounded(limits, scaleError)
	l.mass = make([]float64, draw.Count)
	for i := range l.mass {
		l.mass[i] = reading[i] * (1 + k.scale*off[i])
	}
	if k.told && k.mass[depth] > leastTold {
		return l.told(volume, k.mass)
	}
	return l
}

// limits are those of a size, in units of its permissible deviation.
var limits = Range{Low: -1, Nominal: 0, High: 1}

// of is the lot with the masses that its density, volume and sizes make.
func (l lot) of(density, volume []float64, by [sizeErrors]float64) lot {
	l.density, l.mass = density, make([]float64, draw.Count)
	for i := range l.mass {
		l.mass[i] = density[i] * volume[i] * 1e-6 * math.Exp(by[depth]*l.size[depth][i]+by[outline]*l.size[outline][i])
	}
	return l
}

const (
	// leastTold is the share of the mass that the depth error moves below which a
	// weight tells nothing of it.
	leastTold = 1e-6
	// fewestTold is the number of draws that must agree with a weight for it to count:
	// a hundred hold a 95 % interval. Fewer contradict it, which is said elsewhere.
	fewestTold = 100
)

// told keeps, of all draws, those that give the weight that was read. The depth error is
// what is left to explain it: mass = density x volume x exp(sum of by x size). Its prior
// is even, so every draw that leaves it within its limits counts the same.
func (l lot) told(volume []float64, by [sizeErrors]float64) lot {
	var kept []int
	deep := make([]float64, draw.Count)
	for i := range deep {
		deep[i] = (math.Log(l.mass[i]/(l.density[i]*volume[i]*1e-6)) - by[outline]*l.size[outline][i]) / by[depth]
		if math.Abs(deep[i]) <= 1 {
			kept = append(kept, i)
		}
	}
	if len(kept) < fewestTold {
		return l
	}
	l.size[depth] = deep
	picked := func(from []float64) []float64 {
		out := make([]float64, draw.Count)
		for i := range out {
			out[i] = from[kept[i%len(kept)]]
		}
		return out
	}
	l.mass, l.density = picked(l.mass), picked(l.density)
	for e := range l.size {
		l.size[e] = picked(l.size[e])
	}
	return l
}

// masses draws the mass of both parts, in g.
func (in inputs) masses() (old, new []float64) {
	return slices.Clone(in.lot(onStock).mass), slices.Clone(in.lot(onRedesign).mass)
}

// stiffnesses draws the stiffness of a part in one load case, in N/mm for a force. The
// errors of two solutions are independent: each comes from how a part lies in its own
// grid.
func (in inputs) stiffnesses(side int, d direction) []float64 {
	p, r, by := in.part(side), d.of(side), in.streamsOf(side)
	young, off := in.draws.Bounded(p.modulus, by.modulus), in.draws.Triangular(within(1, r.within), by.method)
	size, power := in.lot(side).size, p.sizes.stiffness[d.name]
	sample := make([]float64, draw.Count)
	for i := range sample {
		sample[i] = r.perModulus * young[i] * off[i] * math.Exp(power[depth]*size[depth][i]+power[outline]*size[outline][i])
	}
	if r.kind == solid.ByMoment && p.twist > 0 && p.twist < 1 { // as much of it may be twist as there is
		for i, left := range in.draws.Even(Range{Low: p.twist, Nominal: 1, High: 1}, by.grain) {
			sample[i] *= left
		}
	}
	return sample
}

// ratios draws the stiffness ratio new/old in one load case.
func (in inputs) ratios(d direction) []float64 {
	old, sample := in.stiffnesses(onStock, d), in.stiffnesses(onRedesign, d)
	for i := range sample {
		sample[i] /= old[i]
	}
	return sample
}

// safetyFactors draws the safety factor to yield of the redesign in one load case: an
// upper bound of it where nothing bounds the peak. Stress falls with the size as the
// section modulus grows: by one power less than the stiffness of a plate, t2 for t3, and
// as the stiffness of a bar that is pulled, t for t; between them evenly, (n+1)/2 for n.
func (in inputs) safetyFactors(d direction) []float64 {
	p, r, by := in.new, d.new, in.streamsOf(onRedesign)
	strong, perLoad, load := in.draws.Bounded(p.strength, by.strength), r.stress.draw(in.draws, by.stress), in.loads(d)
	size, power := in.lot(onRedesign).size, p.sizes.stiffness[d.name]
	for e := range power {
		power[e] = (power[e] + p.sizes.mass[e]) / 2
	}
	sample := make([]float64, draw.Count)
	for i := range sample {
		sample[i] = strong[i] / (perLoad[i] * load[i]) * math.Exp(power[depth]*size[depth][i]+power[outline]*size[outline][i])
	}
	return sample
}

// draw draws the peak over its load. One that submodels have not settled is as likely
// anywhere in its range, for all that is known of it are the bounds; where not even
// those, what is left is the least that it is.
func (s stress) draw(d *sampler, by draw.Stream) []float64 {
	switch {
	case !s.bounded():
		return d.Triangular(Range{Low: s.perLoad.Low, Nominal: s.perLoad.Nominal, High: s.perLoad.Nominal}, by)
	case !s.resolved:
		return d.Even(s.perLoad, by)
	}
	return d.Triangular(s.perLoad, by)
}

// loads draws the load of a case, in multiples of what stress and deflection are per.
func (in inputs) loads(d direction) []float64 {
	if d.loads != nil {
		return in.draws.Even(materials.Exactly(1), loadSize)
	}
	return in.draws.Bounded(in.force, loadSize)
}

// bounded reports whether anything bounds the peak from above.
func (s stress) bounded() bool { return !math.IsInf(s.perLoad.High, 1) }
