package joint

import "math"

// bearing returns the force in shear, N, that a plate of thickness t takes from
// a bolt of diameter d in a hole d0, towards an edge at end distance e1 from the
// hole's centre with the nearest side edge at e2, all mm, and tensile strength fu,
// MPa:
//
//	k1 ab fu d t, ab = min(e1/(3 d0), 1), k1 = min(2.8 e2/d0 - 1.7, 2.5)
//
// (EN 1993-1-8, table 3.4, a single bolt, without the partial factor; EN
// 1999-1-1, table 8.5, has the same for aluminium. From memory.) An edge closer than 1.2 d0 (tables 3.3 and 8.2) is
// outside the formula: see edgeTooClose.
func bearing(d, d0, thickness, e1, e2, fu float64) float64 {
	ab := min(e1/(3*d0), 1)
	k1 := min(2.8*e2/d0-1.7, 2.5)
	return max(0, k1*ab*fu*d*thickness)
}

// singleRow is the most that k1 ab may be where a lap joint has one row of bolts
// and the plate turns about it (EN 1993-1-8, 3.6.1(10): 1.5 fu d t).
const singleRow = 1.5

// bearingSingleRow returns bearing, at most 1.5 fu d t: what one bolt takes of
// which nobody knows that others stand behind it.
func bearingSingleRow(d, d0, thickness, e1, e2, fu float64) float64 {
	return min(bearing(d, d0, thickness, e1, e2, fu), singleRow*fu*d*thickness)
}

// leastEdge is the least distance of a hole's centre from an edge in hole
// diameters (EN 1993-1-8, table 3.3; EN 1999-1-1, table 8.2, from memory).
const leastEdge = 1.2

// edgeTooClose reports whether the centre of a hole d0 lies nearer to an edge
// than the standards allow, mm.
func edgeTooClose(d0, edge float64) bool { return edge < leastEdge*d0 }

// tearOut returns the force in shear, N, at which a bolt tears two lines of
// metal out towards an edge at distance e from the hole's centre:
//
//	2 (e - d0/2) t tau
//
// with the shear strength tau, MPa (edge shearing, Shigley, section 8-12).
func tearOut(d0, thickness, e, tau float64) float64 {
	return max(0, 2*(e-d0/2)*thickness*tau)
}

// seatPressure returns the pressure, MPa, under a head or washer of outer
// diameter dw, mm, over a hole dh that clamps with F, N (VDI 2230, section 5.5.4,
// from memory).
func seatPressure(clamp, dw, dh float64) float64 {
	area := math.Pi / 4 * (dw*dw - dh*dh)
	if area <= 0 {
		return math.Inf(1)
	}
	return clamp / area
}

// wallAfterShift returns what is left of a wall, mm, when the two sides of a
// part are milled with the origin off by e: the error shows as 2e between the
// sides after the flip (common practice).
func wallAfterShift(wall, origin float64) float64 { return max(0, wall-2*math.Abs(origin)) }
