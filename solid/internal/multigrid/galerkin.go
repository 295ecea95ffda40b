package multigrid

import (
	"sort"

	"swapworth/internal/parallel"
)

// blockRows is a sparse matrix of 6 x 6 blocks by rows.
type blockRows struct {
	ptr []int32
	col []int32
	val []float64
}

// galerkin returns P^T A P.
func (l *level) galerkin(n int) *blockRows {
	bs := l.bs
	const part = 1024
	type band struct {
		first int32
		rows  []row
	}
	count := (l.n + part - 1) / part
	bands := make([]band, count)
	parallel.For(count, func(b int) {
		lo, hi := b*part, min(l.n, (b+1)*part)
		first, last := l.columns(lo, hi)
		if last < 0 {
			return
		}
		pc := band{first, make([]row, last-first+1)}
		var r, ap row
		var wide [rigid * rigid]float64
		for i := lo; i < hi; i++ {
			l.row(i, &r)
			ap.col, ap.block = ap.col[:0], ap.block[:0]
			for e, j := range r.col {
				a := r.block[e*bs*bs : (e+1)*bs*bs]
				for f := l.p.ptr[j]; f < l.p.ptr[j+1]; f++ {
					out := ap.slot(l.p.col[f], bs*rigid)
					addProduct(out, a, l.p.block(f, bs, &wide), bs)
				}
			}
			for f := l.p.ptr[i]; f < l.p.ptr[i+1]; f++ {
				to := &pc.rows[l.p.col[f]-first]
				p := l.p.block(f, bs, &wide)
				for e, j := range ap.col {
					addTransposed(to.slot(j, rigid*rigid), p, ap.block[e*bs*rigid:(e+1)*bs*rigid], bs)
				}
			}
		}
		bands[b] = pc
	})
	rows := make([]row, n)
	for _, pc := range bands {
		for i, r := range pc.rows {
			to := &rows[int(pc.first)+i]
			for e, j := range r.col {
				out := to.slot(j, rigid*rigid)
				for k, v := range r.block[e*rigid*rigid : (e+1)*rigid*rigid] {
					out[k] += v
				}
			}
		}
	}
	return packRows(rows)
}

// packRows sorts each row by column and joins them. A motion that an aggregate
// lacks has a zero row; it gets a one on the diagonal.
func packRows(rows []row) *blockRows {
	const size = rigid * rigid
	m := &blockRows{ptr: make([]int32, 1, len(rows)+1)}
	for i, r := range rows {
		order := make([]int, len(r.col))
		for k := range order {
			order[k] = k
		}
		sort.Slice(order, func(a, b int) bool { return r.col[order[a]] < r.col[order[b]] })
		for _, k := range order {
			m.col = append(m.col, r.col[k])
			m.val = append(m.val, r.block[k*size:(k+1)*size]...)
			if r.col[k] == int32(i) {
				d := m.val[len(m.val)-size:]
				for a := range rigid {
					if d[a*rigid+a] == 0 {
						d[a*rigid+a] = 1
					}
				}
			}
		}
		m.ptr = append(m.ptr, int32(len(m.col)))
	}
	return m
}
