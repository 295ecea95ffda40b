package asmade

import (
	"container/heap"

	"gonum.org/v1/gonum/spatial/r3"
)

// way is a chamfer, rounding or fillet's way to a face beside its run.
type way struct {
	face, from int32   // the face of the run; the face beside it that it starts from
	far        float64 // mm, from centre to centre over the faces between
}

// ways is a heap of ways, the shortest first.
type ways []way

func (w ways) Len() int           { return len(w) }
func (w ways) Less(i, j int) bool { return w[i].far < w[j].far }
func (w ways) Swap(i, j int)      { w[i], w[j] = w[j], w[i] }
func (w *ways) Push(x any)        { *w = append(*w, x.(way)) }
func (w *ways) Pop() any {
	last := (*w)[len(*w)-1]
	*w = (*w)[:len(*w)-1]
	return last
}

// nearest returns for every face that breaks an edge or fills a foot the nearest
// face with the given role that its run borders on: which wall, and which level,
// each piece of it belongs to.
func (l *lay) nearest(of role) map[int32]int32 {
	skin := l.part.Features.Skin
	var open ways
	joins := func(f int32) bool { return l.role[f] == breaks || l.role[f] == foot }
	for _, r := range l.runs {
		for _, f := range r.faces {
			if !joins(f) {
				continue
			}
			for _, g := range skin.Neighbour[f] {
				if g >= 0 && l.role[g] == of {
					open = append(open, way{f, g, r3.Norm(r3.Sub(l.part.centre(f), l.part.centre(g)))})
				}
			}
		}
	}
	heap.Init(&open)
	out := map[int32]int32{}
	for open.Len() > 0 {
		w := heap.Pop(&open).(way)
		if _, known := out[w.face]; known {
			continue
		}
		out[w.face] = w.from
		for _, g := range skin.Neighbour[w.face] {
			if g < 0 || l.run[g] != l.run[w.face] || !joins(g) {
				continue
			}
			if _, known := out[g]; !known {
				heap.Push(&open, way{g, w.from, w.far + r3.Norm(r3.Sub(l.part.centre(g), l.part.centre(w.face)))})
			}
		}
	}
	return out
}
