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
	nodes  []node   // nodes[0] is unused
	index  regTable // of nodes that are no constants and no inputs
	inputs []Reg    // by input number
	consts []constant
	short  regTable       // constants whose parts fit int64
	large  map[string]Reg // the others
	tables []*table
	tabled map[string]int32
	lists  []int // of inputs, one after another; what stands in it never changes
	own    Extractor
}

// NewBuilder returns an empty graph.
func NewBuilder() *Builder {
	b := &Builder{
		nodes:  make([]node, 1, 64),
		large:  make(map[string]Reg),
		tabled: make(map[string]int32),
	}
	b.own.b = b
	return b
}

// Grow makes room for so many more inputs and other registers, so that a large
// graph is not copied as it grows.
func (b *Builder) Grow(inputs, others int) {
	b.nodes = slices.Grow(b.nodes, inputs+others)
	b.inputs = slices.Grow(b.inputs, inputs)
	b.lists = slices.Grow(b.lists, inputs+others)
	b.index.room(others, func(r Reg) uint64 { return b.nodes[r].key().hash() })
}

// Const returns the register of an exact constant in SI units. The builder
// keeps r, which must not be changed afterwards.
func (b *Builder) Const(r *big.Rat) Reg {
	key, ok := shortKey(r)
	if ok {
		return b.constShort(key, r)
	}
	long := r.RatString()
	if reg, found := b.large[long]; found {
		return reg
	}
	reg := b.addConst(r, key)
	b.large[long] = reg
	return reg
}

// constShort is the register of a short constant; r is the same number, or nil
// where it is not at hand.
func (b *Builder) constShort(key shortConst, r *big.Rat) Reg {
	if reg := b.findShort(key); reg != 0 {
		return reg
	}
	if r == nil {
		r = big.NewRat(key.num, key.den)
	}
	reg := b.addConst(r, key)
	b.addShort(key, reg)
	return reg
}

func shortKey(r *big.Rat) (shortConst, bool) {
	if !r.Num().IsInt64() {
		return shortConst{}, false
	}
	if r.IsInt() {
		return shortConst{r.Num().Int64(), 1}, true
	}
	if !r.Denom().IsInt64() {
		return shortConst{}, false
	}
	return shortConst{r.Num().Int64(), r.Denom().Int64()}, true
}

func (b *Builder) addConst(r *big.Rat, key shortConst) Reg {
	b.consts = append(b.consts, constant{rat: r, short: key, ival: ivalOfRat(r)})
	b.nodes = append(b.nodes, node{op: OpConst, n: int32(len(b.consts) - 1), total: true})
	return Reg(len(b.nodes) - 1)
}

func (b *Builder) integer(n int64) Reg { return b.constShort(shortConst{n, 1}, nil) }

// Var returns input number i of the whole graph.
func (b *Builder) Var(i int) Reg {
	for len(b.inputs) <= i {
		b.inputs = append(b.inputs, 0)
	}
	if b.inputs[i] == 0 {
		b.lists = append(b.lists, i)
		b.nodes = append(b.nodes, node{op: OpVar, n: int32(i), total: true, first: len(b.lists) - 1, count: 1})
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

// Vars lists the inputs r depends on, rising. The result must not be changed.
func (b *Builder) Vars(r Reg) []int {
	x := &b.nodes[r]
	end := x.first + int(x.count)
	return b.lists[x.first:end:end]
}

// intern returns the register of a node, adding it if it is new.
func (b *Builder) intern(key nodeKey, total, truth bool) Reg {
	if !b.isLast(key) {
		if reg := b.find(key); reg != 0 {
			return reg
		}
	}
	n := node{total: total, truth: truth}
	n.first, n.count = b.nodes[key.a].first, b.nodes[key.a].count
	b.unite(&n, key.b)
	b.unite(&n, key.c)
	return b.add(key, n)
}

// isLast says that the last register is an operand, so that nothing can have
// been made of it yet: a formula that is new is new all the way up.
func (b *Builder) isLast(key nodeKey) bool {
	last := Reg(len(b.nodes) - 1)
	return key.a == last || key.b == last || key.c == last
}

// unite adds the inputs of a register to those of a node.
func (b *Builder) unite(n *node, r Reg) {
	y := &b.nodes[r]
	if y.count == 0 || y.first == n.first && y.count <= n.count {
		return
	}
	end := n.first + int(n.count)
	have, more := b.lists[n.first:end:end], b.Vars(r)
	switch {
	case contains(have, more):
	case contains(more, have):
		n.first, n.count = y.first, y.count
	default:
		n.first = len(b.lists)
		b.lists = merge(b.lists, have, more)
		n.count = int32(len(b.lists) - n.first)
	}
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
	return merge(make([]int, 0, len(x)+len(y)), x, y)
}

// merge appends two rising lists to out as one.
func merge(out, x, y []int) []int {
	i, j := 0, 0
	for i < len(x) || j < len(y) {
		switch {
		case j == len(y) || (i < len(x) && x[i] < y[j]):
			out = append(out, x[i])
			i++
		case i == len(x) || y[j] < x[i]:
			out = append(out, y[j])
			j++
		default:
			out = append(out, x[i])
			i, j = i+1, j+1
		}
	}
	return out
}

func contains(big, small []int) bool {
	if len(small) > len(big) {
		return false
	}
	i := 0
	for _, v := range small {
		for i < len(big) && big[i] < v {
			i++
		}
		if i == len(big) || big[i] != v {
			return false
		}
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
