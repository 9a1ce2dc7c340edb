package cli

import (
	"context"
	"sync"
)

// inOrder works on items 0..n-1 with some workers at once and hands each result to take in the order of
// the items, on the caller's goroutine, so that output does not depend on the number of workers. At most
// a few results wait for their turn. newWorker is called once a worker; work belongs to one worker and is
// never called twice at a time. When the context ends, items in hand are finished, none is begun, and the
// number of items taken is returned with the context's error.
func inOrder[R any](ctx context.Context, n, jobs int, newWorker func() func(i int) R, take func(i int, r R) error) (int, error) {
	jobs = max(1, min(jobs, n))
	outer := ctx
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	type slot struct {
		i    int
		done chan R
	}
	queue := make(chan slot)
	turn := make(chan slot, 2*jobs)
	var wg sync.WaitGroup
	for range jobs {
		wg.Go(func() {
			work := newWorker()
			for s := range queue {
				s.done <- work(s.i)
			}
		})
	}
	go func() {
		defer close(turn)
		defer close(queue)
		for i := range n {
			s := slot{i, make(chan R, 1)}
			select {
			case <-ctx.Done():
				return
			case queue <- s:
				turn <- s
			}
		}
	}()
	taken := 0
	var failed error
	for s := range turn {
		r := <-s.done
		if failed != nil {
			continue
		}
		if failed = take(s.i, r); failed != nil {
			stop()
			continue
		}
		taken++
	}
	wg.Wait()
	if failed == nil && taken < n {
		failed = outer.Err()
	}
	return taken, failed
}
