package eval

import (
	"strings"

	"guardband/notebook"
)

// collect reads every block into the tables of the compiler. Names are
// entered, nothing is worked out yet.
func (c *compiler) collect() {
	for _, n := range c.book.Notebooks {
		c.blocks = append(c.blocks, n.Blocks...)
	}
	readers := map[string]func(*notebook.Block){
		"design": c.readDesign, "source": c.readSource, "part": c.readPart,
		"circuit": c.readCircuit, "budget": c.readBudget,
		"shortlist": c.readShortlist, "readings": c.readReadings, "review": c.readReview,
	}
	// Parts and sources first: a circuit may stand before the parts it places.
	for _, first := range []bool{true, false} {
		for _, b := range c.blocks {
			if early := b.Kind == "source" || b.Kind == "part"; early != first {
				continue
			}
			switch b.Kind {
			case "values":
				c.readValues(b)
			case "claim":
				c.readClaim(b)
			default:
				readers[b.Kind](b)
			}
		}
	}
	for _, n := range c.book.Notebooks {
		for _, b := range n.Blocks {
			c.readCites(b, b.Entries)
		}
		c.readProse(n.Content)
	}
	c.checkDeratings()
}

// value joins an attribute's text, trimmed.
func value(e *notebook.Entry) string { return strings.TrimSpace(e.Value.S) }

// whole complains about all of a text.
func (c *compiler) whole(sev notebook.Severity, code string, t notebook.Text, msg, hint string, rel ...notebook.Related) {
	c.diags.At(sev, code, t, 0, len(t.S), msg, hint, rel...)
}

func (c *compiler) readDesign(b *notebook.Block) {
	d := &c.design
	set := func(at *string, e *notebook.Entry) {
		if *at == "" {
			*at = value(e)
		}
	}
	for _, e := range b.Entries {
		switch e.Label {
		case "title":
			set(&d.title, e)
		case "revision":
			set(&d.revision, e)
		case "author":
			set(&d.author, e)
		case "date":
			set(&d.date, e)
		case "evidence":
			d.evidence = e
		case "states":
			c.readStates(e)
		case "ambient":
			if d.ambient != nil {
				c.whole(notebook.Err, "ambient-twice", e.Text, "ambient is stated twice", "one ambient range holds for the whole board", related(d.ambient.entry, "first stated here"))
				continue
			}
			d.ambient = &symbol{name: "ambient", entry: e, block: b}
		case "acknowledge":
			if d.acknowledged == nil {
				d.acknowledged = map[string]string{}
			}
			name, who, _ := strings.Cut(value(e), ",")
			d.acknowledged[strings.TrimSpace(name)] = strings.TrimSpace(who)
		}
	}
	c.readCommon(b, "the design")
}

// readStates reads the operating states of the board: a list of names, or a
// row a state that says which row of the budgets each part is in.
func (c *compiler) readStates(e *notebook.Entry) {
	d := &c.design
	if len(e.Rows) == 0 {
		d.states = append(d.states, splitList(value(e))...)
		return
	}
	if d.stateOf == nil {
		d.stateOf = map[string]map[string]string{}
	}
	for _, r := range e.Rows {
		d.states = append(d.states, r.Arg)
		in := map[string]string{}
		for _, x := range splitList(value(r)) {
			if f := strings.Fields(x); len(f) == 2 {
				in[f[0]] = f[1]
			} else {
				c.whole(notebook.Err, "state-form", r.Text, "a state says of each part which row it is in", "`awake: U1 run, U4 off`")
			}
		}
		d.stateOf[r.Arg] = in
	}
}

// readCommon reads the attributes that any block may carry.
func (c *compiler) readCommon(b *notebook.Block, from string) {
	for _, e := range b.Entries {
		switch e.Label {
		case notebook.Hazard:
			for _, h := range splitList(value(e)) {
				c.design.hazards = append(c.design.hazards, hazard{name: h, at: e.Value, from: from})
			}
		case "skip":
			by, reason := c.skipBy(e)
			c.addSkip(e, &skip{id: e.Arg, entry: e, by: by, reason: reason})
		case notebook.Waiver:
			if b.Kind != "claim" {
				c.addSkip(e, &skip{id: e.Arg, entry: e, waiver: c.readWaiver(e)})
			}
		}
	}
}

// skipBy takes the day and the person off a skip, "2026-11-20, K. Sedge,
// REASON", where they stand there.
func (c *compiler) skipBy(e *notebook.Entry) (by, reason string) {
	day, rest, ok := strings.Cut(value(e), ",")
	person, reason, also := strings.Cut(rest, ",")
	on, err := notebook.ParseDate(strings.TrimSpace(day))
	person, reason = strings.TrimSpace(person), strings.TrimSpace(reason)
	if !ok || !also || err != nil || person == "" || reason == "" {
		return "", value(e)
	}
	if c.notYet(on) {
		c.whole(notebook.Warn, "date-ahead", e.Value, "this skip is dated after the day of this run, "+c.today.String(), "correct the date")
	}
	return person + ", " + on.String(), reason
}

func (c *compiler) addSkip(e *notebook.Entry, s *skip) {
	if s.id == "" {
		c.whole(notebook.Err, "skip-name", e.Text, "this says nothing about which check is meant", "name the check: `"+e.Label+" supply-range.U1.VDD: ...`")
		return
	}
	if s.waiver == nil && s.reason == "" {
		c.whole(notebook.Err, "skip-reason", e.Text, "a check is switched off only with a reason", "write the reason after the colon")
		return
	}
	c.skips[s.id] = s
}

func (c *compiler) readValues(b *notebook.Block) {
	for _, e := range b.Entries {
		if e.Kind != notebook.Definition || c.misplaced(e) {
			continue
		}
		y := &symbol{name: e.Name, entry: e, block: b, ofValues: true, assumed: assumedOf(e)}
		if x, ok := c.literals.Exact(e.RHS.S); ok {
			y.literal(x)
			y.low = y.staysLow()
		}
		if old, isNew := c.values.enter(y.name, y); !isNew {
			c.whole(notebook.Err, "name-twice", y.entry.NameText, "`"+y.name+"` is defined twice", "a name has one meaning; use another name", related(old.entry, "first defined here"))
			continue
		}
		if !y.low {
			c.watched = append(c.watched, y)
		}
	}
	for _, e := range b.Entries {
		if e.Label == notebook.AtLeastZero {
			for _, n := range splitList(value(e)) {
				if y, ok := c.values.get(n); ok {
					y.zeroSaid = true
				} else {
					c.whole(notebook.Err, "name-unknown", e.Value, "no value is named `"+n+"`", hintNear(n, c.values.names()))
				}
			}
		}
	}
	c.readCommon(b, "the values block")
}

// misplaced says that a definition of a values block can only be a fact of a
// part, and complains of what does not belong there.
func (c *compiler) misplaced(e *notebook.Entry) bool {
	if e.Section != "" {
		c.whole(notebook.Err, "section-place", e.NameText, "`"+e.Section+"` belongs to a part", "in a values block write the name alone")
		return true
	}
	if len(e.Selectors) > 0 {
		c.whole(notebook.Err, "selector-place", e.NameText, "a pin group in parentheses belongs to a part's fact", "")
	}
	return false
}

func (c *compiler) readPart(b *notebook.Block) {
	if old, ok := c.parts.get(b.ID); ok {
		c.whole(notebook.Err, "part-twice", b.IDText, "part `"+b.ID+"` is noted twice", "", notebook.Related{Pos: old.block.Pos, Message: "first noted here"})
		return
	}
	p := &part{id: b.ID, block: b, facts: map[string]*factDef{}, nonneg: map[string]bool{},
		attrs: map[string]*notebook.Entry{}, asked: &c.inquiry}
	c.parts.enter(b.ID, p)
	for _, e := range b.Entries {
		if e.Kind == notebook.Definition {
			c.readFact(p, e)
			continue
		}
		if _, ok := p.attrs[e.Label]; !ok {
			p.attrs[e.Label] = e
		}
		switch e.Label {
		case "title":
			p.title = value(e)
		case "source":
			p.source = value(e)
		case "package":
			if p.pack == "" { // further ones are other packages the part comes in
				p.pack = value(e)
			}
		case "maker":
			p.maker = value(e)
		case "status":
			p.status = value(e)
		case "checked":
			p.checked = value(e)
		case "order":
			for _, o := range splitOutside(value(e)) {
				p.orders = append(p.orders, orderCode{strings.Trim(o, "\""), e})
			}
		case "code":
			p.code = e
		case "field":
			p.fields = append(p.fields, e)
		case notebook.AtLeastZero:
			for _, n := range splitList(value(e)) {
				p.nonneg[n] = true
			}
		case "pins":
			p.tables = append(p.tables, e)
		case "application":
			for _, r := range e.Rows {
				if r.Need != nil {
					p.needs = append(p.needs, r)
				}
			}
		}
	}
	p.choosePins()
	for n := range p.nonneg {
		if !p.hasFact(n) {
			c.whole(notebook.Err, "name-unknown", p.attrs[notebook.AtLeastZero].Value, "part `"+p.id+"` has no fact `"+n+"`", hintNear(n, p.factNames()))
		}
	}
	c.readCommon(b, "part "+p.id)
}

// choosePins takes the rows of the pin tables that hold for the part's
// package: a table that names another package is passed over.
func (p *part) choosePins() {
	for _, e := range p.tables {
		if e.Arg != "" && p.pack != "" && !samePackage(e.Arg, p.pack) {
			continue
		}
		for _, r := range e.Rows {
			if r.Pin != nil {
				p.pins = append(p.pins, &pin{row: r.Pin, entry: r})
			}
		}
	}
	p.referPins()
}

// referPins tells the name of a supply from the name of facts: a logic or
// analog pin whose row names a supply belongs to it, and has limits of its own.
func (p *part) referPins() {
	for _, q := range p.pins {
		if q.row.Facts == "" || q.isPower() {
			continue
		}
		for _, s := range p.pins {
			q.refers = q.refers || s.names(q.row.Facts)
		}
	}
}

// isPower says that a pin is a joint of the part's supply, not of a signal.
func (q *pin) isPower() bool {
	return q.suppliesOrMakes() || q.row.Type == "ground" || q.row.Type == "thermal pad"
}

// names says that a pin is the supply of that name, or one of several.
func (q *pin) names(supply string) bool {
	return q.suppliesOrMakes() && (sameSymbol(q.obeys(), supply) || sameSymbol(q.row.Name, supply))
}

func (q *pin) suppliesOrMakes() bool { return q.row.Type == "supply" || q.row.Type == "supply output" }

func (c *compiler) readFact(p *part, e *notebook.Entry) {
	if e.Section == "" {
		c.whole(notebook.Err, "section-missing", e.NameText, "this fact does not say what it is", "put `operating`, `absmax` or `spec` before the name")
		return
	}
	key := e.Section + " " + e.Name + "(" + strings.Join(e.Selectors, ",") + ")"
	f := p.facts[key]
	if f == nil {
		f = &factDef{part: p, section: e.Section, name: e.Name, selectors: e.Selectors}
		p.facts[key] = f
		p.factOrder = append(p.factOrder, f)
	} else if len(e.Conds) == 0 || len(f.rows[0].Conds) == 0 {
		c.whole(notebook.Err, "fact-twice", e.NameText, "`"+e.Section+" "+e.Name+"` is stated twice", "rows of one fact differ in their conditions: add `at ...` to each", related(f.rows[0], "first stated here"))
		return
	}
	f.rows = append(f.rows, e)
}

func (p *part) hasFact(name string) bool {
	for _, f := range p.factOrder {
		if f.name == name {
			return true
		}
	}
	return false
}

func (p *part) factNames() []string {
	var out []string
	for _, f := range p.factOrder {
		out = append(out, f.name)
	}
	return out
}

func (c *compiler) readClaim(b *notebook.Block) {
	cl := &claim{id: b.ID, kind: "claim", block: b}
	if old, isNew := c.claimIndex.enter(b.ID, cl); !isNew {
		c.whole(notebook.Err, "claim-twice", b.IDText, "claim `"+b.ID+"` stands twice", "each claim has an ID of its own", notebook.Related{Pos: old.block.Pos, Message: "first stands here"})
		return
	}
	c.claims = append(c.claims, cl)
	c.readCommon(b, "claim "+b.ID)
}

// addClaim enters a claim of the design.
func (c *compiler) addClaim(cl *claim) {
	c.claimIndex.enter(cl.id, cl)
	c.claims = append(c.claims, cl)
}

func related(e *notebook.Entry, msg string) notebook.Related {
	if e == nil {
		return notebook.Related{Message: msg}
	}
	return notebook.Related{Pos: e.Text.Pos(0), Message: msg}
}

func assumedOf(e *notebook.Entry) string {
	for _, k := range e.Cites {
		if k.Assumed != "" {
			return k.Assumed
		}
	}
	return ""
}

// splitList cuts a comma list and trims its members.
func splitList(s string) []string {
	var out []string
	for _, x := range strings.Split(s, ",") {
		if x = strings.TrimSpace(x); x != "" {
			out = append(out, x)
		}
	}
	return out
}

func hintNear(name string, among []string) string {
	if n := notebook.Nearest(name, among); n != "" {
		return "did you mean `" + n + "`?"
	}
	return ""
}
