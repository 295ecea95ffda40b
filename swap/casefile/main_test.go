package casefile

import (
	"os"
	"testing"

	"swapworth/internal/unconfigured"
)

func TestMain(m *testing.M) { os.Exit(unconfigured.Run(m)) }
