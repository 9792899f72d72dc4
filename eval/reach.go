package eval

import "strings"

// This file says what hangs together with a net without passing a supply: which
// pins may set its level, and by what. The level itself is the network's.

// reach is what hangs together with a net.
type reach struct {
	nets    []*net
	by      map[*net][]string // the parts on the way to a net
	rails   []*net            // supplies and returns at the ends
	ends    []*component      // the parts that lead to them, in the same order
	plugs   []string          // connectors
	buttons []*component      // switches and jumpers to a rail, of which nobody says how they are
	between []*component      // the same on the way to a signal
	gates   []*net            // what turns transistors on the way on and off
}

// reachOf walks from a net through whatever direct current can pass.
func (c *compiler) reachOf(n *net) *reach {
	r := &reach{nets: []*net{n}, by: map[*net][]string{n: nil}}
	if c.isRail(n) {
		return r
	}
	for i := 0; i < len(r.nets); i++ {
		at := r.nets[i]
		for _, j := range at.joined {
			m := j.comp
			switch kind := m.sort(); {
			case m.notFitted() || m.open() || m.link || kind == "capacitor" || kind == "test point" || kind == "crystal" || kind == "resonator":
			case m.isConnector():
				r.plugs = addTo(r.plugs, m.ref)
			case m.part != nil && m.part.hasSupply():
			default:
				if far := r.passes(m, at); far != nil && far != at {
					c.step(r, m, at, far)
				}
			}
		}
	}
	return r
}

// passes is the net to which a part carries a level.
func (r *reach) passes(m *component, at *net) *net {
	for _, p := range [][3]*net{{m.end("D", "DRAIN"), m.end("S", "SOURCE"), m.end("G", "GATE")}, {m.end("C", "COLLECTOR"), m.end("E", "EMITTER"), m.end("B", "BASE")}} {
		if m.part == nil || p[0] == nil || p[1] == nil || p[2] == nil {
			continue
		}
		far := p[1]
		if far == at {
			far = p[0]
		} else if at != p[0] {
			return nil
		}
		r.gates = append(r.gates, p[2])
		return far
	}
	return m.opposite(at)
}

func (c *compiler) step(r *reach, m *component, at, far *net) {
	unsaid := m.unsaid()
	switch _, seen := r.by[far]; {
	case c.isRail(far):
		if unsaid {
			r.buttons = addTo(r.buttons, m)
		} else {
			r.rails, r.ends = append(r.rails, far), append(r.ends, m)
		}
	case !seen:
		r.by[far] = append(r.by[at][:len(r.by[at]):len(r.by[at])], m.ref)
		r.nets = append(r.nets, far)
		if unsaid {
			r.between = addTo(r.between, m)
		}
	}
}

// pins are the noted pins on what hangs together.
func (r *reach) pins() (out []joint) {
	for _, n := range r.nets {
		out = append(out, n.pinsOf()...)
	}
	return out
}

// drivers are the pins that can set the level another pin reads.
func (r *reach) drivers(in joint) (out []joint) {
	for _, j := range r.pins() {
		if j.comp != in.comp && j.pin.drives() {
			out = append(out, j)
		}
	}
	return out
}

// way words the parts between a pin and a net, "" where none are.
func (r *reach) way(j joint) string {
	return strings.Join(r.by[j.comp.pinNets[j.pin]], " and ")
}

// resting presumes that nobody presses a switch nor plugs something in.
func (r *reach) resting(cl *claim) {
	if len(r.plugs) > 0 {
		cl.presume("nothing is plugged into " + strings.Join(r.plugs, ", ") + " that brings or takes current on " + r.nets[0].name)
	}
}

// letGo are the states in which outputs let go of a net where they can, and
// nothing is plugged in nor pressed; by is one that does not, in its state. An
// output that cannot is in the state rest, "" for any.
func (r *reach) letGo(by joint, state, rest string) func(*drive) []string {
	return func(x *drive) []string {
		switch {
		case x.what == anOutput && x.at == by:
			return []string{state}
		case x.what == anOutput && x.has("off"):
			return []string{"off"}
		case x.what == anOutput && rest != "" && x.has(rest):
			return []string{rest}
		case x.what == aPlug:
			return []string{"free"}
		case x.what == aSwitch && holds(r.buttons, x.comp):
			return []string{"open"}
		}
		return nil
	}
}

// askAmong adds a criterion about some states of the board; of several texts
// one has to hold in all of them.
func (c *compiler) askAmong(cl *claim, among func(*drive) []string, texts ...string) *criterion {
	if !c.try(cl, strings.Join(texts, " or ")) {
		return nil
	}
	k := cl.crit[len(cl.crit)-1]
	if k.among = among; len(texts) > 1 {
		for _, t := range texts {
			one := &claim{}
			c.try(one, t)
			k.either = append(k.either, one.crit[0].comp.Reg)
		}
	}
	return k
}
