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

// follows says that a net is up whenever those of a set are: it is one of them,
// hangs on one, or is made from them by a part that nothing can turn off.
func (c *compiler) follows(n *net, live, seen map[*net]bool) bool {
	switch {
	case n == nil || seen[n]:
		return false
	case live[n]:
		return true
	}
	seen[n] = true
	if n.feed != nil && !n.feed.by.unsaid() && c.follows(n.feed.from, live, seen) {
		return true
	}
	for _, j := range supplyOutputs(n) {
		if c.alwaysOn(j.comp, n, live, seen) {
			return true
		}
	}
	return false
}

// alwaysOn says that a part makes a supply whenever those of a set are up.
func (c *compiler) alwaysOn(m *component, out *net, live, seen map[*net]bool) bool {
	inputs := 0
	for _, q := range m.part.pins {
		at := m.pinNets[q]
		switch {
		case q.row.Type == "supply" && at != out && !(at != nil && isReturn(at)):
			if inputs++; !c.follows(at, live, seen) {
				return false
			}
		case q.reads() && !c.enabledWith(m, q, at, live, seen):
			return false
		}
	}
	return inputs > 0
}

// enabledWith says that an input of a part which makes a supply, any of which
// may enable it, is at its active level whenever those of a set are up.
func (c *compiler) enabledWith(m *component, q *pin, at *net, live, seen map[*net]bool) bool {
	low := q.has("active low")
	switch {
	case at == nil:
		return q.has("pull-up") && !low || q.has("pull-down") && low
	case isReturn(at):
		return low
	case low:
		return false
	case c.isRail(at):
		return live[at] || c.follows(at, live, seen)
	}
	if other, _ := c.besides(at); other != "" || len(c.driversOf(at, joint{comp: m, pin: q})) > 0 {
		return false
	}
	pulls := c.pulls(at)
	for _, r := range pulls {
		if isReturn(r.other) || !live[r.other] && !c.follows(r.other, live, seen) {
			return false
		}
	}
	return len(pulls) > 0
}
