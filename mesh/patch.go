package mesh

import "swapworth/internal/textwrap"

// OrientAlike turns patches of faces so that neighbours look the same way. In
// each run of faces that hang together over edges of two faces, the faces that
// are fewer are turned. A run with but one side, as a Moebius strip, is left.
func OrientAlike(m *Mesh) (*Mesh, *Repair) {
	e := EdgesOf(m)
	if len(e.Flipped) == 0 {
		return nil, nil
	}
	across := make([]HalfEdge, len(e.Opposite)) // the half-edge of the other face, whichever way it runs
	copy(across, e.Opposite)
	for _, pair := range e.Flipped {
		across[pair[0]], across[pair[1]] = pair[1], pair[0]
	}
	turn := make([]int8, len(m.Faces)) // 0 not seen, 1 as it is, -1 to be turned
	out := &Mesh{Vertices: m.Vertices, Faces: append([][3]int32(nil), m.Faces...)}
	r := &Repair{}
	n := 0
	for f := range m.Faces {
		if turn[f] != 0 || m.Collapsed(f) {
			continue
		}
		run, sided := spreadFrom(m, int32(f), across, turn)
		if !sided {
			continue
		}
		asIs := 0
		for _, g := range run {
			asIs += int(turn[g])
		}
		for _, g := range run {
			if (turn[g] < 0) == (asIs < 0) {
				continue // of the side that is more
			}
			if n == 0 {
				r.At = m.Centre(int(g))
			}
			out.Faces[g] = turnedFace(m.Faces[g])
			n++
		}
	}
	if n == 0 {
		return nil, nil
	}
	r.What = "turned " + textwrap.Counted(n, "face") + " to look the way of the faces around"
	return out, r
}

// spreadFrom visits the faces that hang together with f and gives each the
// turn that makes it look the way of f. sided is false when that contradicts
// itself.
func spreadFrom(m *Mesh, f int32, across []HalfEdge, turn []int8) (run []int32, sided bool) {
	turn[f] = 1
	run, sided = []int32{f}, true
	for i := 0; i < len(run); i++ {
		g := run[i]
		for h := 3 * g; h < 3*g+3; h++ {
			o := across[h]
			if o < 0 {
				continue
			}
			want := turn[g]
			fromG, _ := m.Ends(h)
			if fromO, _ := m.Ends(o); fromG == fromO {
				want = -want
			}
			if turn[o/3] == 0 {
				turn[o/3] = want
				run = append(run, o/3)
			} else if turn[o/3] != want {
				sided = false
			}
		}
	}
	return run, sided
}

func turnedFace(f [3]int32) [3]int32 { return [3]int32{f[0], f[2], f[1]} }
