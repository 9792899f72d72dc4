package checks

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// unusedInputs asks that no logic input floats.
var unusedInputs = &eval.Check{
	Name: "unused-inputs",
	Rule: "Every logic input is tied, pulled or driven; a pull inside the part counts. Looked at: pins of type input and clock that are not flagged optional, and bidirectional ones with only switches and connectors on their net. " +
		"Bidirectional pins without a net are left to the firmware, which makes them outputs or pulls them. " +
		"Where only a connector, a switch or a pin without direction is on an input, it is open whether it always has a level.",
	Source: "common practice",
	Run: on(func(c *board, b *eval.Check) {
		for _, m := range c.PlacedParts() {
			var inputs []*circuit.Pin
			for _, q := range m.Pins() {
				if q.Unused && !q.Brings() || q.OnlyReads() && !(q.Has("optional") && m.PinNets[q] == nil) || touched(c, m, q) {
					inputs = append(inputs, q)
				}
			}
			if len(inputs) == 0 {
				continue
			}
			cl := c.Claim(b, m.Ref, "No logic input of "+m.Label()+" floats.", m.Entry)
			var floating, unsure []string
			for _, q := range inputs {
				cl.Entries = append(cl.Entries, q.Entry)
				switch why, behind := floats(c, m, q); {
				case why != "":
					floating = append(floating, q.Row.Name+" "+why)
				case len(behind) > 0:
					unsure = append(unsure, q.Row.Name+" hangs on "+strings.Join(behind, ", "))
				}
			}
			if len(floating) > 0 {
				cl.Settle(record.Failed, strings.Join(floating, "; "))
			}
			if len(unsure) > 0 {
				cl.Lacks("no fact", "whether these inputs have a level at all times is not noted: "+strings.Join(unsure, "; "),
					"place a pull resistor, note the pin that drives them as an output or the pull inside, or skip this check with the reason")
			}
			if len(floating)+len(unsure) == 0 {
				cl.Settle(record.Passed, fmt.Sprintf("each of %d inputs is tied, pulled or driven", len(inputs)))
			}
		}
	}),
}

// floats says why an input has no level, or behind which pins without a
// direction its level may come from; neither where it has one.
func floats(c *board, m *circuit.Component, q *circuit.Pin) (why string, behind []string) {
	n := m.PinNets[q]
	switch {
	case q.PulledInside():
		return "", nil
	case n == nil:
		return "is not connected and has no internal pull", nil
	}
	if s := pressedInVain(c, q, n); s != "" {
		return "reads the same whether " + s + " is open or closed", nil
	}
	h := &holder{c: c, reader: circuit.Joint{Comp: m, Pin: q}, seen: map[*circuit.Net]bool{}}
	switch h.look(n, ""); {
	case h.sure:
		return "", nil
	case len(h.behind) > 0:
		return "", h.behind
	}
	return "is on " + n.Name + ", where nothing sets a level", nil
}

// pressedInVain names a switch that joins an input to the very net that its
// resistors hold it at, and nothing else drives it; "" without.
func pressedInVain(c *board, q *circuit.Pin, n *circuit.Net) (name string) {
	var held *circuit.Net
	pulled := false
	for _, j := range n.Joined {
		switch k := j.Comp.Sort(); {
		case k == "capacitor" || k == "test point" || j.Pin == q:
		case j.Comp.IsResistor() || k == "switch":
			o := j.Comp.Opposite(n)
			if o == nil || !c.IsRail(o) || held != nil && held != o {
				return ""
			}
			if held = o; k == "switch" {
				name = j.Comp.Ref
			}
			pulled = pulled || k != "switch"
		default:
			return ""
		}
	}
	if !pulled {
		return "" // its pull may be inside
	}
	return name
}

// touched says that a bidirectional pin hangs on switches and connectors alone,
// which an output would have no use for but on its way off the board.
func touched(c *board, m *circuit.Component, q *circuit.Pin) bool {
	n := m.PinNets[q]
	if n == nil || q.Row.Type != "bidirectional" || q.OnlyPullsLow() || q.PulledInside() || c.IsRail(n) {
		return false
	}
	r, found := c.ReachOf(n), false
	if len(r.Rails) > 0 {
		return false
	}
	for _, at := range r.Nets {
		for _, j := range at.Joined {
			switch kind := j.Comp.Sort(); {
			case j.Comp.Open() || j.Comp == m && j.Pin == q:
			case kind == "switch" || kind == "jumper" || j.Comp.IsConnector():
				found = true
			case kind != "capacitor" && kind != "test point" && !j.Comp.IsResistor():
				return false
			}
		}
	}
	return found
}

// holder looks for what gives a net its level for a pin that reads it.
type holder struct {
	c      *board
	reader circuit.Joint
	seen   map[*circuit.Net]bool
	sure   bool     // something holds it at all times
	by     string   // that, or what leads to it; of a crystal ""
	behind []string // pins and parts that may, and of which the notes say nothing
}

// held is what gives a net its level, or may; "" without.
func held(c *board, n *circuit.Net) string {
	h := &holder{c: c, seen: map[*circuit.Net]bool{}}
	if h.look(n, ""); h.sure || len(h.behind) == 0 {
		return h.by
	}
	return h.behind[0]
}

// look follows resistors and whatever conducts, the first of them by, from a net
// to its neighbours.
func (h *holder) look(n *circuit.Net, by string) {
	if h.seen[n] || h.sure {
		return
	}
	h.seen[n] = true
	if h.sure = h.c.IsRail(n); h.sure {
		h.by = cmp.Or(by, n.Name)
		return
	}
	for _, j := range n.Joined {
		if j.Comp.Open() || j == h.reader {
			continue
		}
		switch kind := j.Comp.Sort(); {
		case j.Pin != nil && (j.Pin.Drives() || j.Pin.PulledInside() || j.Pin.Row.Type == "analog output"), kind == "crystal":
			if h.sure = true; kind != "crystal" { // its level is that of the oscillator round it
				h.by = cmp.Or(by, j.Name())
			}
		case j.Comp.IsResistor() || slices.Contains(conducting, kind) || j.Comp.IsTie() && !j.Comp.Unsaid():
			if far := j.Comp.Opposite(n); far != nil {
				h.look(far, cmp.Or(by, j.Comp.Ref))
			}
		case kind == "capacitor" || kind == "test point" || kind == "resonator" || kind == "varistor":
			// no level passes through it
		case j.Pin != nil && slices.Contains([]string{"passive", "analog", "reserved"}, j.Pin.Row.Type):
			h.behind = append(h.behind, j.Name())
		case j.Pin == nil: // it may hold a level, now and then or off the board
			h.behind = append(h.behind, j.Comp.Ref)
		}
	}
}

// conducting are the kinds that carry a level from one end to the other.
var conducting = []string{"link", "wire", "fuse", "ferrite bead", "inductor", "thermistor"}
