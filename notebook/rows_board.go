package notebook

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"guardband/units"
)

// This file reads the rows of a board: circuit and budget.

// circuitRow reads "REFS  WHAT {, OPTION}  CONNECTIONS  in use: CONDITIONS".
func (r *reader) circuitRow(e *Entry, t Text) bool {
	p := &Placement{}
	t = r.inUse(p, t)
	cs := circuitCells(t)
	if len(cs) < 2 {
		r.errorAt("row-cells", t, 0, len(t.S), "a row of a circuit needs a designator and what it is", "write U2  LDO30  VIN=V_CELL GND=GND")
		return false
	}
	ok := r.designators(p, cs[0])
	if !r.what(p, cs[1]) {
		return false
	}
	for _, c := range cs[2:] {
		r.connections(p, c)
	}
	r.checkNets(p, e.Text)
	e.Placement = p
	return ok
}

// circuitCells are the cells of a row of a circuit without its `in use:`. One
// blank ends the designators, and what is placed before the first PIN=NET.
func circuitCells(t Text) []Text {
	end := 0
	for rest := t; rest.S != ""; {
		first, after := word(rest)
		end = t.indexOf(first) + len(first.S)
		if rest = after; !strings.HasSuffix(first.S, ",") && !strings.HasPrefix(rest.S, ",") {
			break
		}
	}
	cs := cells(t.Slice(end, len(t.S)).Trim())
	if len(cs) > 0 {
		for w, rest := word(cs[0]); rest.S != ""; {
			if w, rest = word(rest); outsideQuotes(w.S, '=') > 0 {
				at := cs[0].indexOf(w)
				cs = append([]Text{cs[0].Slice(0, at).Trim(), cs[0].Slice(at, len(cs[0].S))}, cs[1:]...)
				break
			}
		}
	}
	return append([]Text{t.Slice(0, end)}, cs...)
}

// inUse takes "in use: conditions" off a row.
func (r *reader) inUse(p *Placement, t Text) Text {
	const words = "in use:"
	for i := range unquoted(t.S) {
		if !strings.HasPrefix(t.S[i:], words) || i > 0 && !isBlank(t.S[i-1]) {
			continue
		}
		conds := t.Slice(i+len(words), len(t.S)).Trim()
		if conds.S == "" {
			r.errorAt("cond-missing", t, i, i+len(words), "missing condition after \"in use:\"", "write in use: I_OUT = 10 mA")
		} else {
			p.InUse = r.conditions(conds, p)
		}
		return t.Slice(0, i).Trim()
	}
	return t
}

// role reads "P4 output" and "P0-P3 unused", what the firmware makes of pins;
// false of another condition.
func (r *reader) role(p *Placement, t Text) bool {
	pin, rest := word(t)
	if _, at, _ := operatorAt(t.S); rest.S == "" || at >= 0 {
		return false
	}
	role, after, ok := longest(rest, pinRoles)
	if hint := meant(rest.S, tableWords(pinRoles)); !ok && hint != "" || ok && after.S != "" {
		r.errorAt("pin-role", rest, 0, len(rest.S), fmt.Sprintf("%q is not a role of a pin", units.Clip(rest.S)),
			cmp.Or(hint, "write one of input, output, analog, analog input, analog output and unused; separate pins with semicolons"))
		return true
	}
	names := []string{pinName(pin.S)}
	if list, fine := openRange(pin.S); fine && len(list) > 1 {
		names = list
	}
	for _, n := range names {
		if ok {
			p.Roles = append(p.Roles, PinRole{Pin: n, Role: role, PinText: pin, Text: t})
		}
	}
	return ok
}

// designators reads "U2", "C4-C9", "R1, R2" and opens ranges.
func (r *reader) designators(p *Placement, t Text) bool {
	p.RefText = t
	ok := true
	for _, u := range t.List() {
		list, fine := openRange(u.S)
		if !fine || len(list) == 1 && strings.Contains(u.S, "-") {
			r.errorAt("range-bad", u, 0, len(u.S), fmt.Sprintf("%q is not an ascending range of designators",
				units.Clip(u.S)), "write C4-C9: the same letters, rising numbers")
			ok = false
			continue
		}
		if len(list) == 1 {
			name, fine := r.name(u, "the designator")
			if !fine {
				ok = false
				continue
			}
			list[0] = name
		} else if !IsName(list[0]) {
			r.errorAt("name-bad", u, 0, len(u.S), fmt.Sprintf("%q is not a designator", list[0]), "designators are letters and a number: C4")
			ok = false
			continue
		}
		p.Refs = append(p.Refs, list...)
	}
	if len(p.Refs) > MaxRefs {
		r.errorAt("range-bad", t, 0, len(t.S), fmt.Sprintf("a row of %d designators; at most %d are read", len(p.Refs), MaxRefs), "")
		return false
	}
	return ok && len(p.Refs) > 0
}

// what reads "PART {, option}" or "KIND value {, option}".
func (r *reader) what(p *Placement, t Text) bool {
	opts := r.options(t)
	p.Options = opts[1:]
	if kind, value, ok := longest(opts[0], placedKinds); ok {
		p.Kind, p.Value = kind.kind, value
		p.PartText = opts[0].Slice(0, len(opts[0].S)-len(value.S)).Trim()
		return true
	}
	first, rest := word(opts[0])
	p.Part, p.PartText = units.FoldName(first.S), first
	if rest.S == "" {
		return true
	}
	hint := cmp.Or(meant(first.S, tableWords(placedKinds)), "options follow a comma; nets have a cell of their own, after two spaces")
	r.errorAt("row-part", rest, 0, len(rest.S), fmt.Sprintf("unexpected %q after the part", units.Clip(rest.S)), hint)
	return false
}

// connections reads "PIN=NET ..." or "NET NET".
func (r *reader) connections(p *Placement, t Text) {
	for t.S != "" {
		var w Text
		w, t = word(t)
		k := outsideQuotes(w.S, '=')
		switch {
		case k == 0 || k == len(w.S)-1 && k >= 0:
			r.errorAt("row-net", w, 0, len(w.S), "write a pin and its net around \"=\" without spaces", "write VIN=V_CELL")
		case k > 0:
			c := Conn{Pin: pinName(w.S[:k]), Net: pinName(w.S[k+1:]), NetText: w.Slice(k+1, len(w.S)), PinText: w.Slice(0, k)}
			r.netRange(p, &c)
			p.Conns = append(p.Conns, c)
		default:
			c := Conn{Net: pinName(w.S), NetText: w}
			r.netRange(p, &c)
			p.Conns = append(p.Conns, c)
		}
	}
}

// netRange opens "OUT1..OUT4", one net for each designator.
func (r *reader) netRange(p *Placement, c *Conn) {
	a, b, ok := strings.Cut(c.Net, "..")
	if !ok || unquote(c.NetText.S) != c.NetText.S {
		return
	}
	nets := countUp(a, b)
	switch {
	case nets == nil:
		r.errorAt("range-bad", c.NetText, 0, len(c.NetText.S), fmt.Sprintf("%q is not an ascending range of nets",
			units.Clip(c.Net)), "a run is of one name with rising numbers, as in OUT1..OUT4; other nets are named one by one, each to its pin")
	case len(nets) != len(p.Refs):
		r.errorAt("range-bad", c.NetText, 0, len(c.NetText.S), fmt.Sprintf("%d nets for %d designators", len(nets),
			len(p.Refs)), "give one net for each, or one for all")
	default:
		c.Nets = nets
	}
}

// checkNets complains of a row that mixes both forms, or joins the wrong
// number of nets.
func (r *reader) checkNets(p *Placement, row Text) {
	bare := 0
	for _, c := range p.Conns {
		if c.Pin == "" {
			bare++
		}
	}
	switch {
	case bare > 0 && bare < len(p.Conns):
		for i, c := range p.Conns {
			if c.Pin == "" {
				hint := "write PIN=" + c.Net
				if i > 0 && p.Conns[i-1].Net == "not" {
					hint = "leave a pin that is not connected out of the row"
				}
				r.errorAt("row-net", c.NetText, 0, len(c.NetText.S), "some nets of this row lack their pin", hint)
				break
			}
		}
		p.Conns = slices.DeleteFunc(p.Conns, func(c Conn) bool { return c.Pin == "" }) // told once
	case bare == 0 || p.Kind == "":
	default:
		want := 0
		for _, k := range placedKinds {
			if k.kind == p.Kind {
				want = k.nets
			}
		}
		if want > 0 && want != bare {
			last := p.Conns[len(p.Conns)-1].NetText
			r.errorAt("row-net", last, 0, len(last.S), fmt.Sprintf("a %s connects %d nets; this row lists %d", p.Kind,
				want, bare), "its value and options come before the nets, in one cell")
		}
	}
}

// budgetRow reads "REF  STATE  QUANTITY [for T every T]" or "REF from RAIL".
func (r *reader) budgetRow(e *Entry, t Text) bool {
	l := &LoadRow{}
	cs := cells(t)
	l.RefText = cs[0]
	if ref, rest := word(cs[0]); len(cs) == 1 && strings.HasPrefix(rest.S, "from ") {
		l.RefText = ref
		cs = []Text{ref, rest}
	}
	l.Ref = pinName(l.RefText.S)
	rest := Text{}
	switch {
	case len(cs) >= 3:
		l.State, l.StateText, rest = cs[1].S, cs[1], cs[2]
		if len(cs) > 3 {
			rest = t.Slice(t.indexOf(cs[2]), len(t.S)).Trim()
		}
	case len(cs) == 2 && strings.HasPrefix(cs[1].S, "from "):
		rest = cs[1]
	case len(cs) == 2 && startsQuantity(cs[1].S):
		rest = cs[1]
	default:
		r.errorAt("row-load", t, 0, len(t.S), "a row of a budget needs load, state and current, separated by two spaces", "write "+partedLoad(t.S))
		return false
	}
	if strings.HasPrefix(rest.S, "from ") {
		l.FromText = rest.Slice(len("from "), len(rest.S)).Trim()
		l.From = pinName(l.FromText.S)
		e.Load = l
		return true
	}
	e.Load = l
	return r.duty(l, rest)
}

// startsQuantity says that a cell is a number or a column, so that the state
// was left out: the load is there in all states.
func startsQuantity(s string) bool {
	first, _, _ := strings.Cut(s, " ")
	return first != "" && (isDigit(first[0]) || first[0] == '.' || first == "min" || first == "typ" || first == "max")
}

// partedLoad is a row of a budget whose words stand one blank apart, with its
// cells parted, or else an example.
func partedLoad(s string) string {
	f := strings.Fields(s)
	for i := 1; i < len(f) && i <= 2; i++ {
		if startsQuantity(f[i]) {
			return strings.Join(append(f[:i:i], strings.Join(f[i:], " ")), "  ")
		}
	}
	return "U1  awake  6.2 mA for 40 ms every 10 min"
}

// duty parts "6.2 mA for 40 ms every 10 min".
func (r *reader) duty(l *LoadRow, t Text) bool {
	l.Value = t
	k := wordAt(t.S, "for")
	if k < 0 {
		if e := wordAt(t.S, "every"); e >= 0 {
			r.errorAt("row-duty", t, e, e+len("every"), "\"every\" without \"for\"", "write for 40 ms every 10 min")
			return false
		}
		return true
	}
	l.Value = t.Slice(0, k).Trim()
	times := t.Slice(k+len("for"), len(t.S)).Trim()
	e := wordAt(times.S, "every")
	if e < 0 {
		r.errorAt("row-duty", t, k, k+len("for"), "\"for\" without \"every\"", "write for 40 ms every 10 min")
		return false
	}
	l.For, l.Every = times.Slice(0, e).Trim(), times.Slice(e+len("every"), len(times.S)).Trim()
	if l.For.S == "" || l.Every.S == "" || l.Value.S == "" {
		r.errorAt("row-duty", t, 0, len(t.S), "current, duration and period must all be there", "write 6.2 mA  for 40 ms every 10 min")
		return false
	}
	return true
}

// wordAt is where a word stands in s between blanks; -1 if it does not.
func wordAt(s, w string) int {
	for at := 0; ; {
		k := strings.Index(s[at:], w)
		if k < 0 {
			return -1
		}
		k += at
		if (k == 0 || isBlank(s[k-1])) && (k+len(w) == len(s) || isBlank(s[k+len(w)])) {
			return k
		}
		at = k + 1
	}
}
