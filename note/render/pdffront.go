package render

// besideGap is the space between two figures, in mm.
const besideGap = 4.0

// lowestPictures is how low the figures of a first page may be before its text is set
// closer instead, in mm.
const lowestPictures = 60.0

// smallestPictures is how low figures may be at all, in mm.
const smallestPictures = 20.0

// spareRoom is what a first page keeps free for roundings, in mm.
const spareRoom = 3.0

// front writes what stands below the lead of a first page so that it fits on it: the
// text as close as need be, the figures as large as there is room.
func (p *pdfPage) front(doc Document) {
	wanted, text, kept := 0.0, 0.0, p.setting
	for _, b := range doc.Front {
		if pictures, ok := b.(Beside); ok {
			_, wanted = p.besideSize(pictures)
		}
	}
	room := 0.0
	for _, s := range settings[1:] {
		p.setting = s
		text = p.height(doc.Front)
		if room = p.bottom - p.GetY() - text - spareRoom; room >= min(lowestPictures, wanted) {
			break
		}
	}
	p.level = 1
	for _, b := range doc.Front {
		if pictures, ok := b.(Beside); ok {
			if room >= smallestPictures { // else words alone are worth more than a stamp
				p.beside(pictures, min(1, room/wanted))
			}
			continue
		}
		p.block(Bare(b))
	}
	p.setting, p.level = kept, 0
}

// height is what blocks take of a page that never ends, figures left out, in mm.
func (p *pdfPage) height(blocks []Block) float64 {
	trial := newPDFPage("")
	trial.setting, trial.bottom = p.setting, 1e9
	from := trial.GetY()
	for _, b := range blocks {
		if _, drawn := b.(Beside); !drawn {
			trial.block(Bare(b))
		}
	}
	return trial.GetY() - from
}

// besideSize is the size on paper of figures side by side, in mm.
func (p *pdfPage) besideSize(all Beside) (w, h float64) {
	for _, b := range all {
		width, height := b.Size()
		w += width.Points() / ptPerInch * mmPerInch
		h = max(h, height.Points()/ptPerInch*mmPerInch)
	}
	return w + besideGap*float64(len(all)-1), h + 2
}

// beside draws figures side by side at a share of their size, without captions: the
// table beside them says what they are.
func (p *pdfPage) beside(all Beside, share float64) {
	top, left, lowest := p.GetY()+1, pdfMargin, p.GetY()
	for _, b := range all {
		width, height := b.Size()
		w, h := share*width.Points()/ptPerInch*mmPerInch, share*height.Points()/ptPerInch*mmPerInch
		p.draw(b.Figure, left, top, share)
		left += w + besideGap
		lowest = max(lowest, top+h)
	}
	p.SetY(lowest + 1)
}
