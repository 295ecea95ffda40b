// Package unconfigured keeps tests from the machine and the materials of the person
// who runs them. Tests alone import it.
package unconfigured

import (
	"go/build"
	"os"
	"path/filepath"
	"testing"
)

// Variables are what os.UserConfigDir looks at on Linux, macOS and Windows.
var Variables = []string{"XDG_CONFIG_HOME", "HOME", "AppData"}

// Run runs the tests of a package with an empty configuration folder and returns the
// exit code.
func Run(m *testing.M) int {
	folder, err := os.MkdirTemp("", "swapworth-unconfigured-")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(folder)
	keepCaches()
	for _, name := range Variables {
		os.Setenv(name, folder)
	}
	return m.Run()
}

// keepCaches lets a test that asks the go command something find what is compiled and
// downloaded, which it looks for beside the configuration.
func keepCaches() {
	if cache, err := os.UserCacheDir(); err == nil && os.Getenv("GOCACHE") == "" {
		os.Setenv("GOCACHE", filepath.Join(cache, "go-build"))
	}
	if os.Getenv("GOPATH") == "" {
		os.Setenv("GOPATH", build.Default.GOPATH)
	}
}
