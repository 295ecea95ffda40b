package joint

import (
	"fmt"
	"math"

	"swapworth/materials"
	"swapworth/swap/fit"
)

// Joint is one bolt that clamps a plate onto what it is screwed into. Zero means
// not given; what cannot be judged without it is left out with a caution.
type Joint struct {
	Thread Thread
	Class  Class

	// Tapped is the material of the thread, and Engagement its full length, mm.
	// Without Tapped the bolt runs through to a nut, which is as strong as it.
	Tapped     *materials.Material
	Engagement float64

	Plate         materials.Material
	Thickness     float64 // of the plate under the head, mm
	Hole          float64 // diameter, mm
	Head          float64 // outer diameter of the seat, mm; 0 is SeatDiameter of a nut
	EdgeDistance  float64 // from the hole's centre to the edge the load pushes to, mm
	SideDistance  float64 // to the edge beside it, mm; 0 is taken as near as EdgeDistance
	Wall          float64 // thinnest material between the hole and any edge, mm
	OriginError   float64 // of the set-ups against each other, mm
	Axial, Shear  float64 // N for this bolt
	Prying        float64 // moment across the bolt that its head and seat take, N mm
	Twist         float64 // moment about the bolt's axis, N mm
	Preload       float64 // N; 0 is Class.Preload
	LeastFactor   float64 // safety factor asked for; 0 is 2
	StressAtHole  float64 // largest nominal stress of the plate at the hole, MPa
	Concentration float64 // of that stress; 0 is 3, a small hole in a wide plate (Kirsch); 1 for a peak that holds it
	Ratio         float64 // smallest over largest load of a cycle; used when Repeats
	Repeats       bool
	Width         float64 // of the plate across the span, mm; for the size factor
}

// Finding is one check: Capacity over Load is Factor. Unit is that of both.
type Finding struct {
	Name     string  `json:"name"`
	Load     float64 `json:"load"`
	Capacity float64 `json:"capacity"`
	Unit     string  `json:"unit"`
	Factor   float64 `json:"factor"`
	Least    float64 `json:"least_factor"`
	Met      bool    `json:"met"`
	Source   string  `json:"source"`
}

// Result is what Check found, with stable JSON keys.
type Result struct {
	Thread     string    `json:"thread"`
	Tapping    float64   `json:"tapping_drill_mm"`
	Clearance  *float64  `json:"clearance_hole_mm"` // null for a size that no table has
	PreloadN   float64   `json:"preload_n"`
	TorqueNM   float64   `json:"torque_nm"`
	Engagement *float64  `json:"engagement_for_full_strength_mm"` // nil with a nut
	Findings   []Finding `json:"findings"`
	OK         bool      `json:"ok"`
	Cautions   []string  `json:"cautions"`
}

// standing are the cautions of every joint.
var standing = []string{
	"formulas of machine design for a first estimate: parts whose failure can hurt someone go to a qualified engineer",
	"tightening by torque spreads the preload by about 30 % either way",
}

// Worst returns the finding with the least factor beside what is asked of it.
func (r Result) Worst() (worst Finding, ok bool) {
	for i, f := range r.Findings {
		if i == 0 || f.Factor*worst.Least < worst.Factor*f.Least {
			worst = f
		}
	}
	return worst, len(r.Findings) > 0
}

// Check judges a joint. It returns an error for a joint that cannot be.
func Check(j Joint) (Result, error) {
	if j.Thread.Diameter <= 0 || j.Class.Tensile <= 0 {
		return Result{}, fmt.Errorf("a joint needs a thread such as M5 and a bolt class such as 8.8")
	}
	if j.Hole > 0 && j.Hole < j.Thread.Diameter {
		return Result{}, fmt.Errorf("a %s bolt does not go through a hole of %g mm", j.Thread, j.Hole)
	}
	j.fillIn()
	c := check{joint: j, result: Result{
		Thread: j.Thread.String(), PreloadN: j.Preload, TorqueNM: torque(j.Thread, j.Preload),
		Findings: []Finding{}, Cautions: append([]string{}, standing...), OK: true,
	}}
	c.drills()
	c.bolt()
	if err := c.thread(); err != nil {
		return Result{}, err
	}
	c.hole()
	c.wall()
	if j.Repeats {
		if err := c.repeated(); err != nil {
			c.caution(err.Error())
		}
	}
	return c.result, nil
}

// drills names the holes that the thread asks for.
func (c *check) drills() {
	d := fit.DrillsFor(c.joint.Thread.Diameter, c.joint.Thread.Pitch)
	c.result.Tapping = d.Tapping
	if d.Clearance > 0 {
		c.result.Clearance = &d.Clearance
	}
}

func (j *Joint) fillIn() {
	if j.Preload == 0 {
		j.Preload = j.Class.preload(j.Thread)
	}
	if j.Head == 0 {
		j.Head = seatDiameter(j.Thread, false)
	}
	if j.LeastFactor == 0 {
		j.LeastFactor = 2
	}
	if j.Concentration == 0 {
		j.Concentration = 3
	}
}

type check struct {
	joint  Joint
	result Result
}

func (c *check) caution(text string) { c.result.Cautions = append(c.result.Cautions, text) }

// add records a check unless nothing loads it.
func (c *check) add(name, unit string, load, capacity, least float64, source string) {
	load = math.Abs(load)
	if load == 0 {
		return
	}
	f := Finding{Name: name, Load: load, Capacity: capacity, Unit: unit, Factor: capacity / load, Least: least, Source: source}
	f.Met = f.Factor >= least
	c.result.OK = c.result.OK && f.Met
	c.result.Findings = append(c.result.Findings, f)
}

// tension is what pulls at the bolt beside its preload: the axial force and what a
// moment adds that tips the plate about the rim of the head's seat, the shortest
// lever it can have.
func (j Joint) tension() float64 { return math.Abs(j.Axial) + math.Abs(j.Prying)/(j.Head/2) }

// bolt checks the bolt itself: preload and load together against the proof load,
// which leaves nothing to ask beyond 1.
func (c *check) bolt() {
	j := c.joint
	c.add("bolt against its proof load", "N", j.Preload+j.tension(), j.Class.proofLoad(j.Thread), 1, "ISO 898-1")
	c.add("bolt in shear, through the thread", "N", j.Shear, j.Class.shearStrength(j.Thread), j.LeastFactor,
		"EN 1993-1-8, table 3.4")
	c.clamp()
}

// leastPreload is the share of the preload that is sure: torque spreads it by 30 %
// either way (Shigley, section 8-8, from memory).
const leastPreload = 0.7

// dryFriction is what is taken of milled metal faces, dry or with a trace of oil: tables
// of bolted joints have 0.08 to 0.15 for degreased aluminium alloys, 0.12 to 0.18 for
// steel (meadinfo.org/2009/05/friction-coefficient-between-different.html; VDI 2230,
// table A5, from memory).
const dryFriction = 0.1

// clamp checks that the joint neither opens nor slips with the least preload. That
// the plate takes a share of the tension is left out, which is safe.
func (c *check) clamp() {
	j := c.joint
	least := leastPreload * j.Preload
	c.add("joint opening", "N", j.tension(), least, 1, "VDI 2230, section 3.3, all tension on the clamped faces, from memory")
	grip := (j.Head + j.Hole) / 4 // mean radius of the seat
	if slide := math.Abs(j.Shear) + math.Abs(j.Twist)/grip; slide > 0 {
		c.add("joint slipping until the bolt bears", "N", slide, max(0, dryFriction*(least-j.tension())), 1,
			fmt.Sprintf("friction %g, VDI 2230, table A5, from memory", dryFriction))
	}
}

// threadFactor is asked of a thread under preload and load: the preload is known
// to about 30 % only (common practice).
const threadFactor = 1.5

// thread checks the tapped hole under preload and load together, and for how
// long a thread the bolt would break first.
func (c *check) thread() error {
	j := c.joint
	if j.Tapped == nil {
		return nil
	}
	need, err := Engagement(j.Thread, j.Class, *j.Tapped)
	if err != nil {
		return err
	}
	c.result.Engagement = &need
	if j.Engagement <= 0 {
		c.caution("no engagement given: the thread is not judged")
		return nil
	}
	load := j.Preload + j.tension()
	c.add("thread in "+j.Tapped.Name+" pulling out", "N", load,
		pullOut(j.Thread, j.Engagement, *j.Tapped), threadFactor, strippingSource)
	c.add("thread of the bolt stripping", "N", load, boltStrips(j.Thread, j.Engagement, j.Class), threadFactor,
		strippingSource)
	if j.Engagement < need {
		c.caution(fmt.Sprintf("%.3g mm of thread: it strips before the bolt breaks, without a warning; %.3g mm would turn that round",
			j.Engagement, need))
	}
	if j.Tapped.Kind != materials.Metal {
		c.caution(j.Tapped.Name + " creeps under a bolt: use an insert or a nut")
	}
	return nil
}

// hole checks the plate around the bolt.
func (c *check) hole() {
	j := c.joint
	if j.Hole <= 0 {
		c.caution("no hole given: the plate is not judged")
		return
	}
	seat := "VDI 2230, section 5.5.4, with the tensile strength as limit, from memory"
	c.add("seat under the head", "MPa", seatPressure(j.Preload+j.tension(), j.Head, j.Hole), tensile(j.Plate), 1, seat)
	c.washer()
	if j.Shear == 0 {
		return
	}
	if j.EdgeDistance <= 0 || j.Thickness <= 0 {
		c.caution("no edge distance or thickness given: bearing and tear-out are not judged")
		return
	}
	side := j.SideDistance
	if side <= 0 {
		side = j.EdgeDistance
	}
	fu := tensile(j.Plate)
	c.add("hole in bearing", "N", j.Shear,
		bearingSingleRow(j.Thread.Diameter, j.Hole, j.Thickness, j.EdgeDistance, side, fu), j.LeastFactor,
		"EN 1993-1-8, table 3.4 and 3.6.1(10), a single bolt")
	c.add("hole tearing out to the edge", "N", j.Shear,
		tearOut(j.Hole, j.Thickness, j.EdgeDistance, shearStrength(j.Plate)), j.LeastFactor,
		"Shigley, section 8-12")
	if edge := min(j.EdgeDistance, side); edgeTooClose(j.Hole, edge) {
		c.result.OK = false
		c.caution(fmt.Sprintf("the hole's centre is %.3g mm from an edge: at least %.3g mm (1.2 hole diameters, EN 1993-1-8, table 3.3)",
			edge, leastEdge*j.Hole))
	}
}

// washer says what a plain washer would do for a seat that is too small.
func (c *check) washer() {
	j := c.joint
	clamp, wide := j.Preload+j.tension(), Washer(j.Thread)
	if seatPressure(clamp, j.Head, j.Hole) <= tensile(j.Plate) || wide <= j.Head {
		return
	}
	c.caution(fmt.Sprintf("the seat of %.3g mm is small for this preload: a plain washer of %g mm takes the pressure to %.0f MPa", j.Head, wide, seatPressure(clamp, wide, j.Hole)))
}

// thinWall is the share of a drawn wall that must be left after the worst
// registration of the two sides (common practice).
const thinWall = 0.5

func (c *check) wall() {
	j := c.joint
	if j.Wall <= 0 || j.OriginError == 0 {
		return
	}
	left := wallAfterShift(j.Wall, j.OriginError)
	c.add("wall left after the flip", "mm", thinWall*j.Wall, left, 1, "common practice: half of the drawn wall")
}

// concentrationWords name the stress concentration that counts.
func concentrationWords(k float64) string {
	if k == 1 {
		return "the peak as it was found"
	}
	return fmt.Sprintf("stress concentration %.3g", k)
}

// repeated checks the plate at the hole for a load that comes and goes.
func (c *check) repeated() error {
	j := c.joint
	if j.StressAtHole == 0 {
		c.caution("no stress at the hole given: the load that repeats is not judged")
		return nil
	}
	if j.Thickness <= 0 {
		return fmt.Errorf("no thickness given: the load that repeats is not judged")
	}
	endurance, err := enduranceOf(j.Plate, bending, max(j.Width, j.Thickness), j.Thickness)
	if err != nil {
		return err
	}
	nominal := cycleOf(j.StressAtHole, j.Ratio)
	notched := cycle{j.Concentration * nominal.Amplitude, nominal.Mean}
	factor := goodman(notched, endurance.Value, tensile(j.Plate))
	c.add(fmt.Sprintf("repeated load, %s cycles", cycles(endurance.Cycles)), "MPa", j.Concentration*j.StressAtHole,
		factor*math.Abs(j.Concentration*j.StressAtHole), j.LeastFactor,
		fmt.Sprintf("modified Goodman line, Shigley, eq. 6-46, with %s; %s", concentrationWords(j.Concentration), endurance.Source))
	c.add("yield at the peak of the cycle", "MPa", j.StressAtHole,
		firstCycleYield(nominal, j.Plate.Strength.Value)*math.Abs(j.StressAtHole), j.LeastFactor, "Shigley, eq. 6-44")
	for _, text := range endurance.Cautions {
		c.caution(text)
	}
	c.caution("fatigue scatters: the value is a mean, of which half of the specimens fall short")
	return nil
}
