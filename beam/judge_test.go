package beam

import (
	"testing"

	"swapworth/mesh"
)

// A turned part is off its size by the last digit of its file's coordinates.
func TestAPartAtALimitIsNotBeyondIt(t *testing.T) {
	r := ofPart(t, flatPart(t, 10.000002, box(0, 0, 100, 50.00003)), steel, Setup{Load: mesh.Z})
	if len(r.Warnings) != 0 {
		t.Errorf("span over depth of 10 and width over depth of 5 are warned of: %q", r.Warnings)
	}
	r = ofPart(t, flatPart(t, 10.000002, box(0, 0, 30, 12)), steel, Setup{Load: mesh.Z})
	if r.Stiffness == nil {
		t.Errorf("span over depth of 3 is refused: %s", r.Refused)
	}
}
