package mesh

import (
	"flag"
	"testing"
)

var (
	hugePath  = flag.String("huge", "", "write a ring of STL triangles to this file and stop")
	hugeN     = flag.Int("huge-side", 3163, "the ring has twice the square of this many triangles")
	hugeASCII = flag.Bool("huge-ascii", false, "write the ring as text")
)

// TestWriteAHugeFile makes files such as docs/speed.md tells of. It does
// nothing unless asked by -huge FILE.
func TestWriteAHugeFile(t *testing.T) {
	if *hugePath == "" {
		t.Skip("no -huge FILE")
	}
	writeRing(t, *hugePath, *hugeN, *hugeASCII)
}
