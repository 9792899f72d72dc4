package eval

import (
	"cmp"
	"fmt"
	"maps"
	"path"
	"slices"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/lists"
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
	pins  map[string]lists.Pin
	cells *lists.Row // of a parts list; nil where none has it
}

// fromFiles is what the files under `placed from:` say together.
type fromFiles struct {
	parts circuit.Index[*filePart]
	pins  lists.PinMap
	names bool              // a file has names of pins
	nets  map[string]string // net as a file spells it to its name in the notes
	tol   map[string]string // kind to the tolerance of those whose value states none
	entry *notebook.Entry   // the first label
	has   map[string]bool   // columns of the parts lists
	ohms  bool              // they write some resistor with k, M or R
}

// placeFiles reads the files under `placed from:` and places what they have.
func (c reader) placeFiles() {
	files := c.Exported("placed from")
	if len(files) == 0 {
		return
	}
	c.notCompared(files)
	c.readPads()
	x := &fromFiles{pins: lists.PinMap{}, entry: files[0].Entry, has: map[string]bool{}}
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
	for _, p := range x.parts.List {
		c.placeFilePart(x, p)
	}
}

// notCompared complains of a file that places parts and is compared with them.
func (c reader) notCompared(files []*Exported) {
	for _, b := range c.blocks {
		for _, e := range b.Entries {
			if e.Label != "pin list" && e.Label != "netlist" && e.Label != "parts list" {
				continue
			}
			for _, f := range files {
				if path.Clean(f.Name) == path.Clean(e.Trimmed()) {
					c.diagnose(notebook.Err, "placed-compared", e.Value, "`"+f.Name+"` places parts, and is compared with them here",
						"comparing a file with itself shows nothing: drop one of the two labels", related(f.Entry, "placed here"))
				}
			}
		}
	}
}

// readPlaced reads one file: a test netlist, a table of pins, or a parts list.
func (c reader) readPlaced(x *fromFiles, f *Exported) {
	part := func(ref string, line int) *filePart {
		if f.Left[ref] {
			return nil
		}
		p, ok := x.parts.Get(ref)
		if !ok {
			p = &filePart{ref: ref, src: f.src, line: line, pins: x.pins[ref]}
			x.parts.Enter(ref, p)
		}
		return p
	}
	if f.Form == lists.Parts {
		maps.Copy(x.has, f.Has)
		lines := f.Lines(f.Left, c.isPlaced)
		x.ohms = x.ohms || lines.InOhms()
		for _, s := range lines.Bad {
			c.diagnose(notebook.Err, "placed-list", f.Entry.Value, "`"+f.Name+"`: "+s,
				"a panel of several boards is exported as one; correct the list")
		}
		for _, ref := range append(slices.Clone(lines.Order), lines.Foreign...) {
			r := lines.At[ref]
			if p := part(ref, r.Line); p != nil && p.cells == nil {
				p.cells, p.src, p.line = &r, f.src, r.Line
			}
		}
		return
	}
	x.names = x.names || f.Has["name"]
	var cut []lists.Row
	for _, r := range f.Rows {
		ref, pin := r.Cells["designator"], r.Cells["pin"]
		if part(ref, r.Line) == nil {
			continue
		}
		c.addPin(f, x.pins, r)
		if f.Form == lists.Netlist && (len(ref) == lists.RefColumns || len(pin) == lists.PadColumns && pin[0] > '9' || r.Cut) {
			cut = append(cut, r)
		}
	}
	if len(cut) > 0 {
		r := cut[0]
		c.diagnose(notebook.Err, "placed-cut", f.at(r.Line), fmt.Sprintf("the columns of a test netlist may cut names here and on %d "+
			"further lines: pin %s of %s on %s", len(cut)-1, r.Cells["pin"], r.Cells["designator"], cmp.Or(r.Cells["net"], "no net")),
			"two names cut alike would be one: place the parts from a table of pins, or export the long names of nets (NNAME)")
	}
}

// isPlaced says that a designator is one of the notes.
func (c *compiler) isPlaced(ref string) bool { _, ok := c.Comps.Get(ref); return ok }

// readTolerances reads `tolerances: resistor 5 %, capacitor 20 %`.
func (c reader) readTolerances(x *fromFiles) {
	x.tol = map[string]string{}
	c.eachCircuitLine("tolerances", func(e *notebook.Entry) {
		for _, item := range notebook.SplitList(e.Trimmed()) {
			kind, tol, _ := strings.Cut(item, " ")
			v := lists.ReadValue(tol, "resistor").Tol
			if !lists.HasValue(kind) || v == nil || v.Sign() <= 0 {
				c.diagnose(notebook.Err, "tolerances-form", e.Value, "`"+item+"` does not state the tolerance of a kind",
					"write `tolerances: resistor 5 %, capacitor 20 %`, for values of the file that state none")
				continue
			}
			x.tol[kind] = lists.TrimFigure(v.FloatString(6)) + " %"
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
			if _, seen := x.nets[q.Net]; !seen && q.Net != "" {
				x.nets[q.Net] = q.Net
				folded[lists.FoldNet(q.Net)] = append(folded[lists.FoldNet(q.Net)], q.Net)
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
		known[lists.FoldNet(name)], known["="+name] = name, name
	}
	for fold, spelled := range folded {
		if own := strings.TrimPrefix(spelled[0], "/"); len(spelled) == 1 {
			x.nets[spelled[0]] = cmp.Or(known["="+own], known[fold], own)
		}
	}
	c.eachCircuitLine("nets", func(e *notebook.Entry) {
		for _, item := range lists.SplitOutside(e.Trimmed()) {
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
func (c reader) placeFilePart(x *fromFiles, p *filePart) {
	off, unsure := false, ""
	if p.cells != nil {
		off, unsure = p.cells.LeftOff()
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
		c.listedKind(x, m, p)
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
		if code := p.cells.Cells["order code"]; code != "" && lists.Sells(q, code) {
			out = append(out, q)
		}
	}
	if q, ok := c.Parts.Get(units.FoldName(p.cells.Cells["value"])); ok && len(out) == 0 {
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
func (x *fromFiles) conn(p *filePart, key string, q lists.Pin) notebook.Conn {
	at := notebook.TextOn(p.src, p.line, p.src.Line(p.line))
	return notebook.Conn{Pin: key, Net: x.nets[q.Net], NetText: at, PinText: at}
}

// joinPins joins the pins of a part with notes, by number, where the row of the
// notebook does not.
func (c reader) joinPins(x *fromFiles, m *circuit.Component, p *filePart) {
	said := map[*circuit.Pin]notebook.Text{}
	for k, conn := range m.Row.Conns {
		for _, q := range m.PinsNamed(conn.Pin) {
			said[q] = conn.NetText
		}
		if conn.Pin == "" && k < len(m.Pins()) {
			said[m.Pins()[k]] = conn.NetText
		}
	}
	file := x.pins[p.ref]
	match, byNumber := c.matcher().Match(m, file), m.ByNumber()
	for _, id := range slices.Sorted(maps.Keys(file)) {
		key := cmp.Or(match.Key[id], id)
		q := byNumber[key]
		row, overrules := said[q]
		switch {
		case file[id].Net == "":
			if q != nil && !overrules && q.Row.Type == "bidirectional" { // its firmware keeps it from floating
				leave(m, q)
			}
			continue
		case q != nil && overrules:
			if net := c.netOf(m, x.conn(p, key, file[id])); net != row.S {
				c.diagnose(notebook.Warn, "pin-overruled", row, "`"+q.Row.Name+"` of "+m.Ref+" is on `"+net+
					"` in the exported file, and this row has it on `"+row.S+"`", "drop it here, or export the file again")
			}
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
	pads := c.Pads(m)
	joined := map[string]bool{} // of a two-terminal kind: nets that it has by now
	for _, id := range slices.Sorted(maps.Keys(file)) {
		q, key := file[id], id
		if end := circuit.Polarity(q.Name); end != "" && strings.Contains("A K + -", end) {
			key = q.Name
		}
		key = cmp.Or(pads[id], key)
		switch {
		case said[key] || said[id]:
			m.Overruled = append(m.Overruled, id)
		case q.Net == "", circuit.TwoTerminal[m.Kind] && len(file) > 2 && joined[q.Net]:
		default:
			joined[q.Net] = true
			m.Row.Conns = append(m.Row.Conns, x.conn(p, key, q))
		}
	}
	if circuit.TwoTerminal[m.Kind] && len(m.Row.Conns) > 2 {
		c.diagnose(notebook.Err, "placed-nets", m.Entry.Text, fmt.Sprintf("%s, a %s, joins %d nets in the file", m.Ref, m.Kind,
			len(m.Row.Conns)), "a "+m.Kind+" joins two; note it as a part with its `pins:`")
	}
}

// FromFile is what exported files say of a part that they place: its pins on the nets of the notes, those of a row that
// overrules them on its own, and its line of a parts list; nil for a part that none places.
type FromFile struct {
	Where string // the last of the files
	Pins  map[string]lists.Pin
	Named bool       // a file has names of pins
	Row   *lists.Row // nil where no parts list has it
	Has   map[string]bool
}

// FromFile tells what places a part.
func (c *compiler) FromFile(m *circuit.Component) *FromFile {
	p, x := c.placedBy[m], c.fromFiles
	if p == nil {
		return nil
	}
	out := &FromFile{Where: p.src.Path, Pins: map[string]lists.Pin{}, Named: x.names, Row: p.cells, Has: x.has}
	notes := m.ByNumber()
	for id, q := range c.matcher().Match(m, x.pins[m.Ref]).AsNoted(x.pins[m.Ref]) {
		q.Net = x.nets[q.Net]
		if p := notes[id]; p != nil && slices.Contains(m.Overruled, id) {
			q.Net = circuit.NetName(m.DrawnNet(p))
		}
		out.Pins[id] = q
	}
	return out
}
