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
// numbered from 0 in the order of their graph numbers. Not safe for concurrent
// use, like all of Builder; the program is.
func (b *Builder) Extract(roots ...Reg) *Program {
	b.round++
	for len(b.slot) < len(b.nodes) {
		b.slot = append(b.slot, 0)
		b.stamp = append(b.stamp, 0)
	}
	p := &Program{roots: make([]int32, 0, len(roots)), ends: make([]int, 0, len(roots))}
	var vars []int
	for _, root := range roots {
		vars = unite(vars, b.nodes[root].vars)
	}
	p.inputs = vars
	var found []Reg
	for _, root := range roots {
		found = b.reach(found[:0], root)
		slices.Sort(found)
		b.emit(p, found)
		p.roots = append(p.roots, b.slot[root])
		p.ends = append(p.ends, len(p.code))
	}
	return p
}

// reach appends the registers below root that no earlier root needed.
func (b *Builder) reach(found []Reg, root Reg) []Reg {
	if b.stamp[root] == b.round {
		return found
	}
	b.stamp[root] = b.round
	start := len(found)
	found = append(found, root)
	for i := start; i < len(found); i++ {
		x := &b.nodes[found[i]]
		for _, operand := range [3]Reg{x.a, x.b, x.c} {
			if operand != 0 && b.stamp[operand] != b.round {
				b.stamp[operand] = b.round
				found = append(found, operand)
			}
		}
	}
	return found
}

// emit appends instructions for registers in rising order.
func (b *Builder) emit(p *Program, found []Reg) {
	p.code = slices.Grow(p.code, len(found))
	p.regs = slices.Grow(p.regs, len(found))
	for _, reg := range found {
		x := &b.nodes[reg]
		in := instr{op: x.op, n: x.n, a: b.slot[x.a], b: b.slot[x.b], c: b.slot[x.c]}
		switch x.op {
		case OpConst:
			p.consts = append(p.consts, b.consts[x.n])
			in.n = int32(len(p.consts) - 1)
		case OpTable:
			p.tables = append(p.tables, b.tables[x.n])
			in.n = int32(len(p.tables) - 1)
		case OpVar:
			at, _ := slices.BinarySearch(p.inputs, int(x.n))
			in.n = int32(at)
		}
		b.slot[reg] = int32(len(p.code))
		p.code = append(p.code, in)
		p.regs = append(p.regs, reg)
	}
}

// rat is the exact constant of a Const instruction.
func (p *Program) rat(in instr) *big.Rat { return p.consts[in.n].rat }
