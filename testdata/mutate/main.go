// Command mutate asks whether the tests of a package feel its numbers. It finds every
// named numeric constant of the package, makes it larger and smaller by a factor, and runs
// the tests of the package each time. What fails no test survives and is listed: such a
// number has no test that says why it is what it is, on that side. Run it from the
// project's root, on one package or several:
//
//	go run ./testdata/mutate ./mesh/feature
//	go run ./testdata/mutate -only 'flat|noise' ./mesh/feature
//	go run ./testdata/mutate -with ./swap/fit,./internal/decisions ./mesh/feature
//	go run ./testdata/mutate -literals ./mesh/feature
//
// -with tries what survives on the tests of other packages too. -literals lists the numbers
// that stand without a name in comparisons, in place of all that. numbers.toml beside this
// file gives the factor where 3 does not suit (10 for numbers below 1e-4), and names the
// constants that only bound effort or are no thresholds, each with the reason; these are
// left alone.
//
// The package is built once: each use of a constant is replaced by the constant times a
// variable that the environment sets. Nothing is written outside a temporary folder.
package main

import (
	"flag"
	"fmt"
	"log"
	"os"
	"path/filepath"
	"regexp"
	"strings"
)

func main() {
	log.SetFlags(0)
	log.SetPrefix("mutate: ")
	only := flag.String("only", "", "only constants whose name matches this regular `EXPRESSION`")
	with := flag.String("with", "", "try what survives on the tests of these `PACKAGES` too, with commas between")
	literals := flag.Bool("literals", false, "list the numbers in comparisons that have no name")
	list := flag.String("numbers", "testdata/mutate/numbers.toml", "factors and exceptions, a `FILE`")
	flag.Parse()
	if flag.NArg() == 0 {
		log.Fatal("no package: expected one such as ./mesh/feature")
	}
	match, err := regexp.Compile(*only)
	if err != nil {
		log.Fatal(err)
	}
	known, err := readNumbers(*list)
	if err != nil {
		log.Fatal(err)
	}
	left := 0
	for _, path := range flag.Args() {
		p, err := load(path)
		if err != nil {
			log.Fatal(err)
		}
		if *literals {
			p.listLiterals()
			continue
		}
		n, err := tryAll(p, known, match, split(*with))
		if err != nil {
			log.Fatal(err)
		}
		left += n
	}
	if left > 0 {
		os.Exit(1)
	}
}

func split(list string) []string {
	if list == "" {
		return nil
	}
	return strings.Split(list, ",")
}

// tryAll mutates every constant of a package both ways and says what survives.
func tryAll(p *source, known numbers, match *regexp.Regexp, with []string) (survivors int, err error) {
	folder, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return 0, err
	}
	defer os.RemoveAll(folder)
	if err := known.check(p); err != nil {
		return 0, err
	}
	overlay, err := p.instrument(folder)
	if err != nil {
		return 0, err
	}
	suites := make([]suite, 0, 1+len(with))
	for i, path := range append([]string{p.dir}, with...) {
		s, err := build(path, overlay, filepath.Join(folder, fmt.Sprint("test", i)))
		if err != nil {
			return 0, err
		}
		suites = append(suites, s)
	}
	mutants, skipped := 0, 0
	for _, c := range p.constants {
		if _, left := known.Left[c.name]; left || !match.MatchString(c.name) {
			skipped++
			continue
		}
		if c.uses == 0 {
			fmt.Printf("%s: %s is used nowhere that a variable may stand\n", c.where, c.name)
			survivors++
			continue
		}
		for _, by := range known.tries(c) {
			mutants++
			if !killed(suites, c, by) {
				survivors++
				fmt.Printf("%s: %s survives %.3g times as large (%.6g in place of %.6g)\n", c.where, c.name, by, c.mutated(by), c.value)
			}
		}
	}
	fmt.Printf("%s: %d constants, %d left out, %d mutants, %d survive\n", p.path, len(p.constants), skipped, mutants, survivors)
	return survivors, nil
}

func killed(suites []suite, c threshold, by float64) bool {
	for _, s := range suites {
		if _, err := s.run(c.variable() + ":" + fmt.Sprint(by)); err != nil {
			return true
		}
	}
	return false
}
