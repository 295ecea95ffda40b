package render

// table draws a grid with a rule under the header and thin rules between rows;
// the header is repeated on every page the table reaches.
func (p *pdfPage) table(t Table) {
	columns := t.columns()
	if columns == 0 {
		return
	}
	widths := p.columnWidths(t, columns)
	header := func() {}
	if len(t.Header) > 0 {
		header = func() { p.row(t, t.Header, widths, "B", 0.4, nil) }
	}
	// A header stays with the first row.
	first := p.lead + 2*p.cellY
	if len(t.Rows) > 0 {
		first = p.rowHeight(t.Rows[0], widths)
	}
	p.room(min(p.rowHeight(t.Header, widths)+first, p.bottom-2*pdfMargin))
	header()
	for _, r := range t.Rows {
		p.row(t, r, widths, "", 0.1, header)
	}
}

// columnWidths gives every column what its longest cell needs, in mm, and takes
// from the widest ones when the page is too narrow.
func (p *pdfPage) columnWidths(t Table, columns int) []float64 {
	widths := make([]float64, columns)
	measure := func(cells []string, style string) {
		p.SetFont(pdfFamily, style, p.body)
		for i, c := range cells {
			widths[i] = max(widths[i], p.GetStringWidth(c)+2*pdfCellX+0.2)
		}
	}
	measure(t.Header, "B")
	for _, r := range t.Rows {
		measure(r, "")
	}
	shrink(widths, p.width)
	return widths
}

// shrink lowers the largest widths to one common cap such that all fit into
// total.
func shrink(widths []float64, total float64) {
	sum := 0.0
	for _, w := range widths {
		sum += w
	}
	if sum <= total {
		return
	}
	low, high := 0.0, total
	for range 60 { // bisection down to rounding
		limit := (low + high) / 2
		sum = 0
		for _, w := range widths {
			sum += min(w, limit)
		}
		if sum > total {
			high = limit
		} else {
			low = limit
		}
	}
	for i, w := range widths {
		widths[i] = min(w, low)
	}
}

// rowHeight is what a row takes, in mm.
func (p *pdfPage) rowHeight(cells []string, widths []float64) float64 {
	p.text(p.body, "B", pageInk("ink"))
	most := 1
	for i, c := range cells {
		most = max(most, len(p.lines(c, widths[i]-2*pdfCellX)))
	}
	return float64(most)*p.lead + 2*p.cellY
}

// row draws one row with a rule below. A row that fits on a page is kept
// together; a longer one runs on. onBreak draws the header again.
func (p *pdfPage) row(t Table, cells []string, widths []float64, style string, rule float64, onBreak func()) {
	ready := func() { p.text(p.body, style, pageInk("ink")) }
	ready()
	lines, most := make([][]string, len(widths)), 1
	for i, c := range cells {
		lines[i] = p.lines(c, widths[i]-2*pdfCellX)
		most = max(most, len(lines[i]))
	}
	breakPage := func(need float64) {
		if p.GetY()+need <= p.bottom {
			return
		}
		p.room(need)
		if onBreak != nil {
			onBreak()
			ready()
		}
	}
	if all := float64(most)*p.lead + 2*p.cellY; all < p.bottom-2*pdfMargin {
		breakPage(all)
	}
	p.SetY(p.GetY() + p.cellY)
	for n := range most {
		breakPage(p.lead)
		p.rowLine(t, lines, widths, n)
	}
	y := p.GetY() + p.cellY
	c := pageInk("rule")
	p.SetDrawColor(c.r, c.g, c.b)
	p.SetLineWidth(rule)
	total := 0.0
	for _, w := range widths {
		total += w
	}
	p.Line(pdfMargin, y, pdfMargin+total, y)
	p.SetY(y)
}

// rowLine writes the n-th line of every cell of a row.
func (p *pdfPage) rowLine(t Table, lines [][]string, widths []float64, n int) {
	x := pdfMargin
	for i, w := range widths {
		if n < len(lines[i]) {
			align := "L"
			if t.right(i) {
				align = "R"
			}
			p.SetX(x + pdfCellX)
			p.CellFormat(w-2*pdfCellX, p.lead, lines[i][n], "", 0, align, false, 0, "")
		}
		x += w
	}
	p.Ln(p.lead)
}
