package bound

// regTable is a hash table of registers with open addressing. The keys are
// the nodes themselves, so that a graph of many thousands of nodes keeps no
// second copy of them. Its length is a power of two, at most three quarters
// full; 0 marks a free place.
type regTable struct {
	slots []Reg
	used  int
}

// grow doubles the table if it has no room for one more; hash gives the hash
// of a register that is in it.
func (t *regTable) grow(hash func(Reg) uint64) {
	if 4*(t.used+1) > 3*len(t.slots) {
		t.room(t.used+1, hash)
	}
}

// room makes the table large enough for n more than it holds.
func (t *regTable) room(n int, hash func(Reg) uint64) {
	size := max(64, len(t.slots))
	for 3*size < 4*(t.used+n) {
		size *= 2
	}
	if size == len(t.slots) {
		return
	}
	old := t.slots
	t.slots = make([]Reg, size)
	for _, r := range old {
		if r != 0 {
			t.put(hash(r), r)
		}
	}
}

// put enters a register that is not in the table; grow must have made room.
func (t *regTable) put(hash uint64, r Reg) {
	mask := uint64(len(t.slots) - 1)
	i := hash & mask
	for t.slots[i] != 0 {
		i = (i + 1) & mask
	}
	t.slots[i] = r
}

// mix spreads the bits of a hash (the finaliser of SplitMix64, Steele, Lea and
// Flood 2014).
func mix(h uint64) uint64 {
	h = (h ^ h>>30) * 0xbf58476d1ce4e5b9
	h = (h ^ h>>27) * 0x94d049bb133111eb
	return h ^ h>>31
}

func (k nodeKey) hash() uint64 {
	h := mix(uint64(k.op)<<32 | uint64(uint32(k.n)))
	h = mix(h ^ (uint64(uint32(k.a))<<32 | uint64(uint32(k.b))))
	if k.c != 0 {
		h = mix(h ^ uint64(uint32(k.c)))
	}
	return h
}

func (n *node) key() nodeKey { return nodeKey{op: n.op, n: n.n, a: n.a, b: n.b, c: n.c} }

// find looks a node up; 0 where there is none.
func (b *Builder) find(key nodeKey) Reg {
	if len(b.index.slots) == 0 {
		return 0
	}
	mask := uint64(len(b.index.slots) - 1)
	for i := key.hash() & mask; ; i = (i + 1) & mask {
		r := b.index.slots[i]
		if r == 0 {
			return 0
		}
		if n := &b.nodes[r]; n.op == key.op && n.n == key.n && n.a == key.a && n.b == key.b && n.c == key.c {
			return r
		}
	}
}

// add enters a node that is not in the graph yet.
func (b *Builder) add(key nodeKey, n node) Reg {
	n.op, n.n, n.a, n.b, n.c = key.op, key.n, key.a, key.b, key.c
	b.nodes = append(b.nodes, n)
	reg := Reg(len(b.nodes) - 1)
	b.index.grow(func(r Reg) uint64 { return b.nodes[r].key().hash() })
	b.index.put(key.hash(), reg)
	b.index.used++
	return reg
}

// findShort looks a short constant up; 0 where there is none.
func (b *Builder) findShort(key shortConst) Reg {
	if len(b.short.slots) == 0 {
		return 0
	}
	mask := uint64(len(b.short.slots) - 1)
	for i := key.hash() & mask; ; i = (i + 1) & mask {
		r := b.short.slots[i]
		if r == 0 {
			return 0
		}
		if b.consts[b.nodes[r].n].short == key {
			return r
		}
	}
}

// addShort enters a short constant that is not in the graph yet.
func (b *Builder) addShort(key shortConst, reg Reg) {
	b.short.grow(func(r Reg) uint64 { return b.consts[b.nodes[r].n].short.hash() })
	b.short.put(key.hash(), reg)
	b.short.used++
}
