package eval

import "strings"

// This file finds between which voltages a net stands that states none: the
// middle of a divider, a line with a pull-up. What feeds it through resistors,
// and the supplies and grounds of the pins that drive it, are its ends. That is
// sound for direct voltages as long as nothing on the net stores energy or
// makes a voltage of its own, so a coil, a cell, a connector or a pin that the
// notes say nothing of leaves the voltage unknown.

// feed is what is known of a net's voltage.
type feed struct {
	from []*net // nets of known voltage; the net lies between the lowest and the highest
	why  string // where it is not known: what stands in the way
}

// voltages are the known voltages between which a net stands.
func (v *boardView) voltages(n *net) feed {
	if f, ok := v.fed[n]; ok {
		return f
	}
	if v.c.voltageStated(n) {
		v.fed[n] = feed{from: []*net{n}}
		return v.fed[n]
	}
	w := &feedWalk{v: v, seen: map[*net]bool{n: true}, todo: []*net{n}, have: map[*net]bool{}}
	for len(w.todo) > 0 && w.why == "" {
		at := w.todo[0]
		w.todo = w.todo[1:]
		for _, j := range at.joined {
			if !j.comp.notFitted() {
				w.step(at, j)
			}
		}
	}
	f := feed{from: w.from, why: w.why}
	if f.why == "" && len(f.from) == 0 {
		f.why = "nothing with a known voltage feeds it"
	}
	if f.why != "" {
		f.from = nil
	}
	v.fed[n] = f
	return f
}

// most nets that are walked before the question is given up.
const mostFed = 64

type feedWalk struct {
	v    *boardView
	seen map[*net]bool
	todo []*net
	from []*net
	have map[*net]bool
	why  string
}

// reach notes that a net is joined to the one asked about: as an end if its
// voltage is known, else as more to walk.
func (w *feedWalk) reach(n *net) {
	switch {
	case n == nil || w.seen[n] || w.have[n]:
	case w.v.c.voltageStated(n):
		w.have[n] = true
		w.from = append(w.from, n)
	case len(w.seen) >= mostFed:
		w.why = "too many nets without a stated voltage hang together"
	default:
		w.seen[n] = true
		w.todo = append(w.todo, n)
	}
}

// step follows one thing that stands on a net.
func (w *feedWalk) step(at *net, j joint) {
	if j.comp.open() {
		return
	}
	switch kind := j.comp.sort(); kind {
	case "capacitor", "crystal", "resonator", "test point":
		return // no direct current
	case "resistor", "ferrite bead", "fuse", "link", "wire", "jumper", "switch", "diode", "LED", "Zener diode", "thermistor":
		if o := j.comp.opposite(at); o != nil {
			w.reach(o)
			return
		}
	}
	if j.pin == nil {
		w.why = j.name() + " is on it"
		return
	}
	w.pin(j)
}

// pin follows a pin of a part with notes.
func (w *feedWalk) pin(j joint) {
	m, t := j.comp, j.pin.row.Type
	switch {
	case t == "not connected" || t == "do not connect":
		return
	case t == "supply": // what the part draws is not known: it may pull the net to its ground
		w.partOf(j, m.grounds(), "no ground pin")
		return
	case t == "ground" || t == "thermal pad": // what it gives back may lift the net to its supply
		w.partOf(j, m.supplies(), "no supply pin")
		return
	case m.part.factNamed("operating", "V_RWM", "V_RWN") != "":
		return // a clamp, at rest up to its stand-off voltage
	case t == "supply output" && m.part.factNamed("spec", "R_ON", "R_DSon") != "":
		w.rails(j, append(m.supplies(), m.grounds()...)) // a load switch
		return
	case len(m.supplies()) == 0 && strings.Contains(m.part.title, "resistive"):
		for _, q := range m.part.pins {
			w.reach(m.pinNets[q])
		}
		return
	}
	switch t {
	case "input", "clock":
		w.input(j)
		return
	case "output", "bidirectional", "analog", "analog output", "analog input":
	default:
		w.why = j.name() + " is on it, a pin of type " + t
		return
	}
	open := contains(j.pin.row.Flags, "open drain") || contains(j.pin.row.Flags, "open collector")
	switch g := m.grounds(); {
	case open && len(g) > 0:
		w.rails(j, g)
	case open && m.end("E", "S") != nil:
		w.reach(m.end("E", "S"))
		if o := m.end("E", "S"); !w.v.c.voltageKnown(o) {
			w.why = "the voltage of " + o.name + ", at the other end of " + j.name() + ", is not known"
		}
	case open:
		w.why = j.name() + " is on it, and its part has no ground pin"
	case len(m.supplies()) == 0:
		w.why = j.name() + " is on it, and its part has no supply pin"
	case m.makesVoltage():
		w.why = j.name() + " is on it, a pin of a part that makes voltages of its own"
	default:
		w.rails(j, append(m.supplies(), g...))
	}
}

// input follows an input. Its leakage, its pulls and its clamps can bring the
// net to the rails of its part; a gate of a part without a supply passes
// nothing on, yet stands between what its part is joined to.
func (w *feedWalk) input(j joint) {
	if rails := append(j.comp.supplies(), j.comp.grounds()...); len(j.comp.supplies()) > 0 {
		w.rails(j, rails)
		return
	}
	for _, q := range j.comp.part.pins {
		if n := j.comp.pinNets[q]; n != nil && w.v.c.voltageStated(n) {
			w.reach(n)
		}
	}
}

// partOf notes the other side of a part through which the net takes or gives
// a current that is not known.
func (w *feedWalk) partOf(j joint, rails []*net, without string) {
	if len(rails) == 0 {
		w.why = j.name() + " is on it, and its part has " + without
		return
	}
	w.rails(j, rails)
}

// rails notes the supplies of a driver as ends; all must be known.
func (w *feedWalk) rails(j joint, rails []*net) {
	for _, n := range rails {
		if !w.v.c.voltageKnown(n) {
			w.why = "the voltage of " + n.name + ", which powers " + j.comp.ref + ", is not known"
			return
		}
		w.reach(n)
	}
}

// makesVoltage says that a part may drive a pin beyond its supplies: it stands
// at a coil, or states a switching frequency.
func (m *component) makesVoltage() bool {
	if m.part.factNamed("spec", "f_SW", "f_OSC", "f_CP") != "" {
		return true
	}
	for _, n := range m.pinNets {
		for _, j := range n.joined {
			if k := j.comp.sort(); k == "inductor" || k == "transformer" {
				return true
			}
		}
	}
	return false
}
