package broken

import (
	"math"
	"strings"
)

func joined(lists ...[]triangle) (out []triangle) {
	for _, l := range lists {
		out = append(out, l...)
	}
	return out
}

// cube is a box with equal sides, from one corner.
func cube(x, y, z, side float64) []triangle {
	return cuboid(point{x, y, z}, point{x + side, y + side, z + side})
}

// drop leaves out the triangles that lie wholly where in says.
func drop(list []triangle, in func(point) bool) (out []triangle) {
	for _, t := range list {
		if !(in(t[0]) && in(t[1]) && in(t[2])) {
			out = append(out, t)
		}
	}
	return out
}

// bodies are parts of several shells, and shells that are no part.
func bodies() []Mesh {
	block := cuboid(point{0, 0, 0}, point{40, 40, 25})
	atHole := func(p point) bool { return math.Hypot(p[0], p[1]) < 9 }
	plate := ring(square(24, 20), circle(24, 8), 0, 6)
	plateVolume := 6 * (40*40 - polygonArea(24, 8))
	flat := func(z0, z1 float64) []triangle { return cuboid(point{0, 0, z0}, point{30, 20, z1}) }
	other := func(list []triangle) []triangle { // split along the other diagonal
		return changed(list, func(p point) point { return point{30 - p[0], p[1], p[2]} })
	}
	list := []struct {
		name string
		t    []triangle
		true float64
	}{
		{"a cavity that reaches out of its body", joined(block, turned(cuboid(point{10, 10, 20}, point{20, 20, 80}))), 40*40*25 - 10*10*5},
		{"a cavity that reaches out at a corner", joined(block, turned(cube(30, 30, 15, 20))), 40*40*25 - 10*10*10},
		{"a cavity that passes through", joined(block, turned(cuboid(point{10, 10, -5}, point{20, 20, 30}))), 40*40*25 - 10*10*25},
		{"a cavity flush with a side", joined(block, turned(cuboid(point{10, 10, 5}, point{20, 20, 25}))), 40*40*25 - 10*10*20},
		{"a cavity there twice, moved", joined(block, turned(cube(10, 10, 5, 10)), turned(cube(13, 10, 5, 10))), 40*40*25 - 13*10*10},
		{"a cavity turned the wrong way", joined(block, cube(10, 10, 5, 10)), 40*40*25 - 1000},
		{"a body and its cavity, both turned", turned(joined(block, turned(cube(10, 10, 5, 10)))), 40*40*25 - 1000},
		{"a cavity with a body in it", joined(block, turned(cube(10, 10, 5, 15)), cube(12, 12, 7, 5)), 40*40*25 - 15*15*15 + 125},
		{"a body in a cavity, turned", joined(block, turned(cube(10, 10, 5, 15)), turned(cube(12, 12, 7, 5))), 40*40*25 - 15*15*15 + 125},
		{"two bodies that overlap", joined(block, moved(block, point{30, 5, 3})), 2*40*40*25 - 10*35*22},
		{"two bodies that overlap, flush", joined(block, moved(block, point{30, 0, 0})), 70 * 40 * 25},
		{"two bodies that overlap by little", joined(block, moved(block, point{39.9, 5, 3})), 2*40*40*25 - 0.1*35*22},
		{"three bodies that overlap", joined(block, moved(block, point{30, 0, 0}), moved(block, point{15, 20, 10})), 70*40*25 + 40*40*25 - 40*20*15},
		{"the same body twice, moved by little", joined(block, moved(block, point{0.001, 0.001, 0.001})), 2*40*40*25 - 39.999*39.999*24.999},
		{"a cross of two bars", joined(cuboid(point{-30, -5, 0}, point{30, 5, 10}), cuboid(point{-5, -30, 0}, point{5, 30, 10})), 2*60*10*10 - 1000},
		{"two bodies that overlap and share an edge", joined(block, cuboid(point{0, 0, 0}, point{20, 20, 25})), 40 * 40 * 25},
		{"two bodies, one turned", joined(block, turned(moved(block, point{60, 0, 0}))), 2 * 40 * 40 * 25},
		{"two bodies face to face, drawn alike", joined(flat(0, 5), flat(5, 12)), 30 * 20 * 12},
		{"two bodies face to face, drawn otherwise", joined(flat(0, 5), turned(other(flat(5, 12)))), 30 * 20 * 12},
		{"two bodies face to face in part", joined(flat(0, 5), moved(flat(5, 12), point{7, 3, 0})), 30 * 20 * 12},
		{"two bodies edge to edge", joined(block, moved(block, point{40, 40, 0})), 2 * 40 * 40 * 25},
		{"two bodies corner to corner", joined(block, moved(block, point{40, 40, 25})), 2 * 40 * 40 * 25},
		{"three bodies in a row, face to face", joined(flat(0, 5), flat(5, 12), flat(12, 20)), 30 * 20 * 20},
		{"a bow tie", prism([]point{{0, 0}, {20, 20}, {20, 0}, {0, 21}}, 0, 10), unknown},
		{"a star that crosses itself", star(), unknown},
		{"a hole whose wall is missing", drop(plate, atHole), plateVolume},
		{"a hole of which nothing is left", holeless(), plateVolume},
		{"an open sheet", cuboid(point{0, 0, 0}, point{30, 20, 5})[:2], unknown},
		{"a sheet with two sides", joined(flat(0, 5)[:2], turned(flat(0, 5)[:2])), unknown},
		{"a body flat as a sheet", cuboid(point{0, 0, 0}, point{30, 20, 0}), unknown},
		{"one face", block[:1], unknown},
		{"a strip with one side", moebius(), unknown},
		{"a body and a loose face", joined(block, []triangle{{{60, 0, 0}, {70, 0, 0}, {60, 10, 0}}}), 40 * 40 * 25},
		{"a wall within", joined(block, []triangle{{{0, 0, 0}, {40, 40, 0}, {40, 40, 25}}, {{0, 0, 0}, {40, 40, 25}, {0, 0, 25}}}), 40 * 40 * 25},
	}
	var out []Mesh
	for _, c := range list {
		out = append(out, Mesh{Name: c.name, File: Binary(c.t), True: c.true})
	}
	return out
}

// star is a prism on a pentagram: its middle is wound around twice.
func star() []triangle {
	c := circle(5, 20)
	outline := []point{c[0], c[2], c[4], c[1], c[3]}
	// Walls along the outline, and lids as fans about the middle.
	var out []triangle
	for i := range outline {
		a, b := outline[i], outline[(i+1)%5]
		a1, b1 := a.plus(point{0, 0, 10}), b.plus(point{0, 0, 10})
		out = append(out, triangle{a, b, b1}, triangle{a, b1, a1},
			triangle{{0, 0, 10}, a1, b1}, triangle{{0, 0, 0}, b, a})
	}
	return out
}

// holeless is a plate whose hole has lost its wall and whose faces around have lost
// the ring next to it.
func holeless() []triangle {
	outer := ring(square(24, 20), square(24, 12), 0, 6)
	return drop(outer, func(p point) bool { return max(math.Abs(p[0]), math.Abs(p[1])) < 12.5 })
}

func moebius() []triangle {
	const n = 24
	at := func(i int, side float64) point {
		a := 2 * math.Pi * float64(i) / n
		r := 20 + side*3*math.Cos(a/2)
		return point{r * math.Cos(a), r * math.Sin(a), side * 3 * math.Sin(a/2)}
	}
	var out []triangle
	for i := range n {
		a, b, c, d := at(i, -1), at(i, 1), at(i+1, 1), at(i+1, -1)
		if i == n-1 {
			c, d = at(0, -1), at(0, 1)
		}
		out = append(out, triangle{a, d, c}, triangle{a, c, b})
	}
	return out
}

// texts are files that are written in a way that readers trip over.
func texts() []Mesh {
	box := cuboid(point{0, 0, 0}, point{40, 30, 20})
	const volume = 40 * 30 * 20
	bin := Binary(box)
	replaced := func(old, new string) []byte { return []byte(strings.ReplaceAll(string(Text(box, "\n")), old, new)) }
	with := func(at int, b ...byte) []byte {
		out := append([]byte(nil), bin...)
		copy(out[at:], b)
		return out
	}
	return []Mesh{
		{Name: "text on one line", File: Text(box, " "), True: volume},
		{Name: "text with carriage returns alone", File: Text(box, "\r"), True: volume},
		{Name: "text with a mark", File: append([]byte("\xef\xbb\xbf"), Text(box, "\n")...), True: volume},
		{Name: "a decimal comma", File: replaced("40", "40,0"), True: unknown},
		{Name: "an underscore in a number", File: replaced("40", "4_0"), True: unknown},
		{Name: "a number in base 16", File: replaced("40", "0x28"), True: unknown},
		{Name: "no number", File: replaced("40", "nan"), True: unknown},
		{Name: "cut within a number", File: Text(box, "\n")[:300], True: unknown},
		{Name: "cut between two faces", File: []byte(string(Text(box, "\n"))[:6*140]), True: unknown},
		{Name: "a count of 4e9", File: with(80, 0xff, 0xff, 0xff, 0xee), True: unknown},
		{Name: "a count too small", File: with(80, 11), True: volume},
		{Name: "a header that begins with solid", File: with(0, []byte("solid part")...), True: volume},
		{Name: "an upload cut short", File: bin[:400], True: unknown},
		{Name: "infinite", File: with(84+12, 0, 0, 0x80, 0x7f), True: unknown},
		{Name: "nothing", File: nil, True: unknown},
	}
}
