package solid

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"swapworth/mesh"
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

// processorSeconds returns the user time of the process so far.
func processorSeconds() float64 {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return float64(u.Utime.Sec) + 1e-6*float64(u.Utime.Usec)
}

// BenchmarkCheck solves the milled plate with 1e5, 1e6 and 3e6 unknowns. Run one
// size at a time to read its peak memory, for the process never gives it back:
//
//	go test ./solid -run xxx -bench Check/1000000 -benchtime 1x
func BenchmarkCheck(b *testing.B) {
	m, _ := loadReference(b, "carriage_new")
	for _, unknowns := range []int{100_000, 1_000_000, 3_000_000} {
		b.Run(fmt.Sprint(unknowns), func(b *testing.B) {
			p, err := EndProblem(m, mesh.X, mesh.Z, "cantilever", 100)
			if err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				before := processorSeconds()
				r, err := Check(context.Background(), m, aluminium, p, Options{Unknowns: unknowns})
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(processorSeconds()-before, "cpu-s")
				b.ReportMetric(float64(r.Unknowns), "unknowns")
				b.ReportMetric(float64(r.Iterations), "iterations")
				b.ReportMetric(r.Stiffness, "N/mm")
				b.ReportMetric(float64(r.Memory)/(1<<20), "MB-foreseen")
				b.ReportMetric(peakMemory(), "MB-peak")
			}
		})
	}
}
