package memory

import (
	"os"
	"syscall"
)

// addressSpace is what may be used of what the limit of the address space (ulimit
// -v) leaves: half, for the Go runtime takes addresses in large pieces. Measured: a
// mesh that took 400 MB ran in 940 MB of addresses and not in 840.
func addressSpace() int64 {
	var limit syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_AS, &limit); err != nil || limit.Cur > 1<<62 {
		return 0
	}
	return max(1, (int64(limit.Cur)-whole("/proc/self/statm")*int64(os.Getpagesize()))/2)
}
