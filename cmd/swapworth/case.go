package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"swapworth/mesh"
	"swapworth/mesh/repair"
	"swapworth/quantity"
	"swapworth/swap"
	"swapworth/swap/casefile"
)

// caseFlags fill a case from the command line, over a case file if one is named.
type caseFlags struct {
	paths  []string
	cmd    *cobra.Command
	file   casefile.File
	repair bool
	join   *quantity.Length
}

func (c *caseFlags) register(cmd *cobra.Command) {
	c.cmd = cmd
	f := cmd.Flags()
	f.StringArrayVar(&c.paths, "case", nil, "read the case from a TOML `FILE`; flags win over it, and of several the later wins, field by field")
	registerNoMachine(f)
	f.BoolVar(&c.repair, "repair", false, "close small or planar gaps, and say what was added")
	registerJoin(f, &c.join)
	group(cmd, "The parts", c.registerParts)
	group(cmd, "The machine", c.registerMachine)
	group(cmd, "The load", c.registerLoad)
	group(cmd, "Criteria", c.registerCriteria)
	group(cmd, "As made", c.registerMaking)
	group(cmd, "Cost and what would do less", c.registerCost)
	group(cmd, "The joint", c.registerJoint)
}

func (c *caseFlags) registerParts(f *pflag.FlagSet) {
	textFlag(f, &c.file.Unit, "unit", "unit", "unit of the STL coordinates: mm, cm, m or in (default mm)")
	textFlag(f, &c.file.Units, unitsFlag, "units", unitsHelp)
	textFlag(f, &c.file.Old.Unit, "old-unit", "unit", "unit of the stock part's mesh alone (default that of --unit)")
	textFlag(f, &c.file.New.Unit, "new-unit", "unit", "unit of the redesign's mesh alone (default that of --unit)")
	wordFlag(f, &c.file.Old.Material, "old-material", "name", "material of the stock part, as far as you know")
	wordFlag(f, &c.file.New.Material, "new-material", "name", "material of the redesign")
	textFlag(f, &c.file.Old.Section, "old-section", "section", "a bar along x in place of the stock part's mesh, such as \"rect 40x4mm\"")
	textFlag(f, &c.file.Old.Length, "old-length", "length", "length of that bar (default unit mm)")
	textFlag(f, &c.file.Old.Weight, "old-weight", "mass", "what one stock part weighs, hardware removed (default unit g)")
	textFlag(f, &c.file.New.Weight, "new-weight", "mass", "what one redesigned part weighs, if it is made (default unit g)")
	textFlag(f, &c.file.ScaleResolution, "scale-resolution", "mass", "smallest step of the scale (default unit g; default the last digit typed)")
	textFlag(f, &c.file.ScaleError, "scale-error", "percent", "how far the scale itself may be off, of what it shows, such as 0.5% (default 0)")
	wordFlag(f, &c.file.Old.Magnet, "old-magnet", "yes|no", "does a magnet hold on the stock part?")
	wordFlag(f, &c.file.Old.Colour, "old-colour", "colour", "colour of the stock part where it is scratched")
	f.Var(optional[bool]{&c.file.SameFrame, strconv.ParseBool, "bool"}, "same-frame", "the two meshes lie as the parts do on the machine: turn and shift nothing")
	f.Lookup("same-frame").NoOptDefVal = "true"
	wordFlag(f, &c.file.Accept, "accept", "file", "take findings of fit that block as meant: the JSON of an earlier fit")
	f.Var(optional[bool]{&c.file.SameLot, strconv.ParseBool, "bool"}, "same-lot", "both parts are cut from one delivery, and share its density, modulus and strength")
	f.Lookup("same-lot").NoOptDefVal = "true"
	wordFlag(f, &c.file.BoltedTo, "bolted-to", "name", "material the part is bolted to, for what heat and corrosion do (default steel)")
	f.StringArrayVar(&c.file.Materials, "materials", nil, "add a table of your own materials from a TOML `FILE`")
}

func (c *caseFlags) registerMachine(f *pflag.FlagSet) {
	m := &c.file.Machine
	textFlag(f, &m.MovingMass, "moving-mass", "mass", "mass of everything that moves, stock parts included (default unit g)")
	textFlag(f, &m.Pivot, "pivot", "x,y,z", "a point on the pivot of a swinging arm, in the stock part's coordinates (default unit mm)")
	textFlag(f, &m.PivotAxis, "pivot-axis", "axis", "direction of the pivot: x, y or z (default z)")
	textFlag(f, &m.MovingInertia, "moving-inertia", "inertia", "moment of inertia of everything that swings, about the pivot (default unit kg mm2)")
	textFlag(f, &m.DriveInertia, "drive-inertia", "inertia", "moment of inertia of what the motor of a linear axis turns, its rotor first, such as \"68 g cm2\" (default unit kg mm2)")
	textFlag(f, &m.TravelPerTurn, "travel-per-turn", "length", "how far one turn of the motor moves the axis (default unit mm)")
	textFlag(f, &m.Pulley, "pulley", "teeth x pitch", "the same by the pulley on the motor and the pitch of its belt, such as 20x2mm")
	textFlag(f, &m.DriveLimited, "drive-limited", "force|speed|unknown", "what the drive cannot go beyond: its force, or the speed and acceleration that its controller sets, where saved mass gains nothing (default unknown, taken as force)")
	textFlag(f, &m.Count, "count", "number", "how many such parts move (default 1)")
}

func (c *caseFlags) registerLoad(f *pflag.FlagSet) {
	l := &c.file.Load
	textFlag(f, &l.Span, "span", "axis", "axis along which the part reaches: x, y or z (default the longest side)")
	f.Var(repeated[mesh.Axis]{&l.Along, parseText[mesh.Axis], "axis"}, "load-along", "axis along which the load acts; may be given twice (default the shortest side)")
	f.Var(optional[quantity.Span[quantity.Force]]{&l.Force, func(s string) (quantity.Span[quantity.Force], error) {
		v, err := parseText[quantity.Span[quantity.Force]](s)
		if err == nil && (v.Low == 0 || v.High == 0) {
			err = fmt.Errorf("%q: expected a force other than zero", s)
		}
		return v, err
	}, "force"}, "load", "the load, such as 20N, or 15..25N where it is not known better (default unit N)")
	listFlag(f, &l.Fix, "fix", "PLACE", "where the stock part is bolted or clamped, in place of a support, such as hole:1; repeatable")
	listFlag(f, &l.LoadAt, "load-at", "PLACE", "where it is loaded, such as hole:5; repeatable, the places share the load")
	listFlag(f, &l.NewFix, "new-fix", "PLACE", "where the redesign is held, if not at the matching places; repeatable")
	listFlag(f, &l.NewLoadAt, "new-load-at", "PLACE", "where the redesign is loaded, if not at the matching places; repeatable")
	vectorFlags(f, &l.ForceVector, &l.Moment, &l.Pressure, &l.Acceleration)
	textFlag(f, &l.AttachedMass, "attached-mass", "mass", "mass that sits where the load acts (default unit g)")
	textFlag(f, &l.Support, "support", "support", "cantilever, simply-supported, fixed-fixed or propped (default cantilever)")
	wordFlag(f, &l.Check, "check", "method", "auto: three-dimensional elasticity, as fine as the answer needs; solid: the same at its full budget; beam: beam theory on cuts of the part (default auto)")
}

func (c *caseFlags) registerCriteria(f *pflag.FlagSet) {
	k := &c.file.Criteria
	textFlag(f, &k.MinGain, "min-gain", "percent", "least gain of acceleration, judged when the moving mass is given (default 1%)")
	textFlag(f, &k.MinSaving, "min-saving", "percent", "least saving of mass, judged otherwise (default 10%)")
	textFlag(f, &k.MinStiffnessRatio, "min-stiffness-ratio", "number", "least stiffness new/old in every load direction (default 0.9)")
	textFlag(f, &k.MinSafetyFactor, "min-safety-factor", "number", "least safety factor to yield (default 2)")
	for _, d := range swap.AllDemands() {
		f.Var(demandFlag{k, d}, d.Name, d.Usage)
	}
	textFlag(f, &k.Goal, "goal", "lighter|stiffer|cheaper", "what the swap is for; stiffer asks for a stiffness ratio of 1.1 and cheaper for less than --old-price, and both let mass grow (default lighter)")
	textFlag(f, &k.Confidence, "confidence", "percent", "probability asked of all criteria together before a swap (default 90%)")
}

func (c *caseFlags) registerMaking(f *pflag.FlagSet) {
	m := &c.file.Made
	f.Var(repeated[casefile.SideLength]{&m.NotFaced, parseText[casefile.SideLength], "side=length"}, "not-faced", "a side that keeps the thickness of its stock, such as +z=8mm; may be repeated")
	textFlag(f, &m.WallStock, "wall-stock", "length", "stock left on the upright walls of pockets and windows; overhanging ones stay as drawn (default unit mm)")
	textFlag(f, &m.FloorStock, "floor-stock", "length", "stock left on the flat floors of pockets; sloping ones stay as drawn (default unit mm)")
	f.Var(optional[bool]{&m.NoChamfers, strconv.ParseBool, "bool"}, "no-chamfers", "chamfers are skipped, their edges left sharp")
	f.Lookup("no-chamfers").NoOptDefVal = "true"
	wordFlag(f, &m.Tolerance, "tolerance", "class", "class of ISO 2768-1 that both parts keep, f, m, c or v, and show its limits (default m, not shown)")
	textFlag(f, &m.OriginError, "origin-error", "length", "error of the origin of a part milled from two sides; doubles across the flip (default unit mm)")
}

func (c *caseFlags) registerCost(f *pflag.FlagSet) {
	k, l := &c.file.Cost, &c.file.Lesser
	wordFlag(f, &k.MillProfile, "mill-profile", "file", "profile of your mill, TOML (default a bench-top mill; swapworth init --mill writes it)")
	textFlag(f, &k.HourlyValue, "hourly-value", "number", "what an hour of yours is worth, in your currency, such as 25 or 20..30")
	textFlag(f, &k.Hours, "hours", "hours", "hours that all the work takes, such as 2.5h or 2..4h, in place of the estimate (default unit h)")
	textFlag(f, &k.QuotedPrice, "quoted-price", "number", "price of all parts from a supplier, in place of making them, such as 80 or 70..90")
	textFlag(f, &k.OldPrice, "old-price", "number", "price of one stock part as a spare, which the goal cheaper is held against")
	wordFlag(f, &k.Currency, "currency", "name", "what your prices are called, such as EUR; nothing is converted")
	textFlag(f, &k.StockPrice, "stock-price", "number", "price of the stock a kg (default the material table's)")
	textFlag(f, &k.PlateThickness, "plate-thickness", "length", "thickness of the stock at hand (default the thinnest plate that covers the part)")
	textFlag(f, &k.SetUps, "set-ups", "number", "number of set-ups (default counted from the part)")
	textFlag(f, &k.Attempts, "attempts", "number", "attempts it takes for each good part (default 1)")
	textFlag(f, &k.SuccessChance, "success-chance", "percent", "chance that one attempt gives a good part, instead of --attempts (default 100%, less where the part is hard to mill)")
	textFlag(f, &k.CAMTime, "cam-time", "time", "time for tool paths, once for all parts (default unit min; default the profile's, 45min)")
	textFlag(f, &k.SawTime, "saw-time", "time", "time to saw one blank (default unit min; default the profile's, 10min)")
	textFlag(f, &k.MeasureTime, "measure-time", "time", "time to measure one part (default unit min; default the profile's, 3min)")
	f.Var(repeated[casefile.SideLength]{&l.Trim, parseText[casefile.SideLength], "side=length"}, "trim", "price cutting a strip off the stock part instead, such as +x=5mm; may be repeated")
	f.Var(repeated[casefile.HoleCount]{&l.Drill, parseText[casefile.HoleCount], "count x length"}, "drill", "price lightening holes in the stock part instead, such as 6x8mm; may be repeated")
	f.Var(list[casefile.Bought]{&l.Buy, parseText[casefile.Bought], "name,mass,price"}, "buy", "price a bought part instead, such as \"thin plate, 48g, 12.50\"; may be repeated")
}

func (c *caseFlags) registerJoint(f *pflag.FlagSet) {
	j := &c.file.Joint
	textFlag(f, &j.Bolt, "bolt", "thread", "judge the joint with this bolt, such as M5 or M6x0.75")
	textFlag(f, &j.Class, "bolt-class", "class", "strength class of the bolt (default 8.8)")
	textFlag(f, &j.Hole, "bolt-hole", "number", "hole of the redesign that it goes through (default the one with least material around it)")
	wordFlag(f, &j.TappedIn, "tapped-in", "material", "what its thread is cut into (default a nut)")
	textFlag(f, &j.Engagement, "engagement", "length", "length of full thread (default unit mm)")
	textFlag(f, &j.Tension, "bolt-tension", "force", "tension of one bolt (default unit N)")
	textFlag(f, &j.Shear, "bolt-shear", "force", "shear of one bolt (default unit N)")
	f.Var(optional[bool]{&j.Repeats, strconv.ParseBool, "bool"}, "load-repeats", "the load comes again and again: judge fatigue too")
	f.Lookup("load-repeats").NoOptDefVal = "true"
	textFlag(f, &j.Ratio, "load-ratio", "number", "smallest over largest load of a cycle, -1 to 1 (default 0)")
}

// merged returns the case files with the flags and the named meshes laid over them, the
// later over the earlier.
func (c *caseFlags) merged(meshes []string) (casefile.File, error) {
	over := c.file
	if over.Old.Section != nil && len(meshes) < 2 { // a bar stands for the stock part
		meshes = append([]string{""}, meshes...)
	}
	if len(meshes) > 0 && meshes[0] != "" {
		over.Old.Mesh = &meshes[0]
	}
	if len(meshes) > 1 {
		over.New.Mesh = &meshes[1]
	}
	if len(c.paths) == 0 {
		return over, complete(over)
	}
	var base casefile.File
	for _, path := range c.paths {
		next, err := casefile.Read(path)
		if err != nil {
			return over, err
		}
		base = base.Over(next)
	}
	base.Pairs = slices.Clone(base.Pairs)
	for i, p := range base.Pairs { // a flag wins over every pair
		base.Pairs[i].File = p.Over(over)
	}
	return base.Over(over), nil
}

// remembering returns a case with the machine that the person keeps below it, and what
// of it is in force.
func (c *caseFlags) remembering(f casefile.File) (casefile.File, *swap.Remembered, error) {
	kept, path, err := recall(c.cmd)
	if err != nil {
		return f, nil, err
	}
	merged, used := kept.Under(f)
	return merged, remembered(path, used), nil
}

// complete asks for the two parts where no case file may hold them.
func complete(f casefile.File) error {
	if f.Old.Mesh == nil && f.Old.Section == nil {
		return usageError{errors.New("no mesh for the old part: name two STL files, or a case file with --case")}
	}
	if f.New.Mesh == nil {
		return usageError{errors.New("no mesh for the new part: name two STL files, or a case file with --case")}
	}
	return nil
}

// load returns the question that file, flags and meshes make together.
func (c *caseFlags) load(ctx context.Context, meshes []string) (swap.Case, error) {
	f, err := c.merged(meshes)
	if err != nil {
		return swap.Case{}, err
	}
	options, err := c.reading(ctx)
	if err != nil {
		return swap.Case{}, err
	}
	f, from, err := c.remembering(f)
	if err != nil {
		return swap.Case{}, err
	}
	question, err := f.CaseWith(options)
	question.Remembered = from
	return question, err
}

// reading says how the meshes are read, until ctx is done.
func (c *caseFlags) reading(ctx context.Context) (mesh.Options, error) {
	join, err := joinWithin(c.join, c.repair)
	return mesh.Options{Repair: repair.When(c.repair, join), Context: ctx}, err
}

// demandFlag is the flag of a demand, which stays open until it is given.
type demandFlag struct {
	to *casefile.Criteria
	of swap.Demand
}

func (d demandFlag) Set(text string) error { return d.to.SetDemand(d.of, text) }
func (d demandFlag) String() string        { return "" }
func (d demandFlag) Type() string          { return d.of.Kind }
