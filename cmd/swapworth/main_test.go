package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/spf13/cobra"
)

func TestMain(m *testing.M) {
	if filepath.Base(os.Args[0]) != "swapworth" { // else a script runs the command
		nobody, err := os.MkdirTemp("", "swapworth-nobody-")
		if err != nil {
			panic(err)
		}
		for _, name := range configurationFolders {
			os.Setenv(name, nobody)
		}
		defer os.RemoveAll(nobody)
	}
	testscript.Main(m, map[string]func(){
		"swapworth": main,
	})
}

// configurationFolders are what os.UserConfigDir looks at on Linux, macOS and Windows:
// no test sees the person's own.
var configurationFolders = []string{"XDG_CONFIG_HOME", "HOME", "AppData"}

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
			for _, name := range configurationFolders {
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
