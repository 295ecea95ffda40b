package casefile

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"
)

// Pair is one of several swaps on one machine: a case of its own, laid over what the
// file says for all of them.
type Pair struct {
	Name *string `toml:"name"`
	File
}

// Named is a case of one pair.
type Named struct {
	Name string
	File File
}

// errPairs says who answers a case of several pairs.
var errPairs = errors.New("the case lists several pairs ([[pair]]), which swapworth compare --case answers together: name a case of one pair")

// Separate returns the case of each pair. The machine and its moving mass are the
// file's: a pair says how many of its parts move, and where its pivot lies in its own
// coordinates, but not what the machine is.
func (f File) Separate() ([]Named, error) {
	pairs := f.Pairs
	f.Pairs = nil
	var out []Named
	seen := map[string]bool{}
	for i, p := range pairs {
		one := Named{Name: fmt.Sprintf("pair %d", i+1), File: f.Over(p.File)}
		if m := one.File.New.Mesh; m != nil {
			one.Name = strings.TrimSuffix(filepath.Base(*m), filepath.Ext(*m))
		}
		if p.Name != nil {
			one.Name = *p.Name
		}
		switch m := p.Machine; {
		case len(p.Pairs) > 0:
			return nil, fmt.Errorf("%s: a pair holds no pairs", one.Name)
		case m.MovingMass != nil, m.MovingInertia != nil, m.DriveInertia != nil, m.TravelPerTurn != nil, m.Pulley != nil, m.DriveLimited != nil:
			return nil, fmt.Errorf("%s: all pairs move with one machine: say moving mass and drive in [machine], not in [pair.machine]", one.Name)
		case seen[one.Name]:
			return nil, fmt.Errorf("two pairs are called %s: give each its name", one.Name)
		}
		seen[one.Name] = true
		out = append(out, one)
	}
	return out, nil
}
