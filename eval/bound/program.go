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
func (b *Builder) Extract(roots ...Reg) *Program { return b.own.Extract(roots...) }

// Extractor cuts programs out of a graph. Several may work side by side as
// long as the graph does not change; one serves one goroutine.
type Extractor struct {
	b     *Builder
	at    places
	found []Reg
	lent  Program // by Borrow
}

// Extractor returns a new one for the graph.
func (b *Builder) Extractor() *Extractor { return &Extractor{b: b} }

// Extract copies what the roots need into a program of its own, as
// Builder.Extract does.
func (x *Extractor) Extract(roots ...Reg) *Program { return x.fill(&Program{}, roots) }

// Borrow is Extract, but the program is good only until the extractor is asked
// again: it saves the memory where one is looked at once.
func (x *Extractor) Borrow(roots ...Reg) *Program {
	p := &x.lent
	*p = Program{code: p.code[:0], regs: p.regs[:0], ends: p.ends[:0], roots: p.roots[:0], consts: p.consts[:0], tables: p.tables[:0]}
	return x.fill(p, roots)
}

// fill writes the program of the roots into p, whose slices are empty.
func (x *Extractor) fill(p *Program, roots []Reg) *Program {
	x.at.next()
	p.roots, p.ends = slices.Grow(p.roots, len(roots))[:len(roots)], slices.Grow(p.ends, len(roots))[:len(roots)]
	for _, root := range roots {
		p.inputs = unite(p.inputs, x.b.Vars(root))
	}
	x.found = x.found[:0]
	for i, root := range roots {
		x.reach(root)
		p.ends[i] = len(x.found)
	}
	x.emit(p)
	for i, root := range roots {
		p.roots[i] = x.slot(root)
	}
	return p
}

// reach appends the registers below root that no earlier root needed, in
// rising order, and marks them.
func (x *Extractor) reach(root Reg) {
	if !x.at.enter(root) {
		return
	}
	start := len(x.found)
	x.found = append(x.found, root)
	for i := start; i < len(x.found); i++ {
		n := &x.b.nodes[x.found[i]]
		for _, operand := range [3]Reg{n.a, n.b, n.c} {
			if operand != 0 && x.at.enter(operand) {
				x.found = append(x.found, operand)
			}
		}
	}
	slices.Sort(x.found[start:])
}

// emit writes the instructions of the registers found.
func (x *Extractor) emit(p *Program) {
	p.code = slices.Grow(p.code, len(x.found))[:len(x.found)]
	p.regs = append(p.regs, x.found...)
	for i, reg := range x.found {
		n := &x.b.nodes[reg]
		in := &p.code[i]
		*in = instr{op: n.op, n: n.n, a: x.slot(n.a), b: x.slot(n.b), c: x.slot(n.c)}
		switch n.op {
		case OpConst:
			p.consts = append(p.consts, x.b.consts[n.n])
			in.n = int32(len(p.consts) - 1)
		case OpTable:
			p.tables = append(p.tables, x.b.tables[n.n])
			in.n = int32(len(p.tables) - 1)
		case OpVar:
			at, _ := slices.BinarySearch(p.inputs, int(n.n))
			in.n = int32(at)
		}
		x.at.find(reg).slot = int32(i)
	}
}

// slot is the place of an operand, which stands earlier in the program.
func (x *Extractor) slot(r Reg) int32 {
	if r == 0 {
		return 0
	}
	return x.at.find(r).slot
}

// rat is the exact constant of a Const instruction.
func (p *Program) rat(in instr) *big.Rat { return p.consts[in.n].rat }

// Covers says that the inputs of the program hold all that a register of its
// graph depends on; it is true of no register.
func (p *Program) Covers(b *Builder, r Reg) bool { return contains(p.inputs, b.Vars(r)) }
