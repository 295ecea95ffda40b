package swap

import (
	"context"
	"sync"

	"swapworth/internal/parallel"
)

// each runs work for 0 to n-1 on all cores and stops at the first error.
// progress, unless nil, is told which share is done.
func each(ctx context.Context, n int, progress func(float64), work func(ctx context.Context, i int) error) error {
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	var finished int
	var lock sync.Mutex
	parallel.For(n, func(i int) {
		if ctx.Err() != nil {
			return
		}
		if err := work(ctx, i); err != nil {
			stop(err)
			return
		}
		lock.Lock()
		defer lock.Unlock()
		finished++
		if progress != nil {
			progress(float64(finished) / float64(n))
		}
	})
	return context.Cause(ctx)
}

// shares splits what progress is told into n parts of equal size that advance
// apart. nil says nothing.
func shares(progress func(float64), n int) []func(float64) {
	out := make([]func(float64), n)
	if progress == nil {
		return out
	}
	done := make([]float64, n)
	var lock sync.Mutex
	for i := range out {
		out[i] = func(share float64) {
			lock.Lock()
			defer lock.Unlock()
			done[i] = share
			sum := 0.0
			for _, d := range done {
				sum += d
			}
			progress(sum / float64(n))
		}
	}
	return out
}
