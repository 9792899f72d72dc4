package checks

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// pinMap asks that every pin of a placed part is accounted for, once, and that
// the pins make up the package.
var pinMap = &eval.Check{
	Name:   "pin-map",
	Rule:   "Every pin appears once, is connected to a net or may stay open, and the pin count fits the package, the thermal pad included.",
	Source: "common practice; pin table and package drawing of the part's own sheet",
	Run: on(func(c *board, b *eval.Check) {
		for _, m := range c.PlacedParts() {
			cl := c.Claim(b, m.Ref, "Every pin of "+m.Label()+" is accounted for.", m.Entry)
			if e := m.Part.Attrs["pins"]; e != nil && e.Trimmed() == "none" {
				cl.Entries = append(cl.Entries, e)
				cl.Settle(record.Passed, "the part has no pins, by the notes")
				continue
			}
			if len(m.Pins()) == 0 {
				cl.Lacks("no fact", "no pins are noted for part "+m.Part.ID, "note `pins:` from the pin table of this package")
				continue
			}
			for _, q := range m.Pins() {
				cl.Entries = append(cl.Entries, q.Entry)
			}
			if text := otherTable(m); text != "" {
				cl.Lacks("no fact", text, "note `package:` as drawn, and a pin table of that package")
				continue
			}
			numbers := checkNumbers(c, cl, m)
			checkJoined(c, cl, m)
			checkCount(cl, m, numbers)
		}
	}),
}

// otherTable says why the pins that were read may be those of another package:
// none is noted though the pin tables are of several, or another is drawn than
// the one whose table was read. "" where they are the right ones.
func otherTable(m *circuit.Component) string {
	p := m.Part
	packs, drawn := 0, circuit.LandPattern(m)
	for _, e := range p.Tables {
		if e.Arg != "" {
			packs++
		}
	}
	for _, e := range p.Tables {
		if e.Arg != "" && p.Pack != "" && !circuit.SamePackage(drawn, p.Pack) && circuit.SamePackage(e.Arg, drawn) {
			return "land pattern " + drawn + " is drawn, and the pins were read from the table of " + p.Pack
		}
	}
	if p.Pack == "" && packs > 1 {
		return fmt.Sprintf("the pins of %d packages are noted, and not which package is drawn", packs)
	}
	return ""
}

// checkNumbers finds pin numbers that stand twice; it counts them.
func checkNumbers(c *board, cl *eval.Claim, m *circuit.Component) int {
	first := map[string]string{}
	for _, q := range m.Pins() {
		for _, n := range q.Row.Numbers {
			if old, ok := first[n]; ok {
				cl.Settle(record.Failed, fmt.Sprintf("pin %s appears twice: %s and %s", n, old, q.Row.Name))
			}
			first[n] = q.Row.Name
		}
	}
	return len(first)
}

// checkJoined finds pins without a net that may not stay open, and pins that
// must stay open but are joined.
func checkJoined(c *board, cl *eval.Claim, m *circuit.Component) {
	var open, joined, bare []string
	for _, q := range m.Pins() {
		n := m.PinNets[q]
		switch {
		case q.Row.Type == "do not connect" && n != nil:
			joined = append(joined, q.Row.Name)
		case n != nil, circuit.MayStayOpen(q), q.Row.Type == "passive" && isContact(q) && m.Says("relay", "switch", "contactor"):
		case q.Unused || m.Bare[q] && !slices.Contains([]string{"supply", "ground", "thermal pad"}, q.Row.Type):
			bare = append(bare, q.Row.Name)
		default:
			open = append(open, q.Row.Name+" ("+strings.Join(q.Row.Numbers, ", ")+")")
		}
	}
	if len(joined) > 0 {
		cl.Settle(record.Failed, "connected although the sheet says do not connect: "+strings.Join(joined, ", "))
	}
	if len(open) > 0 {
		cl.Settle(record.Failed, "without a net: "+strings.Join(open, ", "))
	}
	if len(open)+len(joined) == 0 {
		text := fmt.Sprintf("all %d pins are joined or may stay open", len(m.Pins()))
		if len(bare) > 0 {
			text += "; left open on this board: " + strings.Join(bare, ", ")
		}
		cl.Settle(record.Passed, text)
	}
}

// beyond is a pin number that a package with numbered pads does not have, 0
// without.
func beyond(m *circuit.Component, pads int) (number int, name string) {
	for _, q := range m.Part.Pins {
		for _, s := range q.Row.Numbers {
			if n, err := strconv.Atoi(s); err == nil && n > pads {
				return n, q.Row.Name
			}
		}
	}
	return 0, ""
}

// isContact says that a pin is the end of one way of a change-over contact, of
// which a board may use the other alone.
func isContact(q *circuit.Pin) bool {
	name := strings.ToUpper(strings.Trim(q.Row.Name, "0123456789_"))
	return name == "NC" || name == "NO"
}

// checkCount compares the pins noted with the pads of the package.
func checkCount(cl *eval.Claim, m *circuit.Component, numbers int) {
	pads, known := circuit.PadCount(m)
	if !known {
		cl.Lacks("no fact", "the pad count of package "+cmp.Or(m.Part.Pack, "(left out)")+" is not known",
			"note `pads:` in part "+m.Part.ID+" (the thermal pad counts)")
		return
	}
	if n, name := beyond(m, pads); n != 0 {
		cl.Settle(record.Failed, fmt.Sprintf("pin %d (%s) is noted, and the pads of %s are 1 to %d", n, name, m.Part.Pack, pads))
		return
	}
	if numbers == pads {
		cl.Settle(record.Passed, fmt.Sprintf("%d pins noted, %s has %d pads", numbers, m.Part.Pack, pads))
	} else {
		cl.Settle(record.Failed, fmt.Sprintf("%d pins noted, but %s has %d pads", numbers, m.Part.Pack, pads))
	}
}
