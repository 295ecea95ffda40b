//go:build unix

package solid

import "syscall"

// processorSeconds returns the user time of the process so far.
func processorSeconds() float64 {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return float64(u.Utime.Sec) + 1e-6*float64(u.Utime.Usec)
}
