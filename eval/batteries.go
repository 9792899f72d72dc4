package eval

import (
	"slices"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
)

// This file tells from words what kind of battery a part is. A cell that must
// never be charged is the rule: only words and codes that say so make one
// rechargeable.

// BatteryHazard tells what a part's own `hazard:` says of its battery; both
// where it names two that exclude each other.
func (c answers) BatteryHazard(p *circuit.Part) (name string, both bool) {
	for _, e := range p.Block.Entries {
		if e.Label != notebook.Hazard {
			continue
		}
		for _, h := range notebook.SplitList(e.Trimmed()) {
			if h = hazardName(h); slices.Contains(circuit.BatteryHazards, h) {
				if name != "" && name != h {
					both = true
				}
				if name == "" || slices.Index(circuit.BatteryHazards, h) < slices.Index(circuit.BatteryHazards, name) {
					name = h
				}
			}
		}
	}
	return name, both
}

// excluded says that a part names another caution that excludes this one and
// comes before it.
func (c warden) excluded(h hazard, name string) bool {
	id, ok := strings.CutPrefix(h.from, "part ")
	if p, known := c.Parts.Get(id); ok && known && slices.Contains(circuit.BatteryHazards, name) {
		own, _ := answers(c).BatteryHazard(p)
		return own != name
	}
	return false
}

// inferCells finds batteries among the parts by their own hazard, else by their
// kind and title, and among the rows of the circuit that place a plain cell.
func (c warden) inferCells(add func(name, why string, at *record.Position, claim string)) {
	c.batteries = map[*circuit.Part]string{}
	found := func(hazard, why string, at notebook.Pos, coin, settled bool, t notebook.Text, what string) {
		add(hazard, why, position(at), "")
		if coin {
			add("coin or button cell", why, position(at), "")
		}
		if !settled {
			c.diagnose(notebook.Warn, "battery-kind", t, "whether "+what+" may be charged is not stated; it is taken for one that must "+
				"not", "state it with `kind:`, as in `kind: lithium-ion cell` or `kind: primary lithium cell`")
		}
	}
	for _, p := range c.Parts.List {
		own, both := answers(c).BatteryHazard(p)
		text := p.Title
		if e := p.Attrs["kind"]; e != nil && e.Trimmed() != "" {
			text = e.Trimmed()
			if h, settled, _ := circuit.BatteryOf(text); h == "" || !settled {
				text += " " + p.Title
			}
		}
		hazard, settled, coin := circuit.BatteryOf(text)
		if own != "" {
			hazard, settled = own, true
		}
		if both {
			c.diagnose(notebook.Err, "hazard-excludes", p.Attrs[notebook.Hazard].Value,
				"two cautions that exclude each other are named for part "+p.ID, "keep the one that applies to its cell")
		}
		if hazard == "" {
			continue
		}
		c.batteries[p] = hazard
		found(hazard, "part "+p.ID+": "+p.Title, p.Block.Pos, coin, settled, p.Block.IDText, "the cell of part "+p.ID)
	}
	for _, m := range c.Comps.List {
		if m.Part != nil || m.Kind != "cell" && m.Kind != "battery" {
			continue
		}
		text := m.Kind + " " + m.Row.Value.S
		for _, o := range m.Row.Options {
			text += " " + o.S
		}
		hazard, settled, coin := circuit.BatteryOf(text)
		found(hazard, m.Ref+" is a "+m.Kind, m.Entry.Text.Pos(0), coin, settled, m.Row.RefText, m.Ref)
	}
}
