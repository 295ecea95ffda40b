package mesh

import (
	"bytes"
	"crypto/sha256"
	"strings"
	"testing"
)

func TestAMeshThatDoesNotFitIsRefusedBeforeItIsRead(t *testing.T) {
	const triangles = 1_000_000
	file := withCount(make([]byte, preambleSize+recordSize*triangles), triangles)
	r := bytes.NewReader(file)
	c := &contents{free: 100 << 20}
	_, err := c.read(watched(t.Context(), r, Options{}), sha256.New(), defaultMaxTriangles)
	if err == nil || !strings.Contains(err.Error(), "its 1000000 triangles need about 272 MB of memory, 105 MB are free") {
		t.Errorf("error %v", err)
	}
	if read := len(file) - r.Len(); read > 1<<20 {
		t.Errorf("%d bytes were read before the refusal", read)
	}
	c = &contents{free: 1 << 30}
	r.Reset(file)
	if _, err := c.read(watched(t.Context(), r, Options{}), sha256.New(), defaultMaxTriangles); err != nil {
		t.Errorf("with room: %v", err)
	}
}

// A text does not tell its count; the rate of its first part does.
func TestATextThatWillNotFitIsRefusedEarly(t *testing.T) {
	facets := strings.Repeat("facet normal 0 0 1 outer loop vertex 0 0 0 vertex 1 0 0 vertex 0 1 0 endloop endfacet\n", 1_000_000)
	r := strings.NewReader("solid\n" + facets + "endsolid\n")
	size := r.Len()
	c := &contents{free: 120 << 20}
	_, err := c.read(watched(t.Context(), r, Options{}), sha256.New(), defaultMaxTriangles)
	if err == nil || !strings.Contains(err.Error(), "of memory, 126 MB are free") {
		t.Errorf("error %v", err)
	}
	if read := size - r.Len(); read > size/2 {
		t.Errorf("%d of %d bytes were read before the refusal", read, size)
	}
}
