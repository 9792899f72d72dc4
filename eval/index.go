package eval

import "hash/maphash"

// index keeps named things in the order they were defined. A notebook defines
// many thousands of values, and nearly every name is new: one look in the table
// tells that and enters it, where a map would be asked twice.
type index[T any] struct {
	list  []T
	named []named[T]
	slots []slot // open addressing; its length is a power of two, at most half full
	seed  maphash.Seed
}

type named[T any] struct {
	name string
	v    T
}

// slot says where among the named things stands one with this hash, counted
// from 1; 0 is a free slot.
type slot struct{ hash, at uint32 }

// find gives the slot of a name, or the free one where it belongs; there is
// always a free one.
func (x *index[T]) find(name string) (at *slot, hash uint32) {
	h := maphash.String(x.seed, name)
	hash = uint32(h >> 32)
	mask := uint64(len(x.slots) - 1)
	for i := h & mask; ; i = (i + 1) & mask {
		s := &x.slots[i]
		if s.at == 0 || s.hash == hash && x.named[s.at-1].name == name {
			return s, hash
		}
	}
}

func (x *index[T]) get(name string) (v T, ok bool) {
	if len(x.slots) == 0 {
		return v, false
	}
	s, _ := x.find(name)
	if s.at == 0 {
		return v, false
	}
	return x.named[s.at-1].v, true
}

// enter names a new thing; where the name is taken it gives what has it.
func (x *index[T]) enter(name string, v T) (old T, isNew bool) {
	x.grow(1)
	s, hash := x.find(name)
	if s.at != 0 {
		return x.named[s.at-1].v, false
	}
	x.named = append(x.named, named[T]{name, v})
	x.list = append(x.list, v)
	*s = slot{hash, uint32(len(x.named))}
	return old, true
}

// rename gives a name that is taken to something else; the list stays.
func (x *index[T]) rename(name string, v T) {
	if s, _ := x.find(name); s.at != 0 {
		x.named[s.at-1].v = v
	}
}

// grow makes room for n more.
func (x *index[T]) grow(n int) {
	size := max(16, len(x.slots))
	for size < 2*(len(x.named)+n) {
		size *= 2
	}
	if size == len(x.slots) {
		return
	}
	if x.slots == nil {
		x.seed = maphash.MakeSeed()
	}
	if n > 1 {
		x.list, x.named = append(make([]T, 0, len(x.list)+n), x.list...), append(make([]named[T], 0, len(x.named)+n), x.named...)
	}
	old := x.slots
	x.slots = make([]slot, size)
	mask := uint64(size - 1)
	for _, s := range old {
		if s.at == 0 {
			continue
		}
		i := maphash.String(x.seed, x.named[s.at-1].name) & mask
		for x.slots[i].at != 0 {
			i = (i + 1) & mask
		}
		x.slots[i] = s
	}
}

func (x *index[T]) names() []string {
	out := make([]string, 0, len(x.named))
	for i := range x.named {
		out = append(out, x.named[i].name)
	}
	return out
}
