package sheet

import "github.com/tetratelabs/wazero/experimental"

// sandbox is the memory of one instance. Its addresses are reserved to the
// full at once and outside the heap: growing copies nothing, and what is never
// written takes no memory. Where none can be reserved it is grown by copying.
type sandbox struct {
	b        []byte
	reserved bool
}

func newSandbox(limit uint64) *sandbox {
	if b := reserve(int(limit)); b != nil {
		return &sandbox{b: b, reserved: true}
	}
	return &sandbox{}
}

// Reallocate gives the first bytes of the memory: experimental.LinearMemory.
func (s *sandbox) Reallocate(size uint64) []byte {
	if size > uint64(len(s.b)) {
		if s.reserved {
			return nil
		}
		s.b = append(make([]byte, 0, size), s.b...)[:size]
	}
	return s.b[:size:size]
}

// Free does nothing: an instance that ends within a call is still looked at by
// what called it. See release.
func (s *sandbox) Free() {}

// release gives the memory back. Nothing may use the instance any more.
func (s *sandbox) release() {
	if s.reserved {
		unreserve(s.b)
	}
	*s = sandbox{}
}

// Allocate makes the memory of the instance that is being started. The caller
// of the engine's pool holds e.mu.
func (e *engine) Allocate(_, limit uint64) experimental.LinearMemory {
	e.made = newSandbox(limit)
	return e.made
}
