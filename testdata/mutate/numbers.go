package main

import (
	"fmt"
	"os"
	"strings"

	"github.com/pelletier/go-toml/v2"
)

// The factors where nothing else is said. Numbers below tiny stand between what rounding
// leaves and what a part can have, which lie powers of ten apart.
const (
	usual   = 3
	tiny    = 1e-4
	forTiny = 10
)

// numbers is what the list says of constants, by package and name.
type numbers struct {
	Factor  map[string]float64 // other than the usual
	Left    map[string]string  // why a constant is left alone
	Larger  map[string]string  // why one is not made larger
	Smaller map[string]string  // why one is not made smaller
}

func readNumbers(path string) (n numbers, err error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return n, err
	}
	return n, toml.Unmarshal(text, &n)
}

func (n numbers) factor(c threshold) float64 {
	if f, ok := n.Factor[c.name]; ok {
		return f
	}
	if c.value < tiny {
		return forTiny
	}
	return usual
}

// tries are the factors by which a constant is changed.
func (n numbers) tries(c threshold) []float64 {
	var out []float64
	by := n.factor(c)
	if _, left := n.Larger[c.name]; !left {
		out = append(out, by)
	}
	if _, left := n.Smaller[c.name]; !left {
		out = append(out, 1/by)
	}
	return out
}

// check refuses names that the package has not.
func (n numbers) check(p *source) error {
	there := map[string]bool{}
	for _, c := range p.constants {
		there[c.name] = true
	}
	named := []string{}
	for name := range n.Factor {
		named = append(named, name)
	}
	for _, list := range []map[string]string{n.Left, n.Larger, n.Smaller} {
		for name := range list {
			named = append(named, name)
		}
	}
	for _, name := range named {
		if strings.HasPrefix(name, p.short+".") && !there[name] {
			return fmt.Errorf("%s is listed and there is no such constant", name)
		}
	}
	return nil
}
