package eval

import (
	"strings"

	"guardband/notebook"
)

// This file finds the supply that a pin is fed from.

// supplyOf is the net that feeds a pin of a part: the one its row names, the
// one its thresholds are stated against, else the only supply of the part. nil
// where the part has none, or several and nothing says which.
func (c *compiler) supplyOf(m *component, q *pin) *net {
	if q.refers {
		for _, s := range m.part.pins {
			if n := m.pinNets[s]; n != nil && s.names(q.row.Facts) {
				return n
			}
		}
		return nil
	}
	var only *net
	several := false
	for _, s := range m.part.pins {
		n := m.pinNets[s]
		if s.row.Type != "supply" || n == nil {
			continue
		}
		several = several || only != nil && only != n
		only = n
	}
	if !several {
		return only
	}
	return c.supplyByThreshold(m, q)
}

// supplyByThreshold finds the supply that V_IH, V_IL, V_OH of a pin are
// formulas of.
func (c *compiler) supplyByThreshold(m *component, q *pin) *net {
	for _, f := range m.part.factOrder {
		if !sameSymbol(f.name, "V_IH") && !sameSymbol(f.name, "V_IL") && !sameSymbol(f.name, "V_OH") {
			continue
		}
		if def, _ := m.part.choose(f.section, f.name, q.row.Name); def != f {
			continue
		}
		for _, s := range m.part.pins {
			if n := m.pinNets[s]; s.row.Type == "supply" && n != nil && mentionsName(f.rows[0].RHS.S, s.obeys(), s.row.Name) {
				return n
			}
		}
	}
	return nil
}

// mentionsName says that one of the names stands in a formula as a word.
func mentionsName(text string, names ...string) bool {
	words := strings.FieldsFunc(text, func(r rune) bool {
		return !(r == '_' || r == 'θ' || notebook.IsName(string(r)) || r >= '0' && r <= '9')
	})
	for _, w := range words {
		for _, n := range names {
			if sameSymbol(w, n) {
				return true
			}
		}
	}
	return false
}

// hasSupply says that a part has a supply pin, so that its inputs are logic.
func (p *part) hasSupply() bool {
	for _, q := range p.pins {
		if q.row.Type == "supply" {
			return true
		}
	}
	return false
}
