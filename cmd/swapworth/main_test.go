package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/spf13/cobra"

	"swapworth/internal/unconfigured"
)

// alone are the tests of this package, away from the person's own configuration.
type alone struct{ *testing.M }

func (a alone) Run() int { return unconfigured.Run(a.M) }

func TestMain(m *testing.M) {
	testscript.Main(alone{m}, map[string]func(){
		"swapworth": main,
	})
}

// TestScripts runs every command as a person would, in a folder of its own.
// $REF holds the reference parts and $DEMO the demo parts, by names relative to
// that folder: a printed name wraps at the same place wherever the clone lies.
func TestScripts(t *testing.T) {
	demo, err := filepath.Abs("../../testdata")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(env *testscript.Env) error {
			env.Setenv("DEMO", "demo")
			env.Setenv("REF", filepath.Join("demo", "reference"))
			for _, name := range unconfigured.Variables {
				env.Setenv(name, filepath.Join(env.WorkDir, "config"))
			}
			return os.Symlink(demo, filepath.Join(env.WorkDir, "demo"))
		},
	})
}

func TestEveryCommandHasAnExampleAndEveryFlagAHelp(t *testing.T) {
	var visit func(*cobra.Command)
	visit = func(cmd *cobra.Command) {
		if cmd.Name() == "completion" || cmd.Name() == "help" {
			return
		}
		if !strings.Contains(cmd.Example, "swapworth") {
			t.Errorf("%s: no example", cmd.CommandPath())
		}
		for _, line := range strings.Split(cmd.Long+"\n"+cmd.Example, "\n") {
			if len([]rune(line)) > 80 {
				t.Errorf("%s: a help line of %d characters: %s", cmd.CommandPath(), len([]rune(line)), line)
			}
		}
		for _, sub := range cmd.Commands() {
			visit(sub)
		}
	}
	visit(newRoot())
}
