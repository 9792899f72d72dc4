package eval

import (
	"strings"

	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// content turns the notes as read into the notes as shown: citations with how
// far they were checked, values and verdicts printed.
func (c recorder) content() []record.Notebook {
	out := []record.Notebook{}
	for _, n := range c.book.Notebooks {
		x := record.Notebook{Path: n.Src.Path}
		if c.opt.Detail == 0 {
			x.Nodes = c.nodes(n.Content)
		}
		out = append(out, x)
	}
	if c.opt.Detail > 0 { // the notes are left out, what is wrong with them is not
		for _, n := range c.prints {
			c.node(n)
		}
	}
	return out
}

func (c recorder) nodes(in []*notebook.Node) []record.Node {
	if len(in) == 0 {
		return nil
	}
	out := make([]record.Node, 0, len(in))
	for _, n := range in {
		out = append(out, c.node(n))
	}
	return out
}

func (c recorder) node(n *notebook.Node) record.Node {
	m := record.Node{Kind: string(n.Kind), Level: n.Level, ID: n.ID, Text: n.Text, URL: n.URL, Info: n.Info,
		Ordered: n.Ordered, Start: n.Start, Align: n.Align, Head: n.Head, Checked: n.Checked,
		Children: c.nodes(n.Children)}
	switch n.Kind {
	case notebook.CiteNode:
		if k := c.byCite[n.Cite]; k != nil {
			x := k.record(c.compiler)
			m.Cite = &x
			m.Text = strings.TrimSpace(k.source.id + " " + x.Page)
		} else {
			m.Text = n.Src.S
		}
	case notebook.PrintValue:
		if fault := isolate(func() { m.Text, m.Ref = c.printValue(n) }); fault != "" {
			c.tellFault(n.Src, "what is printed here", fault)
			m.Text = n.Src.S
		}
	case notebook.PrintVerdict:
		m.Ref = n.Text
		if cl := c.claimByID(n.Text); cl != nil {
			m.Verdict, m.Text = cl.Out.Verdict, cl.Out.Headline
		} else {
			c.diagnose(notebook.Err, "claim-unknown", n.Src, "there is no claim named `"+n.Text+"`", notebook.HintNear(n.Text, c.claimIDs()))
			m.Text = n.Src.S
		}
	case notebook.BlockNode:
		m.Block = c.blockRef(n.Block)
	}
	return m
}

func (c *compiler) claimByID(id string) *Claim {
	cl, _ := c.claimIndex.Get(id)
	return cl
}

func (c *compiler) claimIDs() []string {
	var out []string
	for _, cl := range c.claims {
		out = append(out, cl.id)
	}
	return out
}

// printValue prints "[value NAME in UNIT]".
func (c recorder) printValue(n *notebook.Node) (text, ref string) {
	e, errs := formula.Parse(n.Text)
	if len(errs) > 0 || e.Root.Kind != formula.NodeName {
		c.diagnose(notebook.Err, "print-form", n.Src, "a value is printed by its name alone", "`[value V_SENSE in mV]`; give a formula a name first")
		return n.Src.S, ""
	}
	s := &scope{c: c.compiler}
	v, err := s.Lookup(e.Root.Path, 0, 0)
	if err != nil {
		c.diagnose(notebook.Err, err.Code, n.Src, err.Msg, err.Hint)
		return n.Src.S, ""
	}
	u := v.Unit
	if n.Unit != "" {
		asked, uerr := units.ParseUnit(n.Unit)
		if uerr != nil {
			c.diagnose(notebook.Err, uerr.Code, n.Src, uerr.Msg, uerr.Hint)
			return n.Src.S, ""
		}
		if asked.Type.Dim != v.Type.Dim {
			c.diagnose(notebook.Err, "dimension", n.Src, "`"+n.Text+"` is "+v.Type.Words()+", "+n.Unit+" is a unit of "+asked.Type.Words(), "")
			return n.Src.S, ""
		}
		u = &asked
	}
	switch v.Class {
	case formula.Number:
		return extentText(judge(c).rangeOf(v.Reg), v.Type, u), n.Text
	case formula.Set:
		return c.setText(v), n.Text
	}
	return n.Src.S, ""
}

func (c recorder) blockRef(b *notebook.Block) *record.BlockRef {
	r := &record.BlockRef{Kind: b.Kind, ID: b.ID, Lines: b.Lines, Position: position(b.Pos)}
	for _, e := range b.Entries {
		switch {
		case e.Placement != nil:
			r.Names = append(r.Names, e.Placement.Refs...)
		case e.Kind == notebook.Definition:
			r.Names = append(r.Names, e.Name)
		case e.Kind == notebook.Attribute:
			name := e.Label
			if e.Arg != "" {
				name += " " + e.Arg
			}
			f := record.Field{Name: name, Value: e.Trimmed()}
			for _, k := range c.citesOf(e) {
				f.Cites = append(f.Cites, k.record(c.compiler))
			}
			r.Fields = append(r.Fields, f)
		}
	}
	return r
}
