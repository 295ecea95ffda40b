package swap

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/cut"
	"swapworth/swap/joint"
)

// holed returns a plate of 60 x 36 mm with two holes of 5.5 mm at x = 8 and two at
// 52 and 48, so that no turn brings it onto itself, as if read from a file after a
// motion.
func holed(t *testing.T, thickness float64, moved mesh.Transform) *mesh.Loaded {
	t.Helper()
	plate := cut.Polygon{Outer: []r2.Vec{{}, {X: 60}, {X: 60, Y: 36}, {Y: 36}}}
	for _, at := range []r2.Vec{{X: 8, Y: 8}, {X: 8, Y: 28}, {X: 52, Y: 8}, {X: 48, Y: 26}} {
		var hole []r2.Vec
		for k := range 24 {
			a := -2 * math.Pi * float64(k) / 24
			hole = append(hole, r2.Vec{X: at.X + 2.75*math.Cos(a), Y: at.Y + 2.75*math.Sin(a)})
		}
		plate.Holes = append(plate.Holes, hole)
	}
	m, err := cut.Extrude(cut.Region{plate}, mesh.AxisPlane(mesh.Z, 0), thickness)
	if err != nil {
		t.Fatal(err)
	}
	m = m.Transformed(moved)
	return &mesh.Loaded{Path: "plate.stl", Mesh: m, Triangles: len(m.Faces), Report: mesh.Check(m)}
}

// boltedPlates are held at the holes at low x and loaded at those at high x.
func boltedPlates(t *testing.T, moved mesh.Transform) Case {
	c := Case{
		Old:    Side{Loaded: holed(t, 5, mesh.Identity()), Material: material(t, "6061-T6")},
		New:    Side{Loaded: holed(t, 4, moved), Material: material(t, "6061-T6")},
		Limits: DefaultLimits(), Table: materials.Default(),
		Loading: Loading{Along: []mesh.Axis{mesh.Z}, Force: 50},
	}
	c.Loading.Fix, c.Loading.LoadAt = []string{"hole:1", "hole:2"}, []string{"hole:3", "hole:4"}
	return c
}

// quarterTurn turns a file about its z axis and moves it away.
func quarterTurn() mesh.Transform {
	t := mesh.Identity()
	t.Rotation = [3][3]float64{{0, -1, 0}, {1, 0, 0}, {0, 0, 1}}
	t.Shift = r3.Vec{X: 200, Y: -30, Z: 7}
	return t
}

// placedOf measures and places the parts of a case.
func placedOf(t *testing.T, c Case) (measured, placed) {
	t.Helper()
	m, err := measure(c, &shared{}, &shared{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	p, err := place(c, m)
	if err != nil {
		t.Fatal(err)
	}
	return m, p
}

func solvedQuick(t *testing.T, c Case) (placed, []direction) {
	t.Helper()
	return solvedOn(t, c, quick)
}

func solvedOn(t *testing.T, c Case, b budget) (placed, []direction) {
	t.Helper()
	_, p := placedOf(t, c)
	d, err := mechanicsOf(c, false).respondBoth(t.Context(), p, p.cases, b, nil)
	if err != nil {
		t.Fatal(err)
	}
	return p, d
}

func TestPlacesNamedOnTheStockPartAreFoundOnATurnedRedesign(t *testing.T) {
	t.Parallel()
	// the same plate in the same frame, so on the same grid: a sketch tells
	_, straight := solvedOn(t, boltedPlates(t, mesh.Identity()), sketch)
	s, turned := solvedOn(t, boltedPlates(t, quarterTurn()), sketch)
	if len(s.assumptions) == 0 || s.new.motion == mesh.Identity() {
		t.Fatalf("the redesign was not moved: %q", s.assumptions)
	}
	if a, b := straight[0].new.perModulus, turned[0].new.perModulus; math.Abs(a/b-1) > 0.01 {
		t.Errorf("the redesign is %g mm as it lies and %g mm turned in its file", a, b)
	}
	// what a person says of the redesign is in its own file: there the holes at low x
	// of the stock part are the two at low y, numbers 1 and 3
	c := boltedPlates(t, quarterTurn())
	c.Loading.NewFix = []string{"hole:1", "hole:3"}
	_, own := solvedOn(t, c, sketch)
	if a, b := own[0].new.perModulus, turned[0].new.perModulus; math.Abs(a/b-1) > 1e-6 {
		t.Errorf("held at its own holes 1 and 3 it is %g mm, at those found %g mm", a, b)
	}
}

func TestAPlaceThatIsNotThereIsAnErrorThatNamesItAndTheFlag(t *testing.T) {
	for want, change := range map[string]func(*Case){
		"hole:7":        func(c *Case) { c.Loading.Fix = []string{"hole:7"} },
		"hole:9":        func(c *Case) { c.Loading.LoadAt = []string{"face:30,18,5", "hole:9"} },
		"--new-fix":     func(c *Case) { c.New.Loaded = bar(60, 36, 4) },
		"--fix":         func(c *Case) { c.Loading.Fix = []string{"nail:1"} },
		"STL file":      func(c *Case) { c.Old.Bar = true },
		"nothing loads": func(c *Case) { c.Loading.Cases = []LoadCase{{Name: "idle"}} },
		"twice":         func(c *Case) { c.Loading.Cases = []LoadCase{{Name: "z", Loads: Loads{Force: r3.Vec{Z: 1}}}} },
		"--load-at":     func(c *Case) { c.Loading.LoadAt, c.Loading.Pressure = nil, 1 },
		"held":          func(c *Case) { c.Loading.LoadAt = c.Loading.Fix },
	} {
		c := boltedPlates(t, mesh.Identity())
		change(&c)
		m, err := measure(c, &shared{}, &shared{}, nil)
		if err == nil {
			_, err = place(c, m)
		}
		if err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("error %v, want one line with %q", err, want)
		}
	}
}

// Statics: the holds carry the load, and its moment about them.
func TestReactionsBalanceTheLoadAndBoltsAreJudgedByTheirOwn(t *testing.T) {
	t.Parallel()
	c := boltedPlates(t, mesh.Identity())
	bolt, _ := joint.ParseThread("M5")
	class, _ := joint.ParseClass("8.8")
	c.Making.Bolted = &Bolted{Thread: bolt, Class: class}
	s, d := solvedQuick(t, c)
	in := gathered(c, s, responses{directions: d}, nil)
	sum := map[string]r3.Vec{}
	for _, r := range reactionsOf(s, in) {
		sum[r.Part] = r3.Add(sum[r.Part], vec(r.Force))
	}
	for part, f := range sum {
		if r3.Norm(r3.Add(f, r3.Vec{Z: 50})) > 1e-3*50 {
			t.Errorf("%s: the holds take %v, the load is 50 N along z", part, f)
		}
	}
	bolts, err := judgeBolts(boltingOf(c, s), s, in)
	if err != nil {
		t.Fatal(err)
	}
	if len(bolts) != 4 {
		t.Fatalf("bolts %+v, want one a held hole and part", bolts)
	}
	pry := map[string]float64{}
	for _, b := range bolts { // each takes about half; the arm to the loads twists its seat
		pry[b.Part] += b.Prying
		if math.Abs(b.Tension-25) > 5 {
			t.Errorf("%s hole %d: tension %.3g N, want about 25 N", b.Part, b.Hole, b.Tension)
		}
	}
	for part, got := range pry { // the loads of 25 N stand 44 and 40 mm from the line of the bolts
		if want := 25.0 * (44 + 40); math.Abs(got/want-1) > 0.15 {
			t.Errorf("%s: prying %.4g N mm on both bolts, want about %.4g", part, got, want)
		}
	}
	if worst := worstBolt(bolts); worst == nil || worst.Part != "new" || worst.Factor <= 0 {
		t.Errorf("worst bolt %+v", worst)
	}
}

// A part that lies askew in its file is solved along its own sides, and gives what it
// gives straight; its loads and reactions stay by the file's axes.
func TestPartsThatLieAskewAreJudgedAlongTheirOwnSides(t *testing.T) {
	t.Parallel()
	straight := boltedPlates(t, mesh.Identity())
	straight.Loading.Force, straight.Loading.Along = 0, nil
	straight.Loading.Loads.Force = r3.Vec{X: 10, Z: 40}
	_, want := solvedOn(t, straight, sketch)

	askew := straight
	turn := mesh.RotationAbout(r3.Vec{X: 0.3, Y: 0.2, Z: 1}, 0.4)
	askew.Old.Loaded, askew.New.Loaded = holed(t, 5, turn), holed(t, 4, turn)
	force := turn.Turn(r3.Vec{X: 10, Z: 40})
	askew.Loading.Loads.Force = force
	s, got := solvedOn(t, askew, sketch)
	if s.old.motion == mesh.Identity() || !strings.Contains(strings.Join(s.assumptions, "\n"), "lies askew") {
		t.Fatalf("nothing is said of how the part lies: %q", s.assumptions)
	}
	if a, b := got[0].new.perModulus, want[0].new.perModulus; math.Abs(a/b-1) > 0.01 {
		t.Errorf("the redesign is %g mm askew and %g mm straight", a, b)
	}
	var sum r3.Vec
	for _, r := range reactionsOf(s, gathered(askew, s, responses{directions: got}, nil)) {
		if r.Part == "new" {
			sum = r3.Add(sum, vec(r.Force))
		}
	}
	if r3.Norm(r3.Add(sum, force)) > 1e-3*r3.Norm(force) {
		t.Errorf("the holds take %v, the load is %v", sum, force)
	}
}

// Two forces that are each other's mirror image load a symmetric part alike, and a
// moment gives a stiffness over rotation.
func TestLoadCasesHaveTheirOwnStiffnessAndCriteria(t *testing.T) {
	t.Parallel()
	c := boltedPlates(t, mesh.Identity())
	c.Loading.Force, c.Loading.Along = 0, nil
	c.Loading.Cases = []LoadCase{
		{Name: "push", Loads: Loads{Force: r3.Vec{Y: 30}}},
		{Name: "pull", Loads: Loads{Force: r3.Vec{Y: -60}}},
		{Name: "twist", Loads: Loads{Moment: r3.Vec{X: 2000}}},
		{Name: "shake", Loads: Loads{Acceleration: r3.Vec{Z: 20}}},
	}
	m, _ := placedOf(t, c)
	s, d := solvedQuick(t, c)
	in := gathered(c, s, responses{directions: d}, nil)
	priced := priceOf(c, m, in)
	in.cost = priced.cost
	o := judge(in)
	of, said := stiffnessesOf(in, o.ratios), m.and(s.remarks, priced.remarks).assumptions
	if len(of) != 4 || len(said) > 2 {
		t.Fatalf("%d cases, assumed %q", len(of), said)
	}
	push, pull, twist, shake := of[0], of[1], of[2], of[3]
	if math.Abs(*push.Old / *pull.Old - 1) > 1e-6 || math.Abs(2**push.NewDeflection / *pull.NewDeflection - 1) > 1e-6 {
		t.Errorf("push %g N/mm, %g mm; pull %g N/mm, %g mm", *push.Old, *push.NewDeflection, *pull.Old, *pull.NewDeflection)
	}
	if twist.Old != nil || twist.OldTurn == nil || math.Abs(*twist.OldTurn**twist.OldDeflection) == 0 {
		t.Errorf("twist %+v, want a stiffness over rotation", twist)
	}
	if shake.Old != nil || shake.OldTurn != nil || shake.Ratio == nil || *shake.OldDeflection >= *shake.NewDeflection {
		t.Errorf("shake %+v, want deflections and their ratio alone", shake)
	}
	names := ""
	for _, one := range o.criteria {
		names += one.Name + "\n"
	}
	for _, want := range []string{"stiffness ratio in case twist", "safety factor in case shake"} {
		if !strings.Contains(names, want) {
			t.Errorf("criteria %q lack %q", names, want)
		}
	}
}

// Each of several redesigns has its holes where its own file has them, and one that lacks
// a held hole is left out by its name alone.
func TestSeveralRedesignsEachFindTheirOwnPlaces(t *testing.T) {
	t.Parallel()
	var cases []Case
	for name, l := range map[string]*mesh.Loaded{
		"straight.stl": holed(t, 4, mesh.Identity()), "turned.stl": holed(t, 4, quarterTurn()), "blank.stl": bar(60, 36, 4),
	} {
		c := boltedPlates(t, mesh.Identity())
		c.Loading.Force = 0 // strength is not asked for
		l.Path = name
		c.New.Loaded = l
		cases = append(cases, c)
	}
	r, err := Rank(context.Background(), cases, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Redesigns) != 2 || len(r.Refused) != 1 {
		t.Fatalf("%d compared, refused %+v, want two and one", len(r.Redesigns), r.Refused)
	}
	a, b := r.Redesigns[0].Stiffness[0], r.Redesigns[1].Stiffness[0]
	if math.Abs(a.Ratio.Nominal/b.Ratio.Nominal-1) > 0.01 || math.Abs(*a.New / *b.New - 1) > 0.01 {
		t.Errorf("%g and %g N/mm: the turned one is held or loaded elsewhere", *a.New, *b.New)
	}
	if one := r.Refused[0]; one.File != "blank.stl" || !strings.Contains(one.Why, "hole:1") || !strings.Contains(one.Why, "--new-fix") {
		t.Errorf("refused %+v, want the blank, its hole and the flag", one)
	}
	if _, err := Rank(context.Background(), []Case{cases[slices.IndexFunc(cases, func(c Case) bool { return c.New.Loaded.Path == "blank.stl" })]}, nil); err == nil ||
		!strings.HasPrefix(err.Error(), "blank.stl: ") {
		t.Errorf("the blank alone: %v, want an error that names it", err)
	}
}
