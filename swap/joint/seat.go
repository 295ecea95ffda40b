package joint

// seats are the bearing diameters of hexagon nuts, dw least (ISO 4032:1999, table
// 1), and of the heads of socket screws, which are as wide or wider (ISO 4762, dw
// least: M5 8.03). Where nothing else is stated the nut is taken.
var seats = []struct{ thread, nut, socket float64 }{
	{1.6, 2.4, 2.72}, {2, 3.1, 3.48}, {2.5, 4.1, 4.18}, {3, 4.6, 5.07}, {4, 5.9, 6.53}, {5, 6.9, 8.03},
	{6, 8.9, 9.38}, {8, 11.6, 12.33}, {10, 14.6, 15.33}, {12, 16.6, 17.23}, {14, 19.6, 20.17}, {16, 22.5, 23.17},
	{20, 27.7, 28.87}, {24, 33.3, 34.81},
}

// inchSeats are widths across flats of inch nuts and hexagon heads (ASME B18.2.2
// and B18.6.3, from memory), mm, by thread diameter, mm.
var inchSeats = [][2]float64{
	{2.845, 6.35}, {3.505, 7.94}, {4.166, 8.73}, {4.826, 9.53}, {6.35, 11.11}, {7.938, 12.7}, {9.525, 14.29},
	{11.113, 17.46}, {12.7, 19.05}, {15.875, 23.81}, {19.05, 28.58},
}

// washerFace is the bearing diameter of an inch head over its width across flats
// (ASME B18.2.1, from memory).
const washerFace = 0.95

// beyondTable is about the seat over the thread of larger bolts: 33.3/24 of M24.
const beyondTable = 1.38

// seatDiameter returns the bearing diameter, mm, of the hexagon nut or head of a
// thread; with socket that of a socket head cap screw. Sizes between two of the
// table take the smaller seat, which is safe.
func seatDiameter(t Thread, socket bool) float64 {
	if t.inch {
		return inchSeat(t)
	}
	seat := 0.0
	for _, s := range seats {
		if t.Diameter < s.thread-1e-9 {
			break
		}
		if seat = s.nut; socket {
			seat = s.socket
		}
	}
	if last := seats[len(seats)-1].thread; seat == 0 || t.Diameter > last {
		return beyondTable * t.Diameter
	}
	return seat
}

func inchSeat(t Thread) float64 {
	seat := 0.0
	for _, s := range inchSeats {
		if t.Diameter < s[0]-0.01 {
			break
		}
		seat = washerFace * s[1]
	}
	if last := inchSeats[len(inchSeats)-1][0]; seat == 0 || t.Diameter > last+0.01 {
		return beyondTable * t.Diameter
	}
	return seat
}

// washers are the outer diameters of plain washers, mm, by thread (ISO 7089).
var washers = [][2]float64{{3, 7}, {4, 9}, {5, 10}, {6, 12}, {8, 16}, {10, 20}, {12, 24}, {14, 28}, {16, 30}, {20, 37}, {24, 44}}

// Washer returns the outer diameter, mm, of a plain washer for a thread, 0 where the
// table has none.
func Washer(t Thread) float64 {
	for _, w := range washers {
		if t.Diameter <= w[0]+1e-9 {
			return w[1]
		}
	}
	return 0
}
