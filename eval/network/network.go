package network

import (
	"fmt"

	"guardband/eval/bound"
)

// Node is a net of the network, by number.
type Node int

// Network is a board as nodes and elements: what is entered before Solve. Its
// zero value is no network; see New. Not safe for concurrent use.
type Network struct {
	g        graph
	leaves   Leaves
	nodes    []node
	elements []*Element
	drivers  []*Driver
	byInput  map[int]asked // graph input of a placeholder
	byAsked  map[asked]bound.Reg
	fresh    map[fresh]bound.Reg // leaves made while solving
	groups   map[string]*group
	limits   Limits
	work     *work // shared by what is asked with some inputs fixed
	spans    map[bound.Reg]span
	forest   *forest // of nets and elements that hang together
	always   []bool  // nets that have a voltage in every state
	settles  bool    // see Settle
}

// Limits bound the work; a zero field takes the default.
type Limits struct {
	Junctions int // elements with more than one piece in one group, 24
	Nodes     int // unknown nets in one group, 40
	Cases     int // tried in one group, over its states, 4096
	Points    int // inputs all of whose corners are tried for a failure, 5
	Boxes     int // boxes of one proof, see bound.Options, 4000
	Work      int // elements looked at while cases are narrowed, of all groups, and in proofs, 60,000,000
}

type node struct {
	name   string
	given  bound.Reg // the voltage, 0 where the network finds it
	anyone string    // what may hold it anywhere: an unknown pin
}

// New returns an empty network over a graph and what is known of its inputs.
func New(b *bound.Builder, leaves Leaves, limits Limits) *Network {
	set := func(at *int, to int) {
		if *at <= 0 {
			*at = to
		}
	}
	set(&limits.Junctions, 24)
	set(&limits.Nodes, 40)
	set(&limits.Cases, 4096)
	set(&limits.Points, 5)
	set(&limits.Boxes, 4000)
	set(&limits.Work, 60_000_000)
	return &Network{
		g: graph{b}, leaves: leaves, limits: limits,
		byInput: map[int]asked{}, byAsked: map[asked]bound.Reg{},
		fresh: map[fresh]bound.Reg{}, groups: map[string]*group{},
		spans: map[bound.Reg]span{}, work: &work{until: limits.Work},
	}
}

// work is what was done and how far it may go on.
type work struct{ done, until int }

// Question begins another question: it may take a sixth of the work that is
// left, so that a dear one leaves something to those that follow.
func (n *Network) Question() { n.work.until = n.work.done + (n.limits.Work-n.work.done)/6 }

// tired says that the network has had all the work it may take.
func (n *Network) tired() bool { return n.work.done > n.work.until }

// workOfBox is what a box of a proof costs, in elements looked at.
const workOfBox = 100

// decide is bound.Decide within the work that the network may take; after that
// nothing is decided.
func (n *Network) decide(p *bound.Program, in []bound.Input, opt bound.Options) bound.Decision {
	if n.tired() {
		return bound.Decision{Cause: bound.CauseBudget}
	}
	d := bound.Decide(p, 0, in, opt)
	n.work.done += workOfBox * p.Work(0, d.Boxes)
	return d
}

// touch forgets what was found before something was entered.
func (n *Network) touch() {
	n.groups, n.forest, n.always = map[string]*group{}, nil, nil
}

// Node enters a net whose voltage the network is to find.
func (n *Network) Node(name string) Node {
	n.touch()
	n.nodes = append(n.nodes, node{name: name})
	return Node(len(n.nodes) - 1)
}

// Given enters a net whose voltage is known: ground, or a stated value.
func (n *Network) Given(name string, v bound.Reg) Node {
	at := n.Node(name)
	n.nodes[at].given = v
	return at
}

// Name is the name of a net.
func (n *Network) Name(at Node) string { return n.nodes[at].name }

// Anything says that something nobody has modelled holds a net wherever it
// likes: an active pin without a model, a connector. what names it.
func (n *Network) Anything(at Node, what string) {
	n.touch()
	if n.nodes[at].given == 0 {
		n.nodes[at].anyone = what
	}
}

// Settle takes that whatever blocks leaks a little: a net that floats then lies
// between those that it leads to, where nothing on it delivers power.
func (n *Network) Settle() {
	n.settles = true
}

// Element joins two nets. Its current counts from A through it to B. At each
// point it is in one of its pieces.
type Element struct {
	Name   string
	A, B   Node
	Pieces []Piece
	// TakesOnly says that it never delivers power, whichever piece it is in:
	// a resistor, a junction, a switch; no cell, no output, no leakage.
	TakesOnly bool
	// OneWay is something passive that settles where net A lies and takes
	// nothing from net B: a pin, of which what it takes from its supply counts
	// with the current of the supply.
	OneWay bool
	// Slight says that it may be as good as not there, whatever else it may be:
	// the leakage of an input that nobody noted. A claim that is false without
	// it fails.
	Slight bool
	// Conducts says that its resistance is finite: a bead, no switch.
	Conducts bool
	// Apart says that it is there only where a scope asks for it, by With.
	Apart  bool
	driver *Driver // nil: there in every state
	state  int
	num    int
}

// delivers tells that an element may deliver power in a piece: it is one that
// does, or a resistance that is not known to be at least 0.
func (n *Network) delivers(e *Element, p *Piece) bool {
	switch p.Form {
	case Resists:
		return p.EMF != 0 || n.spanOf(p.Value).lo < 0
	case Holds, Drives:
		return !e.TakesOnly
	}
	return false
}

// Form is what one piece of an element does.
type Form uint8

const (
	Resists Form = iota // V = Value·I + EMF, Value in ohms, may be 0
	Holds               // V = Value, any current: in volts from A to B
	Drives              // I = Value, any voltage: in amperes from A to B
	Open                // no current
	Passive             // a resistance of 0 to any finite one
)

// Piece is one part of an element's curve: the straight line that it follows
// where its limits hold. The pieces of one element together hold every pair of
// voltage and current that the thing can have; they may overlap.
type Piece struct {
	Name   string // to a reader: "conducts"
	Form   Form
	Value  bound.Reg
	EMF    bound.Reg // of Resists, volts, 0 where there is none
	Limits []Limit   // where the element follows it: all of them must hold
}

// Of is what a limit of a piece is about.
type Of uint8

const (
	OwnCurrent Of = iota // of the element, from A to B
	OwnVoltage           // of the element, from A to B
	Control              // from net A of the limit to its net B
	Base                 // the current of another element, Other
	Excess               // that times Gain, less the current of the element
)

// Limit keeps a quantity between two ends; 0 is no end.
type Limit struct {
	Of             Of
	A, B           Node      // of Control
	Other          *Element  // of Base, Excess
	Gain           bound.Reg // of Excess, above 0
	Lo, Hi         bound.Reg
	OpenLo, OpenHi bool // the end itself is left out
}

// holds is the limit as a predicate on its quantity.
func (l Limit) holds(g graph, x bound.Reg) (out []bound.Reg) {
	put := func(a, b bound.Reg, open bool) {
		if open {
			out = append(out, g.below(a, b))
		} else {
			out = append(out, g.atMost(a, b))
		}
	}
	if l.Lo != 0 {
		put(l.Lo, x, l.OpenLo)
	}
	if l.Hi != 0 {
		put(x, l.Hi, l.OpenHi)
	}
	return out
}

// turned is the limit of the negative of its quantity.
func (l Limit) turned(g graph) Limit {
	out := Limit{Of: l.Of, A: l.A, B: l.B, Other: l.Other, Gain: l.Gain, OpenLo: l.OpenHi, OpenHi: l.OpenLo}
	if l.Hi != 0 {
		out.Lo = g.neg(l.Hi)
	}
	if l.Lo != 0 {
		out.Hi = g.neg(l.Lo)
	}
	return out
}

// Add enters an element that is there in every state. Pieces and their guards
// may be set until the network is asked.
func (n *Network) Add(name string, a, b Node, pieces ...Piece) *Element {
	n.touch()
	e := &Element{Name: name, A: a, B: b, Pieces: pieces, num: len(n.elements)}
	n.elements = append(n.elements, e)
	return e
}

// Driver is a thing with states of its own: an output, a supply, a jumper.
type Driver struct {
	Name   string
	States []State
	num    int
	n      *Network
}

// State is one state of a driver: the elements and the net voltages that are
// there in it.
type State struct {
	Name  string
	LetGo bool // drives nothing: high impedance, jumper open
	gives []give
}

// give is a net and its voltage in a state; without one it is off: from 0 V to
// the highest that reaches it.
type give struct {
	at Node
	v  bound.Reg
}

// Driver enters a driver with the names of its states.
func (n *Network) Driver(name string, states ...string) *Driver {
	n.touch()
	d := &Driver{Name: name, num: len(n.drivers), n: n}
	for _, s := range states {
		d.States = append(d.States, State{Name: s})
	}
	n.drivers = append(n.drivers, d)
	return d
}

// Drivers lists the drivers in the order they were entered.
func (n *Network) Drivers() []*Driver { return n.drivers }

// In puts an element into one state of a driver: it is there in no other.
func (d *Driver) In(state string, e *Element) *Element {
	d.n.touch()
	e.driver, e.state = d, d.state(state)
	return e
}

// Give gives a net its voltage in one state of a driver.
func (d *Driver) Give(state string, at Node, v bound.Reg) { d.give(state, give{at: at, v: v}) }

// Off says that a net is off in one state, which is not 0 V: it lies anywhere
// from 0 V to the highest voltage that reaches it.
func (d *Driver) Off(state string, at Node) { d.give(state, give{at: at}) }

func (d *Driver) give(state string, g give) {
	d.n.touch()
	s := &d.States[d.state(state)]
	s.gives = append(s.gives, g)
}

// Release marks a state as one in which the driver drives nothing.
func (d *Driver) Release(state string) { d.States[d.state(state)].LetGo = true }

func (d *Driver) state(name string) int {
	for i := range d.States {
		if d.States[i].Name == name {
			return i
		}
	}
	panic(fmt.Sprintf("network: %s has no state %q", d.Name, name))
}

// Pick is one state of one driver.
type Pick struct {
	Driver *Driver
	State  string
}

func (p Pick) index() int { return p.Driver.state(p.State) }

// Elements lists the elements in the order they were entered.
func (n *Network) Elements() []*Element { return n.elements }
