package grid

import "math"

// Where a profile runs along an axis (a hat, a tube, an angle that leans) the
// surface that no grid plane follows is the same at every cell along it, and only
// the cells across the profile decide how well its walls are met: halving the cells
// along a hat section moves its stiffness by less than a percent, across it by 10.
const (
	longestCell = 3    // times as long as wide
	profileFrom = 0.2  // share of the surface that must lie askew
	profileFull = 0.4  // share at which cells are as long as may be
	profileLong = 2    // times as long as wide and high, likewise; none where it is no longer than that
	alongMost   = 0.05 // mean of n^2 along the axis, over the surface that lies askew, above which it is no profile
)

// Stretch returns how much longer cells may be along each axis than across.
func (s *Surface) Stretch() (f [3]float64) {
	total, askew := 0.0, 0.0
	var along [3]float64
	for _, t := range s.Faces {
		tri := [3][3]float64{s.Points[t[0]], s.Points[t[1]], s.Points[t[2]]}
		area, n := AreaOf(tri), NormalOf(tri)
		total += area
		if max(math.Abs(n[0]), math.Abs(n[1]), math.Abs(n[2])) > Straight {
			continue
		}
		askew += area
		for a := range 3 {
			along[a] += area * n[a] * n[a]
		}
	}
	part := min(max((askew/total-profileFrom)/(profileFull-profileFrom), 0), 1)
	for a := range 3 {
		f[a] = 1
		if askew > 0 {
			size := func(n int) float64 { return s.High[n%3] - s.Low[n%3] }
			slender := min(max(size(a)/max(size(a+1), size(a+2))-1, 0), profileLong-1) / (profileLong - 1)
			f[a] += (longestCell - 1) * part * slender * max(1-along[a]/askew/alongMost, 0)
		}
	}
	return
}

// Straight is the cosine between a face and a grid plane that counts as following it.
const Straight = 0.9999
