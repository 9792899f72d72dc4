package eval

import (
	"cmp"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/lists"
	"guardband/notebook"
)

// collect reads every block into the tables of the compiler. Names are
// entered, nothing is worked out yet.
func (c reader) collect() {
	readers := map[string]func(*notebook.Block){
		"design": c.readDesign, "source": c.readSource, "part": c.readPart,
		"values": c.readValues, "claim": c.readClaim, "circuit": c.readCircuit, "budget": ledger(c).readBudget,
		"shortlist": chooser(c).readShortlist, "readings": bench(c).readReadings, "review": c.readReview,
	}
	// Parts and sources first: a circuit may stand before the parts it places.
	for _, first := range []bool{true, false} {
		for _, b := range c.blocks {
			if early := b.Kind == "source" || b.Kind == "part"; early == first {
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

// diagnose complains about all of a text.
func (c *compiler) diagnose(sev notebook.Severity, code string, t notebook.Text, msg, hint string, rel ...notebook.Related) {
	c.diags.At(sev, code, t, 0, len(t.S), msg, hint, rel...)
}

func (c reader) readDesign(b *notebook.Block) {
	d := &c.design
	said := map[string]*string{"title": &d.title, "revision": &d.revision, "author": &d.author, "date": &d.date}
	for _, e := range b.Entries {
		if at := said[e.Label]; at != nil {
			*at = cmp.Or(*at, e.Trimmed())
		}
		switch e.Label {
		case "evidence":
			d.evidence = e
		case "states":
			c.readStates(e)
		case "ambient":
			if d.ambient != nil {
				c.diagnose(notebook.Err, "ambient-twice", e.Text, "ambient is stated twice",
					"one ambient range applies to the whole board", related(d.ambient.entry, "first stated here"))
				continue
			}
			d.ambient = &symbol{name: "ambient", entry: e, block: b}
		case "acknowledge":
			if d.acknowledged == nil {
				d.acknowledged = map[string]string{}
			}
			name, who, _ := strings.Cut(e.Trimmed(), ",")
			d.acknowledged[strings.TrimSpace(name)] = strings.TrimSpace(who)
		}
	}
	c.readCommon(b, "the design")
}

// readStates reads the operating states of the board: a list of names, or a
// row a state that says which row of the budgets each part is in.
func (c reader) readStates(e *notebook.Entry) {
	d := &c.design
	if len(e.Rows) == 0 {
		d.states = append(d.states, notebook.SplitList(e.Trimmed())...)
		return
	}
	if d.stateOf == nil {
		d.stateOf, d.given = map[string]map[string]string{}, map[string]*notebook.Entry{}
	}
	for _, r := range e.Rows {
		d.states = append(d.states, r.Arg)
		in := map[string]string{}
		for _, x := range notebook.SplitList(r.Trimmed()) {
			if f := strings.Fields(x); len(f) == 2 {
				in[f[0]] = f[1]
			} else if !strings.Contains(x, "=") {
				c.diagnose(notebook.Err, "state-form", r.Text, "each state names the budget row of every part", "`awake: U1 run, U4 off`")
			}
		}
		if d.stateOf[r.Arg] = in; len(r.Conds) > 0 {
			d.given[r.Arg] = r
		}
	}
}

// readCommon reads the attributes that any block may carry.
func (c reader) readCommon(b *notebook.Block, from string) {
	for _, e := range b.Entries {
		switch e.Label {
		case notebook.Hazard:
			for _, h := range notebook.SplitList(e.Trimmed()) {
				c.design.hazards = append(c.design.hazards, hazard{name: h, at: e.Value, from: from})
			}
		case "skip":
			by, reason := c.skipBy(e)
			c.addSkip(e, &skip{id: e.Arg, entry: e, by: by, reason: reason})
		case notebook.Waiver:
			if b.Kind != "claim" {
				c.addSkip(e, &skip{id: e.Arg, entry: e, waiver: claimant(c).readWaiver(e)})
			}
		}
	}
}

// skipBy takes the day and the person off a skip, "2026-11-20, K. Sedge,
// REASON", where they stand there.
func (c reader) skipBy(e *notebook.Entry) (by, reason string) {
	day, rest, ok := strings.Cut(e.Trimmed(), ",")
	person, reason, also := strings.Cut(rest, ",")
	on, err := notebook.ParseDate(strings.TrimSpace(day))
	person, reason = strings.TrimSpace(person), strings.TrimSpace(reason)
	if !ok || !also || err != nil || person == "" || reason == "" {
		return "", e.Trimmed()
	}
	if c.notYet(on) {
		c.diagnose(notebook.Warn, "date-ahead", e.Value, "this skip is dated after the day of this run, "+c.today.String(), "correct the date")
	}
	return person + ", " + on.String(), reason
}

func (c reader) addSkip(e *notebook.Entry, s *skip) {
	if s.id == "" {
		c.diagnose(notebook.Err, "skip-name", e.Text, "this does not name a check", "name the check: `"+e.Label+" supply-range.U1.VDD: ...`")
		return
	}
	if s.waiver == nil && s.reason == "" {
		c.diagnose(notebook.Err, "skip-reason", e.Text, "a check is switched off only with a reason", "write the reason after the colon")
		return
	}
	c.skips[s.id] = s
}

func (c reader) readValues(b *notebook.Block) {
	for _, e := range b.Entries {
		if e.Kind != notebook.Definition || c.misplaced(e) {
			continue
		}
		y := &symbol{name: e.Name, entry: e, block: b, ofValues: true, assumed: assumedOf(e)}
		if old, isNew := c.values.Enter(y.name, y); !isNew {
			c.diagnose(notebook.Err, "name-twice", y.entry.NameText, "`"+y.name+"` is defined twice",
				"a name has one meaning; use another name", related(old.entry, "first defined here"))
		}
	}
	for _, e := range b.Entries {
		if e.Label == notebook.AtLeastZero {
			for _, n := range notebook.SplitList(e.Trimmed()) {
				if y, ok := c.values.Get(n); ok {
					y.zeroSaid = true
				} else {
					c.diagnose(notebook.Err, "name-unknown", e.Value, "there is no value named `"+n+"`", notebook.HintNear(n, c.values.Names()))
				}
			}
		}
	}
	c.readCommon(b, "the values block")
}

// misplaced says that a definition of a values block can only be a fact of a
// part, and complains of what does not belong there.
func (c reader) misplaced(e *notebook.Entry) bool {
	if e.Section != "" {
		c.diagnose(notebook.Err, "section-place", e.NameText, "`"+e.Section+"` belongs to a part", "in a values block write the name alone")
		return true
	}
	if len(e.Selectors) > 0 {
		c.diagnose(notebook.Err, "selector-place", e.NameText, "a pin group in parentheses belongs to a part's fact", "")
	}
	return false
}

func (c reader) readPart(b *notebook.Block) {
	if old, ok := c.Parts.Get(b.ID); ok {
		c.diagnose(notebook.Err, "part-twice", b.IDText, "part `"+b.ID+"` is noted twice", "",
			notebook.Related{Pos: old.Block.Pos, Message: "first noted here"})
		return
	}
	p := &circuit.Part{ID: b.ID, Block: b, Generic: b.Pos.File == notebook.GenericPath,
		Facts: map[string]*circuit.Fact{}, Nonneg: map[string]bool{}, Attrs: map[string]*notebook.Entry{}, Asked: &c.inquiry}
	c.Parts.Enter(b.ID, p)
	said := map[string]*string{"title": &p.Title, "source": &p.Source, "maker": &p.Maker, "status": &p.Status,
		"checked": &p.Checked}
	for _, e := range b.Entries {
		if e.Kind == notebook.Definition {
			c.readFact(p, e)
			continue
		}
		if _, ok := p.Attrs[e.Label]; !ok {
			p.Attrs[e.Label] = e
		}
		if at := said[e.Label]; at != nil {
			*at = e.Trimmed()
		}
		switch e.Label {
		case "package":
			p.Pack = cmp.Or(p.Pack, e.Trimmed()) // further ones are other packages the part comes in
		case "order":
			for _, o := range lists.SplitOutside(e.Trimmed()) {
				p.Orders = append(p.Orders, circuit.Order{Code: strings.Trim(o, "\""), Entry: e})
			}
		case "code":
			p.Code = e
		case "field":
			p.Fields = append(p.Fields, e)
		case notebook.AtLeastZero:
			for _, n := range notebook.SplitList(e.Trimmed()) {
				p.Nonneg[n] = true
			}
		case "pins":
			p.Tables = append(p.Tables, e)
		case "application":
			for _, r := range e.Rows {
				if r.Need != nil {
					p.Needs = append(p.Needs, r)
				}
			}
		}
	}
	p.ChoosePins()
	for n := range p.Nonneg {
		if !p.HasFact(n) {
			c.diagnose(notebook.Err, "name-unknown", p.Attrs[notebook.AtLeastZero].Value, "part `"+p.ID+"` has no fact `"+
				n+"`", notebook.HintNear(n, p.FactNames()))
		}
	}
	c.readCommon(b, "part "+p.ID)
}

func (c reader) readFact(p *circuit.Part, e *notebook.Entry) {
	if e.Section == "" {
		c.diagnose(notebook.Err, "section-missing", e.NameText, "this fact has no value", "put `operating`, `absmax` or `spec` before the name")
		return
	}
	key := e.Section + " " + e.Name + "(" + strings.Join(e.Selectors, ",") + ")"
	f := p.Facts[key]
	if f == nil {
		f = &circuit.Fact{Part: p, Section: e.Section, Name: e.Name, Selectors: e.Selectors}
		p.Facts[key] = f
		p.FactOrder = append(p.FactOrder, f)
	} else if len(e.Conds) == 0 || len(f.Rows[0].Conds) == 0 {
		c.diagnose(notebook.Err, "fact-twice", e.NameText, "`"+e.Section+" "+e.Name+"` is stated twice",
			"rows of one fact differ in their conditions: add `at ...` to each", related(f.Rows[0], "first stated here"))
		return
	}
	f.Rows = append(f.Rows, e)
}

func (c reader) readClaim(b *notebook.Block) {
	cl := &Claim{id: b.ID, kind: "claim", block: b}
	if old, isNew := c.claimIndex.Enter(b.ID, cl); !isNew {
		c.diagnose(notebook.Err, "claim-twice", b.IDText, "claim `"+b.ID+"` appears twice",
			"each claim has an ID of its own", notebook.Related{Pos: old.block.Pos, Message: "first is here"})
		return
	}
	c.claims = append(c.claims, cl)
	c.readCommon(b, "claim "+b.ID)
}

// addClaim enters a claim of the design.
func (c *compiler) addClaim(cl *Claim) {
	c.claimIndex.Enter(cl.id, cl)
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
