package eval

import (
	"math/big"
	"slices"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/formula"
	"guardband/eval/network"
)

// This file makes elements of the network out of placed parts, those with pins
// of a type aside (board_pins.go). What is not known here is a stranger on its
// nets: it may hold them anywhere.

// enter makes the elements of one placed part.
func (b *boardNet) enter(m *component) {
	b.here = nil
	seen := map[*net]bool{}
	put := func(n *net) {
		if n != nil && !seen[n] {
			seen[n] = true
			b.here = append(b.here, n)
		}
	}
	for _, n := range m.conns {
		put(n)
	}
	for _, n := range m.pinNets {
		put(n)
	}
	if m.unnoted() {
		b.strangers(m) // whatever kind it is said to be: which pin is which is not known
		return
	}
	switch kind := m.sort(); kind {
	case "capacitor", "crystal", "resonator", "test point":
	case "resistor", "thermistor", "ferrite bead", "fuse", "inductor", "link", "wire", "varistor":
		b.resistive(m)
	case "switch", "jumper":
		b.contact(m)
	case "diode", "LED", "Zener diode":
		b.junction(m)
	default:
		switch {
		case m.isConnector():
			b.plug(m)
		case m.part == nil || kind == "cell" || kind == "battery":
			b.strangers(m)
		default:
			b.active(m)
		}
	}
}

// strangers puts something unknown on every net of a part.
func (b *boardNet) strangers(m *component) {
	for _, n := range b.here {
		b.stranger(n, m.ref)
	}
}

// ohmsOf is the resistance of a part in the graph, 0 where it is not known.
func (b *boardNet) ohmsOf(m *component) bound.Reg {
	c := b.c
	y := c.componentSymbol(m)
	if !c.isOhm(y) || m.sort() == "ferrite bead" && m.part == nil { // what a bead is sold by is its impedance
		name := m.resistanceName()
		switch {
		case name == "":
			return 0
		case m.part != nil:
			y, _ = c.fact(m, "spec", name, "")
		default:
			if y = c.kindFact(m, name); y == nil {
				y = c.useSymbol(m, name)
			}
		}
		if !c.isOhm(y) {
			return 0
		}
	}
	b.rest(y)
	return y.val.Reg
}

// resistive is a part that resists, or is anything from 0 Ω up.
func (b *boardNet) resistive(m *component) {
	x, y, ok := m.ends()
	if !ok {
		b.strangers(m)
		return
	}
	b.join(x, y)
	r := bound.Reg(0)
	if m.sort() != "varistor" {
		r = b.ohmsOf(m)
	}
	if r == 0 {
		b.miss("the resistance of "+m.ref+" is not stated", "give its value in its row, or note `spec R_DC = ...`")
	}
	b.elements[m] = b.n.Resistor(m.ref, b.at(x), b.at(y), r)
	b.elements[m].Conducts = true
}

// contact is a switch or jumper: closed, open, or either.
func (b *boardNet) contact(m *component) {
	x, y, ok := m.ends()
	switch {
	case ok && len(b.here) <= 2:
		if m.open() {
			return
		}
		b.join(x, y)
		r := b.ohmsOf(m)
		if r == 0 && m.sort() == "jumper" {
			r = b.c.b.Const(zero)
		}
		if m.closed() {
			b.elements[m] = b.n.Resistor(m.ref, b.at(x), b.at(y), r)
			return
		}
		b.miss("it is not stated whether "+m.ref+" is closed", "give its row the option `closed` or `open`")
		d := b.n.Driver(m.ref, "open", "closed", "either")
		d.Release("open")
		d.In("closed", b.n.Resistor(m.ref+" closed", b.at(x), b.at(y), r))
		b.elements[m] = d.In("either", b.n.Resistor(m.ref, b.at(x), b.at(y), 0))
		b.drives = append(b.drives, &drive{d: d, what: aSwitch, comp: m})
	case m.part == nil: // which of several contacts are joined is not said
		b.passive(m, b.here)
	default:
		b.strangers(m)
	}
}

// passive joins nets by something of which only that is known.
func (b *boardNet) passive(m *component, nets []*net) {
	b.join(nets...)
	for i, x := range nets {
		for _, y := range nets[:i] {
			b.n.Resistor(m.ref, b.at(x), b.at(y), 0)
		}
	}
}

// plug is a connector: nothing is plugged in, or something unknown is.
func (b *boardNet) plug(m *component) {
	for _, n := range b.here {
		if b.given(n) {
			continue
		}
		far := b.n.Node(n.name)
		b.n.Anything(far, m.ref)
		i := b.about[b.island(n)]
		i.fed = true
		i.missing = addTo(i.missing, OpenPoint{Reason: "no fact", Text: m.ref + " is on " + n.name + ", and what is plugged in there is not known",
			Settle: "give a value `" + n.name + " = ...`, or state the quantity in the row of the part (`in use:`)"})
		d := b.n.Driver(m.ref+" on "+n.name, "free", "plugged")
		d.Release("free")
		d.In("plugged", b.n.Link(m.ref, far, b.nodes[n]))
		b.drives = append(b.drives, &drive{d: d, what: aPlug, comp: m, net: n})
	}
}

// junction is a diode, an LED, a Zener diode or a suppressor.
func (b *boardNet) junction(m *component) {
	from, to := m.networkEnds()
	if from == nil || to == nil {
		b.strangers(m)
		return
	}
	b.join(from, to)
	_, _, named := m.poles()
	if !named || m.part != nil && m.part.factNamed("operating", "V_RWN") != "" {
		b.miss("what "+m.ref+" conducts, and which way, is not noted", "place it as a part with its pins A and K and `spec V_F = ... at I_F = ...`")
		b.elements[m] = b.n.Resistor(m.ref, b.at(from), b.at(to), 0)
		return
	}
	d := b.diode(m)
	if m.breaksDown() && d.HeldBack == 0 && len(d.Breakdown) == 0 { // it may break down anywhere
		b.elements[m] = b.n.Resistor(m.ref, b.at(from), b.at(to), 0)
		return
	}
	if d.Held == 0 && len(d.Forward) == 0 {
		b.miss("the forward voltage of "+m.ref+" is not noted", "place it as a part with `spec V_F = ... at I_F = ...`")
	}
	b.elements[m] = b.n.Junction(m.ref, b.at(from), b.at(to), d)
	b.assume("the voltage of a junction rises with its current")
	b.assume(settles)
}

// settles is what network.Settle takes.
const settles = "a net that floats lies between those that what blocks leads to"

// breaksDown says that a diode is made to be used in breakdown.
func (m *component) breaksDown() bool {
	return m.sort() == "Zener diode" || m.part != nil && m.isSuppressor()
}

// diode is what the note of a part states of its junction.
func (b *boardNet) diode(m *component) network.Diode {
	d := network.Diode{}
	if m.part == nil {
		b.miss("the forward voltage of "+m.ref+" is not noted", "note it as a part with `spec V_F`")
		return d
	}
	if d.Held, d.Forward = b.curve(m, nil, []string{"V_F"}, "I_F", "I"); d.Held != 0 {
		b.assume("V_F of " + m.ref + " holds at every current that it has")
	}
	if d.Held == 0 && !slices.ContainsFunc(d.Forward, func(p network.Point) bool { return p.Min != 0 }) {
		b.miss("no min of V_F is noted for "+m.ref, "note `spec V_F = min ...` of part "+m.part.id)
	}
	if m.breaksDown() {
		if d.HeldBack, d.Breakdown = b.curve(m, nil, []string{"V_Z", "V_BR"}, "I_Z", "I_ZT", "I_T", "I_BR"); d.HeldBack != 0 {
			b.assume("V_Z of " + m.ref + " holds at every current that it has")
		}
	} else {
		b.assume("the reverse voltage of " + m.ref + " stays below its breakdown, which its own claim asks")
	}
	d.Leak, d.LeakUpTo = b.reverseLeak(m)
	return d
}

// reverseLeak is the reverse current of a junction and the voltage up to which
// it is stated, 0 where they are not noted.
func (b *boardNet) reverseLeak(m *component) (leak, upTo bound.Reg) {
	for _, r := range b.rows(m, nil, []string{"I_R", "I_RM", "I_DSS"}, "V_R", "V_RWM", "V_DS", "V_RM") {
		if r.max == 0 {
			continue
		}
		most, _ := b.magnitude(r.max)
		leak = b.between("the reverse current of "+m.ref, 0, most, stateUse)
		return leak, r.atHigh
	}
	return 0, 0
}

// curveRow is a row of a fact: its ends and where it is stated, 0 where absent.
type curveRow struct {
	min, max, atLow, atHigh bound.Reg
	stated                  bool // it names the quantity it is stated at
}

// rows are those of a fact whose conditions cover the use of a part, those on
// the quantity at which they are stated aside; those with a ~ are not looked at. q chooses among pins.
func (b *boardNet) rows(m *component, q *pin, names []string, at ...string) []curveRow {
	c := b.c
	if m.part == nil {
		return nil
	}
	y := b.factOf(m, q, names)
	if y == nil {
		return nil
	}
	var out []curveRow
	for _, r := range y.rows {
		x := curveRow{min: c.endReg(r, 0), max: c.endReg(r, 2)}
		if _, exact := c.b.ConstOf(y.val.Reg); exact && len(y.rows) == 1 {
			x.min, x.max = y.val.Reg, y.val.Reg
		}
		covered := !r.bad
		for _, d := range c.conditionsOf(y, r) {
			switch {
			case slices.Contains(at, "~"+d.name):
			case slices.Contains(at, d.name):
				x.stated = true
				x.atLow, x.atHigh = valueReg(d.lo), valueReg(d.hi)
			case c.coversOne(y, d) != nil:
				covered = false
			}
		}
		if covered && !r.bad && (x.min != 0 || x.max != 0) {
			b.rest(&symbol{name: y.name, entry: r.entry, comp: m,
				rows:  []*row{{entry: r.entry, unconfirmed: r.unconfirmed, cols: r.cols, ends: r.ends}},
				cites: c.citesOf(r.entry),
				val:   formula.Value{Class: y.val.Class, Type: y.val.Type, Unit: y.val.Unit, Reg: y.val.Reg},
				cols:  r.cols, state: done})
			out = append(out, x)
		}
	}
	return out
}

// factOf is the first fact of a part that goes by one of some names.
func (b *boardNet) factOf(m *component, q *pin, names []string) *symbol {
	c, pin := b.c, ""
	if q != nil {
		pin = q.row.Name
	}
	for _, want := range names {
		if name, th, ok := strings.Cut(want, "("); ok {
			want, pin = name, strings.TrimSuffix(th, ")")
		}
		for _, f := range m.part.factOrder {
			if f.section != "spec" || !sameSymbol(f.name, want) {
				continue
			}
			if def, err := m.part.choose("spec", f.name, pin); def == nil || err != nil {
				continue
			}
			if y, err := c.fact(m, "spec", f.name, pin); y != nil && err == nil {
				c.lower(y)
				if y.val.Class == formula.Number {
					return y
				}
			}
		}
	}
	return nil
}

// endReg is an end of a row in the graph: of a single number both ends are it.
func (c *compiler) endReg(r *row, k int) bound.Reg {
	if r.cols[k] != nil {
		return r.cols[k].Reg
	}
	in := r.in.Lo
	if k == 2 {
		in = r.in.Hi
	}
	if in != nil {
		return c.b.Const(in)
	}
	return 0
}

func valueReg(v *formula.Value) bound.Reg {
	if v == nil {
		return 0
	}
	return v.Reg
}

// anyCurrent is where a row counts that names no current: beyond all that flow.
var anyCurrent = rat(1e6)

// curve reads the rows of a voltage that rises with a current: the one value
// that holds at every current, or points in the order of their currents.
func (b *boardNet) curve(m *component, q *pin, names []string, at ...string) (held bound.Reg, points []network.Point) {
	rows := b.rows(m, q, names, at...)
	for _, r := range rows {
		if !r.stated && r.min != 0 && r.max != 0 {
			return b.factOf(m, q, names).val.Reg, nil
		}
	}
	put := func(x network.Point) {
		at, v := b.magnitude(x.At)
		if v == nil || v.Sign() == 0 {
			return
		}
		x.At = at
		k := 0
		for k < len(points) && b.size(points[k].At).Cmp(v) < 0 {
			k++
		}
		if k == len(points) || b.size(points[k].At).Cmp(v) > 0 {
			points = slices.Insert(points, k, x)
			return
		}
		have := &points[k]
		ends := [][2]*bound.Reg{{&have.Min, &x.Min}, {&have.Max, &x.Max}, {&have.SureMin, &x.SureMin}, {&have.SureMax, &x.SureMax}}
		for _, p := range ends {
			if *p[0] == 0 {
				*p[0] = *p[1]
			}
		}
	}
	for _, r := range rows {
		low, high := r.atLow, r.atHigh
		if l, h := b.size(low), b.size(high); l != nil && h != nil && l.Cmp(h) > 0 {
			low, high = high, low // counted as negative
		}
		x := network.Point{Min: r.min, Max: r.max, At: high, SureMin: r.min, SureMax: r.max}
		switch {
		case !r.stated:
			b.assume(names[0] + " of " + m.ref + " holds at every current that it has")
			x.At = b.c.b.Const(anyCurrent)
		case low == 0:
		case high == 0:
			x = network.Point{Min: r.min, At: low}
		case low == high:
			x = network.Point{Min: r.min, Max: r.max, At: low}
		default:
			put(network.Point{Min: r.min, At: low})
			x.Min = 0
		}
		put(x)
	}
	return 0, points
}

// active is a part with notes that is none of the plain kinds.
func (b *boardNet) active(m *component) {
	g, d, s := m.end("G", "GATE"), m.end("D", "DRAIN"), m.end("S", "SOURCE")
	base, coll, em := m.end("B", "BASE"), m.end("C", "COLLECTOR"), m.end("E", "EMITTER")
	one, two := m.coilEnds()
	switch {
	case g != nil && d != nil && s != nil && len(m.supplies()) == 0:
		b.fieldEffect(m, g, d, s)
	case base != nil && coll != nil && em != nil && len(m.supplies()) == 0 && m.part.factNamed("spec", "CTR") == "":
		b.bipolar(m, base, coll, em)
	case one != nil && two != nil:
		b.coil(m, one, two)
	case m.isSuppressor(), m.part.factNamed("spec", "CTR") != "":
		b.junction(m)
		from, to := m.networkEnds()
		var others []*net
		for _, n := range b.here {
			if n != from && n != to {
				others = append(others, n)
			}
		}
		if len(m.supplies()) == 0 { // a transistor that light opens
			b.passive(m, others)
			return
		}
		for _, n := range others {
			b.stranger(n, m.ref)
		}
	case len(m.supplies()) == 0 && strings.Contains(m.part.title, "resistive"):
		b.passive(m, b.here)
	default:
		b.pins(m)
	}
}

// coilEnds are the nets of the coil of a part that notes its resistance.
func (m *component) coilEnds() (one, two *net) {
	if m.part.factNamed("spec", "R_COIL", "R_C") == "" {
		return nil, nil
	}
	if a, b, ok := m.ends(); ok {
		return a, b
	}
	return m.end("C1", "A1", "COIL1", "A", "+", "L1"), m.end("C2", "A2", "COIL2", "B", "-", "L2")
}

// coil is a relay or valve; its contacts are strangers.
func (b *boardNet) coil(m *component, one, two *net) {
	b.join(one, two)
	r := bound.Reg(0)
	if y := b.factOf(m, nil, []string{"R_COIL", "R_C"}); b.c.isOhm(y) {
		b.rest(y)
		r = y.val.Reg
	}
	b.elements[m] = b.n.Resistor(m.ref, b.at(one), b.at(two), r)
	for _, n := range b.here {
		if n != one && n != two {
			b.stranger(n, m.ref)
		}
	}
}

// fieldEffect is a field-effect transistor with its body diode.
func (b *boardNet) fieldEffect(m *component, g, d, s *net) {
	b.join(g, d, s)
	down, known := m.channel()
	if !known {
		b.elements[m] = b.n.Resistor(m.ref, b.at(d), b.at(s), 0)
		b.stranger(g, m.ref+".G")
		return
	}
	gate, source, anode, cathode := g, s, s, d
	if down {
		gate, source, anode, cathode = s, g, d, s
	}
	leak := bound.Reg(0)
	for _, r := range b.rows(m, nil, []string{"I_DSS"}, "~V_DS") {
		if r.max != 0 {
			leak, _ = b.magnitude(r.max)
		}
	}
	e := b.n.Channel(m.ref, b.at(d), b.at(s), b.at(gate), b.at(source), b.threshold(m), b.turns(m), leak)
	b.elements[m] = e
	if at, i := b.turnsOn(m); at != 0 {
		sign := 1
		if down {
			sign = -1
		}
		b.n.TurnsOn(e, at, i, sign)
	}
	body := network.Diode{NoLeak: true}
	for _, r := range b.rows(m, nil, []string{"V_SD"}, "I_S", "I_SD", "~V_GS") {
		switch {
		case r.max != 0 && r.atHigh != 0: // its minimum says nothing of a smaller current
			body.Forward = append(body.Forward, network.Point{Max: r.max, At: r.atHigh})
		case r.max != 0 && !r.stated:
			body.Forward = append(body.Forward, network.Point{Max: r.max, At: b.c.b.Const(anyCurrent)})
		}
	}
	if len(body.Forward) > 1 {
		body.Forward = body.Forward[:1]
	}
	b.n.Junction(m.ref+" body diode", b.at(anode), b.at(cathode), body)
	b.assume(settles)
	b.assume("the reverse voltage of the body diode of " + m.ref + " stays below its breakdown")
	if gates := b.gateLeak(m); gates != 0 {
		b.n.Load(m.ref+" gate", b.at(g), b.at(s), gates)
	} else {
		b.assume("the gate of " + m.ref + " takes no current")
	}
}

// channel says whether a field-effect transistor is a p-channel one, by its
// title or by the sign of the gate voltages in its note.
func (m *component) channel() (down, known bool) {
	switch {
	case m.says("p-channel", "pmos", "p-mos", "p channel"):
		return true, true
	case m.says("n-channel", "nmos", "n-mos", "n channel"):
		return false, true
	}
	for _, f := range m.part.factOrder {
		if isOnResistance(f.name) {
			for _, e := range f.rows {
				for _, k := range e.Conds {
					if a := readAsked(k.Value.S); k.Name == "V_GS" && a.nominal != "" {
						return a.nom < 0, true
					}
				}
			}
		}
	}
	for _, k := range [][]string{{"absmax", "V_DS", "V_DSS"}, {"spec", "V_GSth", "V_GS_th", "V_TH"}} {
		for _, e := range m.part.rowsOf(k[0], m.part.factNamed(k[0], k[1:]...)) {
			switch a := readAsked(e.RHS.S); {
			case a.high != "" && a.hi > 0 && (a.low == "" || a.lo >= 0):
				return false, true
			case a.low != "" && a.lo < 0 && (a.high == "" || a.hi <= 0):
				return true, true
			}
		}
	}
	return false, false
}

// threshold is the least gate voltage at which a channel may conduct, as a
// magnitude; 0 where it is not noted.
func (b *boardNet) threshold(m *component) bound.Reg {
	for _, r := range b.rows(m, nil, []string{"V_GS(th)", "V_GSth", "V_GS_th", "V_TH"}, "~I_D", "~V_DS") {
		low, high := b.signed(r.min), b.signed(r.max)
		switch {
		case low != nil && low.Sign() > 0:
			return r.min
		case high != nil && high.Sign() < 0:
			at, _ := b.magnitude(r.max)
			return at
		}
	}
	return 0
}

// turnsOn is the greatest threshold of a gate, as a magnitude, and the current
// at which it is stated; 0 where they are not noted.
func (b *boardNet) turnsOn(m *component) (at, current bound.Reg) {
	for _, r := range b.rows(m, nil, []string{"V_GS(th)", "V_GSth", "V_GS_th", "V_TH"}, "I_D", "~V_DS") {
		most := r.max
		if high := b.signed(r.max); high == nil || high.Sign() < 0 {
			most = r.min
		}
		if i := b.size(r.atLow); i != nil && i.Sign() > 0 && r.atLow == r.atHigh && b.size(most) != nil {
			at, _ = b.magnitude(most)
			current, _ = b.magnitude(r.atLow)
			return at, current
		}
	}
	return 0, 0
}

func (b *boardNet) signed(r bound.Reg) *big.Rat {
	if r == 0 {
		return nil
	}
	v, _ := b.c.b.ConstOf(r)
	return v
}

func (b *boardNet) size(r bound.Reg) *big.Rat {
	if r == 0 {
		return nil
	}
	_, v := b.magnitude(r)
	return v
}

// gateLeak is the current of a gate either way, 0 where it is not noted.
func (b *boardNet) gateLeak(m *component) bound.Reg {
	for _, r := range b.rows(m, nil, []string{"I_GSS", "I_GSSF"}, "~V_GS") {
		if most, _ := b.magnitude(r.max); r.max != 0 {
			return b.either("the gate current of "+m.ref, most)
		}
	}
	return 0
}

// either is a current up to so much in either direction; both are stated.
func (b *boardNet) either(name string, most bound.Reg) bound.Reg {
	down := new(big.Rat).Neg(one)
	share := b.c.newInput(&input{name: name + " as a share of its maximum", in: bound.Input{Lo: down, Hi: one, SureLo: down, SureHi: one}})
	return b.c.b.Binary(bound.OpMul, share, most)
}

// turns are the rows of the resistance of a channel, in the order of the gate
// voltage at which they are stated.
func (b *boardNet) turns(m *component) []network.Turn {
	var out []network.Turn
	for _, r := range b.rows(m, nil, []string{"R_DSon", "R_DS_on", "R_DSON", "R_ON"}, "V_GS", "~I_D") {
		at := r.atLow
		if x, y := b.size(r.atLow), b.size(r.atHigh); at == 0 || x != nil && y != nil && y.Cmp(x) < 0 {
			at = r.atHigh
		}
		at, v := b.magnitude(at)
		if v == nil || r.max == 0 {
			continue
		}
		k := 0
		for k < len(out) && b.size(out[k].At).Cmp(v) < 0 {
			k++
		}
		b.assume("R_DSon of " + m.ref + " holds at every drain current that it has")
		out = append(out[:k:k], append([]network.Turn{{At: at, Min: r.min, Max: r.max}}, out[k:]...)...)
	}
	return out
}

// bipolar is a bipolar transistor: two junctions at its base and something
// passive between collector and emitter.
func (b *boardNet) bipolar(m *component, base, coll, em *net) {
	b.join(base, coll, em)
	up := !m.says("pnp")
	_, points := b.curve(m, nil, []string{"V_BE", "V_BEon", "V_BE_on", "V_BEsat", "V_BE_sat"}, "I_B", "~I_C", "~V_CE")
	threshold := bound.Reg(0)
	if len(points) > 0 {
		threshold = points[0].Min
	}
	order := func(p, q *net) (network.Node, network.Node) {
		if !up {
			p, q = q, p
		}
		return b.at(p), b.at(q)
	}
	p, q := order(base, em)
	in := b.n.Junction(m.ref+" base", p, q, network.Diode{Forward: points, NoLeak: true})
	x, y := order(base, coll)
	b.n.Junction(m.ref+" base to collector", x, y, network.Diode{NoLeak: true})
	x, y = order(coll, em)
	b.elements[m] = b.n.Bipolar(m.ref, x, y, in, p, q, threshold, 0, network.Point{})
	b.assume("the junctions of " + m.ref + " take no reverse current and stay below their breakdown")
}
