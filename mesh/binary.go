package mesh

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"

	"github.com/hschendel/stl"

	"swapworth/internal/textwrap"
)

// blockTriangles is the number of triangles that are read and decoded in one
// step: about 1 MB of a binary file.
const blockTriangles = 1<<14 + 1<<12

// readBinary reads a binary STL: a header, a count and so many records. size
// is the length of the file, or -1 when it is not known before its end. The
// count is believed only as far as there are bytes.
func (c *contents) readBinary(r io.Reader, size int64, limit int) error {
	var preamble [preambleSize]byte
	if _, err := io.ReadFull(r, preamble[:]); err != nil {
		return err
	}
	count := declaredCount(preamble[:])
	need := preambleSize + recordSize*count
	switch {
	case count == 0:
		return errors.New("the file promises 0 triangles: there is no part in it")
	case size >= 0 && size < need:
		return errTruncated(count, size)
	case count > int64(limit):
		return fmt.Errorf("the file promises %d triangles, more than the limit of %d: it is damaged or no STL file",
			count, limit)
	}
	if c.visit == nil {
		if err := fits(count, c.free); err != nil {
			return err
		}
	}
	c.triangles, c.header = count, preamble[:headerSize]
	if size >= 0 && c.visit == nil {
		c.corners = make([]stl.Vec3, 3*count)
	}
	if err := c.decodeBlocks(r, count); err != nil {
		return err
	}
	extra, err := io.Copy(io.Discard, io.LimitReader(r, maxTrailing+1))
	switch {
	case err != nil:
		return err
	case extra > maxTrailing:
		return fmt.Errorf("more than %d MB follow the last triangle: the count in the header is wrong", maxTrailing>>20)
	case extra > 0:
		text := fmt.Sprintf("%d bytes after the last triangle were passed over", extra)
		if extra%recordSize == 0 {
			text += fmt.Sprintf(": as many as %s take, so the count in the header may be wrong", textwrap.Counted(int(extra/recordSize), "more triangle"))
		}
		c.warnings = append(c.warnings, text)
	}
	return nil
}

// maxTrailing is how many bytes may follow the last triangle.
const maxTrailing = 1 << 28

func errTruncated(count, size int64) error {
	return fmt.Errorf("the file is cut short: it promises %d triangles (%d bytes) but holds %d (%d bytes)",
		count, preambleSize+recordSize*count, max(0, size-preambleSize)/recordSize, size)
}

// decodeBlocks reads count records in blocks, in order, while other cores turn
// the blocks before them into corners.
func (c *contents) decodeBlocks(r io.Reader, count int64) error {
	var pieces [][]stl.Vec3 // of a file of unknown length
	known := c.corners != nil
	err := inOrder(func(hand func(block)) error {
		for first := int64(0); first < count; first += blockTriangles {
			n := min(count-first, blockTriangles)
			b := block{first: first, bytes: takeBytes(recordSize * int(n))}
			got, err := io.ReadFull(r, b.bytes)
			if err == io.EOF || err == io.ErrUnexpectedEOF {
				return errTruncated(count, preambleSize+recordSize*first+int64(got))
			} else if err != nil {
				return err
			}
			switch {
			case c.visit != nil:
			case known:
				b.out = c.corners[3*first : 3*(first+n)]
			default:
				b.out = make([]stl.Vec3, 3*n)
				pieces = append(pieces, b.out)
			}
			hand(b)
		}
		return nil
	}, c.decode)
	if !known {
		c.corners = joined(pieces)
	}
	return err
}

// decode turns one block into corners.
func (c *contents) decode(b block) error {
	if c.visit != nil {
		b.out = takeCorners(3 * len(b.bytes) / recordSize)
		defer giveCorners(b.out)
	}
	if bad := decodeRecords(b.out, b.bytes); bad >= 0 {
		at := b.first + int64(bad)
		return fmt.Errorf("triangle %d (byte %d): a coordinate is not a finite number",
			at+1, preambleSize+recordSize*at)
	}
	if c.visit != nil {
		c.visit(b.index, b.out)
	}
	return nil
}

// decodeRecords writes the corners of binary records to out and returns the
// index of the first record with a coordinate that is not finite, or -1.
func decodeRecords(out []stl.Vec3, records []byte) int {
	bad := -1
	for t := 0; len(records) >= recordSize; t++ {
		rec := records[:recordSize]
		corners := out[3*t : 3*t+3]
		var worst uint32
		for k := range 9 {
			b := binary.LittleEndian.Uint32(rec[12+4*k:])
			worst = max(worst, b&0x7fffffff)
			corners[k/3][k%3] = math.Float32frombits(b)
		}
		// Infinities and NaNs have all exponent bits set, and so are the largest.
		if worst >= 0x7f800000 && bad < 0 {
			bad = t
		}
		records = records[recordSize:]
	}
	return bad
}
