package eval

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/record"
)

// pinMap asks that every pin of a placed part is accounted for, once, and that
// the pins make up the package.
var pinMap = &builtin{
	name:   "pin-map",
	rule:   "Every pin stands once, is joined to a net or may stay open, and the pin count fits the package, the thermal pad included.",
	source: "common practice; pin table and package drawing of the part's own sheet",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.PlacedParts() {
			cl := c.builtClaim(b, m.Ref, "Every pin of "+m.Label()+" is accounted for.", m.Entry)
			if e := m.Part.Attrs["pins"]; e != nil && e.Trimmed() == "none" {
				cl.entries = append(cl.entries, e)
				cl.settle(record.Passed, "the part has no pins, by the notes")
				continue
			}
			if len(m.Part.Pins) == 0 {
				cl.lacks("no fact", "no pins are noted for part "+m.Part.ID, "note `pins:` from the pin table of this package")
				continue
			}
			for _, q := range m.Part.Pins {
				cl.entries = append(cl.entries, q.Entry)
			}
			if text := otherTable(m); text != "" {
				cl.lacks("no fact", text, "note `package:` as drawn, and a pin table of that package")
				continue
			}
			numbers := c.checkNumbers(cl, m)
			c.checkJoined(cl, m)
			checkCount(cl, m, numbers)
		}
	},
}

// otherTable says why the pins that were read may be those of another package:
// none is noted though the pin tables are of several, or another is drawn than
// the one whose table was read. "" where they are the right ones.
func otherTable(m *circuit.Component) string {
	p := m.Part
	packs, drawn := 0, landPattern(m)
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
func (c *compiler) checkNumbers(cl *claim, m *circuit.Component) int {
	first := map[string]string{}
	for _, q := range m.Part.Pins {
		for _, n := range q.Row.Numbers {
			if old, ok := first[n]; ok {
				cl.settle(record.Failed, fmt.Sprintf("pin %s stands twice: %s and %s", n, old, q.Row.Name))
			}
			first[n] = q.Row.Name
		}
	}
	return len(first)
}

// checkJoined finds pins without a net that may not stay open, and pins that
// must stay open but are joined.
func (c *compiler) checkJoined(cl *claim, m *circuit.Component) {
	var open, joined, bare []string
	for _, q := range m.Part.Pins {
		n := m.PinNets[q]
		switch {
		case q.Row.Type == "do not connect" && n != nil:
			joined = append(joined, q.Row.Name)
		case n != nil, mayStayOpen(q):
		case m.Bare[q] && !slices.Contains([]string{"supply", "ground", "thermal pad"}, q.Row.Type):
			bare = append(bare, q.Row.Name)
		default:
			open = append(open, q.Row.Name+" ("+strings.Join(q.Row.Numbers, ", ")+")")
		}
	}
	if len(joined) > 0 {
		cl.settle(record.Failed, "joined although the sheet says do not connect: "+strings.Join(joined, ", "))
	}
	if len(open) > 0 {
		cl.settle(record.Failed, "without a net: "+strings.Join(open, ", "))
	}
	if len(open)+len(joined) == 0 {
		text := fmt.Sprintf("all %d pins are joined or may stay open", len(m.Part.Pins))
		if len(bare) > 0 {
			text += "; left open on this board: " + strings.Join(bare, ", ")
		}
		cl.settle(record.Passed, text)
	}
}

// mayStayOpen says that a pin needs no net: no internal connection, do not
// connect, or marked optional. An output may stay open as well; an input only
// where it is pulled inside, which unused-inputs judges too.
func mayStayOpen(q *circuit.Pin) bool {
	switch q.Row.Type {
	case "not connected", "do not connect", "output", "analog output":
		return true
	}
	return slices.Contains(q.Row.Flags, "optional") || q.OnlyReads() && q.PulledInside()
}

// checkCount compares the pins noted with the pads of the package.
func checkCount(cl *claim, m *circuit.Component, numbers int) {
	pads, known := padCount(m)
	if !known {
		cl.lacks("no fact", "the pad count of package "+cmp.Or(m.Part.Pack, "(left out)")+" is not known", "note `pads:` in part "+m.Part.ID+" (the thermal pad counts)")
		return
	}
	if numbers == pads {
		cl.settle(record.Passed, fmt.Sprintf("%d pins noted, %s has %d pads", numbers, m.Part.Pack, pads))
	} else {
		cl.settle(record.Failed, fmt.Sprintf("%d pins noted, but %s has %d pads", numbers, m.Part.Pack, pads))
	}
}

// padCount is how many pads a package has, the thermal pad included: from
// `pads:`, else from the number in the package's name and `exposed pad:`.
func padCount(m *circuit.Component) (int, bool) {
	p := m.Part
	n, known := 0, false
	if e := p.Attrs["pads"]; e != nil {
		n, known = firstNumber(e.Trimmed())
		return n, known
	}
	n, known = packagePads(p.Pack)
	if known && hasExposedPad(p) {
		n++
	}
	return n, known
}

// hasExposedPad says that the part notes a thermal pad: an `exposed pad:`
// line, "+ EP" in the package's name, or a pin of that type.
func hasExposedPad(p *circuit.Part) bool {
	if p.Attrs["exposed pad"] != nil || strings.Contains(strings.ToUpper(p.Pack), "EP") && strings.Contains(p.Pack, "+") {
		return true
	}
	for _, q := range p.Pins {
		if q.Row.Type == "thermal pad" || slices.Contains(q.Row.Numbers, "EP") {
			return true
		}
	}
	return false
}

// firstNumber is the whole number a text starts with.
func firstNumber(s string) (int, bool) {
	n, i := 0, 0
	for i < len(s) && s[i] >= '0' && s[i] <= '9' && n < 1e6 {
		n = n*10 + int(s[i]-'0')
		i++
	}
	return n, i > 0
}
