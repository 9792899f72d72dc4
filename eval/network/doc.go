// Package network is the board as an electrical network: direct current, in
// each state of its drivers. It knows no notebook. A caller enters nets,
// elements, drivers and states, and asks for voltages, currents and powers;
// claims about them are proven or broken over all cases.
//
// # Entering
//
//	n := network.New(b, leaves, network.Limits{})
//	gnd := n.Given("GND", b.Const(zero))
//	v33 := n.Node("V3V3")                                // its supply gives it
//	ntc := n.Node("NTC")
//	r8 := n.Resistor("R8", v33, ntc, network.Value{Reg: r8})
//	n.Resistor("TH1", ntc, gnd, network.Value{Reg: th1})
//	n.Load("U1.P3", ntc, gnd, network.Value{Reg: leak}) // I_LEAK; the zero Value: nobody noted it
//	u3 := n.Driver("U3", "on", "off")
//	u3.Give("on", v33, vout)
//	u3.Give("off", v33, n.Off("V3V3", highest))
//
// Every value is a register of the caller's own graph, so that R8 in a formula
// and R8 in the network are one unknown. What is known of an input (the wide
// and the sure set) is read from Leaves; inputs made here are entered there.
//
// # Three kinds of knowing
//
// A stated value is a register whose inputs have sure sets. What is bounded (a
// resistance without a value, an output that may be anything) gets inputs with
// a wide set and no sure one; what is unknown (an active pin without a model:
// Anything; a leakage nobody noted) inputs without ends. No claim fails by
// either of them unless it is false for all that they may be.
//
// # Curves
//
// An element is in one of its pieces at each point: holds a voltage, drives a
// current, resists, is open. Its rows say which pairs of voltage and current
// it can have; the pieces together cover them. Which piece it is in is never a
// free choice: a guard, a predicate over quantities of the network, decides.
//
// # Asking
//
// Voltage, Between, Current, Across, Power and Inflow return registers that
// can be used in any formula. A predicate made of them goes to Judge, a number
// to Range, each with a Scope that says which states it speaks of. Asks tells
// whether a formula needs the network at all.
//
// # What is proven
//
// A case is a state and a choice of pieces, with a guard G. Every operating
// point that the elements can have lies in at least one case. A claim passes
// if G implies it on all of the wide sets, in every case. It fails if, in a
// sure state and at a point of the sure sets, no case holds with the claim
// true, whatever the inputs without sure sets are. Else it is open, with the
// reason and, where one leakage or resistance alone keeps it open, the value
// at which it would turn.
//
// A sure state is one state of one driver, with the others in any that the
// scope allows, or all let go; or a state row.
package network
