// Package property runs the property tests of every package on the same draws
// each time, so that a failure on one machine is a failure on all.
// -rapid.seed draws others, -rapid.checks more.
package property

import (
	"flag"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

// seed is what the draws start from where -rapid.seed does not say otherwise.
const seed = "1"

// Check runs a property as often as -rapid.checks says.
func Check(t *testing.T, property func(*rapid.T)) {
	t.Helper()
	defer unlessGiven(t, "rapid.seed", seed)()
	rapid.Check(t, property)
}

// Few is Check for a property that takes long: it runs that many times where
// -rapid.checks says nothing.
func Few(t *testing.T, checks int, property func(*rapid.T)) {
	t.Helper()
	defer unlessGiven(t, "rapid.checks", strconv.Itoa(checks))()
	Check(t, property)
}

// unlessGiven sets a flag that the command line left alone, and returns what
// takes that back.
func unlessGiven(t *testing.T, name, value string) (restore func()) {
	t.Helper()
	f := flag.Lookup(name)
	was := f.Value.String()
	if was != f.DefValue {
		return func() {}
	}
	if err := f.Value.Set(value); err != nil {
		t.Fatal(err)
	}
	return func() { _ = f.Value.Set(was) }
}
