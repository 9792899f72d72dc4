package eval

import (
	"fmt"
	"math/big"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/network"
	"guardband/eval/record"
	"guardband/units"
)

// This file is the board as an electrical network, and how formulas and checks
// ask it.
//
// A check asks in the language itself: the voltage of a net by its name
// (netText), where nothing states it; `R8.use.V`, `.I`, `.P` of what joins two
// nets, `D1.use.I_F`, `.V_R`, `.V_F` of a junction (useText). Such a quantity is
// an input of which nothing is known while formulas are read. When claims are
// decided the board is entered as a network, once, and each criterion that has
// such a quantity is judged over all its cases (board_judge.go).
//
// A criterion says by `among` which states it speaks of: a function that gives
// for each thing with states of its own (drive) the ones that count, nil for
// all. Without one it speaks of all, supplies being up; ratings do. A level is
// asked with one driver in its state and the others let go:
//
//	if c.try(cl, c.netText(n)+" <= U1.operating.V_IL.max") {
//		cl.crit[len(cl.crit)-1].among = func(x *drive) []string { ... }
//	}
//
// What a pass rests on without a fact is presumed in the claim. How a part
// becomes elements is in board_parts.go and board_pins.go.

// question is a quantity that the network answers.
type question struct {
	y    *symbol
	nets []*circuit.Net // whose island it is about
	ask  func(b *boardNet) bound.Reg
}

// boardNet is the board as a network.
type boardNet struct {
	c        *compiler
	n        *network.Network
	ground   network.Node
	nodes    map[*circuit.Net]network.Node
	elements map[*circuit.Component]*network.Element // between the ends of a part, from its first or its anode
	bodies   map[*circuit.Component]*network.Element // body diodes of transistors
	leads    map[*circuit.Component]*network.Element // to the base of a transistor
	ofPin    map[circuit.Joint][]*network.Element    // all that a pin is
	takes    map[circuit.Joint][]*network.Element    // of that, what takes a current that is pushed into it
	vague    map[circuit.Joint][]*network.Element    // and what is there for a leakage that is not noted
	clamps   []*network.Element                      // of all pins
	drives   []*Drive
	root     map[*circuit.Net]*circuit.Net // islands: nets that hang together without passing a given one
	about    map[*circuit.Net]*island      // by first net
	made     map[int]record.OpenPoint      // inputs made here, and what would settle them; the zero point where an island tells
	here     []*circuit.Net                // nets of the part that is being entered
	plugged  []func()                      // what is entered once all connectors are
	stated   map[*circuit.Net]bool         // nets with a voltage in every state, once asked
}

// island is what is known of nets that hang together.
type island struct {
	rests   []*symbol
	assumed []string
	missing []record.OpenPoint // what nobody noted of what is on it
	parts   int                // on it, some counted at each of their nets
	fed     bool               // something but the return is on it
}

// mostParts are those of one island: what more give is not worked out.
const mostParts = 400

// Drive is a thing with states of its own.
type Drive struct {
	d    *network.Driver
	What driveKind
	At   circuit.Joint      // of an output
	Comp *circuit.Component // of a switch, a connector
	Net  *circuit.Net       // on which it stands
	low  *network.Element   // of an output, what pulls its pin low
	high *network.Element   // and high
	sink *network.Element   // what holds it at its low level, see Sinking
}

type driveKind uint8

const (
	ASupply  driveKind = iota // on, off (wherever something lifts it), down (at 0 V)
	AnOutput                  // low, high, off: those it has
	ASwitch                   // open, closed
	APlug                     // free, plugged: something unknown is on the net
)

// boardNetwork enters the board when it is first asked.
func (c *compiler) boardNetwork() *boardNet {
	if c.network != nil {
		return c.network
	}
	b := &boardNet{
		c: c, nodes: map[*circuit.Net]network.Node{}, elements: map[*circuit.Component]*network.Element{},
		root:  map[*circuit.Net]*circuit.Net{},
		about: map[*circuit.Net]*island{}, made: map[int]record.OpenPoint{}, stated: map[*circuit.Net]bool{},
		ofPin: map[circuit.Joint][]*network.Element{},
		takes: map[circuit.Joint][]*network.Element{}, vague: map[circuit.Joint][]*network.Element{},
		bodies: map[*circuit.Component]*network.Element{}, leads: map[*circuit.Component]*network.Element{},
	}
	c.network = b
	b.n = network.New(c.b, b, network.Limits{})
	b.n.Settle()
	b.ground = b.n.Given("0 V", c.b.Const(zero))
	for _, n := range c.Nets.List {
		b.enterNet(n)
	}
	for _, n := range c.Nets.List {
		if y := c.netVoltage(n); y != nil && y.val.Type != circuit.Volt {
			b.alternating(n, n, map[*circuit.Net]bool{})
		}
	}
	for _, m := range c.Comps.List {
		if !m.NotFitted() && !m.Link {
			b.enter(m)
			b.each(func(i *island) { i.parts++ })
		}
	}
	for _, enter := range b.plugged {
		enter()
	}
	return b
}

// alternating leaves unknown what an alternating voltage reaches, capacitors
// included: the network is one at direct current.
func (b *boardNet) alternating(n, from *circuit.Net, seen map[*circuit.Net]bool) {
	if seen[n] || n != from && b.given(n) {
		return
	}
	seen[n] = true
	b.n.Anything(b.nodes[n], "the alternating voltage of "+from.Name)
	i := b.about[b.island(n)]
	i.fed = true
	i.missing = circuit.AddTo(i.missing, record.OpenPoint{Reason: "no fact", Text: "the voltage of " + from.Name +
		" is not a direct one, and circuits are worked out at direct current alone",
		Settle: "state the quantity in the row of the part (`in use:`)"})
	for _, j := range n.Joined {
		if o := j.Comp.Opposite(n); o != nil {
			b.alternating(o, from, seen)
		}
	}
}

// Input implements network.Leaves.
func (b *boardNet) Input(i int) bound.Input { return b.c.inputs[i].set() }

// New implements network.Leaves.
func (b *boardNet) New(name, _ string, unit network.Unit, in bound.Input) bound.Reg {
	typ := map[network.Unit]units.Type{network.Volt: circuit.Volt, network.Ampere: {Dim: circuit.DimAmpere},
		network.Ohm:  {Dim: circuit.DimOhm},
		network.Watt: circuit.Watt}[unit]
	r := b.c.newInput(&input{name: name, typ: typ, in: in})
	b.made[b.c.b.Vars(r)[0]] = record.OpenPoint{}
	return r
}

// enterNet enters a net: ground, one with a voltage, or one to be found.
func (b *boardNet) enterNet(n *circuit.Net) {
	c := b.c
	b.root[n], b.about[n] = n, &island{}
	switch y := c.netVoltage(n); {
	case circuit.IsGround(n.Name):
		b.nodes[n] = b.n.Given(n.Name, c.b.Const(zero))
	case y == nil || y.lacking != nil:
		b.nodes[n] = b.n.Node(n.Name)
		if c.IsRail(n) {
			d := b.n.Driver(n.Name, "on", "down")
			d.Give("down", b.nodes[n], c.b.Const(zero))
			b.drives = append(b.drives, &Drive{d: d, What: ASupply, Net: n})
		}
	case y.val.Type != circuit.Volt:
		b.nodes[n] = b.n.Node(n.Name)
	default:
		at := b.n.Node(n.Name)
		b.nodes[n] = at
		d := b.n.Driver(n.Name, "on", "off", "down")
		d.Give("on", at, y.val.Reg)
		d.Off("off", at)
		d.Give("down", at, c.b.Const(zero))
		b.drives = append(b.drives, &Drive{d: d, What: ASupply, Net: n})
	}
}

// given says that a net has a voltage in every state.
func (b *boardNet) given(n *circuit.Net) bool {
	g, asked := b.stated[n]
	if !asked {
		y := b.c.netVoltage(n)
		g = circuit.IsGround(n.Name) || y != nil && y.lacking == nil
		b.stated[n] = g
	}
	return g
}

// at is the node of a net; of none it is ground.
func (b *boardNet) at(n *circuit.Net) network.Node {
	if n == nil {
		return b.ground
	}
	return b.nodes[n]
}

// stranger is something on a net that nobody has modelled.
func (b *boardNet) stranger(n *circuit.Net, what string) {
	if n != nil && !b.given(n) {
		b.n.Anything(b.nodes[n], what)
		b.about[b.island(n)].fed = true
		i := b.about[b.island(n)]
		i.missing = circuit.AddTo(i.missing, unknownOn(what, n))
	}
}

func unknownOn(what string, n *circuit.Net) record.OpenPoint {
	return record.OpenPoint{Reason: "no fact", Text: what + " is on " + n.Name + ", and what it drives or draws is not known",
		Settle: "give a value `" + n.Name + " = ...`, or state the quantity in the row of the part (`in use:`)"}
}

// island is the first net of those that hang together.
func (b *boardNet) island(n *circuit.Net) *circuit.Net {
	for b.root[n] != n {
		b.root[n] = b.root[b.root[n]]
		n = b.root[n]
	}
	return n
}

// join puts nets into one island: those that are not given.
func (b *boardNet) join(nets ...*circuit.Net) {
	var first *circuit.Net
	fed := false
	for _, n := range nets {
		switch {
		case n == nil:
		case b.given(n):
			fed = fed || !circuit.IsGround(n.Name)
		case first == nil:
			first = b.island(n)
		default:
			x := b.island(n)
			if x == first {
				continue
			}
			b.root[x] = first
			to, from := b.about[first], b.about[x]
			to.rests = append(to.rests, from.rests...)
			to.assumed = append(to.assumed, from.assumed...)
			to.missing = append(to.missing, from.missing...)
			to.parts += from.parts
			to.fed = to.fed || from.fed
		}
	}
	if first != nil && fed {
		b.about[first].fed = true
	}
}

// rest notes what the part that is being entered rests on.
func (b *boardNet) rest(y *symbol) {
	b.each(func(i *island) { i.rests = circuit.AddTo(i.rests, y) })
}

// assume notes what is taken without a fact.
func (b *boardNet) assume(text string) {
	b.each(func(i *island) { i.assumed = circuit.AddTo(i.assumed, text) })
}

// miss notes what nobody noted, and what would settle it.
func (b *boardNet) miss(text, settle string) {
	b.each(func(i *island) {
		i.missing = circuit.AddTo(i.missing, record.OpenPoint{Reason: "no fact", Text: text, Settle: settle})
	})
}

// each visits the islands of the part that is being entered, while they are
// small.
func (b *boardNet) each(visit func(*island)) {
	seen := map[*circuit.Net]bool{}
	for _, n := range b.here {
		if n = b.island(n); !seen[n] && !b.given(n) && b.about[n].parts <= mostParts {
			seen[n] = true
			visit(b.about[n])
		}
	}
}

const nothingFeeds = "nothing that is noted feeds "

// mostFormulas bound the graph of all that is asked (bound.Builder.Size).
const mostFormulas = 4e6

// refuses says why a question is not asked: it is about too many parts at once,
// or the last of too many, or about nets on which nobody noted a voltage.
func (b *boardNet) refuses(qs []*question) (why string) {
	if b.c.b.Size() > mostFormulas {
		return "not followed: the formulas of this circuit are too many"
	}
	for _, q := range qs {
		for _, n := range q.nets {
			switch i := b.about[b.island(n)]; {
			case i.parts > mostParts:
				return fmt.Sprintf("not followed: more than %d parts hang together at %s", mostParts, n.Name)
			case !i.fed && !b.given(n):
				return nothingFeeds + n.Name
			}
		}
	}
	return ""
}

// between makes a number from low to high, either of which may be absent
// (low is then 0); sure says that both ends are stated.
func (b *boardNet) between(name string, low, high bound.Reg, settle string) bound.Reg {
	in := bound.Input{Lo: zero, Hi: one}
	share := b.c.newInput(&input{name: name, in: in})
	b.tells(share, record.OpenPoint{Reason: "no fact", Text: name + " is not known", Settle: settle})
	if low == 0 {
		return b.c.b.Binary(bound.OpMul, share, high)
	}
	return b.c.b.Binary(bound.OpAdd, low, b.c.b.Binary(bound.OpMul, share, b.c.b.Binary(bound.OpSub, high, low)))
}

func (b *boardNet) tells(r bound.Reg, p record.OpenPoint) { b.made[b.c.b.Vars(r)[0]] = p }

// negative is a constant below 0 turned round, as sheets count currents out of
// a pin.
func (b *boardNet) magnitude(r bound.Reg) (bound.Reg, *big.Rat) {
	v, ok := b.c.b.ConstOf(r)
	if !ok {
		return r, nil
	}
	v = new(big.Rat).Abs(v)
	return b.c.b.Const(v), v
}
