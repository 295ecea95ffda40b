package mesh

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"sync/atomic"

	"github.com/hschendel/stl"
)

// textBlock is how many bytes of text are read in one step, and maxTextBlock
// how many may hold no end of a facet.
const (
	textBlock    = 1 << 20
	maxTextBlock = 1 << 24
)

// readText reads an ASCII STL. Words may be in either case and stand on any
// line; the name after solid and endsolid runs to the end of its line, or to the
// words facet normal. Several
// solids in one file are read as one.
//
// size is the length of the file, or -1 when it is not known before its end.
func (c *contents) readText(r io.Reader, size int64, limit int) error {
	var (
		pieces    []*textPiece
		line      = int64(1)
		triangles atomic.Int64
	)
	var parsed atomic.Int64 // bytes of text
	tooMany := func() error {
		n := triangles.Load()
		if n > int64(limit) {
			return fmt.Errorf("the file holds more than the limit of %d triangles", limit)
		}
		if c.visit != nil {
			return nil
		}
		// As many as the whole file will hold at this rate, once a rate can be told.
		if p := parsed.Load(); size > 0 && p > maxTextBlock {
			n = int64(float64(n) / float64(p) * float64(size))
		}
		return fits(n, c.free)
	}
	err := inOrder(func(hand func(block)) error {
		return cutText(r, func(text []byte) error {
			if err := tooMany(); err != nil {
				return err
			}
			p := &textPiece{}
			pieces = append(pieces, p)
			lines := int64(bytes.Count(text, newLine))
			hand(block{first: line, bytes: text, piece: p})
			line += lines
			return nil
		})
	}, func(b block) error {
		p := b.piece
		if c.visit != nil {
			p.corners = takeCorners(0)
		}
		err := p.parse(b.bytes, b.first)
		triangles.Add(int64(len(p.corners) / 3))
		parsed.Add(int64(len(b.bytes)))
		if c.visit != nil && err == nil {
			c.visit(b.index, p.corners)
			giveCorners(p.corners)
			p.corners = nil
		}
		return err
	})
	if err = cmp.Or(err, tooMany()); err != nil {
		return err
	}
	c.triangles = triangles.Load()
	return c.collectText(pieces)
}

var newLine = []byte{'\n'}

func (c *contents) collectText(pieces []*textPiece) error {
	corners := make([][]stl.Vec3, len(pieces))
	extra := 0
	for i, p := range pieces {
		corners[i] = p.corners
		extra += p.extra
	}
	c.corners = joined(corners)
	if c.triangles == 0 {
		return errors.New("there is no facet in the file")
	}
	if !pieces[len(pieces)-1].ended {
		c.warnings = append(c.warnings, "the file does not end with endsolid: it may be cut short")
	}
	if extra > 0 {
		c.warnings = append(c.warnings, fmt.Sprintf("%d bytes after endsolid were passed over", extra))
	}
	return nil
}

var endOfFacet = []byte("endfacet")

// cutText hands out the text of r in pieces that end behind a facet.
func cutText(r io.Reader, hand func(text []byte) error) error {
	var rest []byte
	for {
		text := takeBytes(len(rest) + textBlock)
		n, err := io.ReadFull(r, text[copy(text, rest):])
		text = text[:len(rest)+n]
		if err == io.EOF || err == io.ErrUnexpectedEOF {
			return hand(text)
		} else if err != nil {
			return err
		}
		cut := afterLastFacet(text)
		if cut < 0 && len(text) > maxTextBlock {
			return fmt.Errorf("not an STL file: no facet ends within %d MB of text", maxTextBlock>>20)
		}
		rest = append(rest[:0], text[max(cut, 0):]...)
		if cut > 0 {
			if err := hand(text[:cut]); err != nil {
				return err
			}
		}
	}
}

// afterLastFacet returns the index behind the last endfacet, or -1.
func afterLastFacet(text []byte) int {
	for i := len(text) - len(endOfFacet); i >= 0; i-- {
		if text[i]|0x20 == 'e' && bytes.EqualFold(text[i:i+len(endOfFacet)], endOfFacet) {
			return i + len(endOfFacet)
		}
	}
	return -1
}

// textPiece is what was found in one piece of text.
type textPiece struct {
	corners []stl.Vec3
	ended   bool // endsolid stands behind the last facet
	extra   int  // bytes behind endsolid that are no STL

	text []byte
	at   int    // index behind the word that was read last
	last []byte // that word
}

// parse reads a piece of text that starts on the given line.
func (p *textPiece) parse(text []byte, line int64) error {
	p.text = bytes.TrimPrefix(text, byteOrderMark)
	// Most writers spend more than 200 characters on a facet.
	p.corners = slices.Grow(p.corners, 3*(len(text)/200+1))
	if err := p.facets(); err != nil {
		upTo := bytes.TrimRight(p.text[:p.at], whiteSpace)
		return fmt.Errorf("line %d: %w", line+int64(bytes.Count(upTo, newLine)), err)
	}
	p.text, p.last = nil, nil
	return nil
}

func (p *textPiece) facets() error {
	for {
		word := p.word()
		switch {
		case len(word) == 0:
			return nil
		case isWord(word, "facet"):
			p.ended = false
			if err := p.facet(); err != nil {
				return err
			}
		case isWord(word, "solid"), isWord(word, "endsolid"):
			p.ended = word[0]|0x20 == 'e'
			p.skipName()
		case p.ended && !bytes.Contains(bytes.ToLower(p.text[p.at:]), []byte("facet")):
			p.extra = len(p.text) - p.at + len(word)
			return nil
		default:
			return fmt.Errorf("found %q where facet or endsolid should be", firstWord(word))
		}
	}
}

// facet reads what follows the word facet. The normal is passed over: the
// order of the corners says the same, and some writers leave out the normal of
// a sliver or write what is no number.
func (p *textPiece) facet() error {
	for range 5 { // normal and three numbers lead, at most
		if isWord(p.word(), "outer") {
			if err := p.expect("loop"); err != nil {
				return err
			}
			return p.loop()
		}
	}
	return p.mistake("outer loop")
}

func (p *textPiece) loop() error {
	var corners [3]stl.Vec3
	for k := range corners {
		if err := p.expect("vertex"); err != nil {
			return err
		}
		for i := range corners[k] {
			word := p.word()
			x, ok := parseFloat32(word)
			if !ok {
				return p.badNumber(word)
			}
			corners[k][i] = x
		}
	}
	word := p.word()
	switch {
	case isWord(word, "vertex"):
		return errors.New("a facet has more than three corners: export the part as triangles")
	case !isWord(word, "endloop"):
		return p.mistake("endloop")
	}
	p.corners = append(p.corners, corners[:]...)
	return p.expect("endfacet")
}

func (p *textPiece) expect(want string) error {
	if !isWord(p.word(), want) {
		return p.mistake(want)
	}
	return nil
}

// mistake is the error for the word that was read last.
func (p *textPiece) mistake(want string) error {
	if len(p.last) == 0 {
		return fmt.Errorf("the file is cut short within a facet, where %s should be", want)
	}
	return fmt.Errorf("found %q where %s should be", firstWord(p.last), want)
}

func (p *textPiece) badNumber(word []byte) error {
	switch {
	case len(word) == 0:
		return errors.New("the file is cut short within a facet")
	case bytes.IndexByte(word, ',') >= 0:
		return fmt.Errorf("coordinate %q has a comma: write numbers with a decimal point", firstWord(word))
	}
	if strings.Trim(string(word), "+-.0123456789eE") == "" || strings.ContainsAny(string(word[:1]), "nNiI+-") {
		return fmt.Errorf("coordinate %q is not a finite number", firstWord(word))
	}
	return fmt.Errorf("coordinate %q is not a number", firstWord(word))
}

// word returns the next word, empty at the end of the text.
func (p *textPiece) word() []byte {
	i, text := p.at, p.text
	for i < len(text) && isSpace(text[i]) {
		i++
	}
	start := i
	for i < len(text) && !isSpace(text[i]) {
		i++
	}
	p.at = i
	p.last = text[start:i]
	return p.last
}

// skipName passes over the name of a solid: to the end of the line, of whatever
// system, or to the words facet normal, for some writers put all on one line.
func (p *textPiece) skipName() {
	line := p.text[p.at:]
	if n := bytes.IndexAny(line, "\r\n"); n >= 0 {
		line = line[:n]
	}
	end := p.at + len(line)
	for p.at < end {
		before := p.at
		if word := p.word(); isWord(word, "facet") {
			if isWord(p.word(), "normal") && p.at <= end {
				p.at = before
				return
			}
		} else if len(word) == 0 {
			break
		}
	}
	p.at = end
}

// isWord compares in either case; want is in lower case.
func isWord(word []byte, want string) bool {
	if len(word) != len(want) {
		return false
	}
	for i := range word {
		if word[i]|0x20 != want[i] {
			return false
		}
	}
	return true
}
