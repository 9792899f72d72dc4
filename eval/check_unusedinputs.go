package eval

import (
	"fmt"
	"slices"
	"strings"

	"guardband/eval/record"
)

// unusedInputs asks that no logic input floats.
var unusedInputs = &builtin{
	name: "unused-inputs",
	rule: "Every logic input is tied, pulled or driven; a pull inside the part counts. Looked at: pins of type input and clock that are not flagged optional, and bidirectional ones on whose net only switches and connectors stand. " +
		"Bidirectional pins without a net are left to the firmware, which makes them outputs or pulls them. " +
		"Where only a connector, a switch or a pin without direction stands behind an input, it is open whether it has a level at all times.",
	source: "common practice",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.placedParts() {
			var inputs []*pin
			for _, q := range m.part.pins {
				if q.onlyReads() && !(q.has("optional") && m.pinNets[q] == nil) || c.touched(m, q) {
					inputs = append(inputs, q)
				}
			}
			if len(inputs) == 0 {
				continue
			}
			cl := c.builtClaim(b, m.ref, "No logic input of "+m.label()+" floats.", m.entry)
			var floating, unsure []string
			for _, q := range inputs {
				cl.entries = append(cl.entries, q.entry)
				switch why, behind := c.floats(m, q); {
				case why != "":
					floating = append(floating, q.row.Name+" "+why)
				case len(behind) > 0:
					unsure = append(unsure, q.row.Name+" hangs on "+strings.Join(behind, ", "))
				}
			}
			if len(floating) > 0 {
				cl.settle(record.Failed, strings.Join(floating, "; "))
			}
			if len(unsure) > 0 {
				cl.lacks("no fact", "whether these inputs have a level at all times is not noted: "+strings.Join(unsure, "; "),
					"place a pull resistor, note the pin that drives them as an output or the pull inside, or skip this check with the reason")
			}
			if len(floating)+len(unsure) == 0 {
				cl.settle(record.Passed, fmt.Sprintf("each of %d inputs is tied, pulled or driven", len(inputs)))
			}
		}
	},
}

// floats says why an input has no level, or behind which pins without a
// direction its level may come from; neither where it has one.
func (c *compiler) floats(m *component, q *pin) (why string, behind []string) {
	n := m.pinNets[q]
	switch {
	case q.pulledInside():
		return "", nil
	case n == nil:
		return "is not joined and has no pull inside", nil
	}
	h := &holder{c: c, reader: joint{comp: m, pin: q}, seen: map[*net]bool{}}
	switch h.look(n); {
	case h.sure:
		return "", nil
	case len(h.behind) > 0:
		return "", h.behind
	}
	return "stands on " + n.name + ", where nothing sets a level", nil
}

// touched says that a bidirectional pin hangs on switches and connectors alone,
// which an output would have no use for but on its way off the board.
func (c *compiler) touched(m *component, q *pin) bool {
	n := m.pinNets[q]
	if n == nil || q.row.Type != "bidirectional" || q.onlyPullsLow() || q.pulledInside() || c.isRail(n) {
		return false
	}
	r, found := c.reachOf(n), false
	if len(r.rails) > 0 {
		return false
	}
	for _, at := range r.nets {
		for _, j := range at.joined {
			switch kind := j.comp.sort(); {
			case j.comp.notFitted() || j.comp.open() || j.comp == m && j.pin == q:
			case kind == "switch" || kind == "jumper" || j.comp.isConnector():
				found = true
			case kind != "capacitor" && kind != "test point" && !j.comp.isResistor():
				return false
			}
		}
	}
	return found
}

// holder looks for what gives a net its level for a pin that reads it.
type holder struct {
	c      *compiler
	reader joint
	seen   map[*net]bool
	sure   bool     // something holds it at all times
	behind []string // pins and parts that may, and of which the notes say nothing
}

// held says that something gives a net its level, or may.
func (c *compiler) held(n *net) bool {
	h := &holder{c: c, seen: map[*net]bool{}}
	h.look(n)
	return h.sure || len(h.behind) > 0
}

// look follows resistors and whatever conducts from a net to its neighbours.
func (h *holder) look(n *net) {
	if h.seen[n] || h.sure {
		return
	}
	h.seen[n] = true
	if h.sure = h.c.isRail(n); h.sure {
		return
	}
	for _, j := range n.joined {
		if j.comp.notFitted() || j.comp.open() || j == h.reader {
			continue
		}
		switch kind := j.comp.sort(); {
		case j.pin != nil && (j.pin.drives() || j.pin.pulledInside() || j.pin.row.Type == "analog output"), kind == "crystal":
			h.sure = true // a crystal's level is that of the oscillator round it
		case j.comp.isResistor() || slices.Contains(conducting, kind) || j.comp.isTie() && !j.comp.unsaid():
			if far := j.comp.farEnd(n); far != nil {
				h.look(far)
			}
		case kind == "capacitor" || kind == "test point" || kind == "resonator":
			// no level passes through it
		case j.pin != nil && slices.Contains([]string{"passive", "analog", "reserved"}, j.pin.row.Type):
			h.behind = append(h.behind, j.name())
		case j.pin == nil: // it may hold a level, now and then or off the board
			h.behind = append(h.behind, j.comp.ref)
		}
	}
}

// conducting are the kinds that carry a level from one end to the other.
var conducting = []string{"link", "wire", "fuse", "ferrite bead", "inductor", "thermistor"}
