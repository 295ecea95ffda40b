// Package parallel holds the one loop that runs on all cores.
//
// A panic in one of its pieces goes on in the goroutine that called: there it can
// be told, while a panic in a goroutine of its own would end the program at once.
package parallel

import (
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"
)

// Chunks calls work for every run of at most size indices that make up 0..n-1,
// on all cores. The runs depend on n and size alone, so a result that is put
// together in the order of the runs is the same on every machine.
func Chunks(n, size int, work func(chunk, from, to int)) {
	chunks := (n + size - 1) / size
	var next atomic.Int64
	Each(min(chunks, runtime.GOMAXPROCS(0)), func(int) {
		for {
			c := int(next.Add(1)) - 1
			if c >= chunks {
				return
			}
			work(c, c*size, min(n, (c+1)*size))
		}
	})
}

// For calls work(0) .. work(n-1) on all cores. The order is free: work must only
// write what belongs to its index.
func For(n int, work func(i int)) { Chunks(n, 1, func(i, _, _ int) { work(i) }) }

// Blocks is Chunks for work that needs no number of its run.
func Blocks(n, size int, work func(from, to int)) {
	Chunks(n, size, func(_, from, to int) { work(from, to) })
}

// Both calls the functions at the same time and waits for all.
func Both(work ...func()) { Each(len(work), func(i int) { work[i]() }) }

// Each calls work(0) .. work(n-1) at the same time and waits for all.
func Each(n int, work func(i int)) {
	var all sync.WaitGroup
	var first firstFault
	for i := 1; i < n; i++ {
		all.Go(func() { first.watch(func() { work(i) }) })
	}
	if n > 0 {
		first.watch(func() { work(0) })
	}
	all.Wait()
	if f := first.fault.Load(); f != nil {
		panic(f)
	}
}

// Fault is a panic in one of several pieces of work, as it goes on in the caller.
type Fault struct {
	Value any    // what panic was called with
	Stack []byte // of the piece
}

func (f *Fault) Error() string { return fmt.Sprint(f.Value) }

// firstFault keeps the panic that came first.
type firstFault struct{ fault atomic.Pointer[Fault] }

func (f *firstFault) watch(work func()) {
	defer func() {
		switch v := recover().(type) {
		case nil:
		case *Fault: // of a loop within
			f.fault.CompareAndSwap(nil, v)
		default:
			f.fault.CompareAndSwap(nil, &Fault{v, debug.Stack()})
		}
	}()
	work()
}
