package eval

import (
	"cmp"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/notebook/sheet"
)

// record puts the whole record together.
func (c recorder) record() *record.Record {
	r := &record.Record{Schema: record.SchemaName,
		Budgets: []record.Budget{}, Shortlists: []record.Shortlist{}, Readings: []record.Reading{}, Requirements: []record.Requirement{}}
	r.Safety = warden(c).cautions()
	r.Content = c.content()
	c.claimRecords(r)
	r.Values = []record.Value{}
	if c.opt.Detail == 0 {
		r.Values = c.valueRecords()
	}
	r.Parts = c.partRecords()
	r.Placements = c.placements()
	r.PartsList = c.partsList()
	r.Sources = c.sourceRecords()
	for _, b := range c.budgets {
		r.Budgets = append(r.Budgets, b.out)
	}
	for _, l := range c.lists {
		r.Shortlists = append(r.Shortlists, l.out)
	}
	for _, x := range c.reads {
		r.Readings = append(r.Readings, x.out)
	}
	r.Review = c.review
	r.Review.Participants = append([]record.Field{}, r.Review.Participants...) // of none an empty list
	r.Review.Actions = append([]record.Action{}, r.Review.Actions...)
	r.Requirements = c.requirements()
	r.Assumptions = append([]record.Assumption{}, c.assume.list...)
	r.Roots = c.openRoots()
	r.LookUp = c.lookUps(r.Roots)
	c.unusedSkips()
	c.warnNearNames()
	if c.opt.Explain != nil {
		*c.opt.Explain = c.checkTexts()
	}
	r.Diagnostics = diagnostics(c.diags.Sorted())
	r.Design = c.designRecord()
	r.Files, r.Faults = c.files(), c.faults
	countDiagnostics(r)
	return r
}

func (c recorder) designRecord() record.Design {
	d := record.Design{Title: c.design.title, Revision: c.design.revision, Author: c.design.author, Date: c.design.date,
		States: c.design.states, Commit: c.opt.Commit, Tool: c.opt.Tool, AsOf: c.opt.On, Notebooks: []record.FileDigest{}}
	if y := c.design.ambient; y != nil {
		d.Ambient = y.entry.Trimmed()
	}
	for _, n := range c.book.Notebooks {
		d.Notebooks = append(d.Notebooks, record.FileDigest{Path: n.Src.Path, SHA256: n.Src.SHA256})
	}
	return d
}

// files lists what was read: notebooks, documents, exported lists.
func (c recorder) files() []record.File {
	var out []record.File
	for _, n := range c.book.Notebooks {
		if n.Src.Abs != "" && n.Src.SHA256 != "" {
			out = append(out, record.File{Abs: n.Src.Abs, SHA256: n.Src.SHA256, Kind: record.FileNotebook})
		}
	}
	for _, s := range c.sources.List {
		if s.abs != "" && s.info.SHA256 != "" {
			out = append(out, record.File{Abs: s.abs, SHA256: s.info.SHA256, Kind: record.FileDocument})
		}
	}
	return append(out, c.exported...)
}

func (c recorder) valueRecords() []record.Value {
	out := []record.Value{}
	for _, y := range c.values.List {
		out = append(out, c.valueRecord(y, strings.TrimSpace(y.entry.RHS.S)))
	}
	return out
}

// valueRecord is one quantity with its range over the facts.
func (c recorder) valueRecord(y *symbol, formulaText string) record.Value {
	v := record.Value{Name: y.name, Formula: formulaText, Derived: y.derived, Assumed: y.assumed, Cites: []record.Cite{}, UsedBy: y.usedBy}
	if y.entry != nil {
		v.Position = position(y.entry.Text.Pos(0))
	}
	for _, k := range y.cites {
		v.Cites = append(v.Cites, k.record(c.compiler))
	}
	if y.val.Class != formula.Number {
		v.Text = "not evaluated"
		return v
	}
	v.Unit = baseUnit(y.val.Type)
	p := c.b.Extract(y.val.Reg)
	e := bound.Range(p, 0, c.gather(p), bound.Options{Boxes: c.opt.Boxes})
	v.Min, v.Max = finite(e.Lo), finite(e.Hi)
	v.Exact = attained(e.Lo) && attained(e.Hi)
	v.Text = extentText(e, y.val.Type, y.val.Unit)
	if n, ok := c.nominal(y.val.Reg); ok {
		v.Nominal = floatOf(n)
	}
	if c.opt.Typeset && y.derived && y.expr != nil && y.expr.Root.Kind != formula.NodeBad {
		s := &scope{c: c.compiler}
		v.Math = mathOf(y.expr.Root, nil)
		v.Numbers = mathOf(y.expr.Root, func(p *formula.Path) string { return c.numberAt(s, p, nil) })
		v.Source = c.formulaSources(y.expr)
	}
	return v
}

// formulaSources names the published sources of the trade formulas used.
func (c recorder) formulaSources(e *formula.Expr) string {
	var out []string
	formula.Walk(e.Root, func(n *formula.Node) {
		if n.Kind != formula.NodeCall {
			return
		}
		if f, ok := c.lang.Trade(n.Word); ok && f.Source != "" && f.Body != "" {
			out = circuit.AddTo(out, f.Name+" = "+f.Body+" ("+f.Source+")")
		}
	})
	return strings.Join(out, "; ")
}

func (c recorder) sourceRecords() []record.Source {
	out := []record.Source{}
	for _, s := range c.sources.List {
		r := record.Source{ID: s.id, Title: s.title, Issuer: s.issuer, Revision: s.revision, Date: s.date, File: s.file,
			SHA256: s.info.SHA256, Recorded: s.digest,
			OnFile: s.onFile, Changed: s.changed(), Pages: s.info.Pages, Cited: len(s.cites), Corrects: s.corrects,
			State: s.state(), Position: position(s.block.Pos)}
		if len(s.cites) > 0 {
			r.Checked = map[string]int{}
			for _, k := range s.cites {
				r.Checked[k.grade()]++
				if len(k.missing) > 0 && k.looked() && k.failing() == nil {
					r.Untold++
				}
			}
		}
		r.Age = c.age(s)
		for _, k := range s.cites {
			r.Citations = append(r.Citations, k.listed())
		}
		out = append(out, r)
	}
	return out
}

// age says how long ago a document was fetched, by the notes.
func (c recorder) age(s *source) string {
	then, err := notebook.ParseDate(s.retrieved)
	if err != nil || c.today.IsZero() {
		return ""
	}
	return fmt.Sprintf("fetched %s, %d days before", s.retrieved, c.today.Days(then))
}

// listed is the citation in the list of its document.
func (k *citation) listed() record.Citation {
	x := record.Citation{Name: k.name, Page: k.page(), Quote: k.cite.Quote, Checked: k.grade(), Missing: k.notThere(),
		Slip: k.found.Slip, Erratum: k.erratum, Position: position(k.cite.Text.Pos(0))}
	if x.Checked == "other revision" {
		x.Checked = string(k.found.Grade)
	}
	if k.found.Grade == sheet.GradeNotFound {
		x.Now = k.found.Elsewhere
	}
	return x
}

func (s *source) state() string {
	switch {
	case s.file == "":
		return "file missing"
	case s.replayed:
		return "not here; checked by committed evidence"
	case !s.onFile:
		return "the file is missing"
	case s.err != nil:
		return "the file cannot be read"
	case s.info.SHA256 == "":
		return "file present, not opened"
	case s.changed():
		return "file present, another revision than recorded"
	case s.digest == "":
		return "file present, no hash recorded"
	}
	return "file present, hash matches"
}

func (c recorder) relative(abs string) string {
	dir := c.book.Root
	if n := c.book.Notebooks; len(n) > 0 && n[0].Src.Abs != "" {
		dir = filepath.Dir(n[0].Src.Abs)
	}
	rel, err := filepath.Rel(dir, abs)
	if err != nil {
		return ""
	}
	return filepath.ToSlash(rel)
}

func diagnostics(in []notebook.Diagnostic) []record.Diagnostic {
	out := make([]record.Diagnostic, 0, len(in))
	for _, d := range in {
		x := record.Diagnostic{Code: d.Code, Severity: string(d.Severity), File: d.File, Line: d.Line, Column: d.Col,
			EndColumn: d.EndCol, Source: d.Source, Message: d.Message, Hint: d.Hint}
		for _, r := range d.Related {
			if r.Message == "" || r.Line == 0 {
				continue
			}
			at := record.Position{File: r.File, Line: r.Line, Column: r.Col}
			x.Related = append(x.Related, record.Related{Position: at, Message: r.Message})
		}
		out = append(out, x)
	}
	return out
}

// lookUps is what would settle the open claims, by document and page.
func (c recorder) lookUps(roots []record.Root) []record.LookUp {
	out := []record.LookUp{}
	by := map[lookUpKey]int{}
	first := map[lookUpKey]bool{} // pages that failures rest on and that do not bear them out
	add := func(p record.OpenPoint, id string) {
		if p.Settle == "" || p.Reason == "not evaluated" {
			return
		}
		key := lookFor(p)
		i, ok := by[key]
		if !ok {
			i = len(out)
			by[key] = i
			out = append(out, record.LookUp{Source: p.Source, Page: p.Page, Text: key.Text, Claims: []string{}})
		}
		out[i].Claims = circuit.AddTo(out[i].Claims, id)
	}
	for _, cl := range c.claims {
		v := cl.Out.Verdict
		if v == record.Waived {
			v = cl.Out.Under
		}
		if v == record.Failed {
			for _, p := range cl.Out.Open {
				if p.Reason == "citation" {
					first[lookFor(p)] = true
					add(p, cl.id)
				}
			}
		}
		if v != record.Open {
			continue
		}
		for _, p := range cl.Out.Open {
			add(p, cl.id)
		}
		for _, k := range cl.Out.Criteria {
			for _, p := range k.Open {
				add(p, cl.id)
			}
		}
	}
	for _, r := range roots {
		key := lookFor(record.OpenPoint{Reason: r.Reason, Text: r.Text, Settle: r.Settle, Source: r.Source, Page: r.Page})
		if i, ok := by[key]; ok {
			out[i].Text = fmt.Sprintf("%s, which keeps %d claims open: %s", r.Text, r.Opens, r.Settle)
			delete(by, key) // of several reasons the one that opens most
		}
	}
	rank := func(x record.LookUp) int {
		if first[lookUpKey{x.Source, x.Page, x.Text}] {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(out, func(a, b record.LookUp) int {
		return cmp.Or(rank(a)-rank(b), cmp.Compare(a.Source, b.Source), cmp.Compare(a.Page, b.Page))
	})
	return out
}

// lookUpKey tells two things to look up apart.
type lookUpKey struct{ Source, Page, Text string }

// lookFor is what to look for: of a citation what its page does not show.
func lookFor(p record.OpenPoint) lookUpKey {
	if p.Reason == "citation" {
		return lookUpKey{p.Source, p.Page, strings.TrimPrefix(p.Text, p.Source+" "+p.Page+": ")}
	}
	return lookUpKey{p.Source, p.Page, p.Settle}
}

// requirements lists what `meets:` names, each with its claims.
func (c recorder) requirements() []record.Requirement {
	out := []record.Requirement{}
	by := map[string]int{}
	for _, cl := range c.claims {
		for i, m := range cl.Out.Meets {
			src, id := "", m
			if f := strings.Fields(m); len(f) == 2 {
				src, id = f[0], f[1]
			} else if g := strings.Fields(cl.Out.Meets[0]); i > 0 && len(f) == 1 && len(g) == 2 { // "reqs REQ-06, REQ-07"
				src = g[0]
			}
			key := src + " " + id
			k, ok := by[key]
			if !ok {
				k = len(out)
				by[key] = k
				out = append(out, record.Requirement{ID: id, Source: src, Claims: []string{}})
			}
			out[k].Claims = append(out[k].Claims, cl.id)
		}
	}
	return append(reader(c).uncovered(by), out...)
}
