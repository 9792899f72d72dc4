package eval

import (
	"sync"
	"sync/atomic"
)

// each calls work for 0 to n-1 on as many goroutines as there are workers, a
// batch at a time. start is called once a goroutine and makes the work, with
// whatever scratch it keeps. A panic in one of them is raised here again.
func (c *compiler) each(n int, start func() (work func(i int))) { c.eachBatch(n, 16, start) }

// eachBatch is each with batches of a size of one's own.
func (c *compiler) eachBatch(n, batch int, start func() (work func(i int))) {
	workers := min(max(1, c.opt.Workers), (n+batch-1)/batch)
	if workers <= 1 {
		if n > 0 {
			work := start()
			for i := range n {
				work(i)
			}
		}
		return
	}
	var next atomic.Int64
	var wg sync.WaitGroup
	var fault atomic.Pointer[any]
	for range workers {
		wg.Go(func() {
			defer func() {
				if x := recover(); x != nil {
					fault.CompareAndSwap(nil, &x)
				}
			}()
			work := start()
			for {
				to := int(next.Add(int64(batch)))
				for i := to - batch; i < min(to, n); i++ {
					work(i)
				}
				if to >= n {
					return
				}
			}
		})
	}
	wg.Wait()
	if x := fault.Load(); x != nil {
		panic(*x)
	}
}
