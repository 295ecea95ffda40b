package solid

import (
	"encoding/json"
	"math"

	"swapworth/materials"
)

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
	Deflection   float64  `json:"deflection_mm"`           // as in CaseResult
	MaxStress    float64  `json:"max_stress_mpa"`          // von Mises
	SafetyFactor *float64 `json:"safety_factor"`           // yield over MaxStress
	YieldForce   *float64 `json:"yield_force_n"`           // load at which MaxStress reaches yield

	Frequency   *float64  `json:"frequency_hz"` // the first
	Frequencies []float64 `json:"frequencies_hz"`

	Cases []CaseResult `json:"cases"`
	Spare *Spare       `json:"spare"` // on request

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
	Deflection float64    `json:"deflection_mm"`      // of the first case
	Cells      int        `json:"cells"`
	Unknowns   int        `json:"unknowns"`
	Iterations int        `json:"iterations"`
	MaxStress  *float64   `json:"max_stress_mpa"` // nil on grids that are not asked for it
	Edge       [3]float64 `json:"edge_mm"`        // mean cell edge by model axis, or that nearest to it
	cases      []CaseResult
}

// Kind says in which sense a load case has a stiffness.
type Kind string

// The kinds of stiffness. A case that has a force has the first, whatever acts
// beside it; one with a moment and no force the second; pressure and own
// acceleration alone have the third, and so has a case whose other loads move
// the loaded place against the force.
const (
	ByForce      Kind = "force"      // force over the mean displacement of the loaded place along it
	ByMoment     Kind = "moment"     // moment over the mean rotation of the loaded place about it
	ByDeflection Kind = "deflection" // the largest deflection alone
)

// CaseResult is one load case. Vectors are by model axis.
type CaseResult struct {
	Name         string  `json:"name"`
	Kind         Kind    `json:"stiffness_kind"`
	Load         float64 `json:"load_n"`                // of the forces that were stated, N
	Moment       float64 `json:"moment_nmm"`            // of the moments that were stated, N mm
	Stiffness    float64 `json:"stiffness_n_per_mm"`    // ByForce
	Angular      float64 `json:"stiffness_nmm_per_rad"` // ByMoment
	ErrorPercent float64 `json:"stiffness_error_percent"`
	Deflection   float64 `json:"deflection_mm"`           // mean at the load along the force; the largest for other kinds
	Rotation     float64 `json:"rotation_rad"`            // ByMoment
	Largest      float64 `json:"largest_displacement_mm"` // anywhere on the surface

	MaxStress    float64         `json:"max_stress_mpa"`
	StressAt     [3]float64      `json:"max_stress_at_mm"`
	AwayStress   float64         `json:"stress_away_mpa"` // largest a coarse cell or more from places and sharp inner corners; 0 where all of the part is nearer
	Stress       materials.Range `json:"stress_mpa"`      // of what is judged: MaxStress with what the grids leave open
	Resolved     bool            `json:"stress_resolved"` // the range is one that grids or submodels have shown
	Peaks        []Peak          `json:"peaks"`           // the hottest places, where they were looked at closely
	SafetyFactor *float64        `json:"safety_factor"`
	YieldForce   *float64        `json:"yield_force_n"`             // ByForce
	GridBound    bool            `json:"max_stress_grid_dependent"` // it rises, or may, as the grid is refined

	Acts       []Act      `json:"acts"`               // what loads the part, place by place
	Applied    [3]float64 `json:"applied_n"`          // sum of everything that loads, N
	Reaction   [3]float64 `json:"reaction_n"`         // sum of the holds, N
	Turning    [3]float64 `json:"applied_moment_nmm"` // of everything that loads, about the model's origin
	Reactions  []Reaction `json:"reactions"`          // of each hold
	Imbalance  float64    `json:"reaction_imbalance"` // |load + reaction| / |load|, or of the moments if larger
	Iterations int        `json:"iterations"`

	hot               []hotSpot
	springs           float64 // energy in the springs of holds, of the whole
	atCorner, growing bool
	gross             float64 // sizes of all that loads, N
	forward, turn     float64 // along the forces mm, about the moments rad, on this grid
}

// Act is what one place takes of the loads. Vectors are by model axis.
type Act struct {
	Place    string     `json:"place"`
	Centre   [3]float64 `json:"centre_mm"`
	Force    [3]float64 `json:"force_n"` // pressure included
	Moment   [3]float64 `json:"moment_nmm"`
	Pressure float64    `json:"pressure_mpa"`
}

// Reaction is what one hold does to the part. Vectors are by model axis.
type Reaction struct {
	Place  string     `json:"place"`
	Force  [3]float64 `json:"force_n"`
	Moment [3]float64 `json:"moment_nmm"` // about Centre
	Centre [3]float64 `json:"centre_mm"`  // of the held area or material
	Pull   float64    `json:"pull_n"`     // how hard the part is pulled off a flat seat, N; zero elsewhere
}

// MarshalJSON writes null for a stiffness that the case's kind has not.
func (c CaseResult) MarshalJSON() ([]byte, error) {
	type plain CaseResult
	return json.Marshal(struct {
		plain
		Stiffness *float64  `json:"stiffness_n_per_mm"`
		Angular   *float64  `json:"stiffness_nmm_per_rad"`
		Rotation  *float64  `json:"rotation_rad"`
		Away      *float64  `json:"stress_away_mpa"`
		Stress    openRange `json:"stress_mpa"`
	}{plain(c), nonZero(c.Stiffness), nonZero(c.Angular), nonZero(c.Rotation), nonZero(c.AwayStress), openRange(c.Stress)})
}

// MarshalJSON writes null for a stiffness that the first case's kind has not.
func (g Grid) MarshalJSON() ([]byte, error) {
	type plain Grid
	return json.Marshal(struct {
		plain
		Stiffness *float64 `json:"stiffness_n_per_mm"`
	}{plain(g), nonZero(g.Stiffness)})
}

// MarshalJSON writes null for a stress without an upper end.
func (p Peak) MarshalJSON() ([]byte, error) {
	type plain Peak
	return json.Marshal(struct {
		plain
		Stress openRange `json:"stress_mpa"`
	}{plain(p), openRange(p.Stress)})
}

// openRange is a range whose high end may be open, null in JSON.
type openRange materials.Range

func (r openRange) MarshalJSON() ([]byte, error) {
	high := &r.High
	if math.IsInf(r.High, 1) {
		high = nil
	}
	return json.Marshal(struct {
		Low     float64  `json:"low"`
		Nominal float64  `json:"nominal"`
		High    *float64 `json:"high"`
	}{r.Low, r.Nominal, high})
}

func nonZero(v float64) *float64 {
	if v == 0 {
		return nil
	}
	return &v
}
