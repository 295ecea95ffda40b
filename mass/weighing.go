package mass

import "swapworth/materials"

// Weighing is a reading of a scale: Grams, known to +- Resolution/2, both in g.
type Weighing struct{ Grams, Resolution float64 }

// Range returns the masses that give this reading, in g.
func (w Weighing) Range() materials.Range {
	half := w.Resolution / 2
	return materials.Range{Low: max(0, w.Grams-half), Nominal: w.Grams, High: w.Grams + half}
}

// DensityOf returns the density, in kg/m3, of a part that weighs w, in g, and
// encloses volume, in mm3.
func DensityOf(w, volume materials.Range) materials.Range {
	return materials.Range{
		Low:     w.Low / volume.High / gramsPerKgM3MM3,
		Nominal: w.Nominal / volume.Nominal / gramsPerKgM3MM3,
		High:    w.High / volume.Low / gramsPerKgM3MM3,
	}
}
