package eval

import (
	"cmp"
	"fmt"
	"maps"
	"path"
	"slices"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// This file places parts as exported files have them: pins and nets of a pin
// table or test netlist, value, package and order code of a parts list. Rows of
// the notebook come first: a file adds what they do not say.

// filePart is what exported files say of one designator.
type filePart struct {
	ref   string
	src   *notebook.Source
	line  int
	pins  map[string]placedPin
	cells *tableRow // of a parts list; nil where none has it
}

// fromFiles is what the files under `placed from:` say together.
type fromFiles struct {
	parts  circuit.Index[*filePart]
	pins   filePins
	names  bool              // a file has names of pins
	tables bool              // a file has pins at all
	nets   map[string]string // net as a file spells it to its name in the notes
	tol    map[string]string // kind to the tolerance of those whose value states none
	entry  *notebook.Entry   // the first label
	has    map[string]bool   // columns of the parts lists
}

// placeFiles reads the files under `placed from:` and places what they have.
func (c reader) placeFiles() {
	files := c.exportedFiles("placed from")
	if len(files) == 0 {
		return
	}
	c.notCompared(files)
	c.readPads()
	x := &fromFiles{pins: filePins{}, entry: files[0].entry, has: map[string]bool{}}
	c.fromFiles = x
	for _, f := range files {
		c.readPlaced(x, f)
	}
	if len(x.parts.List) > maxPlaced {
		c.diagnose(notebook.Err, "placed-many", x.entry.Value, fmt.Sprintf("a design of more than %d placed parts", maxPlaced),
			"check it as several designs")
		return
	}
	c.readTolerances(x)
	c.nameNets(x)
	habits := c.listHabits(x)
	for _, p := range x.parts.List {
		c.placeFilePart(x, p, habits)
	}
}

// notCompared complains of a file that places parts and is compared with them.
func (c reader) notCompared(files []exportedFile) {
	for _, b := range c.blocks {
		for _, e := range b.Entries {
			if e.Label != "pin list" && e.Label != "netlist" && e.Label != "parts list" {
				continue
			}
			for _, f := range files {
				if path.Clean(f.name) == path.Clean(e.Trimmed()) {
					c.diagnose(notebook.Err, "placed-compared", e.Value, "`"+f.name+"` places parts, and is compared with them here",
						"comparing a file with itself shows nothing: drop one of the two labels", related(f.entry, "placed here"))
				}
			}
		}
	}
}

// readPlaced reads one file: a test netlist, a table of pins, or a parts list.
func (c reader) readPlaced(x *fromFiles, f exportedFile) {
	text, what := listText(f.data)
	src := notebook.NewSource(path.Join(path.Dir(f.entry.Text.Src.Path), f.name), "", []byte(text))
	left := f.leftOut()
	part := func(ref string, line int) *filePart {
		if left[ref] {
			return nil
		}
		p, ok := x.parts.Get(ref)
		if !ok {
			p = &filePart{ref: ref, src: src, line: line, pins: x.pins[ref]}
			x.parts.Enter(ref, p)
		}
		return p
	}
	pin := func(ref, number string, at placedPin) {
		if part(ref, at.line) == nil {
			return
		}
		x.tables = true
		if old, twice := x.pins.add(ref, number, at); twice {
			c.diagnose(notebook.Err, "placed-twice", notebook.TextOn(src, at.line, src.Line(at.line)),
				fmt.Sprintf("pin %s of %s is on %s and on %s", number, ref, old.net, cmp.Or(at.net, "no net")),
				"one pin, one net; a panel of several boards is exported as one")
		}
	}
	if nodes, records, odd := readTestNetlist([]byte(text)); what == "" && records > 0 {
		if odd > 0 {
			c.diagnose(notebook.Err, "exported-form", notebook.TextOn(src, odd, src.Line(odd)),
				"the designator and the pin are not in their columns", "export the board's test netlist in the form of IPC-D-356A")
		}
		cut := []testNode{}
		for _, n := range nodes {
			if !left[n.ref] && (len(n.ref) == refColumns || len(n.pin) == padColumns && n.pin[0] > '9' || n.cut) {
				cut = append(cut, n)
			}
			pin(n.ref, n.pin, placedPin{net: n.net, line: n.line})
		}
		if len(cut) > 0 {
			n := cut[0]
			c.diagnose(notebook.Err, "placed-cut", notebook.TextOn(src, n.line, src.Line(n.line)), fmt.Sprintf("the columns of a "+
				"test netlist may cut names here and on %d further lines: pin %s of %s on %s", len(cut)-1, n.pin, n.ref,
				cmp.Or(n.net, "no net")), "two names cut alike would be one: place the parts from a table of pins, or "+
				"export the long names of nets (NNAME)")
		}
		return
	}
	columns, needed := []string{"designator", "pin", "net", "name"}, []string{"designator", "pin", "net"}
	list := append([]string{"designator"}, listColumns...)
	named, _ := c.namedColumns(f, append(slices.Clone(columns), listColumns...))
	if h := findHeading(text, named, columns, needed); len(h.at) == 0 || !hasAll(h.at, needed) {
		columns, needed = list, list[:1]
	}
	t, ok := c.readTable(f, columns, needed)
	if !ok {
		return
	}
	if len(needed) > 1 {
		x.names = x.names || t.has["name"]
		c.eachPin(f, t, func(r tableRow) {
			pin(r.cells["designator"], r.cells["pin"], placedPin{r.cells["net"], r.cells["name"], r.line})
		})
		return
	}
	maps.Copy(x.has, t.has)
	lines := c.readLines(f, t)
	for _, s := range lines.bad {
		c.diagnose(notebook.Err, "placed-list", f.entry.Value, "`"+f.name+"`: "+s,
			"a panel of several boards is exported as one; correct the list")
	}
	for _, ref := range append(slices.Clone(lines.order), lines.foreign...) {
		r := lines.at[ref]
		if p := part(ref, r.line); p != nil && p.cells == nil {
			p.cells, p.src, p.line = &r, src, r.line
		}
	}
}

func hasAll(at map[string]int, needed []string) bool {
	return !slices.ContainsFunc(needed, func(n string) bool { _, ok := at[n]; return !ok })
}

// readTolerances reads `tolerances: resistor 5 %, capacitor 20 %`.
func (c reader) readTolerances(x *fromFiles) {
	x.tol = map[string]string{}
	c.eachCircuitLine("tolerances", func(e *notebook.Entry) {
		for _, item := range notebook.SplitList(e.Trimmed()) {
			kind, tol, _ := strings.Cut(item, " ")
			v := readListValue(tol, "resistor").tol
			if valueUnits[kind] == nil || v == nil || v.Sign() <= 0 {
				c.diagnose(notebook.Err, "tolerances-form", e.Value, "`"+item+"` does not state the tolerance of a kind",
					"write `tolerances: resistor 5 %, capacitor 20 %`, for values of the file that state none")
				continue
			}
			x.tol[kind] = trimFigure(v.FloatString(6)) + " %"
		}
	})
}

// eachCircuitLine visits the lines of a label in circuit blocks.
func (c reader) eachCircuitLine(label string, visit func(*notebook.Entry)) {
	for _, b := range c.blocks {
		for _, e := range b.Entries {
			if b.Kind == "circuit" && e.Label == label {
				visit(e)
			}
		}
	}
}

// nameNets gives the nets of the files their names in the notes: those of
// `nets:`, else the one that rows or values spell so but for case and a leading
// slash, else their own. Nets that differ in these alone stay apart.
func (c reader) nameNets(x *fromFiles) {
	x.nets = map[string]string{}
	folded := map[string][]string{}
	for _, p := range x.parts.List {
		for _, q := range x.pins[p.ref] {
			if _, seen := x.nets[q.net]; !seen && q.net != "" {
				x.nets[q.net] = q.net
				folded[foldNet(q.net)] = append(folded[foldNet(q.net)], q.net)
			}
		}
	}
	noted := append(c.values.Names(), "GND")
	for _, m := range c.Comps.List {
		for _, k := range m.Row.Conns {
			noted = append(noted, c.netOf(m, k))
		}
	}
	known := map[string]string{}
	slices.Sort(noted)
	for _, name := range noted {
		known[foldNet(name)], known["="+name] = name, name
	}
	for fold, spelled := range folded {
		if own := strings.TrimPrefix(spelled[0], "/"); len(spelled) == 1 {
			x.nets[spelled[0]] = cmp.Or(known["="+own], known[fold], own)
		}
	}
	c.eachCircuitLine("nets", func(e *notebook.Entry) {
		for _, item := range splitOutside(e.Trimmed()) {
			i := strings.LastIndexByte(item, '=')
			file, name := strings.Trim(strings.TrimSpace(item[:max(i, 0)]), `"`), strings.TrimSpace(item[i+1:])
			switch _, has := x.nets[file]; {
			case i < 0 || !notebook.IsName(name):
				c.diagnose(notebook.Err, "nets-form", e.Value, "`"+item+"` does not name a net of the file",
					"write `nets: \"+3V3\" = V3V3`: as the file spells it, and its name in these notes")
			case !has && x.nets["/"+file] != "":
				x.nets["/"+file] = name
			case !has:
				c.diagnose(notebook.Err, "nets-unknown", e.Value, "no file has a net `"+file+"`",
					notebook.HintNear(file, slices.Collect(maps.Keys(x.nets))))
			default:
				x.nets[file] = name
			}
		}
	})
	spelled := map[string]string{}
	for _, file := range slices.Sorted(maps.Keys(x.nets)) {
		if old, taken := spelled[x.nets[file]]; taken {
			c.diagnose(notebook.Err, "nets-joined", x.entry.Value, "`"+old+"` and `"+file+"` are two nets of the file, and both "+
				"would be "+x.nets[file], "give one of them another name: `nets: \""+file+"\" = NAME`")
		}
		spelled[x.nets[file]] = file
	}
}

// placeFilePart places one designator, or adds what the files say to its row.
func (c reader) placeFilePart(x *fromFiles, p *filePart, h listHabits) {
	off, unsure := false, ""
	if p.cells != nil {
		off, unsure = p.cells.isLeftOff()
	}
	m, placed := c.Comps.Get(p.ref)
	row := notebook.Placement{Refs: []string{p.ref}}
	e := notebook.RowOf(p.src, p.line, &row)
	if placed {
		row = *m.Row
		row.Conns, row.Options = slices.Clone(row.Conns), slices.Clone(row.Options)
	} else {
		if unsure != "" {
			c.diagnose(notebook.Err, "placed-fitted", e.Text, unsure+" does not say whether "+p.ref+" is fitted",
				"write yes or no, or give it a row of its own")
		}
		m = &circuit.Component{Ref: p.ref, Entry: e, Conns: map[string]*circuit.Net{}, PinNets: map[*circuit.Pin]*circuit.Net{}}
		if notebook.IsName(p.ref) { // any other can be named by no row or formula, and stays a stranger
			m.Part = c.partOf(p)
		}
	}
	old := m.Row
	m.Row, c.placedBy[m] = &row, p
	if m.Part == nil && (!placed || row.Value.Empty() && len(row.Options) == 0) {
		c.listedKind(x, m, p, h)
	}
	if off && !m.NotFitted() {
		row.Options = append(row.Options, notebook.TextOn(p.src, p.line, "do not populate"))
	}
	if m.Part == nil {
		c.joinEnds(x, m, p, old)
	} else {
		c.joinPins(x, m, p)
	}
	if placed {
		return
	}
	if m.Part != nil {
		row.Part = m.Part.ID
		m.Part.Placed = append(m.Part.Placed, m)
	}
	c.Comps.Enter(p.ref, m)
}

// partOf is the part whose order code, or else whose ID, the parts list states;
// nil where none is, or several are.
func (c reader) partOf(p *filePart) *circuit.Part {
	if p.cells == nil {
		return nil
	}
	var out []*circuit.Part
	for _, q := range c.Parts.List {
		if code := p.cells.cells["order code"]; code != "" && sells(q, code) {
			out = append(out, q)
		}
	}
	if q, ok := c.Parts.Get(units.FoldName(p.cells.cells["value"])); ok && len(out) == 0 {
		out = append(out, q)
	}
	if len(out) != 1 {
		return nil
	}
	if to, ok := c.Parts.Get(c.opt.swap[out[0].ID]); ok {
		return to
	}
	return out[0]
}

// conn joins an end or pin to the net that a file has for it.
func (x *fromFiles) conn(p *filePart, key string, q placedPin) notebook.Conn {
	at := notebook.TextOn(p.src, p.line, p.src.Line(p.line))
	return notebook.Conn{Pin: key, Net: x.nets[q.net], NetText: at, PinText: at}
}

// joinPins joins the pins of a part with notes, by number, where the row of the
// notebook does not.
func (c reader) joinPins(x *fromFiles, m *circuit.Component, p *filePart) {
	said := map[*circuit.Pin]bool{}
	for k, conn := range m.Row.Conns {
		for _, q := range m.PinsNamed(conn.Pin) {
			said[q] = true
		}
		if conn.Pin == "" && k < len(m.Pins()) {
			said[m.Pins()[k]] = true
		}
	}
	file := x.pins[p.ref]
	match, byNumber := c.matchPins(m, file, 0), m.ByNumber()
	for _, id := range slices.Sorted(maps.Keys(file)) {
		key := cmp.Or(match.key[id], id)
		q := byNumber[key]
		switch {
		case file[id].net == "":
			if q != nil && !said[q] && q.Row.Type == "bidirectional" { // its firmware keeps it from floating
				leave(m, q)
			}
			continue
		case q != nil && said[q]:
			m.Overruled = append(m.Overruled, key)
			continue
		case q != nil && !slices.Equal(m.PinsNamed(key), []*circuit.Pin{q}):
			key = "number " + key // another pin has it for its name
		}
		if q != nil {
			if m.FromFile == nil {
				m.FromFile = map[string]*circuit.Pin{}
			}
			m.FromFile[key] = q
		}
		m.Row.Conns = append(m.Row.Conns, x.conn(p, key, file[id]))
	}
}

// joinEnds joins the ends of a plain kind, unless its row says what it joins.
func (c reader) joinEnds(x *fromFiles, m *circuit.Component, p *filePart, row *notebook.Placement) {
	file := x.pins[p.ref]
	said := map[string]bool{}
	if row != nil && len(row.Conns) > 0 {
		for _, k := range row.Conns {
			said[k.Pin] = true
		}
		if circuit.TwoTerminal[m.Kind] || m.BareEnds() {
			m.Overruled = slices.Sorted(maps.Keys(file))
			return
		}
	}
	pads := c.padNames(m)
	joined := map[string]bool{} // of a two-terminal kind: nets that it has by now
	for _, id := range slices.Sorted(maps.Keys(file)) {
		q, key := file[id], id
		if end := circuit.Polarity(q.name); end != "" && strings.Contains("A K + -", end) {
			key = q.name
		}
		key = cmp.Or(pads[id], key)
		switch {
		case said[key] || said[id]:
			m.Overruled = append(m.Overruled, id)
		case q.net == "", circuit.TwoTerminal[m.Kind] && len(file) > 2 && joined[q.net]:
		default:
			joined[q.net] = true
			m.Row.Conns = append(m.Row.Conns, x.conn(p, key, q))
		}
	}
	if circuit.TwoTerminal[m.Kind] && len(m.Row.Conns) > 2 {
		c.diagnose(notebook.Err, "placed-nets", m.Entry.Text, fmt.Sprintf("%s, a %s, joins %d nets in the file", m.Ref, m.Kind,
			len(m.Row.Conns)), "a "+m.Kind+" joins two; note it as a part with its `pins:`")
	}
}

// comparePlaced asks that the pins of a part that a file places are those of
// its note. Its nets are the file's, or those of a row that overrules them.
func (c reader) comparePlaced(b *Check, x *fromFiles) {
	for _, m := range c.Comps.List {
		if c.placedBy[m] == nil || m.Part == nil || len(m.Pins()) == 0 || len(x.pins[m.Ref]) == 0 {
			continue
		}
		where := c.placedBy[m].src.Path
		cl := c.Claim(b, m.Ref, "The pins of "+m.Label()+" in "+where+" are those of its note.", m.Entry)
		file, notes := map[string]placedPin{}, m.ByNumber()
		for id, q := range c.matchPins(m, x.pins[m.Ref], 0).asNoted(x.pins[m.Ref]) {
			q.net = x.nets[q.net]
			if p := notes[id]; p != nil && slices.Contains(m.Overruled, id) {
				q.net = netName(m.DrawnNet(p))
			}
			file[id] = q
		}
		if d := c.pinDifferences(m, file, x.names); len(d) > 0 {
			cl.Settle(record.Failed, worded(d))
		} else {
			cl.Settle(record.Passed, fmt.Sprintf("%d pins agree with the note", len(file)))
		}
	}
}
