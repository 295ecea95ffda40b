package solid

// Result is what the check found. Its JSON keys are stable; a value that was
// not computed is null. Where there are several cases the values on top are
// those of the first.
type Result struct {
	Material      *string `json:"material"`
	YoungsModulus float64 `json:"youngs_modulus_mpa"`
	Poisson       float64 `json:"poisson"`
	Support       string  `json:"support"`

	Cells    int    `json:"cells"`    // of the finest grid
	Unknowns int    `json:"unknowns"` // of the finest grid
	Grids    []Grid `json:"grids"`    // coarsest first

	Load         float64  `json:"load_n"`
	Stiffness    float64  `json:"stiffness_n_per_mm"`      // extrapolated from the grids
	ErrorPercent float64  `json:"stiffness_error_percent"` // estimate, either way
	Deflection   float64  `json:"deflection_mm"`           // mean over the loaded place, along the load
	MaxStress    float64  `json:"max_stress_mpa"`          // von Mises
	SafetyFactor *float64 `json:"safety_factor"`           // yield over MaxStress
	YieldForce   *float64 `json:"yield_force_n"`           // load at which MaxStress reaches yield

	Frequency   *float64  `json:"frequency_hz"` // the first
	Frequencies []float64 `json:"frequencies_hz"`

	Cases []CaseResult `json:"cases"`

	Iterations int      `json:"iterations"` // of the solver on the finest grid, first case
	Seconds    float64  `json:"seconds"`
	Memory     int64    `json:"memory_bytes"` // estimate for the finest grid
	Warnings   []string `json:"warnings"`

	Deflected *Deflected `json:"-"` // of the first case, on request
}

// Grid is one of the grids of the check. Cell is the cube root of the mean
// volume of its cells in mm.
type Grid struct {
	Cell       float64    `json:"cell_mm"`
	Stiffness  float64    `json:"stiffness_n_per_mm"` // of the first case
	Cells      int        `json:"cells"`
	Unknowns   int        `json:"unknowns"`
	Iterations int        `json:"iterations"`
	MaxStress  *float64   `json:"max_stress_mpa"` // nil on grids that are not asked for it
	Edge       [3]float64 `json:"edge_mm"`        // mean cell edge by model axis, or that nearest to it
	cases      []CaseResult
}

// CaseResult is one load case.
type CaseResult struct {
	Name         string     `json:"name"`
	Load         float64    `json:"load_n"`
	Stiffness    float64    `json:"stiffness_n_per_mm"`
	ErrorPercent float64    `json:"stiffness_error_percent"`
	Deflection   float64    `json:"deflection_mm"`
	Largest      float64    `json:"largest_displacement_mm"`
	MaxStress    float64    `json:"max_stress_mpa"`
	StressAt     [3]float64 `json:"max_stress_at_mm"`
	AwayStress   float64    `json:"stress_away_mpa"` // largest a coarse cell or more from places and sharp inner corners
	SafetyFactor *float64   `json:"safety_factor"`
	YieldForce   *float64   `json:"yield_force_n"`
	GridBound    bool       `json:"max_stress_grid_dependent"` // it rises, or may, as the grid is refined
	Reaction     [3]float64 `json:"reaction_n"`
	Imbalance    float64    `json:"reaction_imbalance"` // |load + reaction| / |load|
	Iterations   int        `json:"iterations"`

	atCorner, growing bool
}
