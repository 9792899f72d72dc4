package eval

import (
	"fmt"
	"maps"
	"slices"
	"sort"
	"strings"

	"guardband/notebook"
)

// pinList compares the notes with a pin list exported from a schematic.
var pinList = &builtin{
	name: "pin-list",
	rule: "The pin list named by `pin list:` has every placed part with the pins and nets of the notes. Columns: designator, pin, net, and name where it has one; " +
		"`columns: pin = Pin number, net = Signal` names headings that differ.",
	source: "common practice",
	run: func(c *compiler, b *builtin) {
		for _, f := range c.exportedFiles("pin list") {
			t, ok := c.readTable(f, []string{"designator", "pin", "net", "name"}, []string{"designator", "pin", "net"})
			if !ok {
				continue
			}
			pins := map[string]map[string]placedPin{}
			var order []string
			for _, r := range t.rows {
				ref, number := r.cells["designator"], r.cells["pin"]
				if ref == "" || number == "" {
					if r.cells["net"] != "" {
						c.whole(notebook.Warn, "exported-form", f.entry.Value, fmt.Sprintf("`%s`, line %d: a net without a designator or a pin is left out: %s", f.name, r.line, r.cells["net"]), "export the list with a designator and a pin number on each line")
					}
					continue
				}
				if pins[ref] == nil {
					pins[ref] = map[string]placedPin{}
					order = append(order, ref)
				}
				if old, twice := pins[ref][number]; twice && !sameNetName(old.net, r.cells["net"]) {
					c.whole(notebook.Err, "exported-form", f.entry.Value, fmt.Sprintf("`%s`, line %d: pin %s of %s stands twice, on %s and on %s", f.name, r.line, number, ref, orOpen(old.net), orOpen(r.cells["net"])), "")
				}
				pins[ref][number] = placedPin{r.cells["net"], r.cells["name"], r.line}
			}
			c.comparePins(b, f, pins, order, t.has["name"])
		}
	},
}

// comparePins makes a claim for each part with notes, and one for the rest.
func (c *compiler) comparePins(b *builtin, f exportedFile, pins map[string]map[string]placedPin, order []string, names bool) {
	rest, restBad, bare, turned := 0, []string{}, []string{}, []string{}
	for _, m := range c.comps.list {
		if m.notFitted() {
			continue
		}
		file := pins[m.ref]
		if m.part != nil && len(m.part.pins) > 0 {
			cl := c.builtClaim(b, m.ref, "The pins of "+m.label()+" in "+f.name+" are those of the notes.", f.entry)
			switch d := []string(nil); {
			case file == nil:
				cl.settle(Failed, m.ref+" is not in "+f.name)
			default:
				if d = c.pinDifferences(m, file, names); len(d) > 0 {
					cl.settle(Failed, worded(d))
				} else {
					cl.settle(Passed, fmt.Sprintf("%d pins agree", len(file)))
				}
			}
			continue
		}
		switch {
		case m.part == nil:
		case m.part.hasNoPins() && file != nil:
			restBad = append(restBad, m.ref+" has pins in the file, none by the notes")
			continue
		case m.part.hasNoPins():
			continue
		case file == nil:
			restBad = append(restBad, m.ref+" is not in the file")
			continue
		default:
			bare = append(bare, m.ref+" (part "+m.part.id+")")
			continue
		}
		rest++
		if d := kindDifference(m, file); d != "" {
			restBad = append(restBad, d)
		} else if d, known := wayRound(m, file); d != "" {
			restBad = append(restBad, d)
		} else if !known {
			turned = append(turned, m.ref)
		}
	}
	for _, ref := range order {
		if m, ok := c.comps.get(ref); !ok || m.notFitted() {
			restBad = append(restBad, ref+" is in the file, not in the notes")
		}
	}
	cl := c.builtClaim(b, "others", "The other parts in "+f.name+" are those of the notes.", f.entry)
	cl.lacksPins(bare)
	if len(turned) > 0 {
		cl.lacks("no fact", "which way round "+strings.Join(turned, ", ")+" stands in the file is not known: its pins do not go by the names of the notes", "name the pins of the symbol as the row does, and export the column `name`")
	}
	if len(restBad) > 0 {
		cl.settle(Failed, worded(restBad))
	} else {
		cl.settle(Passed, fmt.Sprintf("%d parts without notes agree, no further ones stand in the file", rest))
	}
}

// hasNoPins says that the notes state `pins: none`.
func (p *part) hasNoPins() bool {
	e := p.attrs["pins"]
	return e != nil && value(e) == "none"
}

// lacksPins opens a comparison for parts whose notes have no pins to compare.
func (cl *claim) lacksPins(refs []string) {
	if len(refs) > 0 {
		cl.lacks("no fact", "what the file joins to "+strings.Join(refs, ", ")+" cannot be compared: no pins are noted", "note `pins:` from the pin table, or `pins: none` for a part without any")
	}
}

// bareOf names a placed part that a file joins to nets, but whose notes have
// no pins; "" for any other designator.
func (c *compiler) bareOf(ref string) string {
	m, ok := c.comps.get(ref)
	if !ok || m.notFitted() || m.part == nil || len(m.part.pins) > 0 || m.part.hasNoPins() {
		return ""
	}
	return m.ref + " (part " + m.part.id + ")"
}

// kindDifference compares a component of a plain kind by the nets it joins,
// whichever way round.
func kindDifference(m *component, file map[string]placedPin) string {
	var got, want []string
	for _, p := range file {
		got = append(got, strings.ToUpper(strings.TrimPrefix(p.net, "/")))
	}
	seen := map[*net]bool{}
	for k, n := range m.conns {
		if d := m.drawnConns[k]; d != nil {
			n = d
		}
		if !seen[n] {
			seen[n] = true
			want = append(want, strings.ToUpper(strings.TrimPrefix(n.name, "/")))
		}
	}
	sort.Strings(got)
	sort.Strings(want)
	switch {
	case file == nil:
		return m.ref + " is not in the file"
	case strings.Join(dedupe(got), ", ") != strings.Join(dedupe(want), ", "):
		return m.ref + " joins " + strings.Join(got, ", ") + " in the file, " + strings.Join(want, ", ") + " in the notes"
	}
	return ""
}

// wayRound compares a component whose ends the notes name, a diode by A and K,
// end by end. known is false where the file has other names for its pins.
func wayRound(m *component, file map[string]placedPin) (difference string, known bool) {
	known = true
	for k, conn := range m.row.Conns {
		if conn.Pin == "" || k > 1 {
			continue
		}
		id := string(rune('1' + k))
		n := m.drawnEnd(id)
		found := false
		for _, number := range slices.Sorted(maps.Keys(file)) {
			p := file[number]
			if strings.EqualFold(number, conn.Pin) || strings.EqualFold(p.name, conn.Pin) {
				if found = true; !sameNetName(p.net, netName(n)) {
					return fmt.Sprintf("%s of %s is on %s in the file, on %s in the notes", conn.Pin, m.ref, orOpen(p.net), orOpen(netName(n))), true
				}
			}
		}
		known = known && found
	}
	return "", known
}

func dedupe(sorted []string) []string {
	var out []string
	for i, s := range sorted {
		if i == 0 || s != sorted[i-1] {
			out = append(out, s)
		}
	}
	return out
}

// netlistFile compares the notes with a board's test netlist.
var netlistFile = &builtin{
	name:   "netlist",
	rule:   "The test netlist named by `netlist:` joins the same pins as the notes, net by net. Nets are known by their pins, so another name alone is told, not failed.",
	source: "IPC-D-356A (bare substrate electrical test data format), access records 317 and 327",
	run: func(c *compiler, b *builtin) {
		for _, f := range c.exportedFiles("netlist") {
			nodes, records := readTestNetlist(f.data)
			if records == 0 {
				c.whole(notebook.Err, "exported-form", f.entry.Value, "`"+f.name+"` has no access record (317 or 327) of a test netlist", "export the board's test netlist in the form of IPC-D-356A")
				continue
			}
			c.compareNets(b, f, nodes)
		}
	},
}

// compareNets makes a claim for each net of the notes and one for nets that
// only the file has.
func (c *compiler) compareNets(b *builtin, f exportedFile, nodes []testNode) {
	byPin := map[string]string{} // "U1.3" to the file's net
	byNet := map[string][]string{}
	refs := map[string]bool{}
	for _, n := range nodes {
		key := n.ref + "." + c.endNamed(n.ref, n.pin)
		refs[n.ref] = true
		if _, twice := byPin[key]; !twice && n.net != "" && c.bareOf(n.ref) == "" {
			byNet[n.net] = append(byNet[n.net], key)
		}
		byPin[key] = n.net
	}
	c.turnEnds(refs, byPin, byNet)
	used := map[string]bool{}
	for _, n := range c.drawnNets() {
		want := n.testPins(refs)
		if len(want) == 0 {
			continue
		}
		cl := c.builtClaim(b, n.name, "Net "+n.name+" joins in "+f.name+" what it joins in the notes.", f.entry)
		name := fileNet(n.name, want, byPin)
		used[name] = true
		if d := netDifferences(name, want, byPin, byNet[name]); len(d) > 0 {
			cl.settle(Failed, worded(d))
			continue
		}
		text := fmt.Sprintf("%d pins agree", len(want))
		if !sameNetName(name, n.name) {
			text += "; the file names the net " + name
		}
		cl.settle(Passed, text)
	}
	c.netlistRest(b, f, byNet, used, refs)
}

// testPins are the pins of a net as a test netlist counts them, of the parts
// that the file has.
func (n *net) testPins(refs map[string]bool) []string {
	var out []string
	for _, j := range n.joined {
		if j.comp.notFitted() {
			continue
		}
		if j.pin == nil {
			out = append(out, fmt.Sprintf("%s.%d", j.comp.ref, j.end))
			continue
		}
		for _, k := range j.pin.row.Numbers {
			out = append(out, j.comp.ref+"."+k)
		}
	}
	return out
}

// fileNet is the net of the file that holds most pins of a net of the notes;
// among equals the one of its name.
func fileNet(name string, want []string, byPin map[string]string) string {
	count := map[string]int{}
	best := ""
	for _, k := range want {
		s := byPin[k]
		if s == "" {
			continue
		}
		count[s]++
		if best == "" || count[s] > count[best] || count[s] == count[best] && sameNetName(s, name) {
			best = s
		}
	}
	return best
}

func netDifferences(name string, want []string, byPin map[string]string, have []string) []string {
	var out []string
	wanted := map[string]bool{}
	for _, k := range want {
		wanted[k] = true
		got, there := byPin[k]
		switch {
		case !there:
			out = append(out, k+" is not in the file")
		case got != name:
			out = append(out, k+" is on "+orOpen(got)+" in the file")
		}
	}
	for _, k := range have {
		if !wanted[k] {
			out = append(out, k+" is on it in the file, not in the notes")
		}
	}
	return out
}

// netlistRest tells nets and designators that only the file has.
func (c *compiler) netlistRest(b *builtin, f exportedFile, byNet map[string][]string, used, refs map[string]bool) {
	var extra, bare []string
	for name, pins := range byNet {
		if !used[name] && len(pins) > 1 {
			extra = append(extra, "net "+name+" ("+strings.Join(pins, ", ")+") is not in the notes")
		}
	}
	for ref := range refs {
		if m, ok := c.comps.get(ref); !ok || m.notFitted() {
			extra = append(extra, ref+" is in the file, not in the notes")
		}
		if s := c.bareOf(ref); s != "" {
			bare = append(bare, s)
		}
	}
	sort.Strings(extra)
	sort.Strings(bare)
	cl := c.builtClaim(b, "others", "No further net or part stands in "+f.name+".", f.entry)
	cl.lacksPins(bare)
	if len(extra) > 0 {
		cl.settle(Failed, worded(extra))
	} else {
		cl.settle(Passed, "no further net or part stands in the file")
	}
}
