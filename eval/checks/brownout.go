package checks

import (
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
)

// brownOut asks that a reset threshold lies between what the guarded parts need
// and what the rail gives.
var brownOut = &eval.Check{
	Name: "brown-out",
	Rule: "The brown-out threshold (V_BOR, V_BO, or V_TH of a part with a reset output) is at or above the least supply of the part it resets and of the memories on the rail, " +
		"and at or below the lowest rail. A memory is one whose kind or title says so.",
	Source: "common practice",
	Run: on(func(c *board, b *eval.Check) {
		for _, m := range c.PlacedParts() {
			for _, q := range m.Pins() {
				if n := m.PinNets[q]; q.Row.Type == "supply" && n != nil {
					brownOutOf(c, b, m, q, n)
					break
				}
			}
		}
	}),
}

func brownOutOf(c *board, b *eval.Check, m *circuit.Component, q *circuit.Pin, rail *circuit.Net) {
	guarded := []*circuit.Component{m}
	_, threshold := c.PinFact(m, "spec", q, circuit.Volt.Dim, "V_BOR", "V_BO")
	if threshold == "" {
		if guarded = resets(c, m); len(guarded) == 0 {
			return
		}
		if _, threshold = c.PinFact(m, "spec", q, circuit.Volt.Dim, "V_TH", "V_RST", "V_RESET"); threshold == "" {
			cl := c.Claim(b, m.Ref, "The threshold of "+m.Label()+" guards what it resets.", m.Entry)
			cl.Lacks("no fact", "the threshold of part "+m.Part.ID+" is not noted", "note `spec V_TH = min ..., max ...`")
			return
		}
	}
	cl := c.Claim(b, m.Ref, "The brown-out threshold of "+m.Label()+" is between what the parts need and the lowest rail.", m.Entry)
	for _, j := range rail.PinsOf() {
		if j.Pin.Row.Type == "supply" && isMemory(j.Comp.Part) && !slices.Contains(guarded, j.Comp) {
			guarded = append(guarded, j.Comp)
		}
	}
	for _, g := range guarded {
		switch s, on := leastSupply(c, g, rail); {
		case s != "":
			c.Ask(cl, threshold+" >= "+s)
		case !on:
			cl.Lacks("no fact", g.Label()+" has no supply pin on "+rail.Name+
				", whose voltage the threshold watches, so it is not known what guards it",
				"watch its supply too, or skip this check with the reason")
		default:
			cl.Lacks("no fact", "the least supply of "+g.Label()+" is not noted", "note `operating V_DD = min ...` in part "+g.Part.ID)
		}
	}
	if c.VoltageKnown(rail) {
		c.Ask(cl, threshold+" <= "+c.NetText(rail))
	} else {
		cl.Lacks("no value", "the voltage of net "+rail.Name+" is not known", "give a value `"+rail.Name+" = ...`")
	}
}

// resets are the parts whose reset input an output of m drives, where both are
// flagged or named so.
func resets(c *board, m *circuit.Component) []*circuit.Component {
	var out []*circuit.Component
	for _, q := range m.Pins() {
		n := m.PinNets[q]
		if n == nil || !q.Drives() || q.Row.Type == "bidirectional" || !(q.Has("reset") || isResetName(q.Row.Name)) {
			continue
		}
		for _, j := range n.PinsOf() {
			if j.Comp != m && j.Pin.Reads() && (j.Pin.Has("reset") || isResetName(j.Pin.Row.Name)) && !slices.Contains(out, j.Comp) {
				out = append(out, j.Comp)
			}
		}
	}
	return out
}

// leastSupply names the lower end of a part's operating range at its pin on the
// rail, or on a net that rises and falls with it. A range at another rail says
// nothing of this one.
func leastSupply(c *board, m *circuit.Component, rail *circuit.Net) (least string, onRail bool) {
	for _, q := range m.Pins() {
		if n := m.PinNets[q]; q.Row.Type != "supply" || n == nil || n.StandsAs() != rail.StandsAs() {
			continue
		}
		onRail = true
		if name, ok := m.LimitFor("operating", q); ok {
			if s := c.LimitEnd(m, q, circuit.Volt.Dim, "min", name); s != "" {
				return s, true
			}
		}
	}
	return "", onRail
}

// isMemory says that the notes call a part a memory.
func isMemory(p *circuit.Part) bool {
	t := strings.ToLower(p.Title)
	if e := p.Attrs["kind"]; e != nil {
		t = strings.ToLower(e.Trimmed())
	}
	return !strings.Contains(t, "controller") && (strings.Contains(t, "memory") || strings.Contains(t, "eeprom") || strings.Contains(t, "flash"))
}
