package joint

import (
	"testing"

	"swapworth/internal/readingorder"
)

func TestReadsFromTheTopDown(t *testing.T) { readingorder.Hold(t, 0) }
