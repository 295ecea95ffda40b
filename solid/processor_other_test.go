//go:build !unix

package solid

import "time"

var began = time.Now()

// processorSeconds stands in for the user time of the process where there is no such
// count: the time that has passed.
func processorSeconds() float64 { return time.Since(began).Seconds() }
