package page

import (
	"encoding/binary"
	"encoding/json"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// packet is what the page's script reads as arrays without parsing: the length of a
// JSON text as uint32, the text, filled up with blanks to a multiple of four bytes,
// and then the numbers that the text counts, four bytes each, low byte first.
type packet []byte

// newPacket begins a packet with its JSON text.
func newPacket(head any) ([]byte, error) {
	text, err := json.Marshal(head)
	if err != nil {
		return nil, err
	}
	for len(text)%4 != 0 {
		text = append(text, ' ')
	}
	return append(binary.LittleEndian.AppendUint32(nil, uint32(len(text))), text...), nil
}

func (p *packet) floats(values ...float64) {
	for _, v := range values {
		*p = binary.LittleEndian.AppendUint32(*p, math.Float32bits(float32(v)))
	}
}

func (p *packet) vectors(all []r3.Vec) {
	for _, v := range all {
		p.floats(v.X, v.Y, v.Z)
	}
}

func (p *packet) integers(values ...int32) {
	for _, v := range values {
		*p = binary.LittleEndian.AppendUint32(*p, uint32(v))
	}
}
