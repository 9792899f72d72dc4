package checks

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
)

// busAddress asks that no two parts on one bus answer to one address.
var busAddress = &eval.Check{
	Name: "address",
	Rule: "The addresses of all parts on one bus differ, the options set by straps included. Looked at: parts with `address:` lines, connected by an open-drain data pin " +
		"or a pin named SDA. `0x48 at A0=GND` is an option, `0x50 to 0x57` a block, `0x50 + A2 A1 A0` a base with pins that count, the most significant first.",
	Source: "common practice",
	Run: on(func(c *board, b *eval.Check) {
		for _, n := range c.SignalNets() {
			var on []*circuit.Component
			for _, j := range n.PinsOf() {
				if isDataPin(j.Pin) && !slices.Contains(on, j.Comp) {
					on = append(on, j.Comp)
				}
			}
			if len(on) > 1 {
				addressesOn(c, b, n, on)
			}
		}
	}),
}

// isDataPin says that a pin is the data line of a bus with addresses.
func isDataPin(q *circuit.Pin) bool {
	return q.Row.Type == "bidirectional" && (q.Has("open drain") || circuit.BareName(q.Row.Name) == "SDA")
}

func addressesOn(c *board, b *eval.Check, n *circuit.Net, on []*circuit.Component) {
	addressed := 0
	for _, m := range on {
		if m.Part.Attrs["address"] != nil {
			addressed++
		}
	}
	if addressed == 0 {
		return // no bus with addresses
	}
	cl := c.Claim(b, n.Name, "All parts on the bus of "+n.Name+" answer to addresses of their own.", nil)
	cl.At(n.Text.Pos(0))
	taken := map[int64]*circuit.Component{}
	var says []string
	for _, m := range on {
		if m.Part.Attrs["address"] == nil {
			cl.Lacks("no fact", "the address of "+m.Label()+" is not noted", "note `address: 0x..` in part "+m.Part.ID+
				", or `address: none` where it leads the bus")
			continue
		}
		list, why := addressOf(c, cl, m)
		if why != "" {
			cl.Lacks("no fact", why, "note each option: `address: 0x48 at A0=GND`")
			continue
		}
		for _, a := range list {
			if a > 0x7F && a <= 0xFF {
				cl.Lacks("no fact", fmt.Sprintf("0x%02X of %s is no address of seven bits", a, m.Label()),
					fmt.Sprintf("note 0x%02X, if that is the byte with the direction of the transfer", a>>1))
			}
			if old := taken[a]; old != nil {
				cl.Settle(record.Failed, fmt.Sprintf("%s and %s both answer to 0x%02X", old.Ref, m.Ref, a))
				continue
			}
			taken[a] = m
		}
	}
	for a, m := range taken {
		says = append(says, fmt.Sprintf("0x%02X %s", a, m.Ref))
	}
	sort.Strings(says)
	if len(says) > 0 {
		cl.Settle(record.Passed, strings.Join(says, ", "))
	}
}

// addressOf are the addresses a placed part answers to, or why that cannot be
// said.
func addressOf(c *board, cl *eval.Claim, m *circuit.Component) (list []int64, why string) {
	why = "none of the addresses of " + m.Label() + " fits how its pins are joined"
	for _, e := range m.Part.Block.Entries {
		if e.Label != "address" {
			continue
		}
		cl.Entries = append(cl.Entries, e)
		for _, text := range notebook.SplitList(e.Trimmed()) {
			if text == "none" {
				return nil, ""
			}
			o, ok := readAddress(text)
			if !ok {
				return nil, "the address `" + text + "` of part " + m.Part.ID + " is not understood"
			}
			got, fits, bad := addressUnder(c, m, o)
			switch {
			case bad != "":
				return nil, bad
			case fits:
				list, why = append(list, got...), ""
			}
		}
	}
	return list, why
}

// addressUnder works out an option for how the pins of a part are joined.
func addressUnder(c *board, m *circuit.Component, o addressOption) (list []int64, fits bool, bad string) {
	for _, s := range o.straps {
		yes, known := pinStands(c, m, s.pin, s.level)
		if !known {
			return nil, false, "how pin " + s.pin + " of " + m.Label() + " is joined does not settle its address"
		}
		if !yes {
			return nil, false, ""
		}
	}
	base := o.from
	for i, p := range o.bits {
		high, known := pinStands(c, m, p, "1")
		if !known {
			return nil, false, "how pin " + p + " of " + m.Label() + " is joined does not settle its address"
		}
		if high {
			base += 1 << (len(o.bits) - 1 - i)
		}
	}
	for a := base; a <= base+o.to-o.from; a++ {
		list = append(list, a)
	}
	return list, true, ""
}

// pinStands says whether a pin is joined to a level: 0, 1, open, or the name of
// another pin. known is false where the circuit does not say.
func pinStands(c *board, m *circuit.Component, name, level string) (yes, known bool) {
	pins := m.PinsNamed(name)
	if len(pins) == 0 {
		return false, false
	}
	n := m.PinNets[pins[0]]
	if n != nil && !c.IsRail(n) {
		if own := pinsOn(m, n, pins[0]); len(own) > 0 { // AD=SDA: another pin of the part
			for _, q := range own {
				if q.Row.Name == level {
					return true, true
				}
			}
			return false, true
		}
		pulls := c.Pulls(n)
		if len(pulls) != 1 {
			return false, false
		}
		n = pulls[0].Other
	}
	switch strings.ToLower(level) {
	case "open", "floating":
		return n == nil, true
	}
	if n == nil {
		q := pins[0]
		high := q.Has("pull-up")
		return high && level == "1" || q.Has("pull-down") && level == "0", high || q.Has("pull-down")
	}
	switch strings.ToLower(level) {
	case "0", "low", "gnd", "ground", "vss":
		return circuit.IsReturn(n), true
	case "1", "high":
		return !circuit.IsReturn(n), true
	}
	for _, other := range m.PinsNamed(level) {
		if m.PinNets[other] == n {
			return true, true
		}
	}
	return false, len(m.PinsNamed(level)) > 0
}

// pinsOn are the pins of a component on a net, but for one.
func pinsOn(m *circuit.Component, n *circuit.Net, but *circuit.Pin) []*circuit.Pin {
	var out []*circuit.Pin
	for _, q := range m.Pins() {
		if q != but && m.PinNets[q] == n {
			out = append(out, q)
		}
	}
	return out
}
