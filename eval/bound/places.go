package bound

// places tells where in a program the registers of a graph stand. It is a hash
// table with open addressing, for a program has few registers and its graph may
// have a million. Every program is a round of its own: what earlier ones left
// counts as free.
type places struct {
	table []place // its length is a power of two, at most half full
	round int32
	used  int
}

type place struct {
	reg         Reg
	round, slot int32
}

// next begins a round.
func (t *places) next() {
	if t.table == nil {
		t.table = make([]place, 128)
	}
	t.round++
	t.used = 0
}

// find gives the place of a register, or the free one where it belongs.
func (t *places) find(r Reg) *place {
	mask := uint64(len(t.table) - 1)
	for i := hashReg(r) & mask; ; i = (i + 1) & mask {
		if p := &t.table[i]; p.round != t.round || p.reg == r {
			return p
		}
	}
}

// enter notes a register; it says whether it is new in this round.
func (t *places) enter(r Reg) bool {
	p := t.find(r)
	if p.round == t.round {
		return false
	}
	*p = place{reg: r, round: t.round}
	if t.used++; 2*t.used > len(t.table) {
		t.grow()
	}
	return true
}

func (t *places) grow() {
	old := t.table
	t.table = make([]place, 2*len(old))
	for _, p := range old {
		if p.round == t.round {
			*t.find(p.reg) = p
		}
	}
}

// hashReg spreads the bits of a register's number by a product with the golden
// ratio (Knuth, The Art of Computer Programming, volume 3, section 6.4).
func hashReg(r Reg) uint64 { return uint64(r) * 0x9e3779b97f4a7c15 >> 32 }
