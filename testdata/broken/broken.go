package broken

import (
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
)

// Mesh is one file with something wrong.
type Mesh struct {
	Name string
	File []byte  // STL
	True float64 // volume of the part that was meant, mm3; NaN where no part can be told
	Join float64 // how far corners may lie apart that were meant to be one, mm; 0: not said
}

// unknown is the volume of what is no part.
var unknown = math.NaN()

// All makes every file. Each call gives the same.
func All() []Mesh {
	var list []Mesh
	for i, s := range solids() {
		for j, f := range faults() {
			random := rand.New(rand.NewPCG(uint64(i), uint64(j)))
			m := Mesh{Name: s.name + ", " + f.name, True: s.volume, Join: f.join}
			if f.unknown {
				m.True = unknown
			}
			m.File = Binary(f.spoil(s.triangles, random))
			list = append(list, m)
		}
	}
	return append(append(list, bodies()...), texts()...)
}

// Binary writes triangles as a binary STL.
func Binary(list []triangle) []byte {
	out := make([]byte, 84, 84+50*len(list))
	binary.LittleEndian.PutUint32(out[80:], uint32(len(list)))
	for _, t := range list {
		for _, p := range [4]point{{}, t[0], t[1], t[2]} {
			for _, x := range p {
				out = binary.LittleEndian.AppendUint32(out, math.Float32bits(float32(x)))
			}
		}
		out = append(out, 0, 0)
	}
	return out
}

// Text writes triangles as an ASCII STL, with sep between the words of which a
// usual file has one a line.
func Text(list []triangle, sep string) []byte {
	var b strings.Builder
	b.WriteString("solid part" + sep)
	for _, t := range list {
		b.WriteString("facet normal 0 0 0" + sep + "outer loop" + sep)
		for _, p := range t {
			fmt.Fprintf(&b, "vertex %g %g %g%s", p[0], p[1], p[2], sep)
		}
		b.WriteString("endloop" + sep + "endfacet" + sep)
	}
	b.WriteString("endsolid part\n")
	return []byte(b.String())
}

// fault is something wrong with any part.
type fault struct {
	name    string
	join    float64
	unknown bool
	spoil   func(list []triangle, random *rand.Rand) []triangle
}

func faults() []fault {
	without := func(list []triangle, gone func(i int) bool) (out []triangle) {
		for i, t := range list {
			if !gone(i) {
				out = append(out, t)
			}
		}
		return out
	}
	with := func(list []triangle, more ...triangle) []triangle {
		return append(append([]triangle(nil), list...), more...)
	}
	some := func(list []triangle, random *rand.Rand) triangle { return list[random.IntN(len(list))] }
	return []fault{
		{name: "faces in any order", spoil: shuffled},
		{name: "inside out", spoil: func(l []triangle, _ *rand.Rand) []triangle { return turned(l) }},
		{name: "one face turned", spoil: func(l []triangle, r *rand.Rand) []triangle {
			i := r.IntN(len(l))
			out := with(l)
			out[i] = turned(l[i : i+1])[0]
			return out
		}},
		{name: "faces turned at random", spoil: func(l []triangle, r *rand.Rand) []triangle {
			out := with(l)
			for i := range out {
				if r.IntN(3) == 0 {
					out[i] = turned(l[i : i+1])[0]
				}
			}
			return out
		}},
		{name: "one face missing", spoil: func(l []triangle, r *rand.Rand) []triangle {
			n := r.IntN(len(l))
			return without(l, func(i int) bool { return i == n })
		}},
		{name: "the upper side missing", spoil: func(l []triangle, _ *rand.Rand) []triangle {
			top := math.Inf(-1)
			for _, t := range l {
				top = max(top, min(t[0][2], t[1][2], t[2][2]))
			}
			return without(l, func(i int) bool { return min(l[i][0][2], l[i][1][2], l[i][2][2]) >= top })
		}},
		{name: "a face there twice", spoil: func(l []triangle, r *rand.Rand) []triangle { return with(l, some(l, r)) }},
		{name: "the back of a face", spoil: func(l []triangle, r *rand.Rand) []triangle {
			return with(l, turned([]triangle{some(l, r)})...)
		}},
		{name: "everything there twice", spoil: func(l []triangle, _ *rand.Rand) []triangle { return with(l, l...) }},
		{name: "an edge split on one side", spoil: func(l []triangle, r *rand.Rand) []triangle {
			i := r.IntN(len(l))
			t := l[i]
			m := point{(t[0][0] + t[1][0]) / 2, (t[0][1] + t[1][1]) / 2, (t[0][2] + t[1][2]) / 2}
			out := with(l, triangle{m, t[1], t[2]})
			out[i] = triangle{t[0], m, t[2]}
			return out
		}},
		{name: "rounding left about zero", spoil: func(l []triangle, r *rand.Rand) []triangle {
			return changed(l, func(p point) point {
				for k := range p {
					if math.Abs(p[k]) < 1e-9 {
						p[k] = (r.Float64() - 0.5) * math.Pow(10, -13-3*r.Float64())
					}
				}
				return p
			})
		}},
		{name: "corners off by a last digit", spoil: func(l []triangle, r *rand.Rand) []triangle {
			return changed(l, func(p point) point {
				for k := range p {
					if x := float32(p[k]); r.IntN(4) == 0 {
						p[k] = float64(math.Nextafter32(x, 1e9))
					}
				}
				return p
			})
		}},
		{name: "corners off by hundredths", join: 0.02, spoil: func(l []triangle, r *rand.Rand) []triangle {
			return changed(l, func(p point) point {
				return p.plus(point{0.01 * (r.Float64() - 0.5), 0.01 * (r.Float64() - 0.5), 0.01 * (r.Float64() - 0.5)})
			})
		}},
		{name: "faces without area", spoil: func(l []triangle, r *rand.Rand) []triangle {
			a, b := some(l, r), some(l, r)
			return with(l, triangle{a[0], a[0], a[1]}, triangle{b[2], b[2], b[2]})
		}},
		{name: "1 km away", spoil: func(l []triangle, _ *rand.Rand) []triangle { return moved(l, point{1e6, -1e6, 1e6}) }},
		{name: "10 km away", spoil: func(l []triangle, _ *rand.Rand) []triangle { return moved(l, point{1e7, 0, 1e7}) }},
		{name: "a fin", spoil: func(l []triangle, r *rand.Rand) []triangle {
			t := some(l, r)
			return with(l, triangle{t[1], t[0], point{100, 90, 80}})
		}},
		{name: "a corner through the other side", unknown: true, spoil: func(l []triangle, _ *rand.Rand) []triangle {
			from := l[0][0]
			to := point{-1.8 * from[0], -1.8*from[1] + 1, -1.8*from[2] - 40}
			return changed(l, func(p point) point {
				if p == from {
					return to
				}
				return p
			})
		}},
	}
}
