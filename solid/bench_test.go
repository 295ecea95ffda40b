package solid

import (
	"bufio"
	"context"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// peakMemory returns the largest resident size of the process so far, in MB.
func peakMemory() float64 {
	f, err := os.Open("/proc/self/status")
	if err != nil {
		return 0
	}
	defer f.Close()
	for lines := bufio.NewScanner(f); lines.Scan(); {
		if rest, ok := strings.CutPrefix(lines.Text(), "VmHWM:"); ok {
			kb, _ := strconv.ParseFloat(strings.Fields(rest)[0], 64)
			return kb / 1024
		}
	}
	return 0
}

// BenchmarkCheck solves the milled plate on the small budget and with 2e5, 1e6 and
// 3e6 unknowns. Run one
// size at a time to read its peak memory, for the process never gives it back:
//
//	go test ./solid -run xxx -bench Check/1000000 -benchtime 1x
func BenchmarkCheck(b *testing.B) {
	m, _ := loadReference(b, "carriage_new")
	for _, unknowns := range []int{quickUnknowns, usualUnknowns, 1_000_000, 3_000_000} {
		b.Run(fmt.Sprint(unknowns), func(b *testing.B) {
			p, err := EndProblem(m, mesh.X, mesh.Z, "cantilever", 100)
			if err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				before := processorSeconds()
				opt := Options{Unknowns: unknowns}
				if unknowns == quickUnknowns {
					opt = Quick()
				}
				r, err := Check(context.Background(), m, aluminium, p, opt)
				if err != nil {
					b.Fatal(err)
				}
				took := processorSeconds() - before
				b.ReportMetric(took, "cpu-s")
				b.ReportMetric(1e6*took/float64(r.Unknowns), "us/unknown")
				b.ReportMetric(float64(r.Unknowns), "unknowns")
				b.ReportMetric(float64(r.Iterations), "iterations")
				b.ReportMetric(r.Stiffness, "N/mm")
				b.ReportMetric(float64(r.Memory)/(1<<20), "MB-foreseen")
				b.ReportMetric(peakMemory(), "MB-peak")
			}
		})
	}
}

// BenchmarkThinWallsAtASlant solves what no grid follows, on the usual budget and
// with as many more unknowns as the stated error asks for, along both axes across.
func BenchmarkThinWallsAtASlant(b *testing.B) {
	for _, c := range []struct {
		name  string
		path  []r2.Vec // middle of the wall
		thick float64
	}{
		{"hat", []r2.Vec{{X: -30}, {X: -18}, {X: -9, Y: 22}, {X: 9, Y: 22}, {X: 18}, {X: 30}}, 1.5},
		{"vee", []r2.Vec{{X: -25, Y: 20}, {}, {X: 25, Y: 20}}, 2},
		{"angle turned 25 degrees", []r2.Vec{r2.Rotate(r2.Vec{Y: 25}, 0.436, r2.Vec{}), {}, r2.Rotate(r2.Vec{X: 35}, 0.436, r2.Vec{})}, 2},
	} {
		b.Run(c.name, func(b *testing.B) {
			m, err := cut.Extrude(cut.Region{{Outer: walled(c.path, c.thick)}}, mesh.AxisPlane(mesh.X, 0), 160)
			if err != nil {
				b.Fatal(err)
			}
			var p Problem
			for _, axis := range []mesh.Axis{mesh.Y, mesh.Z} {
				one, err := EndProblem(m, mesh.X, axis, "cantilever", 100)
				if err != nil {
					b.Fatal(err)
				}
				one.Cases = append(p.Cases, one.Cases...)
				p = one
			}
			for b.Loop() {
				before := processorSeconds()
				r, err := Check(context.Background(), m, aluminium, p, Options{})
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(processorSeconds()-before, "cpu-s")
				b.ReportMetric(float64(r.Unknowns), "unknowns")
				b.ReportMetric(r.worst(), "%-stated")
			}
		})
	}
}

// walled is the outline of a wall of even thickness along a path, mitred.
func walled(path []r2.Vec, thick float64) []r2.Vec {
	side := func(i int, sign float64) r2.Vec {
		across := func(a, b r2.Vec) r2.Vec { return r2.Rotate(r2.Unit(r2.Sub(b, a)), math.Pi/2, r2.Vec{}) }
		first, last := path[max(i-1, 0)], path[min(i+1, len(path)-1)]
		n := across(path[max(i, 1)-1], path[max(i, 1)])
		m := across(first, last)
		if i > 0 && i < len(path)-1 {
			m = r2.Unit(r2.Add(across(first, path[i]), across(path[i], last)))
		}
		return r2.Add(path[i], r2.Scale(sign*thick/2/r2.Dot(m, n), m))
	}
	var out []r2.Vec
	for i := range path {
		out = append(out, side(i, -1))
	}
	for i := len(path) - 1; i >= 0; i-- {
		out = append(out, side(i, 1))
	}
	return out
}
