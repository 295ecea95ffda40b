package mass

import "swapworth/materials"

// Weighing is a reading of a scale: Grams, shown to +- Resolution/2, both in g. Error
// is what the scale itself may be off, as a share of what it shows: its calibration.
type Weighing struct{ Grams, Resolution, Error float64 }

// Reading returns what a scale without an error of its own shows as this, in g.
func (w Weighing) Reading() materials.Range {
	half := w.Resolution / 2
	return materials.Range{Low: max(0, w.Grams-half), Nominal: w.Grams, High: w.Grams + half}
}

// Range returns the masses that give this reading, in g.
func (w Weighing) Range() materials.Range {
	r := w.Reading()
	return materials.Range{Low: r.Low * (1 - w.Error), Nominal: r.Nominal, High: r.High * (1 + w.Error)}
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
