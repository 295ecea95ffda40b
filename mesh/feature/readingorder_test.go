package feature

import (
	"testing"

	"swapworth/internal/readingorder"
)

func TestReadsFromTheTopDown(t *testing.T) { readingorder.Hold(t, 0) }
