package section

import (
	"fmt"

	"swapworth/mesh/cut"
)

// Report holds every property of a section under its stable JSON keys.
// First and second of a pair are the section's axes, except for the section
// moduli, which list the positive side first. A value that could not be
// computed is nil.
type Report struct {
	Area         float64     `json:"area_mm2"`
	Centroid     [2]float64  `json:"centroid_mm"`
	Ixx          float64     `json:"ixx_mm4"` // about the first axis
	Iyy          float64     `json:"iyy_mm4"` // about the second axis
	Ixy          float64     `json:"ixy_mm4"` // integral of the product of both coordinates
	I1           float64     `json:"i1_mm4"`
	I2           float64     `json:"i2_mm4"`
	AngleDeg     float64     `json:"angle_deg"` // turns the first axis to the axis of I1
	J            *float64    `json:"j_mm4"`
	Wxx          [2]float64  `json:"wxx_mm3"`
	Wyy          [2]float64  `json:"wyy_mm3"`
	Modulus      *float64    `json:"torsion_modulus_mm3"` // torque over the largest shear stress, sharp inner corners apart
	ShearArea    *[2]float64 `json:"shear_area_mm2"`
	Outlines     int         `json:"outlines"`
	Holes        int         `json:"holes"`
	Size         [2]float64  `json:"size_mm"`
	Perimeter    float64     `json:"perimeter_mm"`
	Radius       [2]float64  `json:"radius_of_gyration_mm"` // about the first and about the second axis
	ShearCentre  *[2]float64 `json:"shear_centre_mm"`
	Warping      *float64    `json:"warping_constant_mm6"`
	JBounds      *[2]float64 `json:"j_bounds_mm4"`         // low and high
	SolverError  *float64    `json:"solver_error_percent"` // estimated, of j and the shear areas
	Poisson      float64     `json:"poisson"`
	Warnings     []string    `json:"warnings"`
	Triangulated int         `json:"triangles"` // of the mesh that j was solved on, 0 in closed form
}

// NewReport measures a cut. Poisson's ratio matters for the shear areas
// and the shear centre only. What the solver cannot do is left nil with a
// warning; only a region without area or a wrong ratio is an error.
func NewReport(r cut.Region, poisson float64) (Report, error) {
	if err := checkPoisson(poisson); err != nil {
		return Report{}, err
	}
	s, err := Of(r)
	if err != nil {
		return Report{}, err
	}
	t, err := Torsion(r, poisson)
	return reportOf(s, t, err, poisson), nil
}

// Report measures the shape, in closed form as far as there is one.
func (s Shape) Report(poisson float64) (Report, error) {
	if err := checkPoisson(poisson); err != nil {
		return Report{}, err
	}
	t, err := s.Torsion(poisson)
	return reportOf(s.Properties(), t, err, poisson), nil
}

func reportOf(s Properties, t TorsionResult, failed error, poisson float64) Report {
	out := Report{
		Area: s.Area, Centroid: [2]float64{s.Centroid.X, s.Centroid.Y},
		Ixx: s.Ixx, Iyy: s.Iyy, Ixy: s.Ixy, I1: s.I1, I2: s.I2, AngleDeg: s.AngleDeg,
		Wxx: s.Wxx, Wyy: s.Wyy, Outlines: s.Outlines, Holes: s.Holes,
		Size:      [2]float64{s.High.X - s.Low.X, s.High.Y - s.Low.Y},
		Perimeter: s.Perimeter, Radius: [2]float64{s.RadiusX, s.RadiusY},
		Poisson: poisson, Warnings: []string{},
	}
	if failed != nil {
		out.Warnings = append(out.Warnings, failed.Error())
		return out
	}
	percent := 100 * t.Error
	out.J, out.Modulus, out.ShearArea, out.SolverError = &t.J, &t.Modulus, &t.ShearArea, &percent
	out.JBounds, out.Triangulated = &[2]float64{t.JLow, t.JHigh}, t.Triangles
	if t.Pieces == 1 {
		out.ShearCentre, out.Warping = &[2]float64{t.ShearCentre.X, t.ShearCentre.Y}, &t.Warping
	}
	out.Warnings = append(out.Warnings, solverWarnings(s, t)...)
	return out
}

// solverWarnings says what a person must know before using J and the shear
// areas.
func solverWarnings(s Properties, t TorsionResult) (w []string) {
	if t.Pieces > 1 {
		w = append(w, fmt.Sprintf("the cut has %d separate pieces: the torsion constant and the shear"+
			" areas are added piece by piece, and there is no common shear centre", t.Pieces))
	}
	if t.Pieces < s.Outlines {
		w = append(w, "outlines that share a side count as joined in torsion and shear")
	}
	if t.Area < s.Area*(1-1e-4) {
		w = append(w, fmt.Sprintf("outlines overlap: area and moments count %.4g mm2 twice, torsion and shear do not; unite"+
			" the bodies in the mesh", s.Area-t.Area))
	}
	for k, axis := range []string{"first", "second"} {
		if t.PlainShear[k] {
			w = append(w, fmt.Sprintf("the shear area along the %s axis is that for a Poisson's ratio of 0: otherwise the"+
				" section's curl would rule it, not shear", axis))
		}
	}
	if t.Error > 2*defaultTolerance {
		w = append(w, fmt.Sprintf("the outline is too intricate to solve to %.2g %%: the torsion constant"+
			" and the shear areas may be off by %.2g %%", 100*defaultTolerance, 100*t.Error))
	}
	return w
}
