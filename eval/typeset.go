package eval

import (
	"cmp"
	"math/big"

	"guardband/eval/bound"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/units"
)

// typeset gives a criterion its formula as written and with the numbers of its
// worst corner put in. It is done only where a record is drawn.
func (c recorder) typeset(k *Criterion) {
	if !c.opt.Typeset || k.expr == nil || k.expr.Root.Kind == formula.NodeBad {
		return
	}
	k.out.Math = mathOf(k.expr.Root, nil)
	if k.bad {
		return
	}
	at := map[int]*big.Rat{}
	for i, v := range k.at {
		at[k.atInputs[i]] = v
	}
	s := &scope{c: c.compiler, candidate: k.candidate}
	k.out.Numbers = mathOf(k.expr.Root, func(p *formula.Path) string { return c.numberAt(s, p, at) })
}

// numberAt prints what a name stands for at a corner; its range where the
// corner says nothing of it.
func (c recorder) numberAt(s *scope, p *formula.Path, at map[int]*big.Rat) string {
	v, err := s.Lookup(p, 0, 0)
	if err != nil {
		return p.Text()
	}
	switch v.Class {
	case formula.Set:
		return c.setText(v)
	case formula.Text:
		return "“" + v.Str() + "”"
	case formula.Number:
	default:
		return p.Text()
	}
	if r, ok := c.b.ConstOf(v.Reg); ok {
		return units.Format(r, v.Type, units.Style{Unit: v.Unit, Digits: 6})
	}
	prog := c.b.Extract(v.Reg)
	point := make([]*big.Rat, len(prog.Inputs()))
	for i, n := range prog.Inputs() {
		if point[i] = at[n]; point[i] == nil {
			return extentText(bound.Range(prog, 0, c.gather(prog), bound.Options{Boxes: 500}), v.Type, v.Unit)
		}
	}
	r, ok := exactAt(prog, 0, point)
	if !ok {
		return p.Text()
	}
	return units.Format(r, v.Type, units.Style{Unit: v.Unit, Digits: 6})
}

// setText prints a limit.
func (c recorder) setText(v formula.Value) string {
	end := func(e *formula.Value) string {
		if e == nil {
			return ""
		}
		p := c.b.Extract(e.Reg)
		return extentText(bound.Range(p, 0, c.gather(p), bound.Options{Boxes: 500}), e.Type, e.Unit)
	}
	lo, hi := end(v.Lo), end(v.Hi)
	switch {
	case lo == "" && hi == "":
		return "no limit"
	case lo == "":
		return "at most " + hi
	case hi == "":
		return "at least " + lo
	}
	return lo + " to " + hi
}

// mathOf turns a parsed formula into the form that reports typeset. put, when
// given, replaces names by numbers.
func mathOf(n *formula.Node, put func(*formula.Path) string) *record.Math {
	m := build(n, put)
	return &m
}

func build(n *formula.Node, put func(*formula.Path) string) record.Math {
	args := func() []record.Math {
		out := make([]record.Math, len(n.Args))
		for i, a := range n.Args {
			out[i] = build(a, put)
		}
		return out
	}
	switch n.Kind {
	case formula.NodeLiteral:
		return record.Math{Op: "number", Text: n.Lit.String()}
	case formula.NodeText:
		return record.Math{Op: "text", Text: "“" + n.Word + "”"}
	case formula.NodeBool:
		return record.Math{Op: "text", Text: n.Word}
	case formula.NodeField:
		return record.Math{Op: "name", Text: "." + n.Word}
	case formula.NodeName:
		if put != nil {
			if s := put(n.Path); s != n.Path.Text() {
				return record.Math{Op: "number", Text: s}
			}
		}
		return record.Math{Op: "name", Text: n.Path.Text()}
	case formula.NodeRange:
		return buildRange(n, put)
	case formula.NodeUnary:
		return record.Math{Op: map[string]string{"-": "neg", "not": "not"}[n.Word], Args: args()}
	case formula.NodeBinary:
		return buildBinary(n, args())
	case formula.NodeChain:
		m := record.Math{Op: "chain", Args: args()}
		for _, op := range n.Ops() {
			m.Signs = append(m.Signs, signOf(op))
		}
		return m
	case formula.NodeInside:
		return record.Math{Op: "inside", Text: n.Word, Args: args()}
	case formula.NodeCall:
		if n.Word == "sqrt" && len(n.Args) == 1 {
			return record.Math{Op: "root", Args: args()}
		}
		return record.Math{Op: "call", Text: n.Word, Args: args()}
	case formula.NodeIf, formula.NodeList, formula.NodeParen:
		return record.Math{Op: map[formula.NodeKind]string{formula.NodeIf: "if", formula.NodeList: "list", formula.NodeParen: "paren"}[n.Kind],
			Args: args()}
	}
	return record.Math{Op: "text", Text: "?"}
}

func buildRange(n *formula.Node, put func(*formula.Path) string) record.Math {
	m := record.Math{Op: "range"}
	for _, a := range n.Args {
		if a.Kind == formula.NodeBad {
			m.Args = append(m.Args, record.Math{Op: "text", Text: "…"})
			continue
		}
		m.Args = append(m.Args, build(a, put))
	}
	return m
}

func buildBinary(n *formula.Node, args []record.Math) record.Math {
	op, from := map[string]string{"/": "fraction", "^": "power"}[n.Word], 0
	if op == "" {
		return record.Math{Op: "row", Text: signOf(n.Word), Args: args}
	}
	if op == "power" {
		from = 1
	}
	for i := from; i < len(args); i++ { // a fraction bar holds its sides together, a raised exponent itself
		if args[i].Op == "paren" {
			args[i] = args[i].Args[0]
		}
	}
	return record.Math{Op: op, Args: args}
}

// signOf is an operator as it is printed.
func signOf(op string) string {
	return cmp.Or(map[string]string{"-": "−", "*": "·", "<=": "≤", ">=": "≥", "==": "=", "!=": "≠"}[op], op)
}
