package formula

import "strings"

// Path is a name with what qualifies it: U1.operating.V_DD.min, net("3V0"),
// U1.V_OH("D+"), U1.V_OH(PA3), budget("3V0").peak, candidate.I_SLEEP. Most
// names stand alone, and a large notebook holds very many of them.
type Path struct {
	Head string     // first name
	rest *Qualifier // nil where the head stands alone
}

// Qualifier is what follows the first name of a path.
type Qualifier struct {
	HeadArg  string   // net("3V0"): Head "net", HeadArg "3V0", HasArg true; so with budget, part, bench, claim
	HasArg   bool     // whether HeadArg was given
	Fields   []string // names after it, "operating", "V_DD"; without the column
	Selector string   // pin given in parentheses after the last name: U1.V_OH(PA3), V_OH("D+")
	Column   string   // "min", "typ", "max" or ""
	text     string   // canonical text of the whole path
}

// NewPath makes a path of a name and what follows it.
func NewPath(head string, q Qualifier) *Path {
	p := &Path{Head: head}
	p.qualify(q)
	return p
}

// qualify adds what follows the first name.
func (p *Path) qualify(q Qualifier) {
	if len(q.Fields) == 0 {
		q.Fields = nil
	}
	if q.Fields == nil && !q.HasArg && q.Selector == "" && q.Column == "" {
		p.rest = nil
		return
	}
	q.text = q.canonical(p.Head)
	p.rest = &q
}

// Alone says that the path is one name and nothing else.
func (p *Path) Alone() bool { return p.rest == nil }

// Qualifier is what follows the first name; all of it is empty where that
// stands alone.
func (p *Path) Qualifier() Qualifier {
	if p.rest == nil {
		return Qualifier{}
	}
	return *p.rest
}

// Fields are the names after the first, without the column. They must not be
// changed.
func (p *Path) Fields() []string {
	if p.rest == nil {
		return nil
	}
	return p.rest.Fields
}

// Column is "min", "typ", "max" or "".
func (p *Path) Column() string {
	if p.rest == nil {
		return ""
	}
	return p.rest.Column
}

// Text is the canonical text of the whole path.
func (p *Path) Text() string {
	if p.rest == nil {
		return p.Head
	}
	return p.rest.text
}

// column is the path with one of its columns.
func (p *Path) column(name string) *Path {
	q := p.Qualifier()
	q.Column = name
	return NewPath(p.Head, q)
}

// canonical is the one spelling of a path.
func (q *Qualifier) canonical(head string) string {
	var b strings.Builder
	b.WriteString(head)
	if q.HasArg {
		b.WriteString(`("` + q.HeadArg + `")`)
	}
	for _, f := range q.Fields {
		b.WriteByte('.')
		b.WriteString(f)
	}
	switch {
	case q.Selector == "":
	case isName(q.Selector):
		b.WriteString("(" + q.Selector + ")")
	default:
		b.WriteString(`("` + q.Selector + `")`)
	}
	if q.Column != "" {
		b.WriteString("." + q.Column)
	}
	return b.String()
}
