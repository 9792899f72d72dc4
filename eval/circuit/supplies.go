package circuit

import (
	"slices"
	"strings"

	"guardband/notebook"
)

// This file finds the supply that a pin is fed from.

// SupplyOf is the net that feeds a pin of a part: the one its row names, the
// one its thresholds are stated against, else the only supply of the part. nil
// where the part has none, or several and nothing says which.
func (c *Circuit) SupplyOf(m *Component, q *Pin) *Net {
	if q.Refers {
		for _, s := range m.Pins() {
			if n := m.PinNets[s]; n != nil && s.names(q.Row.Facts) {
				return n
			}
		}
		return nil
	}
	switch s := m.Supplies(); len(s) {
	case 0:
		return nil
	case 1:
		return s[0]
	}
	return c.supplyByThreshold(m, q)
}

// supplyByThreshold finds the supply that V_IH, V_IL, V_OH of a pin are
// formulas of.
func (c *Circuit) supplyByThreshold(m *Component, q *Pin) *Net {
	for _, f := range m.Part.FactOrder {
		if !SameSymbol(f.Name, "V_IH") && !SameSymbol(f.Name, "V_IL") && !SameSymbol(f.Name, "V_OH") {
			continue
		}
		if def, _ := m.Part.Choose(f.Section, f.Name, q.Row.Name); def != f {
			continue
		}
		for _, s := range m.Pins() {
			if n := m.PinNets[s]; s.Row.Type == "supply" && n != nil && MentionsName(f.Rows[0].RHS.S, s.Obeys(), s.Row.Name) {
				return n
			}
		}
	}
	return nil
}

// MentionsName says that one of the names stands in a formula as a word.
func MentionsName(text string, names ...string) bool {
	words := strings.FieldsFunc(text, func(r rune) bool {
		return !(r == '_' || r == 'θ' || notebook.IsName(string(r)) || r >= '0' && r <= '9')
	})
	return slices.ContainsFunc(words, func(w string) bool {
		return slices.ContainsFunc(names, func(n string) bool { return SameSymbol(w, n) })
	})
}

// HasSupply says that a part has a supply pin, so that its inputs are logic.
func (p *Part) HasSupply() bool {
	return p.hasPin("supply")
}

// Needs are the nets that must be up for a net to be up, itself included.
func (c *Circuit) Needs(n *Net) map[*Net]bool {
	up := map[*Net]bool{}
	var walk func(n *Net)
	walk = func(n *Net) {
		if n == nil || up[n] {
			return
		}
		up[n] = true
		if n.Feed != nil && !n.Feed.By.Unsaid() {
			walk(n.Feed.From)
		}
		for _, m := range n.Ties { // both ends of a bead or fuse rise together
			if o := m.Opposite(n); !m.Unsaid() && o != nil && !IsReturn(o) {
				walk(o)
			}
		}
		for _, j := range SupplyOutputs(n) {
			anyOf := len(j.Comp.Supplies()) > 1 // a part of several supplies may live on any of them
			for _, q := range j.Comp.Pins() {
				m := j.Comp.PinNets[q]
				if m == nil || m == n || IsReturn(m) {
					continue
				}
				switch {
				case q.Row.Type == "supply" && anyOf:
				case q.Row.Type == "supply", q.OnlyReads() && c.IsRail(m):
					walk(m)
				case q.OnlyReads():
					c.enabledBy(m, j.Comp, walk)
				}
			}
		}
	}
	walk(n)
	return up
}

// enabledBy follows an enable input to the supplies of what drives it, and to
// those that a power-good output of another regulator vouches for. A net with
// several drivers vouches for nothing.
func (c *Circuit) enabledBy(n *Net, regulator *Component, walk func(*Net)) {
	var only *Component
	for _, j := range n.PinsOf() {
		if j.Comp == regulator || !j.Pin.Drives() {
			continue
		}
		if only != nil && only != j.Comp {
			return
		}
		only = j.Comp
	}
	if only == nil {
		return
	}
	for _, q := range only.Pins() {
		if t := q.Row.Type; t == "supply output" || t == "supply" && !only.Part.HasSupplyOutput() {
			walk(only.PinNets[q])
		}
	}
}

// HasSupplyOutput says that a part makes a supply.
func (p *Part) HasSupplyOutput() bool {
	return p.hasPin("supply output")
}

// hasPin says that a part has a pin of a type.
func (p *Part) hasPin(typ string) bool {
	return slices.ContainsFunc(p.Pins, func(q *Pin) bool { return q.Row.Type == typ })
}

// SwitchedBy names the pin that can turn a supply off while the board runs:
// the driver of an enable input of what feeds it. "" where none is placed.
func (c *Circuit) SwitchedBy(n *Net) string {
	n = n.Head()
	for _, j := range SupplyOutputs(n) {
		for _, q := range j.Comp.Pins() {
			m := j.Comp.PinNets[q]
			if m == nil || !q.OnlyReads() || c.IsRail(m) {
				continue
			}
			for _, d := range m.PinsOf() {
				if d.Comp != j.Comp && d.Pin.Drives() && !isPowerGood(d) {
					return d.Name()
				}
			}
		}
	}
	return ""
}

// isPowerGood says that a pin is an output of a part that feeds a supply, so
// that it follows that supply.
func isPowerGood(j Joint) bool { return j.Comp.Part.HasSupplyOutput() }
