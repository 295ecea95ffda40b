package mass

import "swapworth/materials"

// Report is what `mass` prints of one part, with its stable JSON keys. Values
// that need a material are nil without one.
type Report struct {
	File            string           `json:"file"`
	Triangles       int              `json:"triangles"`
	Closed          bool             `json:"closed"`
	Shells          int              `json:"shells"`
	Volume          float64          `json:"volume_mm3"`
	Area            float64          `json:"area_mm2"`
	Size            [3]float64       `json:"size_mm"`
	Centroid        [3]float64       `json:"centroid_mm"`
	Material        *string          `json:"material"`
	Density         *materials.Range `json:"density_kg_m3"`
	Mass            *materials.Range `json:"mass_g"`
	Inertia         *[3][3]float64   `json:"inertia_g_mm2"` // about the centroid, off-diagonals -integral of xy dm
	Principal       *[3]float64      `json:"principal_g_mm2"`
	FacetingPercent float64          `json:"faceting_volume_percent"` // estimated (exact - mesh)/mesh
	Warnings        []string         `json:"warnings"`
}
