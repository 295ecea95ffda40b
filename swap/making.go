package swap

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/materials"
	"swapworth/mesh/asmade"
	"swapworth/swap/joint"
	"swapworth/swap/mill"
)

// Making is how the redesign is made, as far as the person says. The zero value
// is a part as drawn, milled with the bench-top profile.
type Making struct {
	NotFaced    []NotFaced
	WallStock   float64      // left on the walls of pockets, mm
	FloorStock  float64      // left on the floors of pockets, mm
	NoChamfers  bool         // edges left sharp
	Tolerance   asmade.Class // of ISO 2768-1; empty for none
	OriginError float64      // of a part milled from two sides, mm

	Profile *mill.Profile // nil: the bench-top profile
	Plan    mill.Plan
	Pricing Pricing
	Lesser  []Lesser
	Bolted  *Bolted // nil: the joint is not judged
}

// NotFaced is a side that keeps the thickness of its stock.
type NotFaced struct {
	Side  r3.Vec  // unit, in the redesign's own frame
	Stock float64 // thickness of the stock along the side, mm
	Name  string  // as typed
}

// Pricing is what time and stock are worth. A nil value was not given.
type Pricing struct {
	HourlyValue   *Range
	Hours         *Range  // that the person expects of all the work; nil: estimated
	Currency      string  // a label; nothing is converted
	StockPart     *Range  // price of one stock part as a spare
	Quoted        *Range  // price of all parts
	PricePerKg    *Range  // nil: the material table's
	Attempts      float64 // a good part; 0: not given
	SuccessChance float64 // of one attempt; 0: not given
}

// Bolted is how the parts are bolted on, where the person wants the joint judged.
// Zero values were not given.
type Bolted struct {
	Thread     joint.Thread
	Class      joint.Class
	Hole       int                 // of the redesign, from 1; 0: the one with least material around it
	TappedIn   *materials.Material // what the thread is cut into; nil: a nut
	Engagement float64             // mm of full thread
	Axial      float64             // N for one bolt; 0: from the solution where the part is held at holes
	Shear      float64             // N for one bolt; 0: from the solution
	Repeats    bool                // the load comes again and again
	Ratio      float64             // smallest over largest load of a cycle
}

// Lesser is something smaller than the redesign that may do as well: the stock
// part trimmed or drilled, or a bought part.
type Lesser struct {
	Name  string
	Trim  *NotFaced // side and width of a strip to cut off
	Drill *Drill
	Buy   *Buy
}

// Drill is a count of lightening holes of one diameter, in mm.
type Drill struct {
	Count    int
	Diameter float64
}

// Buy is a bought part: its mass in g and its price a piece.
type Buy struct {
	Grams, Price float64
}

// profile is the mill that the part is made on.
func (m Making) profile() mill.Profile {
	if m.Profile != nil {
		return *m.Profile
	}
	return mill.BenchTop()
}

// planned is the mill as the person plans to use it.
func (m Making) planned() mill.Profile {
	if m.Profile != nil {
		return m.Plan.Over(*m.Profile)
	}
	return m.Plan.Over(mill.BenchTop())
}

// bored is the widest hole that is drilled, or that the cutter of pockets does not
// go into, mm: it comes out at its size, without stock on its wall.
func (m Making) bored() float64 {
	p := m.profile()
	return max(p.Drill.MaxDiameter, p.Cutter.Finish.Diameter)
}

// step is one departure from the drawing.
type step struct {
	name string
	make func(asmade.Part) (asmade.Variant, error)
}

// steps lists the departures from the drawing that the person says will happen.
func (m Making) steps() []step {
	var out []step
	for _, f := range m.NotFaced {
		out = append(out, step{fmt.Sprintf("not faced on %s, stock of %s mm", f.Name, number(f.Stock)),
			func(p asmade.Part) (asmade.Variant, error) { return asmade.Unfaced(p, f.Side, f.Stock) }})
	}
	if m.WallStock > 0 || m.FloorStock > 0 {
		out = append(out, step{fmt.Sprintf("%s mm left on walls and %s mm on floors of pockets", number(m.WallStock), number(m.FloorStock)),
			func(p asmade.Part) (asmade.Variant, error) {
				return asmade.StockLeft(p, asmade.MillAxis(p), m.WallStock, m.FloorStock, m.bored())
			}})
	}
	if m.NoChamfers {
		out = append(out, step{"chamfers skipped", asmade.WithoutChamfers})
	}
	return out
}
