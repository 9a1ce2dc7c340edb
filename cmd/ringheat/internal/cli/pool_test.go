package cli

import (
	"context"
	"errors"
	"testing"
	"time"
)

func TestInOrderKeepsTheOrder(t *testing.T) {
	for _, jobs := range []int{1, 2, 7, 100} {
		var got []int
		n, err := inOrder(t.Context(), 50, jobs, func() func(int) int {
			return func(i int) int {
				time.Sleep(time.Duration((i*7)%5) * time.Millisecond)
				return i * i
			}
		}, func(i, r int) error {
			if r != i*i {
				t.Fatalf("item %d came with the result %d", i, r)
			}
			got = append(got, i)
			return nil
		})
		if n != 50 || err != nil {
			t.Fatalf("jobs %d: %d taken, %v", jobs, n, err)
		}
		for i, v := range got {
			if i != v {
				t.Fatalf("jobs %d: item %d at place %d", jobs, v, i)
			}
		}
	}
}

func TestInOrderStops(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	last := -1
	n, err := inOrder(ctx, 1000, 3, func() func(int) int { return func(i int) int { return i } }, func(i, r int) error {
		if i != last+1 {
			t.Fatalf("item %d after %d", i, last)
		}
		last = i
		if i == 10 {
			cancel()
		}
		return nil
	})
	if !errors.Is(err, context.Canceled) || n < 11 || n >= 1000 || n != last+1 {
		t.Fatalf("%d taken, last %d, %v", n, last, err)
	}
	boom := errors.New("disk full")
	n, err = inOrder(t.Context(), 100, 3, func() func(int) int { return func(i int) int { return i } }, func(i, r int) error {
		if i == 5 {
			return boom
		}
		return nil
	})
	if n != 5 || !errors.Is(err, boom) {
		t.Fatalf("%d taken, %v", n, err)
	}
}
