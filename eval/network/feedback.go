package network

import "guardband/eval/bound"

// Feedback is the voltage of an output that is regulated until its feedback
// pin lies at reference volts, the pin taking a current of bias amperes: for
// the usual divider reference·(1 + R1/R2) + bias·R1. Only resistors, loads and
// given nets may lie between; why says what does not. Enter the elements
// first, then give the output the result.
func (n *Network) Feedback(out, pin Node, reference, bias bound.Reg) (v bound.Reg, why string) {
	l := &linear{g: n.g, known: make([]bound.Reg, len(n.nodes)), inject: make([]bound.Reg, len(n.nodes))}
	given := n.alwaysGiven()
	for i := range n.nodes {
		l.known[i] = n.nodes[i].given
		if who := n.nodes[i].anyone; who != "" {
			l.known[i] = n.held(Node(i), who)
		}
	}
	if l.known[pin] != 0 {
		return 0, "the feedback pin lies on a net that is given"
	}
	l.known[out] = n.g.zero() // cuts there; its arm is taken out below
	in := map[Node]bool{pin: true}
	for grew := true; grew; {
		grew = false
		for _, e := range n.elements {
			for _, k := range []Node{e.A, e.B} {
				other := e.A + e.B - k
				if in[k] && !in[other] && l.known[other] == 0 {
					if given[other] {
						return 0, n.nodes[other].name + " beside the feedback pin has a voltage only in some states"
					}
					in[other], grew = true, true
				}
			}
		}
	}
	for _, e := range n.elements {
		if !in[e.A] && !in[e.B] || e.A == e.B {
			continue
		}
		p := Piece{Form: Passive}
		if len(e.Pieces) == 1 && e.driver == nil && len(e.Pieces[0].Limits) == 0 {
			p = e.Pieces[0]
		}
		switch p.Form {
		case Resists:
			l.br = append(l.br, branch{int(e.A), int(e.B), n.g.one(), p.Value, p.EMF})
		case Drives:
			l.push(int(e.A), n.g.neg(p.Value))
			l.push(int(e.B), p.Value)
		case Open:
		default:
			return 0, e.Name + " in the feedback is more than a resistor"
		}
	}
	l.push(int(pin), n.g.neg(n.g.number(bias)))
	at, offset := l.reduce(int(pin))
	if l.known[at] != 0 {
		return 0, "the feedback pin is joined to a known net without a resistance"
	}
	arms, _ := l.arms(at)
	for i, x := range arms {
		if x.far == int(out) {
			// reference·S - the others, over what the output's arm weighs
			seen := n.g.mul(n.g.sub(reference, offset), l.weight(arms))
			rest := n.g.sub(seen, l.top(arms, l.inject[at], int(out)))
			return n.g.div(n.g.number(rest), n.g.mul(x.p, l.others(arms, i))), ""
		}
	}
	return 0, "no resistance leads from the output to its feedback pin"
}
