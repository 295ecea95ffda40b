package solid

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
)

// Place names a piece of a part. The zero value is the low end along x.
//
// As text:
//
//	end:low, end:high      the whole flat face at an end of the span
//	hole:3                 bolted at hole 3: a washer on each flat mouth
//	washer:3 or washer:3:12mm  the same, outer diameter given
//	bore:3                 the wall of hole 3
//	rim:1                  an outer round wall that goes fully round
//	face:10,20,6           the flat face through a point
//	face:10,20,6:0,0,1     the same, the face that looks along a direction
//	box:0,0,0:10,20,6      all material between two corners
//	section:60             a thin slice of material across the span
type Place struct {
	kind   placeKind
	axis   mesh.Axis
	high   bool
	point  r3.Vec // mm
	normal r3.Vec
	box    mesh.Box
	hole   int
	width  float64 // outer diameter of a washer, mm; 0 for the usual
}

type placeKind int

const (
	endFace placeKind = iota
	washer
	bore
	flatFace
	insideBox
	section
	rim
	endPoint // one point of the low end face, to stop a slide along the span
)

// EndPlace is the whole flat face at the low or high end of the part along an
// axis. Where the end is not flat it is the last twentieth of the part.
func EndPlace(span mesh.Axis, high bool) Place { return Place{kind: endFace, axis: span, high: high} }

// Section is a slice of material across an axis at a coordinate in mm, a
// fiftieth of the part's length thick.
func Section(span mesh.Axis, at float64) Place {
	return Place{kind: section, axis: span, point: r3.Scale(at, span.Unit())}
}

// Bolted is hole n (1 for the first) under a bolt: a washer of the given outer
// diameter in mm, 0 for the usual, on each flat mouth.
func Bolted(n int, diameter float64) Place { return Place{kind: washer, hole: n, width: diameter} }

// Bore is the wall of hole n.
func Bore(n int) Place { return Place{kind: bore, hole: n} }

// Rim is outer round wall n, 1 for the first: the edge of a disc, a turned end.
func Rim(n int) Place { return Place{kind: rim, hole: n} }

// FaceAt is the flat face nearest to a point; with a normal other than zero, of
// the faces that look that way.
func FaceAt(point, normal r3.Vec) Place { return Place{kind: flatFace, point: point, normal: normal} }

// Inside is all material in a box.
func Inside(b mesh.Box) Place { return Place{kind: insideBox, box: b} }

// ParsePlace reads a place as Place describes it; ends and sections refer to
// the span.
func ParsePlace(text string, span mesh.Axis) (Place, error) {
	kind, rest, _ := strings.Cut(strings.ToLower(strings.TrimSpace(text)), ":")
	fields := strings.Split(rest, ":")
	fail := func() (Place, error) {
		return Place{}, fmt.Errorf("place %q: expected end:low, end:high, hole:N, washer:N:DIAMETER, bore:N, rim:N, face:X,Y,Z, face:X,Y,Z:NX,NY,NZ, box:X,Y,Z:X,Y,Z or section:AT", text)
	}
	switch kind {
	case "end":
		if rest == "low" || rest == "high" {
			return EndPlace(span, rest == "high"), nil
		}
	case "hole", "washer", "bore", "rim":
		n, err := strconv.Atoi(fields[0])
		if err != nil || n < 1 || len(fields) > 2 || (len(fields) == 2 && kind != "washer") {
			return fail()
		}
		switch kind {
		case "bore":
			return Bore(n), nil
		case "rim":
			return Rim(n), nil
		}
		width := 0.0
		if len(fields) == 2 {
			width, err = strconv.ParseFloat(strings.TrimSuffix(fields[1], "mm"), 64)
			if err != nil || !(width > 0) {
				return fail()
			}
		}
		return Bolted(n, width), nil
	case "face":
		p, err := parseVec(fields[0])
		if err != nil || len(fields) > 2 {
			return fail()
		}
		n := r3.Vec{}
		if len(fields) == 2 {
			if n, err = parseVec(fields[1]); err != nil || r3.Norm(n) == 0 {
				return fail()
			}
		}
		return FaceAt(p, n), nil
	case "box":
		if len(fields) != 2 {
			return fail()
		}
		a, err := parseVec(fields[0])
		b, err2 := parseVec(fields[1])
		if err != nil || err2 != nil {
			return fail()
		}
		return Inside(mesh.Box{
			Min: r3.Vec{X: min(a.X, b.X), Y: min(a.Y, b.Y), Z: min(a.Z, b.Z)},
			Max: r3.Vec{X: max(a.X, b.X), Y: max(a.Y, b.Y), Z: max(a.Z, b.Z)},
		}), nil
	case "section":
		at, err := strconv.ParseFloat(strings.TrimSuffix(rest, "mm"), 64)
		if err != nil || math.IsNaN(at) || math.IsInf(at, 0) {
			return fail()
		}
		return Section(span, at), nil
	}
	return fail()
}

func parseVec(text string) (r3.Vec, error) {
	parts := strings.Split(text, ",")
	if len(parts) != 3 {
		return r3.Vec{}, fmt.Errorf("%q: expected three numbers", text)
	}
	var v [3]float64
	for a, p := range parts {
		x, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimSpace(p), "mm"), 64)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			return r3.Vec{}, fmt.Errorf("%q: expected a number", p)
		}
		v[a] = x
	}
	return r3.Vec{X: v[0], Y: v[1], Z: v[2]}, nil
}

// String writes the place as text that ParsePlace reads.
func (p Place) String() string {
	end := "low"
	if p.high {
		end = "high"
	}
	vec := func(v r3.Vec) string { return fmt.Sprintf("%g,%g,%g", v.X, v.Y, v.Z) }
	switch p.kind {
	case washer:
		if p.width > 0 {
			return fmt.Sprintf("washer:%d:%gmm", p.hole, p.width)
		}
		return fmt.Sprintf("hole:%d", p.hole)
	case bore:
		return fmt.Sprintf("bore:%d", p.hole)
	case rim:
		return fmt.Sprintf("rim:%d", p.hole)
	case flatFace:
		if r3.Norm(p.normal) > 0 {
			return "face:" + vec(p.point) + ":" + vec(p.normal)
		}
		return "face:" + vec(p.point)
	case insideBox:
		return "box:" + vec(p.box.Min) + ":" + vec(p.box.Max)
	case section:
		return fmt.Sprintf("section:%g", p.axis.Of(p.point))
	case endPoint:
		return "one point of end:low"
	}
	return "end:" + end
}

// Hole returns the number of the hole that a place is at, 0 for other places.
func (p Place) Hole() int {
	if p.kind == washer || p.kind == bore {
		return p.hole
	}
	return 0
}

// Rim returns the number of the outer round wall that a place is, 0 for others.
func (p Place) Rim() int {
	if p.kind == rim {
		return p.hole
	}
	return 0
}

// Numbered returns the place at the hole or rim of another number.
func (p Place) Numbered(n int) Place {
	p.hole = n
	return p
}

// Face returns the point and the normal, which may be zero, of a flat face.
func (p Place) Face() (point, normal r3.Vec, ok bool) {
	return p.point, p.normal, p.kind == flatFace
}

// onSurface reports whether a place is a piece of surface whatever the part.
func (p Place) onSurface() bool {
	return p.kind != insideBox && p.kind != section && p.kind != endPoint
}
