package mass

import (
	"swapworth/materials"
	"swapworth/mesh"
)

// Weighed is what `mass` prints: a report and, where the part was put on a
// scale, what its weight says.
type Weighed struct {
	Report
	Weighed *materials.Range `json:"weighed_g"`
	// WeighedDensity is the density that weight and volume give, kg/m3.
	WeighedDensity *materials.Range `json:"weighed_density_kg_m3"`
	Contradiction  *string          `json:"contradiction"`
	// Dominant is the largest contribution to the spread of the mass: "density",
	// "faceting", "repair" (of gaps, or of shells that share space) or "scale"; empty without a mass.
	Dominant string `json:"dominant_spread"`
}

// NewWeighed reports a part. With a weighing, density, mass and inertia are the
// weighed ones and a stated material that disagrees is contradicted; without,
// they follow from the material unless that is nil.
func NewWeighed(l *mesh.Loaded, p Properties, m *materials.Material, w *Weighing) Weighed {
	r := Weighed{Report: NewReport(l, p, m)}
	if w != nil {
		r.weighIn(p, spreadOf(p, l.Mesh, l.Repairs), m, *w)
	}
	r.Dominant = r.dominant(p, l.Repairs)
	return r
}

func (r *Weighed) weighIn(p Properties, s spread, m *materials.Material, w Weighing) {
	weighed := w.Range()
	density := DensityOf(weighed, r.VolumeRange)
	r.Weighed, r.WeighedDensity = &weighed, &density
	material := r.Material
	r.weigh(p, s, "", density)
	r.Material, r.Mass = material, &weighed
	if m == nil {
		return
	}
	id := Identification{VolumeRange: r.VolumeRange, Weighed: weighed, Density: density}
	if text := contradiction(id, *m, Observation{}); text != "" {
		r.Contradiction = &text
	}
}

// dominant names what spreads the mass most.
func (r *Weighed) dominant(p Properties, repairs []mesh.Repair) string {
	if r.Mass == nil {
		return ""
	}
	if r.Weighed != nil {
		return "scale"
	}
	alone := p
	alone.SharedError = 0
	faceting := VolumeRange(alone, nil)
	added := 2 * p.SharedError
	for _, fix := range repairs {
		less, more := fix.Doubt()
		added += less + more
	}
	name, largest := "density", (r.Density.High-r.Density.Low)/r.Density.Nominal*p.Volume
	if spread := faceting.High - faceting.Low; spread > largest {
		name, largest = "faceting", spread
	}
	if added > largest {
		name = "repair"
	}
	return name
}
