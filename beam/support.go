package beam

import (
	"fmt"
	"strings"
)

// Support says how a beam is held. The load of a Setup that names no place acts
// at the free end of a cantilever and at mid-span of every other support.
type Support int

// The supports. The end at From is clamped, in a cantilever and a propped beam.
const (
	Cantilever      Support = iota // clamped at one end, free at the other
	SimplySupported                // both ends free to turn, one free to slide
	FixedFixed                     // both ends clamped, neither free to slide
	Propped                        // clamped at one end, resting on the other
)

var supportNames = [...]string{"cantilever", "simply-supported", "fixed-fixed", "propped"}

// Supports lists the names that ParseSupport reads.
func Supports() []string { return supportNames[:] }

// ParseSupport reads the name of a support in either case.
func ParseSupport(s string) (Support, error) {
	for i, name := range supportNames {
		if strings.EqualFold(strings.TrimSpace(s), name) {
			return Support(i), nil
		}
	}
	return 0, fmt.Errorf("support %q: expected %s", s, strings.Join(supportNames[:], ", "))
}

// UnmarshalText reads what ParseSupport reads, for flags and files.
func (s *Support) UnmarshalText(text []byte) (err error) {
	*s, err = ParseSupport(string(text))
	return err
}

// MarshalText writes what String writes.
func (s Support) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// String returns the name that ParseSupport reads.
func (s Support) String() string { return supportNames[s] }

// clampedEnds says which ends, at From and at To, neither move nor turn.
func (s Support) clampedEnds() (from, to bool) {
	return s != SimplySupported, s == FixedFixed
}
