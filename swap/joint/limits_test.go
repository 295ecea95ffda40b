package joint

import (
	"math"
	"testing"
)

// The limits of 6g bolts and 6H holes of the coarse series, mm: of bolts ASME B1.13M, which
// keeps the tolerances of ISO 965-1 (amesweb.info/screws/metric-thread-chart.aspx; the pitch
// diameters of M6, M8 and M10 and all of holes ISO 965-2, from memory). Their values are
// rounded and taken from ranges of sizes.
func TestToleranceLimitsAreThoseOfISO965(t *testing.T) {
	for _, want := range []struct {
		thread                         string
		major, pitch, mostPitch, minor float64
	}{
		{"M1.6", 1.496, 1.291, 0, 0},
		{"M2.5", 2.380, 2.117, 0, 0},
		{"M3", 2.874, 2.580, 0, 0},
		{"M4", 3.838, 3.433, 0, 0},
		{"M5", 4.826, 4.361, 4.605, 4.334},
		{"M6", 5.794, 5.212, 5.500, 5.153},
		{"M8", 7.760, 7.042, 7.348, 6.912},
		{"M10", 9.732, 8.862, 9.206, 8.676},
	} {
		thread, err := ParseThread(want.thread)
		if err != nil {
			t.Fatal(err)
		}
		for what, v := range map[string][2]float64{
			"least major": {thread.leastMajor(), want.major}, "least pitch": {thread.leastPitch(), want.pitch},
			"most pitch": {thread.mostPitch(), want.mostPitch}, "most minor": {thread.mostMinor(), want.minor},
		} {
			if v[1] > 0 && math.Abs(v[0]-v[1]) > 0.01 {
				t.Errorf("%s %s: %.3f mm, want %.3f", want.thread, what, v[0], v[1])
			}
		}
	}
}
