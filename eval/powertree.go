package eval

// This file says which supplies cannot be up without which others: a
// regulator's output needs its input and what enables it.

// needs are the nets that must be up for a net to be up, itself included.
func (c *compiler) needs(n *net) map[*net]bool {
	up := map[*net]bool{}
	var walk func(n *net)
	walk = func(n *net) {
		if n == nil || up[n] {
			return
		}
		up[n] = true
		if n.feed != nil && !n.feed.by.unsaid() {
			walk(n.feed.from)
		}
		for _, m := range n.ties { // both ends of a bead or fuse rise together
			if o := m.opposite(n); !m.unsaid() && o != nil && !isReturn(o) {
				walk(o)
			}
		}
		for _, j := range supplyOutputs(n) {
			anyOf := len(j.comp.supplies()) > 1 // a part of several supplies may live on any of them
			for _, q := range j.comp.part.pins {
				m := j.comp.pinNets[q]
				if m == nil || m == n || isReturn(m) {
					continue
				}
				switch {
				case q.row.Type == "supply" && anyOf:
				case q.row.Type == "supply", q.onlyReads() && c.isRail(m):
					walk(m)
				case q.onlyReads():
					c.enabledBy(m, j.comp, walk)
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
func (c *compiler) enabledBy(n *net, regulator *component, walk func(*net)) {
	var only *component
	for _, j := range n.pinsOf() {
		if j.comp == regulator || !j.pin.drives() {
			continue
		}
		if only != nil && only != j.comp {
			return
		}
		only = j.comp
	}
	if only == nil {
		return
	}
	for _, q := range only.part.pins {
		if t := q.row.Type; t == "supply output" || t == "supply" && !only.part.hasSupplyOutput() {
			walk(only.pinNets[q])
		}
	}
}

func (p *part) hasSupplyOutput() bool {
	for _, q := range p.pins {
		if q.row.Type == "supply output" {
			return true
		}
	}
	return false
}

// switchedBy names the pin that can turn a supply off while the board runs:
// the driver of an enable input of what feeds it. "" where none is placed.
func (c *compiler) switchedBy(n *net) string {
	n = n.head()
	for _, j := range supplyOutputs(n) {
		for _, q := range j.comp.part.pins {
			m := j.comp.pinNets[q]
			if m == nil || !q.onlyReads() || c.isRail(m) {
				continue
			}
			for _, d := range m.pinsOf() {
				if d.comp != j.comp && d.pin.drives() && !isPowerGood(d) {
					return d.name()
				}
			}
		}
	}
	return ""
}

// isPowerGood says that a pin is an output of a part that feeds a supply, so
// that it follows that supply.
func isPowerGood(j joint) bool { return j.comp.part.hasSupplyOutput() }
