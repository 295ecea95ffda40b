// Package swap decides: what the redesign saves, how stiff and strong both
// parts are, what the saved mass buys and costs, how sure that is, and which
// unchecked assumption would turn the answer over.
package swap

import (
	"swapworth/mass"
	"swapworth/materials"
	"swapworth/quantity"
	"swapworth/solid"
	"swapworth/swap/joint"
	"swapworth/swap/last"
	"swapworth/swap/mill"
)

// Range is a quantity known within bounds; in results of Monte Carlo it holds
// the 2.5 % point, the value from nominal inputs and the 97.5 % point.
type Range = materials.Range

// Verdict is one of the three answers.
type Verdict string

// The three answers.
const (
	Swap       Verdict = "swap"
	Keep       Verdict = "keep"
	CheckFirst Verdict = "check first"
)

// Result is everything a comparison found. Its JSON keys are stable: every key
// is present, null where nothing was computed.
type Result struct {
	Old       Part        `json:"old"`
	New       Part        `json:"new"`
	Count     int         `json:"count"`
	Saving    Saving      `json:"saving"`
	Stiffness []Stiffness `json:"stiffness"`
	Motion    *Motion     `json:"motion"`
	Cost      *Cost       `json:"cost"`
	Fit       *Fit        `json:"fit"`

	// Millable is null for a part that is not milled, such as a print.
	Millable *mill.Millable `json:"millable"`

	Lasting []last.Finding `json:"lasting"` // what becomes of both parts, what matters most first

	Criteria []Criterion `json:"criteria"`
	Verdict  Verdict     `json:"verdict"`

	// Condition is what the verdict holds under where an assumption that nobody stated
	// would turn it: direction, support or a usual limit.
	Condition *string `json:"condition"`

	// Probability is that of every judged criterion met together; nil where none was.
	Probability *float64 `json:"probability"`

	// Needed is what would make it a swap; of a ranking alone, and null for what is one.
	Needed *Needed `json:"needed"`

	Reasons   []string   `json:"reasons"`
	Turnovers []Turnover `json:"turnovers"`
	Cautions  []string   `json:"cautions"`
	Warnings  []string   `json:"warnings"`

	AsMade      []AsMade       `json:"as_made"` // the redesign as made, beside it as drawn
	Milling     *mill.Estimate `json:"milling"` // where the hours and the money go
	Reactions   []Reaction     `json:"reactions"`
	Bolts       []Bolt         `json:"bolts"`  // of held holes
	Spare       *solid.Spare   `json:"spare"`  // of the redesign; null where it was not looked for
	Joint       *joint.Result  `json:"joint"`  // of the worst bolt; null where none was named
	Lesser      []mill.Lesser  `json:"lesser"` // what would do less
	NextStep    string         `json:"next_step"`
	BreakEvens  []BreakEven    `json:"break_evens"`
	Assumptions []string       `json:"assumptions"` // what was taken where nothing was said
	Missing     []string       `json:"missing"`     // what each input that was not given would add
	Drivers     []Driver       `json:"drivers"`     // where the uncertainty comes from

	Remembered *Remembered `json:"remembered"` // what came from the machine file; null where nothing did

	// Units is what the note is written in; every number here is in the unit of its key.
	Units quantity.System `json:"-"`

	// Explored is for whoever asks the person on; no part of the JSON.
	Explored Exploration `json:"-"`

	// Drawing is for figures and no part of the JSON; nil in a result read back.
	Drawing *Drawing `json:"-"`
}

// Part is one side of the comparison: its computed mass properties and, where
// it was put on a scale, its weighed mass in g.
type Part struct {
	mass.Report
	Weighed        *Range  `json:"weighed_g"`
	StatedMaterial *string `json:"stated_material"`
	Basis          Basis   `json:"material_basis"`
	Contradiction  *string `json:"contradiction"` // what the scale or a magnet says against the statement
}

// Saving is old minus new: positive when the redesign is lighter.
type Saving struct {
	PerPart Range `json:"per_part_g"`
	Total   Range `json:"total_g"`
	Percent Range `json:"percent"`
}

// Stiffness compares both parts in one load case. Stiffness is force over the
// mean displacement of the loaded place in N/mm, for a moment that over the
// rotation in N mm/rad, and for a pressure or an acceleration left out: there the
// ratio is that of the largest deflections, old over new. A value is nil where
// the method refused the part, or where the load is not known. Direction is the
// axis of a force along one, empty for a case with loads of its own.
type Stiffness struct {
	Case            string   `json:"case"`
	Direction       string   `json:"direction"`
	Method          string   `json:"method"`
	Old             *float64 `json:"old_n_per_mm"`
	New             *float64 `json:"new_n_per_mm"`
	OldTurn         *float64 `json:"old_nmm_per_rad"`
	NewTurn         *float64 `json:"new_nmm_per_rad"`
	OldDeflection   *float64 `json:"old_deflection_mm"`
	NewDeflection   *float64 `json:"new_deflection_mm"`
	OldError        *float64 `json:"old_error_percent"`
	NewError        *float64 `json:"new_error_percent"`
	Ratio           *Range   `json:"ratio"`
	OldSafetyFactor *float64 `json:"old_safety_factor"`
	NewSafetyFactor *float64 `json:"new_safety_factor"`
	OldYieldForce   *float64 `json:"old_yield_force_n"`
	NewYieldForce   *float64 `json:"new_yield_force_n"`
	OldFrequency    *float64 `json:"old_frequency_hz"` // the lowest as the part is held, attached mass included
	NewFrequency    *float64 `json:"new_frequency_hz"`
	OldRefused      string   `json:"old_refused,omitempty"`
	NewRefused      string   `json:"new_refused,omitempty"`
}

// Among names the case beside others: "along z", "in case pull".
func (s Stiffness) Among() string {
	if s.Direction != "" {
		return "along " + s.Direction
	}
	return "in case " + s.Case
}

// Motion is what the saved mass buys on the machine. Kind is "linear" or
// "swinging".
type Motion struct {
	Kind             string   `json:"kind"`
	MovingMass       *float64 `json:"moving_mass_g"`
	MovingInertia    *float64 `json:"moving_inertia_kg_mm2"`
	DriveMass        *float64 `json:"drive_mass_g"` // what the drive turns, as mass that moves
	DriveLimited     Limited  `json:"drive_limited"`
	AccelerationGain *Range   `json:"acceleration_gain_percent"`
	ForceSaved       *Range   `json:"drive_force_saved_percent"` // at the same acceleration
	FrequencyGain    *Range   `json:"frequency_gain_percent"`
	OldInertia       *float64 `json:"old_inertia_kg_mm2"` // of one stock part about the pivot
	NewInertia       *float64 `json:"new_inertia_kg_mm2"`
}

// Cost is what the redesign takes to make; money in the currency the person
// typed, time in hours.
type Cost struct {
	Stock        *float64 `json:"stock"`
	Hours        *float64 `json:"hours"`
	Attempts     *float64 `json:"attempts"`
	Total        *float64 `json:"total"`
	PerGramSaved *float64 `json:"per_gram_saved"`
	StockParts   *float64 `json:"stock_parts"` // price of as many stock parts
	Currency     string   `json:"currency"`    // what the person calls it; empty where nobody said
	HoursRange   *Range   `json:"hours_range"`
	TotalRange   *Range   `json:"total_range"`

	// what is drawn; zero where it is not known
	stock, hours, hour, quoted, stockParts Range
	bought                                 bool // for the quoted price
}

// Fit says whether the redesign bolts on in the same place.
type Fit struct {
	OK       bool     `json:"ok"`
	Findings []string `json:"findings"`
	Blocking []string `json:"blocking"` // the findings that forbid bolting it on
	Accepted []string `json:"accepted"` // those that would, but are meant to be so
}

// Criterion is one demand on the redesign. Probability and Met are nil when
// the criterion was not judged; Missing then names the flag that would judge it.
type Criterion struct {
	kind        criterionKind
	demand      *Demand  // that it comes from; nil for those that always hold
	usual       bool     // nobody set its limit
	open        bool     // all that it takes is known, and mechanics leaves it open
	Name        string   `json:"name"`
	Limit       *float64 `json:"limit"`
	AtMost      bool     `json:"at_most"` // the limit is an upper one
	Value       *Range   `json:"value"`
	Probability *float64 `json:"probability"`
	Met         *bool    `json:"met"`
	Missing     string   `json:"missing,omitempty"`
}

// criterionKind says what a criterion is about.
type criterionKind int

const (
	gainCriterion criterionKind = iota
	savingCriterion
	stiffnessCriterion
	safetyCriterion
	demandCriterion // a limit that a person set, of the list in demand.go
)

// Turnover is one unverified assumption whose alternative changes the answer.
type Turnover struct {
	Assumption string  `json:"assumption"`
	From       string  `json:"from"`
	To         string  `json:"to"`
	Verdict    Verdict `json:"verdict"`
	Check      string  `json:"check"`
	Saving     Range   `json:"saving_percent"` // under the alternative

	kind  kindOf
	given string // what the verdict holds under, for a condition
}
