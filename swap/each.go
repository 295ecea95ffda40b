package swap

import (
	"context"
	"runtime"
	"sync"

	"golang.org/x/sync/errgroup"
)

// each runs work for 0 to n-1 on all cores and stops at the first error.
// progress, unless nil, is told which share is done.
func each(ctx context.Context, n int, progress func(float64), work func(ctx context.Context, i int) error) error {
	group, ctx := errgroup.WithContext(ctx)
	group.SetLimit(runtime.GOMAXPROCS(0))
	var finished int
	var lock sync.Mutex
	for i := range n {
		group.Go(func() error {
			if err := ctx.Err(); err != nil {
				return err
			}
			if err := work(ctx, i); err != nil {
				return err
			}
			lock.Lock()
			defer lock.Unlock()
			finished++
			if progress != nil {
				progress(float64(finished) / float64(n))
			}
			return nil
		})
	}
	return group.Wait()
}
