// Package network is the board as an electrical network: direct current, in
// each state of its drivers. It knows no notebook. A caller enters nets,
// elements, drivers and states, and asks for voltages, currents and powers;
// claims about them are proven or broken over all cases.
//
// # Entering
//
//	n := network.New(b, leaves, network.Limits{})
//	gnd := n.Given("GND", b.Const(zero))
//	v33, ntc, led := n.Node("V3V3"), n.Node("NTC"), n.Node("LED")
//	r8 := n.Resistor("R8", v33, ntc, regOfR8)
//	n.Resistor("TH1", ntc, gnd, regOfTH1)
//	n.Load("U1.P3", ntc, gnd, leak) // 0: nobody noted it
//	n.Junction("D1", led, gnd, network.Diode{Forward: rows, Leak: leakage})
//
//	u3 := n.Driver("U3", "on", "off")  // a supply
//	u3.Give("on", v33, vout)
//	u3.Off("off", v33)                 // from 0 V to what reaches it
//	p4 := n.Driver("U1.P4", "low", "high", "off")
//	p4.In("low", n.Pull("U1.P4 low", pin, gnd, rowsOfVOL))
//	p4.In("high", n.Pull("U1.P4 high", v33, pin, rowsOfDropFromV33))
//	p4.Release("off")
//
// Every value is a register of the caller's own graph, so that R8 in a formula
// and R8 in the network are one unknown. What is known of an input (the wide
// and the sure set) is read from Leaves; inputs made here are entered there.
// A resistor value that is not noted, or may be 0 Ω, is no special case; what is
// known not to be negative has to say so in its wide set.
//
// What becomes what: a net with a value, ground: Given. Link, bead, fuse,
// closed switch, coil, inductor: Resistor (Link for 0 Ω). Jumper: a Driver, with a
// Link in its closed state. Capacitor: nothing; ask Between its nets. LED, Zener, suppressor, body diode: Junction.
// Transistor: Channel and Junction; Junction and Bipolar. Pin with clamps: two
// Clamps. Input: Load to ground. Supply pins: Load from supply to ground; with
// several, shares of the whole. Pin without a model, connector: Anything.
// Operational amplifier: Give with an input between ground and supply.
//
// # Three kinds of knowing
//
// A stated value is a register whose inputs have sure sets. What is bounded (a
// resistance without a value, an output that may be anything) gets inputs with
// a wide set and no sure one; what is unknown (an active pin without a model, a
// leakage nobody noted) inputs without ends. No claim fails by either of them
// unless it is false for all that they may be.
//
// # Curves
//
// An element is in one of its pieces at each point: holds a voltage, drives a
// current, resists, is open. Its rows say which pairs of voltage and current
// it can have; the pieces together cover them. Which piece it is in is never a
// free choice: its limits, on quantities of the network, decide. A row counts
// at its current; below it only its maximum, above it only its minimum.
//
// # Asking
//
//	v := n.Voltage(ntc)              // net("NTC")
//	i := n.Current(r8)               // R8.use.I, from its first net to its second
//	p := n.Power(r8)                 // R8.use.P
//	n.Judge(criterion, network.Scope{Only: []network.Pick{{p4, "high"}, {u3, "on"}}})
//	n.Range(v, network.Scope{})      // with its range in each state
//
// Voltage, Between, Current, Across and Power return registers that
// can be used in any formula; Asks tells whether a formula has one. They have
// no value by themselves: a predicate that has one goes to Judge instead of
// bound.Decide, a number to Range. A Scope says which states a question speaks
// of: a level is asked with one driver in its state and the others let go, a
// rating with none named.
//
// # What is proven
//
// A case is a state and a choice of pieces, with a guard G. Every operating
// point that the elements can have lies in at least one case. A claim passes
// if G implies it on all of the wide sets, in every case. It fails if, in a
// sure state and at a point of the sure sets, no case holds with the claim
// true, whatever the inputs without sure sets are. Else it is open, with the
// reason and, where one leakage or resistance alone keeps it open, the value
// at which it would turn. A state in which nothing can be is open, never passed.
//
// A sure state is one state of one driver, with the others in any that the
// scope allows, or all let go.
//
// Ranges are narrowed by Kirchhoff's laws first (narrow.go), then taken at
// corners (corners.go), then the formulas go to the general proof (judge.go).
package network
