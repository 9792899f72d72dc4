package eval

import (
	"cmp"
	"fmt"
	"strings"

	"guardband/eval/circuit"
	"guardband/notebook"
)

// maxPlaced bounds the parts of one design: a row of a few characters may place
// thousands.
const maxPlaced = 20_000

// readCircuit enters the placed parts. Nets are joined in connect, when all
// parts are known.
func (c reader) readCircuit(b *notebook.Block) {
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
		if k.Flag != "" && circuit.HasFlag(pl.InUse, k.Flag) || k.Flag == "" && circuit.StatesUse(pl.InUse, k.Name) {
			continue
		}
		row.InUse = append(row.InUse, k)
	}
	return &row
}

func (c reader) place(e *notebook.Entry, pl *notebook.Placement) {
	var p *circuit.Part
	kind := pl.Kind
	id := pl.Part
	if _, ok := c.Parts.Get(pl.Generic()); ok {
		id = pl.Generic()
	}
	if id != "" {
		var ok bool
		kind = ""
		if to := c.opt.swap[id]; to != "" {
			id = to
		}
		if p, ok = c.Parts.Get(id); !ok {
			c.diagnose(notebook.Err, "part-unknown", pl.PartText, "no part `"+pl.Part+"` is noted", notebook.HintNear(pl.Part, c.Parts.Names()))
			return
		}
	}
	if len(c.Comps.List)+len(pl.Refs) > maxPlaced {
		c.diagnose(notebook.Err, "placed-many", pl.RefText, fmt.Sprintf("a design of more than %d placed parts", maxPlaced),
			"check it as several designs")
		return
	}
	for _, ref := range pl.Refs {
		if old, ok := c.Comps.Get(ref); ok {
			c.diagnose(notebook.Err, "designator-twice", pl.RefText, "`"+ref+"` is placed twice", "", related(old.Entry, "first placed here"))
			continue
		}
		m := &circuit.Component{Ref: ref, Part: p, Kind: kind, Row: pl, Entry: e,
			Conns: map[string]*circuit.Net{}, PinNets: map[*circuit.Pin]*circuit.Net{}}
		c.Comps.Enter(ref, m)
		if p != nil {
			p.Placed = append(p.Placed, m)
		}
		for _, r := range pl.Roles {
			c.giveRole(m, r)
		}
	}
}

// giveRole gives pins of a placed part the role of its row.
func (c reader) giveRole(m *circuit.Component, r notebook.PinRole) {
	switch {
	case m.Part == nil:
		c.diagnose(notebook.Err, "pin-role", r.Text, "a "+m.Kind+" has no pins with a role",
			"place a noted part, or separate a condition from its value: `I = 3 mA`")
	case len(m.Part.Pins) > 0:
		why, known := m.GiveRole(r)
		if !known {
			c.pinUnknown(m, r.Pin, r.PinText)
		} else if why != "" {
			c.diagnose(notebook.Err, "pin-role", r.Text, "pin `"+r.Pin+"` of "+m.Ref+" "+why,
				"a role narrows what the note says: one for each pin, any for a bidirectional one")
		}
	}
}

func (c reader) pinUnknown(m *circuit.Component, pin string, at notebook.Text) {
	c.diagnose(notebook.Err, "pin-unknown", at, "part `"+m.Part.ID+"` has no pin `"+pin+"`",
		notebook.HintNear(pin, m.Part.PinNames()), related(m.Part.Attrs["pins"], "its pins"))
}

// netsApart is a row of two ends with its nets in a cell of their own: the last
// two words of its value or last option where they may be that.
func netsApart(m *circuit.Component) string {
	text := strings.TrimSpace(m.Kind + " " + m.Row.Value.S)
	for _, o := range m.Row.Options {
		text += ", " + o.S
	}
	words := strings.Fields(text)
	if n := len(words); n > 3 && notebook.IsName(words[n-1]) && notebook.IsName(words[n-2]) {
		return m.Ref + "  " + strings.Join(words[:n-2], " ") + "  " + strings.Join(words[n-2:], " ")
	}
	return m.Ref + "  " + text + "  NET NET"
}

// connect joins pins to nets and finds names with two meanings.
func (c reader) connect() {
	for _, m := range c.Comps.List {
		if v, ok := c.values.Get(m.Ref); ok {
			c.diagnose(notebook.Err, "name-twice", v.entry.NameText, "`"+m.Ref+
				"` has two meanings: a value and a placed part",
				"a placed two-terminal part is its value in formulas; drop the value", related(m.Entry, "placed here"))
		}
		if len(m.Row.Conns) == 0 && circuit.TwoTerminal[m.Kind] && !m.NotFitted() {
			c.diagnose(notebook.Err, "nets-missing", m.Row.RefText, "`"+m.Ref+"` is not connected to any net",
				"put two spaces before the nets: `"+netsApart(m)+"`")
		}
		if m.Part == nil {
			m.Placed = circuit.PlaceEnds(m.Row)
		}
		for k, conn := range m.Row.Conns {
			c.join(m, k, conn)
		}
	}
	if c.fromFiles == nil {
		c.readPads()
	}
	c.joinLinks()
	for _, n := range c.Nets.List {
		drivers := n.Drivers()
		if v, ok := c.values.Get(n.Name); ok && len(drivers) > 0 {
			c.diagnose(notebook.Err, "name-twice", v.entry.NameText, "`"+n.Name+"` is given here and driven by "+
				drivers[0].Name(), "a net's voltage has one origin: drop the value, or rename it", related(drivers[0].Comp.Entry, "driven here"))
		}
		if len(drivers) > 1 {
			hint := "a net's voltage has one origin"
			if drivers[0].Comp == drivers[1].Comp {
				hint += "; pins that are one output, such as a tab, share a row: 2, 4  " + drivers[0].Pin.Row.Name + "  supply output"
			}
			c.diagnose(notebook.Err, "net-drivers", n.Text,
				"net `"+n.Name+"` is driven by "+drivers[0].Name()+" and by "+drivers[1].Name(), hint, related(drivers[0].Comp.Entry, "first driver"),
				related(drivers[1].Comp.Entry, "second driver"))
		}
	}
	c.FindFeeds()
	powers(c).checkStates()
}

func (c reader) join(m *circuit.Component, k int, conn notebook.Conn) {
	if conn.NetText.S == leftOpen {
		c.leaveOpen(m, conn)
		return
	}
	name := c.netOf(m, conn)
	n, ok := c.Nets.Get(name)
	if !ok {
		n = &circuit.Net{Name: name, Text: conn.NetText}
		c.Nets.Enter(name, n)
		c.warnOpenName(n)
	}
	if m.Part == nil {
		m.Conns[m.Placed[k]] = n
		n.Take(circuit.Joint{Comp: m})
		return
	}
	pins := m.PinsNamed(conn.Pin)
	if q := m.FromFile[conn.Pin]; q != nil {
		pins = []*circuit.Pin{q}
	}
	if conn.Pin == "" && k < len(m.Pins()) { // two nets in pin order
		pins = []*circuit.Pin{m.Pins()[k]}
	}
	if len(pins) == 0 {
		if len(m.Pins()) > 0 {
			c.pinUnknown(m, conn.Pin, conn.NetText)
		}
		m.Conns[conn.Pin] = n
		if m.Unnoted() {
			n.Take(circuit.Joint{Comp: m})
		}
		return
	}
	for _, p := range pins {
		if old := m.PinNets[p]; old != nil && old != n {
			c.diagnose(notebook.Err, "pin-twice", conn.NetText, "pin "+p.Row.Name+" of "+m.Ref+" is joined to `"+old.Name+
				"` and to `"+n.Name+"`", "one pin, one net")
			continue
		}
		m.PinNets[p] = n
		n.Take(circuit.Joint{Comp: m, Pin: p})
	}
	m.Conns[conn.Pin] = n
}

// leftOpen stands for the net of a pin that is left open on this board.
const leftOpen = "-"

// leaveOpen notes that pins are left without a net on purpose.
func (c reader) leaveOpen(m *circuit.Component, conn notebook.Conn) {
	if m.Part == nil || conn.Pin == "" {
		c.diagnose(notebook.Err, "pin-open", conn.NetText, "`-` is not the net of a "+cmp.Or(m.Kind, "(left out)"),
			"only a pin of a noted part is left open: PA6=-")
		return
	}
	pins := m.PinsNamed(conn.Pin)
	if len(pins) == 0 && len(m.Pins()) > 0 {
		c.pinUnknown(m, conn.Pin, conn.PinText)
	}
	for _, p := range pins {
		if old := m.PinNets[p]; old != nil {
			c.diagnose(notebook.Err, "pin-twice", conn.NetText, "pin "+p.Row.Name+" of "+m.Ref+" is joined to `"+old.Name+
				"` and left open", "one pin, one net")
			continue
		}
		leave(m, p)
	}
}

// leave leaves a pin open on this board.
func leave(m *circuit.Component, q *circuit.Pin) {
	if m.Bare == nil {
		m.Bare = map[*circuit.Pin]bool{}
	}
	m.Bare[q] = true
}

// warnOpenName warns of a net whose name says that there is none: pins that
// name it are joined to each other.
func (c reader) warnOpenName(n *circuit.Net) {
	switch strings.ToLower(n.Name) {
	case "nc", "n/c", "n.c.", "open", "none", "unconnected":
		c.diagnose(notebook.Warn, "net-open-name", n.Text, "`"+n.Name+
			"` is a net like any other: all pins that name it are joined", "write PIN=- for a pin that is left open")
	}
}
