package multigrid

import (
	"context"
	"math"
	"runtime"
	"strings"
	"testing"
	"time"

	"swapworth/internal/readingorder"
	"swapworth/solid/internal/brick"
)

func TestReadsFromTheTopDown(t *testing.T) { readingorder.Hold(t, 0) }

// bar is a grid of full cubes of edge h, of a material with a modulus of 1000 MPa.
func bar(count [3]int, h, poisson float64) *Grid {
	g := &Grid{Elements: make([]brick.Element, 1), Held: map[[3]int][3]bool{}}
	for a, n := range count {
		for i := range n + 1 {
			g.Lines[a] = append(g.Lines[a], h*float64(i))
		}
		for range n {
			g.Edges[a] = append(g.Edges[a], h)
		}
	}
	g.Kind = make([]int32, count[0]*count[1]*count[2])
	b := new(brick.Brick)
	b.Assemble([3]float64{h, h, h}, &brick.Full, brick.LameOf(1000, poisson))
	b.Stiffness(&g.Elements[0])
	return g
}

// hold holds the nodes of the end of axis 0.
func (g *Grid) hold(dirs [3]bool) *Grid {
	for j := range g.nodes(1) {
		for k := range g.nodes(2) {
			g.Held[[3]int{0, j, k}] = dirs
		}
	}
	return g
}

// rough is a grid in which bricks of half their material and gaps lie among full ones,
// as where a surface cuts through.
func rough(count [3]int) *Grid {
	g := bar(count, 1, 0.33)
	half := brick.Full
	for i, v := range half {
		if i%3 == 1 {
			half[i] = -half[i-1] / 4 // the lower half along axis 2
		} else {
			half[i] = v / 2
		}
	}
	for i := range half {
		if i%3 == 2 {
			half[i] = half[i-2] / 3
		}
	}
	g.Elements = append(g.Elements, brick.Element{})
	b := new(brick.Brick)
	b.Assemble([3]float64{1, 1, 1}, &half, brick.LameOf(1000, 0.33))
	b.Stiffness(&g.Elements[1])
	for c := range g.Kind {
		switch {
		case c%7 == 3:
			g.Kind[c] = 1
		case c%11 == 5:
			g.Kind[c] = -1
		}
	}
	return g
}

// noise fills a vector with numbers from -1 to 1 at the active nodes.
func (op *operator) noise() []float64 {
	x := make([]float64, op.length())
	for _, p := range op.pos {
		for a := range 3 {
			x[3*int(p)+a] = math.Sin(float64(3*int(p) + a))
		}
	}
	return x
}

func TestRowsFourNumbersAtATimeAreThoseOneAtATime(t *testing.T) {
	op := newOperator(rough([3]int{24, 14, 4}))
	x := op.noise()
	want, got := make([]float64, len(x)), make([]float64, len(x))
	op.plainRows(x, want, 0, len(op.pos))
	op.rows(x, got, 0, len(op.pos))
	largest := 0.0
	for _, v := range want {
		largest = max(largest, math.Abs(v))
	}
	for i := range want {
		if math.Abs(got[i]-want[i]) > 1e-13*largest {
			t.Fatalf("entry %d: %g, want %g", i, got[i], want[i])
		}
	}
}

// The stencils are the sum of the elements around each node.
func TestTheProductIsThatOfTheElements(t *testing.T) {
	g := rough([3]int{5, 4, 3})
	spring := new(brick.Element)
	spring[0], spring[25] = 300, 200
	g.Springs = map[int]*brick.Element{0: spring}
	op := newOperator(g)
	x := op.noise()
	want, got := make([]float64, len(x)), make([]float64, len(x))
	g.eachActive(func(i, j, k int) {
		cell := g.cellIndex(i, j, k)
		for _, e := range []*brick.Element{&g.Elements[g.Kind[cell]], g.Springs[cell]} {
			if e == nil {
				continue
			}
			for row := range brick.DOF {
				for col := range brick.DOF {
					r, c := row/3, col/3
					at := 3*int(op.storedAt(i+r>>2, j+r>>1&1, k+r&1)) + row%3
					want[at] += e[row*brick.DOF+col] * x[3*int(op.storedAt(i+c>>2, j+c>>1&1, k+c&1))+col%3]
				}
			}
		}
	})
	op.apply(x, got)
	for i := range want {
		if math.Abs(got[i]-want[i]) > 1e-9 {
			t.Fatalf("entry %d: %g, the elements give %g", i, got[i], want[i])
		}
	}
	op.strain(x, got)
	for i := range want {
		if math.Abs(got[i]-want[i]) > 1e-9 {
			t.Fatalf("entry %d by differences: %g, the elements give %g", i, got[i], want[i])
		}
	}
}

// pull spreads a force (N) along an axis over the free end: a quarter, a half or the
// whole of a cell's share at each node.
func (s *System) pull(force float64, axis int) []float64 {
	f := make([]float64, s.Length())
	last := len(s.g.Lines[0]) - 1
	n1, n2 := s.g.cells(1), s.g.cells(2)
	for j := range n1 + 1 {
		for k := range n2 + 1 {
			share := force / float64(n1*n2)
			if j == 0 || j == n1 {
				share /= 2
			}
			if k == 0 || k == n2 {
				share /= 2
			}
			f[s.EntryAt(last, j, k)+axis] = share
		}
	}
	return f
}

// A bar that may grow thin is pulled evenly: F L/(E A), exactly.
func TestAPulledBarStretchesByItsStress(t *testing.T) {
	g := bar([3]int{20, 3, 2}, 2, 0.3).hold([3]bool{true, false, false})
	g.Held[[3]int{0, 0, 0}] = [3]bool{true, true, true}
	g.Held[[3]int{0, 3, 0}] = [3]bool{true, false, true}
	s, err := New(g)
	if err != nil {
		t.Fatal(err)
	}
	f, u := s.pull(48, 0), make([]float64, s.Length())
	if _, err := s.Solve(t.Context(), f, u, 1e-12); err != nil {
		t.Fatal(err)
	}
	if got, want := u[s.EntryAt(20, 1, 1)], 48.0*40/(1000*24); math.Abs(got/want-1) > 1e-9 {
		t.Errorf("the end moves %g mm, expected %g", got, want)
	}
	q := make([]float64, len(u))
	s.ApplyAll(u, q)
	sum := 0.0
	for _, e := range s.Fixed {
		if e%3 == 0 {
			sum += q[e]
		}
	}
	if math.Abs(sum+48) > 1e-7 {
		t.Errorf("the held end takes %g N, expected -48", sum)
	}
}

// A cantilever of 40 x 4 x 4 bends by F L^3/(3 E I) + F L/(G A 5/6) with I = b h^3/12
// (Timoshenko; the clamped end takes a little from it).
func TestACantileverBendsAsABeam(t *testing.T) {
	s, err := New(bar([3]int{40, 4, 4}, 1, 0).hold([3]bool{true, true, true}))
	if err != nil {
		t.Fatal(err)
	}
	f, u := s.pull(1, 2), make([]float64, s.Length())
	if _, err := s.Solve(t.Context(), f, u, 1e-9); err != nil {
		t.Fatal(err)
	}
	want := 40.0*40*40/(3*1000*256.0/12) + 40/(500*16*5.0/6)
	if got := Dot(f, u); math.Abs(got/want-1) > 0.005 {
		t.Errorf("the end moves %g mm under 1 N, a beam's %g", got, want)
	}
}

// A rod that is held along its axis at one end and may not move across rings at
// c/(4 L), 3 c/(4 L), ... with c = sqrt(E/density); n equal elements with their mass at
// the nodes have sin(x)/x of that, x = pi/(4 n) (2 m - 1).
func TestARodRingsAtQuartersOfItsLength(t *testing.T) {
	const n, h, density = 24, 2.0, 2700.0
	g := bar([3]int{n, 1, 1}, h, 0)
	for i := range n + 1 {
		for c := range 4 {
			g.Held[[3]int{i, c >> 1, c & 1}] = [3]bool{i == 0, true, true}
		}
	}
	s, err := New(g)
	if err != nil {
		t.Fatal(err)
	}
	mass := make([]float64, s.Length())
	for node := range s.Nodes() {
		share := density * 1e-6 * h * h * h / 4
		if i := s.Node(node)[0]; i == 0 || i == n {
			share /= 2
		}
		for a := range 3 {
			mass[s.Entry(node)+a] = share
		}
	}
	hz, err := s.Frequencies(t.Context(), mass, 2)
	if err != nil {
		t.Fatal(err)
	}
	speed := math.Sqrt(1000*1e6/density) * 1e3 // mm/s
	for m, got := range hz {
		x := math.Pi / (4 * n) * float64(2*m+1)
		want := float64(2*m+1) * speed / (4 * n * h) * math.Sin(x) / x
		if math.Abs(got/want-1) > 1e-6 {
			t.Errorf("frequency %d is %g Hz, expected %g", m+1, got, want)
		}
	}
}

// Eight times the unknowns need about as many iterations: that is what the coarser
// grids are for.
func TestIterationsHardlyGrowWithTheGrid(t *testing.T) {
	var its []int
	for _, n := range []int{1, 2} {
		g := rough([3]int{40 * n, 16 * n, 4 * n}).hold([3]bool{true, true, true})
		s, err := New(g)
		if err != nil {
			t.Fatal(err)
		}
		if s.top.next == nil {
			t.Fatal("the grid is solved directly, without a coarser one")
		}
		f, u := s.op.noise(), make([]float64, s.Length())
		it, err := s.Solve(t.Context(), f, u, 1e-6)
		if err != nil {
			t.Fatal(err)
		}
		its = append(its, it)
	}
	t.Logf("iterations %v", its)
	if its[1] > its[0]*3/2 || its[1] > 60 {
		t.Errorf("iterations %v", its)
	}
}

func TestASolutionIsTheSameOnOneCore(t *testing.T) {
	var was []float64
	for _, cores := range []int{runtime.NumCPU(), 1} {
		before := runtime.GOMAXPROCS(cores)
		s, err := New(rough([3]int{40, 16, 4}).hold([3]bool{true, true, true}))
		if err != nil {
			t.Fatal(err)
		}
		f, u := s.op.noise(), make([]float64, s.Length())
		_, err = s.Solve(t.Context(), f, u, 1e-6)
		runtime.GOMAXPROCS(before)
		if err != nil {
			t.Fatal(err)
		}
		for i, v := range u {
			if was != nil && v != was[i] {
				t.Fatalf("entry %d: %g on all cores, %g on one", i, was[i], v)
			}
		}
		was = u
	}
}

// What may slide or turn as a whole has no displacement that could be told; rounding in
// the factors of its matrix would let it through. One more direction holds it.
func TestWhatCanMoveAsAWholeIsRefused(t *testing.T) {
	hinge := func(g *Grid, firm bool) *Grid {
		for j := range g.nodes(1) {
			g.Held[[3]int{0, j, 0}] = [3]bool{true, true, true}
		}
		if firm {
			g.Held[[3]int{2, 0, 0}] = [3]bool{false, false, true}
		}
		return g
	}
	// a cell at one end, held by springs along axis 0 at its outer corners
	sprung := func(g *Grid, dirs int) *Grid {
		x := new(brick.Element)
		for c := range 4 {
			for a := range dirs {
				x[(3*c+a)*brick.DOF+3*c+a] = 50
			}
		}
		g.Springs = map[int]*brick.Element{0: x}
		return g
	}
	for _, count := range [][3]int{{4, 2, 2}, {40, 4, 4}, {60, 20, 4}} {
		plain := func() *Grid { return bar(count, 1, 0.3) }
		for name, g := range map[string]*Grid{
			"free":                        plain(),
			"held along two axes":         plain().hold([3]bool{true, false, true}),
			"on a hinge":                  hinge(plain(), false),
			"on springs along one axis":   sprung(plain(), 1),
			"on springs along two axes":   sprung(plain(), 2),
			"held across but for a slide": plain().hold([3]bool{false, true, true}),
		} {
			if _, err := New(g); err == nil || !strings.Contains(err.Error(), "not held against every rigid motion") {
				t.Errorf("%v %s: %v", count, name, err)
			}
		}
		for name, g := range map[string]*Grid{
			"held":                      plain().hold([3]bool{true, true, true}),
			"on a hinge and a stop":     hinge(plain(), true),
			"on springs along all axes": sprung(plain(), 3),
		} {
			if _, err := New(g); err != nil {
				t.Errorf("%v %s: %v", count, name, err)
			}
		}
	}
}

func TestASolveCanBeCalledOff(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	s, err := New(bar([3]int{4, 2, 2}, 1, 0.3).hold([3]bool{true, true, true}))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Solve(ctx, s.pull(1, 0), make([]float64, s.Length()), 1e-9); err != context.Canceled {
		t.Errorf("a solve that is called off: %v", err)
	}
}

// BenchmarkRows compares the product with the matrix four numbers at a time with
// that one at a time.
func BenchmarkRows(b *testing.B) {
	op := newOperator(rough([3]int{120, 70, 6}))
	x := op.noise()
	y := make([]float64, len(x))
	var plain, quick time.Duration
	for b.Loop() {
		start := time.Now()
		op.plainRows(x, y, 0, len(op.pos))
		between := time.Now()
		op.rows(x, y, 0, len(op.pos))
		plain, quick = plain+between.Sub(start), quick+time.Since(between)
	}
	b.ReportMetric(quick.Seconds()/plain.Seconds(), "of-plain")
	b.ReportMetric(1e9*quick.Seconds()/float64(b.N*len(op.pos)), "ns/node")
}
