package bound

import (
	"math/big"
	"slices"
	"strings"
)

// Builder holds a graph of formulas over numbered inputs. Equal values share
// one register, exact constants are folded, and what cancels exactly is
// removed as long as the points without a value stay the same. It is not safe
// for concurrent use.
type Builder struct {
	nodes  []node          // nodes[0] is unused
	index  map[nodeKey]Reg // of nodes that are not constants or inputs
	inputs []Reg           // by input number
	consts []constant
	known  map[string]Reg // of constants, by their text
	tables []*table
	tabled map[string]int32
	listed int // inputs in the nodes' lists
}

// NewBuilder returns an empty graph.
func NewBuilder() *Builder {
	return &Builder{
		nodes:  make([]node, 1, 64),
		index:  make(map[nodeKey]Reg),
		known:  make(map[string]Reg),
		tabled: make(map[string]int32),
	}
}

// Const returns the register of an exact constant in SI units. The builder
// keeps r, which must not be changed afterwards.
func (b *Builder) Const(r *big.Rat) Reg {
	key := r.RatString()
	if reg, found := b.known[key]; found {
		return reg
	}
	b.consts = append(b.consts, constant{rat: r, ival: ivalOfRat(r)})
	b.nodes = append(b.nodes, node{op: OpConst, n: int32(len(b.consts) - 1), total: true})
	reg := Reg(len(b.nodes) - 1)
	b.known[key] = reg
	return reg
}

func (b *Builder) integer(n int64) Reg { return b.Const(new(big.Rat).SetInt64(n)) }

// Var returns input number i of the whole graph.
func (b *Builder) Var(i int) Reg {
	for len(b.inputs) <= i {
		b.inputs = append(b.inputs, 0)
	}
	if b.inputs[i] == 0 {
		b.nodes = append(b.nodes, node{op: OpVar, n: int32(i), total: true, vars: []int{i}})
		b.inputs[i] = Reg(len(b.nodes) - 1)
	}
	return b.inputs[i]
}

// Pi returns the circle constant.
func (b *Builder) Pi() Reg { return b.intern(nodeKey{op: OpPi}, true, false) }

// True returns the predicate that holds everywhere.
func (b *Builder) True() Reg { return b.intern(nodeKey{op: OpTrue}, true, true) }

func (b *Builder) falsity() Reg { return b.intern(nodeKey{op: opFalse}, true, true) }

func (b *Builder) truthOf(t bool) Reg {
	if t {
		return b.True()
	}
	return b.falsity()
}

// ConstOf gives the value of r if it folded to an exact constant. The result
// must not be changed.
func (b *Builder) ConstOf(r Reg) (*big.Rat, bool) {
	if r <= 0 || int(r) >= len(b.nodes) || b.nodes[r].op != OpConst {
		return nil, false
	}
	return b.consts[b.nodes[r].n].rat, true
}

// Size grows with what the graph holds: about 50 bytes each.
func (b *Builder) Size() int { return len(b.nodes) + b.listed/6 }

// Vars lists the inputs r depends on, rising. The result must not be changed.
func (b *Builder) Vars(r Reg) []int { return b.nodes[r].vars }

// intern returns the register of a node, adding it if it is new.
func (b *Builder) intern(key nodeKey, total, truth bool) Reg {
	if reg, found := b.index[key]; found {
		return reg
	}
	n := node{op: key.op, n: key.n, a: key.a, b: key.b, c: key.c, total: total, truth: truth}
	x, y, z := b.Vars(key.a), b.Vars(key.b), b.Vars(key.c)
	if n.vars = unite(unite(x, y), z); len(n.vars) > max(len(x), len(y), len(z)) {
		b.listed += len(n.vars)
	}
	b.nodes = append(b.nodes, n)
	reg := Reg(len(b.nodes) - 1)
	b.index[key] = reg
	return reg
}

// unite merges two rising lists, returning one of them unchanged if it holds
// the other.
func unite(x, y []int) []int {
	if len(y) == 0 || contains(x, y) {
		return x
	}
	if contains(y, x) {
		return y
	}
	out := slices.Concat(x, y)
	slices.Sort(out)
	return slices.Compact(out)
}

// contains tells that a rising list holds all of another.
func contains(big, small []int) bool {
	for _, v := range small {
		at, found := slices.BinarySearch(big, v)
		if !found {
			return false
		}
		big = big[at+1:]
	}
	return true
}

// Table returns the piecewise linear function through the knots at x; outside
// them it has no value. It panics if there are fewer than two knots or X does
// not rise strictly, which the caller has to check.
func (b *Builder) Table(x Reg, knots []Knot) Reg {
	var text strings.Builder
	for _, k := range knots {
		text.WriteString(k.X.RatString())
		text.WriteByte(' ')
		text.WriteString(k.Y.RatString())
		text.WriteByte(';')
	}
	id, found := b.tabled[text.String()]
	if !found {
		id = int32(len(b.tables))
		b.tables = append(b.tables, newTable(knots))
		b.tabled[text.String()] = id
	}
	if r, ok := b.ConstOf(x); ok {
		if y := b.tables[id].at(r); y != nil {
			return b.Const(y)
		}
	}
	return b.intern(nodeKey{op: OpTable, n: id, a: x}, false, false)
}

// If returns then where cond holds and els where it does not; it has no value
// where cond has none.
func (b *Builder) If(cond, then, els Reg) Reg {
	switch b.nodes[cond].op {
	case OpTrue:
		return then
	case opFalse:
		return els
	}
	if then == els && b.nodes[cond].total {
		return then
	}
	if b.nodes[then].op == OpTrue && b.nodes[els].op == opFalse {
		return cond
	}
	total := b.nodes[cond].total && b.nodes[then].total && b.nodes[els].total
	return b.intern(nodeKey{op: OpIf, a: cond, b: then, c: els}, total, b.nodes[then].truth)
}
