package bound

import (
	"math/big"
	"slices"
)

// instr computes register i from earlier ones; its place in the code is the
// register's number.
type instr struct {
	op      Op
	sure    bool  // shown to have a value wherever its operands do, over the ranges at hand
	n       int32 // input number, exponent, sign mask, or index of a constant or table
	a, b, c int32
}

// Program is the flat form of some registers of a Builder. It does not change
// once built and may be used by several goroutines.
type Program struct {
	code   []instr
	regs   []Reg // the graph register of each instruction
	ends   []int // code needed for each root
	roots  []int32
	inputs []int
	consts []constant
	tables []*table
}

// Inputs lists the graph input number of each program input, rising.
func (p *Program) Inputs() []int { return p.inputs }

// Roots is the number of roots.
func (p *Program) Roots() int { return len(p.roots) }

// Extract copies what the roots need into a program of its own. Its inputs are
// numbered from 0 in the order of their graph numbers. It leaves the graph as it
// is: programs may be cut out side by side.
func (b *Builder) Extract(roots ...Reg) *Program {
	p, slots := &Program{}, map[Reg]int32{}
	for _, root := range roots {
		p.inputs = unite(p.inputs, b.Vars(root))
	}
	for _, root := range roots {
		b.reach(root, slots, p)
		p.ends = append(p.ends, len(p.regs))
	}
	for i, reg := range p.regs {
		slots[reg] = int32(i)
		p.code = append(p.code, b.instruction(reg, slots, p))
	}
	for _, root := range roots {
		p.roots = append(p.roots, slots[root])
	}
	return p
}

// reach adds the registers below root that no earlier root needed, in rising
// order, and marks them.
func (b *Builder) reach(root Reg, seen map[Reg]int32, p *Program) {
	start := len(p.regs)
	enter := func(r Reg) {
		if _, found := seen[r]; !found && r != 0 {
			seen[r] = 0
			p.regs = append(p.regs, r)
		}
	}
	enter(root)
	for i := start; i < len(p.regs); i++ {
		n := &b.nodes[p.regs[i]]
		enter(n.a)
		enter(n.b)
		enter(n.c)
	}
	slices.Sort(p.regs[start:])
}

// instruction is that of a register, whose operands have their places already.
func (b *Builder) instruction(reg Reg, slots map[Reg]int32, p *Program) instr {
	n := &b.nodes[reg]
	in := instr{op: n.op, n: n.n, a: slots[n.a], b: slots[n.b], c: slots[n.c]}
	switch n.op {
	case OpConst:
		p.consts = append(p.consts, b.consts[n.n])
		in.n = int32(len(p.consts) - 1)
	case OpTable:
		p.tables = append(p.tables, b.tables[n.n])
		in.n = int32(len(p.tables) - 1)
	case OpVar:
		at, _ := slices.BinarySearch(p.inputs, int(n.n))
		in.n = int32(at)
	}
	return in
}

// rat is the exact constant of a Const instruction.
func (p *Program) rat(in instr) *big.Rat { return p.consts[in.n].rat }
