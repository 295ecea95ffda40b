package swap

import (
	"swapworth/quantity"
	"swapworth/solid"
	"swapworth/swap/joint"
	"swapworth/swap/last"
	"swapworth/swap/mill"
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
