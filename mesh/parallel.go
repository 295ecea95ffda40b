package mesh

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// inChunks calls work for every run of at most size indices that make up
// 0..n-1, on all cores. The runs depend on n and size alone, so a result that
// is put together in the order of the runs is the same on every machine.
func inChunks(n, size int, work func(chunk, from, to int)) {
	chunks := (n + size - 1) / size
	var next atomic.Int64
	inEach(min(chunks, runtime.GOMAXPROCS(0)), func(int) {
		for {
			c := int(next.Add(1)) - 1
			if c >= chunks {
				return
			}
			work(c, c*size, min(n, (c+1)*size))
		}
	})
}

// inEach calls work(0) .. work(n-1) at the same time and waits for all.
func inEach(n int, work func(i int)) {
	var all sync.WaitGroup
	for i := 1; i < n; i++ {
		all.Go(func() { work(i) })
	}
	if n > 0 {
		work(0)
	}
	all.Wait()
}

// chunkSize is the number of faces or corners that one step of parallel work
// takes: long enough to hide the hand-over, short enough to balance two cores.
const chunkSize = 1 << 15
