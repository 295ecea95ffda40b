package mesh

import (
	"flag"
	"os"
	"testing"
)

// TestMain gives the property tests the same draws every time, unless
// -rapid.seed says otherwise.
func TestMain(m *testing.M) {
	flag.Parse()
	if f := flag.Lookup("rapid.seed"); f.Value.String() == f.DefValue {
		if err := f.Value.Set("1"); err != nil {
			panic(err)
		}
	}
	os.Exit(m.Run())
}
