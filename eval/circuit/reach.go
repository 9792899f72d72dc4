package circuit

import "strings"

// Reach is what hangs together with a net.
type Reach struct {
	Nets    []*Net
	By      map[*Net][]string // the parts on the way to a net
	Rails   []*Net            // supplies and returns at the ends
	Ends    []*Component      // the parts that lead to them, in the same order
	Plugs   []string          // connectors
	Buttons []*Component      // switches and jumpers to a rail, of which nobody says how they are
	Between []*Component      // the same on the way to a signal
	Gates   []*Net            // what turns transistors on the way on and off
}

// ReachOf walks from a net through whatever direct current can pass.
func (c *Circuit) ReachOf(n *Net) *Reach {
	r := &Reach{Nets: []*Net{n}, By: map[*Net][]string{n: nil}}
	if c.IsRail(n) {
		return r
	}
	for i := 0; i < len(r.Nets); i++ {
		at := r.Nets[i]
		for _, j := range at.Joined {
			m := j.Comp
			switch kind := m.Sort(); {
			case m.NotFitted() || m.Open() || m.Link || kind == "capacitor" || kind == "test point" || kind == "crystal" || kind == "resonator":
			case m.IsConnector():
				r.Plugs = AddTo(r.Plugs, m.Ref)
			case m.Part != nil && m.Part.HasSupply():
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
func (r *Reach) passes(m *Component, at *Net) *Net {
	if m.IsTransistor() {
		one, two := m.ChannelEnds()
		if at != one && at != two {
			return nil
		}
		r.Gates = append(r.Gates, m.End("G", "GATE", "B", "BASE"))
		if at == one {
			return two
		}
		return one
	}
	return m.Opposite(at)
}

func (c *Circuit) step(r *Reach, m *Component, at, far *Net) {
	unsaid := m.Unsaid()
	switch _, seen := r.By[far]; {
	case c.IsRail(far):
		if unsaid {
			r.Buttons = AddTo(r.Buttons, m)
		} else {
			r.Rails, r.Ends = append(r.Rails, far), append(r.Ends, m)
		}
	case !seen:
		r.By[far] = append(r.By[at][:len(r.By[at]):len(r.By[at])], m.Ref)
		r.Nets = append(r.Nets, far)
		if unsaid {
			r.Between = AddTo(r.Between, m)
		}
	}
}

// Pins are the noted pins on what hangs together.
func (r *Reach) Pins() (out []Joint) {
	for _, n := range r.Nets {
		out = append(out, n.PinsOf()...)
	}
	return out
}

// Drivers are the pins that can set the level another pin reads: of parts that
// are on.
func (r *Reach) Drivers(in Joint) (out []Joint) {
	for _, j := range r.Pins() {
		if j.Comp != in.Comp && j.Pin.Drives() && !j.Comp.Asleep {
			out = append(out, j)
		}
	}
	return out
}

// Awake says that parts which are on can talk to each other there: one can alone
// where none on it is off.
func (r *Reach) Awake() bool {
	on, off := map[*Component]bool{}, false
	for _, j := range r.Pins() {
		if off = off || j.Comp.Asleep; !j.Comp.Asleep && (j.Pin.Drives() || j.Pin.Reads()) {
			on[j.Comp] = true
		}
	}
	return !off || len(on) > 1
}

// Way words the parts between a pin and a net, "" where none are.
func (r *Reach) Way(j Joint) string {
	return strings.Join(r.By[j.Comp.PinNets[j.Pin]], " and ")
}
