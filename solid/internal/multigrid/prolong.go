package multigrid

import (
	"slices"

	"swapworth/internal/parallel"
)

// smoothed returns the prolongation (I - 4/(3 top) D^-1 A) q, where D is the
// part of A that the smoother inverts.
func (l *level) smoothed(g grouping, q []float64) *prolongation {
	if l.patch != nil {
		return l.smoothedByPatch(g, q)
	}
	bs := l.bs
	const part = 1024
	pieces := make([]piece, (l.n+part-1)/part)
	parallel.For(len(pieces), func(b int) {
		p := &pieces[b]
		var r, out row
		for i := b * part; i < min(l.n, (b+1)*part); i++ {
			l.timesTentative(i, g, q, &r, &out)
			d := l.dinv[i*bs*bs : (i+1)*bs*bs]
			for s := range out.col {
				scaleBlock(out.block[s*bs*rigid:(s+1)*bs*rigid], d, -4/(3*l.top), bs)
			}
			l.finishRow(i, g, q, &out)
			p.add(&out)
		}
	})
	return joinPieces(pieces, l.n)
}

// piece is a run of consecutive rows.
type piece struct {
	len []int32
	col []int32
	val []float32
}

func (p *piece) add(r *row) {
	p.len = append(p.len, int32(len(r.col)))
	p.col = append(p.col, r.col...)
	for _, v := range r.block {
		p.val = append(p.val, float32(v))
	}
}

func joinPieces(pieces []piece, n int) *prolongation {
	total := 0
	for _, p := range pieces {
		total += len(p.col)
	}
	out := &prolongation{ptr: make([]int32, 1, n+1), col: make([]int32, 0, total)}
	for _, p := range pieces {
		for _, k := range p.len {
			out.ptr = append(out.ptr, out.ptr[len(out.ptr)-1]+k)
		}
		out.col = append(out.col, p.col...)
		out.val = append(out.val, p.val...)
	}
	return out
}

// timesTentative sets out to row i of A q.
func (l *level) timesTentative(i int, g grouping, q []float64, r, out *row) {
	bs := l.bs
	l.row(i, r)
	out.col, out.block = out.col[:0], out.block[:0]
	for e, j := range r.col {
		addProduct(out.slot(g.of[j], bs*rigid), r.block[e*bs*bs:(e+1)*bs*bs], q[int(j)*bs*rigid:(int(j)+1)*bs*rigid], bs)
	}
}

// finishRow adds row i of q.
func (l *level) finishRow(i int, g grouping, q []float64, out *row) {
	size := l.bs * rigid
	own := out.slot(g.of[i], size)
	for n, v := range q[i*size : (i+1)*size] {
		own[n] += v
	}
}

// smoothedByPatch is smoothed with the patches as D. It finds which blocks a row
// has before it fills them in, for the prolongation of the finest level is large.
func (l *level) smoothedByPatch(g grouping, q []float64) *prolongation {
	p := l.patch
	out := &prolongation{ptr: make([]int32, l.n+1)}
	l.eachPatch(func(nodes []int32, _ int, r *row, near []int32) {
		for _, t := range nodes {
			out.ptr[t+1] = int32(len(near))
		}
	}, g)
	for i := range l.n {
		out.ptr[i+1] += out.ptr[i]
	}
	out.col = make([]int32, out.ptr[l.n])
	out.val = make([]float32, int(out.ptr[l.n])*3*rigid)
	omega := 4 / (3 * l.top)
	l.eachPatch(func(nodes []int32, i int, r *row, near []int32) {
		width := len(near)
		var ap row
		sum := make([]float64, len(nodes)*width*3*rigid)
		m := p.val[p.inv[i]:]
		n := 3 * len(nodes)
		var d [9]float64
		for y, t := range nodes {
			l.timesTentative(int(t), g, q, r, &ap)
			for x := range nodes {
				for b := range 3 {
					for c := range 3 {
						d[3*b+c] = -omega * m[(3*x+b)*n+3*y+c]
					}
				}
				for e, col := range ap.col {
					at := (x*width + slices.Index(near, col)) * 3 * rigid
					addProduct(sum[at:at+3*rigid], d[:], ap.block[e*3*rigid:(e+1)*3*rigid], 3)
				}
			}
		}
		for x, t := range nodes {
			own := (x*width + slices.Index(near, g.of[t])) * 3 * rigid
			for k, v := range q[int(t)*3*rigid : int(t+1)*3*rigid] {
				sum[own+k] += v
			}
			copy(out.col[out.ptr[t]:], near)
			at := int(out.ptr[t]) * 3 * rigid
			for k, v := range sum[x*width*3*rigid : (x+1)*width*3*rigid] {
				out.val[at+k] = float32(v)
			}
		}
	}, g)
	return out
}

// eachPatch calls visit with the nodes of each patch, its number, and the
// aggregates of the nodes themselves and of their neighbours.
func (l *level) eachPatch(visit func(nodes []int32, i int, r *row, near []int32), g grouping) {
	p := l.patch
	parallel.Blocks(len(p.inv), 256, func(lo, hi int) {
		var r row
		var near []int32
		for i := lo; i < hi; i++ {
			nodes := p.list[p.ptr[i]:p.ptr[i+1]]
			near = near[:0]
			for _, t := range nodes {
				l.row(int(t), &r)
				for _, j := range r.col {
					if a := g.of[j]; !slices.Contains(near, a) {
						near = append(near, a)
					}
				}
			}
			visit(nodes, i, &r, near)
		}
	})
}
