package mill

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
)

// Job is what the estimate needs beside the work itself. Money is in the
// currency that the person uses throughout.
type Job struct {
	Count      int     // pieces needed
	Family     string  // of the material, as the profile's [material] tables name it
	Density    float64 // kg/m3
	PricePerKg float64 // of the blank; 0 for stock that costs nothing

	// SuccessChance is the chance that one attempt gives a good part, above 0 and
	// at most 1; Attempts is a number of attempts a good part instead. Both zero
	// means that every attempt succeeds.
	SuccessChance float64
	Attempts      float64

	HourlyValue float64  // of the person's time; 0 counts money for stock alone
	Quoted      *float64 // price of all parts from a supplier, instead of making them

	// SavedGrams is the mass that all parts together save; 0 or less leaves the
	// price of a gram open.
	SavedGrams float64

	// Made is for work on parts that are there already and need no tool paths and no
	// blank: a strip sawn off, holes drilled.
	Made bool
}

// Operation is one line of the estimate.
type Operation struct {
	Name    string  `json:"name"`
	Minutes float64 `json:"minutes"` // for one good part without failed attempts
	Share   float64 `json:"share"`   // of those minutes, 0 to 1
	How     string  `json:"how"`     // the sum a person can check
}

// Estimate is what making the parts takes. Hours and money are for all parts,
// failed attempts included.
type Estimate struct {
	Profile    string      `json:"profile"`
	Blank      [3]float64  `json:"blank_mm"`
	BlankGrams float64     `json:"blank_g"`
	Operations []Operation `json:"operations"`

	MinutesOnce    float64  `json:"minutes_once"`     // for all parts together: CAM
	MinutesPerPart float64  `json:"minutes_per_part"` // one good part
	Attempts       float64  `json:"attempts"`         // expected, for all parts
	Scrap          float64  `json:"scrap"`            // of those, expected to fail
	Hours          float64  `json:"hours"`
	Stock          float64  `json:"stock"`
	Labour         float64  `json:"labour"`
	Quoted         *float64 `json:"quoted"` // when given, Total is this and nothing else
	Total          float64  `json:"total"`
	PerGram        *float64 `json:"per_gram_saved"`
	Warnings       []string `json:"warnings"`
}

// Make estimates the work with a profile.
//
// With a success chance p, a good part takes 1/p attempts on average (geometric
// distribution). A failed attempt costs a whole blank and the profile's
// failed_share of the time.
func Make(w Work, p Profile, j Job) (Estimate, error) {
	if err := j.check(); err != nil {
		return Estimate{}, err
	}
	cutting, ok := p.Material[j.Family]
	if !ok {
		return Estimate{}, fmt.Errorf("mill profile %s has no [material.%q]; add it with its speeds", p.Name, j.Family)
	}
	s := shop{p, cutting}
	e := Estimate{
		Profile: p.Name, Blank: w.Blank, Quoted: j.Quoted, Warnings: []string{},
		BlankGrams: w.blankVolume() * j.Density * 1e-6,
	}
	if j.Made {
		s.Handling.Saw = 0
	}
	e.Operations = s.operations(w)
	for _, o := range e.Operations {
		e.MinutesPerPart += o.Minutes
	}
	perPart := j.attempts()
	n := float64(j.Count)
	if !j.Made {
		e.MinutesOnce = p.Handling.CAM
		e.Operations = slices.Insert(e.Operations, 0, Operation{
			Name: "CAM", Minutes: e.MinutesOnce / n, How: said("%v min for all parts", e.MinutesOnce),
		})
	}
	for i := range e.Operations {
		e.Operations[i].Share = e.Operations[i].Minutes / (e.MinutesPerPart + e.MinutesOnce/n)
	}
	e.Attempts = n * perPart
	e.Scrap = e.Attempts - n
	e.Hours = (e.MinutesOnce + (n+e.Scrap*p.Handling.FailedShare)*e.MinutesPerPart) / 60
	e.Stock = e.Attempts * e.BlankGrams / 1000 * j.PricePerKg
	e.Labour = e.Hours * j.HourlyValue
	e.Total = e.Stock + e.Labour
	if j.Quoted != nil {
		e.Total = *j.Quoted
	}
	if j.SavedGrams > 0 {
		perGram := e.Total / j.SavedGrams
		e.PerGram = &perGram
	}
	e.warn(w, p, j)
	return e, nil
}

func (j Job) check() error {
	switch {
	case j.Count < 1:
		return fmt.Errorf("count %d: expected 1 or more", j.Count)
	case j.SuccessChance < 0 || j.SuccessChance > 1:
		return fmt.Errorf("success chance %g: expected above 0 and at most 1", j.SuccessChance)
	case j.Attempts != 0 && j.Attempts < 1:
		return fmt.Errorf("%g attempts a part: expected 1 or more", j.Attempts)
	case j.Attempts != 0 && j.SuccessChance != 0:
		return errors.New("a success chance and a number of attempts exclude each other; give one")
	case j.Density <= 0:
		return fmt.Errorf("density %g kg/m3: expected more than 0", j.Density)
	case j.PricePerKg < 0 || j.HourlyValue < 0 || j.Quoted != nil && *j.Quoted < 0:
		return errors.New("a price or an hourly value is negative")
	}
	for _, v := range []float64{j.SuccessChance, j.Attempts, j.Density, j.PricePerKg, j.HourlyValue, j.SavedGrams} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return errors.New("a value of the job is not a number")
		}
	}
	return nil
}

// attempts returns how many attempts a good part takes on average.
func (j Job) attempts() float64 {
	switch {
	case j.Attempts > 0:
		return j.Attempts
	case j.SuccessChance > 0:
		return 1 / j.SuccessChance
	}
	return 1
}

func (e *Estimate) warn(w Work, p Profile, j Job) {
	top := e.Operations[0]
	for _, o := range e.Operations {
		if o.Minutes > top.Minutes {
			top = o
		}
	}
	if top.Share > 0.4 {
		e.Warnings = append(e.Warnings, fmt.Sprintf("%.0f %% of the time goes into %s", 100*top.Share, strings.ToLower(top.Name)))
	}
	if w.ChamferLength > 0 {
		e.Warnings = append(e.Warnings, "a chamfer cutter with a flat tip cuts off by half the tip; set it by its cone, not by its nose")
	}
	if j.HourlyValue == 0 && j.Quoted == nil {
		e.Warnings = append(e.Warnings, "your time is counted as free")
	}
}
