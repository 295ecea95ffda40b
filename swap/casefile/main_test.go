package casefile

import (
	"os"
	"testing"
)

// No test sees the person's own machine and materials: these are what
// os.UserConfigDir looks at on Linux, macOS and Windows.
func TestMain(m *testing.M) {
	nobody, err := os.MkdirTemp("", "swapworth-nobody-")
	if err != nil {
		panic(err)
	}
	for _, name := range []string{"XDG_CONFIG_HOME", "HOME", "AppData"} {
		os.Setenv(name, nobody)
	}
	code := m.Run()
	os.RemoveAll(nobody)
	os.Exit(code)
}
