package formula

import "strings"

// Path is a name with what qualifies it: U1.operating.V_DD.min, net("3V0"),
// U1.V_OH("D+"), U1.V_OH(PA3), budget("3V0").peak, candidate.I_SLEEP.
type Path struct {
	Head     string   // first name
	HeadArg  string   // net("3V0"): Head "net", HeadArg "3V0", HasArg true; so with budget, part, bench, claim
	HasArg   bool     // whether HeadArg was given
	Fields   []string // names after it, "operating", "V_DD"; without the column
	Selector string   // pin given in parentheses after the last name: U1.V_OH(PA3), V_OH("D+")
	Column   string   // "min", "typ", "max" or ""
}

// Alone says that the path is one name and nothing else.
func (p *Path) Alone() bool {
	return len(p.Fields) == 0 && !p.HasArg && p.Selector == "" && p.Column == ""
}

// column is the path with one of its columns.
func (p *Path) column(name string) *Path {
	q := *p
	q.Column = name
	return &q
}

// Text is the one spelling of the whole path.
func (p *Path) Text() string {
	if p.Alone() {
		return p.Head
	}
	var b strings.Builder
	b.WriteString(p.Head)
	if p.HasArg {
		b.WriteString(`("` + p.HeadArg + `")`)
	}
	for _, f := range p.Fields {
		b.WriteString("." + f)
	}
	switch {
	case p.Selector == "":
	case isName(p.Selector):
		b.WriteString("(" + p.Selector + ")")
	default:
		b.WriteString(`("` + p.Selector + `")`)
	}
	if p.Column != "" {
		b.WriteString("." + p.Column)
	}
	return b.String()
}
