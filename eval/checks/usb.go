package checks

import (
	"slices"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// usbContacts asks that both CC contacts of a USB-C receptacle have resistors
// of their own.
var usbContacts = &eval.Check{
	Name:   "usb-c",
	Rule:   "The contacts CC1 and CC2 of a USB-C receptacle are on nets of their own, and each leads to a part that serves it, or by a resistor of its own to ground, 5.1 kΩ within a tenth, or to a supply by one of the resistors of a source (from 5 V 56 kΩ, 22 kΩ or 10 kΩ, from 3.3 V 36 kΩ, 12 kΩ or 4.7 kΩ).",
	Source: "USB Type-C specification (Rd of a sink, Rp of a source), from memory",
	Run: on(func(c *board, b *eval.Check) {
		for _, m := range c.PlacedParts() {
			one, two := m.End("CC1", "CC_1"), m.End("CC2", "CC_2")
			if one == nil || two == nil || m.Part.HasSupply() {
				continue // a part that serves the contacts of another
			}
			cl := c.Claim(b, m.Ref, "Both CC contacts of "+m.Label()+" have resistors of their own.", m.Entry)
			if one == two {
				cl.Settle(record.Failed, "CC1 and CC2 are joined on "+one.Name+"; each needs a resistor of its own")
				continue
			}
			usbContact(c, cl, m, "CC1", one)
			usbContact(c, cl, m, "CC2", two)
		}
	}),
}

func usbContact(c *board, cl *eval.Claim, m *circuit.Component, name string, n *circuit.Net) {
	if i := slices.IndexFunc(n.PinsOf(), func(j circuit.Joint) bool { return j.Comp != m && j.Comp.Part.HasSupply() }); i >= 0 {
		cl.Settle(record.Passed, name+" leads to "+n.PinsOf()[i].Name())
		return
	}
	down, up, of := "", "", (*circuit.Net)(nil)
	for _, r := range c.ResistorsAt(n) {
		if circuit.IsReturn(r.Other) {
			down = r.Comp.Ref
		} else {
			up, of = r.Comp.Ref, r.Other
		}
	}
	switch {
	case len(c.ResistorsAt(n)) > 1:
		cl.Lacks("no fact", "several resistors are on "+name+" of "+m.Ref, "skip this check with the reason")
	case down != "":
		c.Try(cl, down+" inside 4.59 kΩ to 5.61 kΩ")
	case up != "" && of == m.End("VBUS", "VCC", "V_BUS") && comesIn(of, m):
		cl.Settle(record.Failed, name+" of "+m.Ref+" is pulled up to "+of.Name+", which comes in at "+m.Ref+
			" itself: a sink has 5.1 kΩ to ground, and without it no source switches that on")
	case up != "":
		c.Try(cl, up+" inside 9 kΩ to 13.2 kΩ or "+up+" inside 20.9 kΩ to 67.2 kΩ or "+up+" inside 4.46 kΩ to 4.94 kΩ")
	default:
		cl.Lacks("no fact", "no resistor is on "+name+" of "+m.Ref+
			": a cable between two receptacles of this kind gives nothing", "place 5.1 kΩ from it to ground, or skip this check with the reason")
	}
}

// comesIn says that the board lives on the voltage of a net that a receptacle
// brings, and nothing on it makes that.
func comesIn(n *circuit.Net, by *circuit.Component) bool {
	return slices.ContainsFunc(n.PinsOf(), func(j circuit.Joint) bool { return j.Pin.Row.Type == "supply" }) &&
		!slices.ContainsFunc(n.Joined, func(j circuit.Joint) bool {
			m := j.Comp
			return m != by && (m.IsConnector() || circuit.IsCell(m) || m.Part == nil && m.Sort() != "capacitor" && !m.IsResistor() ||
				m.IsTransistor() || m.IsJunction() && !m.IsSuppressor() || j.Pin != nil && (j.Pin.Row.Type == "supply output" || j.Pin.Drives()))
		})
}
