package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"time"
)

// suite is the tests of one package, built with every constant open.
type suite struct {
	program string
	flags   []string
	dir     string
	patient time.Duration // how long they may take
}

// build builds the tests of a package and sees that they pass as the code stands.
func build(dir, overlay, program string) (suite, error) {
	out, err := exec.Command("go", "test", "-c", "-overlay", overlay, "-o", program, dir).CombinedOutput()
	if err != nil {
		return suite{}, fmt.Errorf("%s: %w\n%s", dir, err, out)
	}
	s := suite{program: program, flags: []string{"-test.failfast"}, dir: dir, patient: 10 * time.Minute}
	const unwritten = "-rapid.nofailfile" // property tests write no draws that fail
	if exec.Command(program, "-test.list=^$", unwritten).Run() == nil {
		s.flags = append(s.flags, unwritten)
	}
	start := time.Now()
	if out, err := s.run(""); err != nil {
		return suite{}, fmt.Errorf("%s: its tests fail before anything is changed: %w\n%s", dir, err, out)
	}
	const slower = 10 // than the first run, on a machine that others use too
	s.patient = slower*time.Since(start) + 10*time.Second
	return s, nil
}

// run runs the tests with one constant changed. Tests that do not end have failed.
func (s suite) run(mutant string) (out []byte, err error) {
	ctx, cancel := context.WithTimeout(context.Background(), s.patient)
	defer cancel()
	cmd := exec.CommandContext(ctx, s.program, s.flags...)
	cmd.Dir = s.dir
	cmd.Env = append(os.Environ(), "MUTANT="+mutant)
	return cmd.CombinedOutput()
}
