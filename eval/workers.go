package eval

import (
	"sync"
	"sync/atomic"
)

// each calls work for 0 to n-1 on as many goroutines as there are workers. A
// panic in one of them is raised here again.
func (c *compiler) each(n int, work func(i int)) {
	var next atomic.Int64
	var wg sync.WaitGroup
	var fault atomic.Pointer[any]
	for range min(max(1, c.opt.Workers), n) {
		wg.Go(func() {
			defer func() {
				if x := recover(); x != nil {
					fault.CompareAndSwap(nil, &x)
				}
			}()
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				work(i)
			}
		})
	}
	wg.Wait()
	if x := fault.Load(); x != nil {
		panic(*x)
	}
}
