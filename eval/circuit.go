package eval

import (
	"cmp"
	"fmt"
	"strings"

	"guardband/notebook"
)

// maxPlaced bounds the parts of one design: a row of a few characters may place
// thousands.
const maxPlaced = 20_000

// readCircuit enters the placed parts. Nets are joined in connect, when all
// parts are known.
func (c *compiler) readCircuit(b *notebook.Block) {
	var all []notebook.Cond // conditions of use of every part of the block
	for _, e := range b.Entries {
		if e.Label == notebook.InUse {
			all = append(all, e.Conds...)
		}
	}
	for _, e := range b.Entries {
		if e.Placement == nil {
			continue
		}
		c.place(e, withDefaults(e.Placement, all))
	}
	c.readCommon(b, "the circuit")
}

// withDefaults adds the conditions of use of a block to a row that does not
// state them itself.
func withDefaults(pl *notebook.Placement, all []notebook.Cond) *notebook.Placement {
	if len(all) == 0 {
		return pl
	}
	row := *pl
	row.InUse = append([]notebook.Cond(nil), pl.InUse...)
	for _, k := range all {
		if k.Flag != "" && hasFlag(pl.InUse, k.Flag) || k.Flag == "" && statesUse(pl.InUse, k.Name) {
			continue
		}
		row.InUse = append(row.InUse, k)
	}
	return &row
}

func statesUse(conds []notebook.Cond, name string) bool {
	for _, k := range conds {
		if k.Flag == "" && k.Name == name {
			return true
		}
	}
	return false
}

func (c *compiler) place(e *notebook.Entry, pl *notebook.Placement) {
	var p *part
	if pl.Part != "" {
		var ok bool
		id := pl.Part
		if to := c.opt.swap[id]; to != "" {
			id = to
		}
		if p, ok = c.parts.get(id); !ok {
			c.whole(notebook.Err, "part-unknown", pl.PartText, "no part `"+pl.Part+"` is noted", hintNear(pl.Part, c.parts.names()))
			return
		}
	}
	if len(c.comps.list)+len(pl.Refs) > maxPlaced {
		c.whole(notebook.Err, "placed-many", pl.RefText, fmt.Sprintf("a design of more than %d placed parts", maxPlaced),
			"check it as several designs")
		return
	}
	for _, ref := range pl.Refs {
		if old, ok := c.comps.get(ref); ok {
			c.whole(notebook.Err, "designator-twice", pl.RefText, "`"+ref+"` is placed twice", "", related(old.entry, "first placed here"))
			continue
		}
		m := &component{ref: ref, part: p, kind: pl.Kind, row: pl, entry: e, conns: map[string]*net{}, pinNets: map[*pin]*net{}}
		c.comps.enter(ref, m)
		if p != nil {
			p.placed = append(p.placed, m)
		}
	}
}

// twoTerminal are the kinds that join two nets.
var twoTerminal = map[string]bool{"resistor": true, "capacitor": true, "inductor": true, "diode": true, "LED": true, "Zener diode": true,
	"crystal": true, "fuse": true, "ferrite bead": true, "thermistor": true, "varistor": true}

// connect joins pins to nets and finds names with two meanings.
func (c *compiler) connect() {
	for _, m := range c.comps.list {
		if v, ok := c.values.get(m.ref); ok {
			c.whole(notebook.Err, "name-twice", v.entry.NameText, "`"+m.ref+"` has two meanings: a value and a placed part", "a placed two-terminal part is its value in formulas; drop the value", related(m.entry, "placed here"))
		}
		if len(m.row.Conns) == 0 && twoTerminal[m.kind] && !m.notFitted() {
			c.whole(notebook.Err, "nets-missing", m.row.RefText, "`"+m.ref+"` connects no net", "put two spaces before the nets: `"+m.ref+"  "+m.kind+" 100 nF, 16 V  V3V3 GND`")
		}
		if m.part == nil {
			m.placed = placeEnds(m.row)
		}
		for k, conn := range m.row.Conns {
			c.join(m, k, conn)
		}
	}
	if c.fromFiles == nil {
		c.readPads()
	}
	c.joinLinks()
	for _, n := range c.nets.list {
		drivers := n.drivers()
		if v, ok := c.values.get(n.name); ok && len(drivers) > 0 {
			c.whole(notebook.Err, "name-twice", v.entry.NameText, "`"+n.name+"` is given here and driven by "+drivers[0].name(), "a net's voltage has one origin: drop the value, or rename it", related(drivers[0].comp.entry, "driven here"))
		}
		if len(drivers) > 1 {
			hint := "a net's voltage has one origin"
			if drivers[0].comp == drivers[1].comp {
				hint += "; pins that are one output, such as a tab, share a row: 2, 4  " + drivers[0].pin.row.Name + "  supply output"
			}
			c.whole(notebook.Err, "net-drivers", n.text,
				"net `"+n.name+"` is driven by "+drivers[0].name()+" and by "+drivers[1].name(), hint, related(drivers[0].comp.entry, "first driver"),
				related(drivers[1].comp.entry, "second driver"))
		}
	}
	c.findFeeds()
	c.checkStates()
}

func (c *compiler) join(m *component, k int, conn notebook.Conn) {
	if conn.NetText.S == leftOpen {
		c.leaveOpen(m, conn)
		return
	}
	name := c.netOf(m, conn)
	n, ok := c.nets.get(name)
	if !ok {
		n = &net{name: name, text: conn.NetText}
		c.nets.enter(name, n)
		c.warnOpenName(n)
	}
	if m.part == nil {
		m.conns[m.placed[k]] = n
		n.take(joint{comp: m})
		return
	}
	pins := m.part.pinsNamed(conn.Pin)
	if q := m.fromFile[conn.Pin]; q != nil {
		pins = []*pin{q}
	}
	if conn.Pin == "" && k < len(m.part.pins) { // two nets in pin order
		pins = []*pin{m.part.pins[k]}
	}
	if len(pins) == 0 {
		if len(m.part.pins) > 0 {
			c.whole(notebook.Err, "pin-unknown", conn.NetText, "part `"+m.part.id+"` has no pin `"+conn.Pin+"`",
				hintNear(conn.Pin, m.part.pinNames()), related(m.part.attrs["pins"], "its pins"))
		}
		m.conns[conn.Pin] = n
		if m.unnoted() {
			n.take(joint{comp: m})
		}
		return
	}
	for _, p := range pins {
		if old := m.pinNets[p]; old != nil && old != n {
			c.whole(notebook.Err, "pin-twice", conn.NetText, "pin "+p.row.Name+" of "+m.ref+" is joined to `"+old.name+"` and to `"+n.name+"`", "one pin, one net")
			continue
		}
		m.pinNets[p] = n
		n.take(joint{comp: m, pin: p})
	}
	m.conns[conn.Pin] = n
}

// leftOpen stands for the net of a pin that is left open on this board.
const leftOpen = "-"

// leaveOpen notes that pins are left without a net on purpose.
func (c *compiler) leaveOpen(m *component, conn notebook.Conn) {
	if m.part == nil || conn.Pin == "" {
		c.whole(notebook.Err, "pin-open", conn.NetText, "`-` is not the net of a "+cmp.Or(m.kind, "(left out)"), "only a pin of a noted part is left open: PA6=-")
		return
	}
	pins := m.part.pinsNamed(conn.Pin)
	if len(pins) == 0 && len(m.part.pins) > 0 {
		c.whole(notebook.Err, "pin-unknown", conn.PinText, "part `"+m.part.id+"` has no pin `"+conn.Pin+"`",
			hintNear(conn.Pin, m.part.pinNames()), related(m.part.attrs["pins"], "its pins"))
	}
	for _, p := range pins {
		if old := m.pinNets[p]; old != nil {
			c.whole(notebook.Err, "pin-twice", conn.NetText, "pin "+p.row.Name+" of "+m.ref+" is joined to `"+old.name+"` and left open", "one pin, one net")
			continue
		}
		if m.bare == nil {
			m.bare = map[*pin]bool{}
		}
		m.bare[p] = true
	}
}

// warnOpenName warns of a net whose name says that there is none: pins that
// name it are joined to each other.
func (c *compiler) warnOpenName(n *net) {
	switch strings.ToLower(n.name) {
	case "nc", "n/c", "n.c.", "open", "none", "unconnected":
		c.whole(notebook.Warn, "net-open-name", n.text, "`"+n.name+"` is a net like any other: all pins that name it are joined", "write PIN=- for a pin that is left open")
	}
}

// take joins what is fitted: a part left off the board neither feeds a net nor
// loads it.
func (n *net) take(j joint) {
	if !j.comp.notFitted() {
		n.joined = append(n.joined, j)
	}
}

// pinsNamed are the pins of that name, or the one of that number.
func (p *part) pinsNamed(name string) []*pin {
	var out []*pin
	for _, q := range p.pins {
		if q.row.Name == name {
			out = append(out, q)
		}
	}
	if len(out) > 0 {
		return out
	}
	for _, q := range p.pins {
		for _, n := range q.row.Numbers {
			if n == name {
				return []*pin{q}
			}
		}
	}
	return nil
}

func (p *part) pinNames() []string {
	var out []string
	for _, q := range p.pins {
		out = append(out, q.row.Name)
	}
	return out
}

// obeys is the name of the facts a pin obeys: the one its row gives, else its
// own. The name of a supply in the row of a signal pin gives it no limits.
func (q *pin) obeys() string {
	if q.row.Facts != "" && !q.refers {
		return q.row.Facts
	}
	return q.row.Name
}

// sameSymbol compares a pin name with a fact's symbol: V_IN is VIN.
func sameSymbol(a, b string) bool {
	return strings.ReplaceAll(a, "_", "") == strings.ReplaceAll(b, "_", "")
}

// drivers are the supply outputs that stand on a net with a stated voltage.
func (n *net) drivers() []joint {
	var out []joint
	for _, j := range n.joined {
		if j.pin != nil && j.pin.row.Type == "supply output" && j.comp.part.outputFact(j.pin) != "" {
			out = append(out, j)
		}
	}
	return out
}

// outputFact is the fact that states the voltage of an output pin, "" if none.
func (p *part) outputFact(q *pin) string {
	for _, f := range p.factOrder {
		if f.section == "spec" && sameSymbol(f.name, q.obeys()) {
			return f.name
		}
	}
	if p.hasFact("V_OUT") {
		return "V_OUT"
	}
	return ""
}

func (j joint) name() string {
	if j.pin == nil {
		return j.comp.ref
	}
	return j.comp.ref + "." + j.pin.row.Name
}
