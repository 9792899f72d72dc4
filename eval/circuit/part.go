package circuit

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"guardband/notebook"
	"guardband/units"
)

// Fact is one fact of a part type: all rows of one section, name and pin group.
type Fact struct {
	Part      *Part
	Section   string
	Name      string
	Selectors []string
	Rows      []*notebook.Entry
}

// Order is one order code of a part, and the line that notes it.
type Order struct {
	Code  string
	Entry *notebook.Entry
}

// Part is one part type as noted.
type Part struct {
	ID                                  string
	Block                               *notebook.Block
	Source                              string
	Title, Pack, Maker, Status, Checked string
	Orders                              []Order
	Code                                *notebook.Entry
	Fields                              []*notebook.Entry
	Facts                               map[string]*Fact // "section name" to its rows
	FactOrder                           []*Fact
	Tables                              []*notebook.Entry // of pins, one a package
	Pins                                []*Pin
	Needs                               []*notebook.Entry
	Nonneg                              map[string]bool // "at least zero"
	Placed                              []*Component
	Attrs                               map[string]*notebook.Entry
	Unit                                *Component // one unit, any, where the type itself is named
	Generic                             bool       // of the built-in notes
	kind                                *string    // what kind of part it is, once asked
	Asked                               *Inquiry   // what checks ask of parts
}

// HasNoPins says that the notes state `pins: none`.
func HasNoPins(p *Part) bool {
	e := p.Attrs["pins"]
	return e != nil && e.Trimmed() == "none"
}

// SamePackage compares package names without blanks, dashes and case; what
// follows a comma or bracket is a remark.
func SamePackage(a, b string) bool {
	fold := func(s string) string {
		if i := strings.IndexAny(s, ",("); i >= 0 {
			s = s[:i]
		}
		return strings.ToUpper(strings.NewReplacer(" ", "", "-", "", "_", "").Replace(s))
	}
	return fold(a) == fold(b)
}

// ChoosePins takes the rows of the pin tables that hold for the part's
// package: a table that names another package is passed over.
func (p *Part) ChoosePins() {
	for _, e := range p.Tables {
		if e.Arg != "" && p.Pack != "" && !SamePackage(e.Arg, p.Pack) {
			continue
		}
		for _, r := range e.Rows {
			if r.Pin != nil {
				p.Pins = append(p.Pins, &Pin{Row: r.Pin, Entry: r})
			}
		}
	}
	p.referPins()
}

// referPins tells the name of a supply from the name of facts: a logic or
// analog pin whose row names a supply belongs to it, and has limits of its own.
func (p *Part) referPins() {
	for _, q := range p.Pins {
		if q.Row.Facts == "" || q.isPower() {
			continue
		}
		for _, s := range p.Pins {
			q.Refers = q.Refers || s.names(q.Row.Facts)
		}
	}
}

// isPower says that a pin is a joint of the part's supply, not of a signal.
func (q *Pin) isPower() bool {
	return q.suppliesOrMakes() || q.Row.Type == "ground" || q.Row.Type == "thermal pad"
}

// names says that a pin is the supply of that name, or one of several.
func (q *Pin) names(supply string) bool {
	return q.suppliesOrMakes() && (SameSymbol(q.Obeys(), supply) || SameSymbol(q.Row.Name, supply))
}

func (q *Pin) suppliesOrMakes() bool { return q.Row.Type == "supply" || q.Row.Type == "supply output" }

// HasFact says that a fact of that name is noted, in any section.
func (p *Part) HasFact(name string) bool {
	return slices.ContainsFunc(p.FactOrder, func(f *Fact) bool { return f.Name == name })
}

// FactNames are the names of the facts, in the order noted.
func (p *Part) FactNames() []string {
	return namesOf(p.FactOrder, func(f *Fact) string { return f.Name })
}

// Mentions says that a name is one the part itself speaks of: a pin, a limit,
// or a condition of one of its facts.
func (p *Part) Mentions(name string) bool {
	if p.HasFact(name) {
		return true
	}
	named := func(k notebook.Cond) bool { return k.Name == name }
	condition := func(e *notebook.Entry) bool { return slices.ContainsFunc(e.Conds, named) }
	return name == "T_A" || name == "T_J" || slices.ContainsFunc(p.Pins, func(q *Pin) bool { return SameSymbol(q.Obeys(), name) }) ||
		slices.ContainsFunc(p.FactOrder, func(f *Fact) bool { return slices.ContainsFunc(f.Rows, condition) })
}

// TypeOf is the type that a name of the part must have: that of a limit of
// its name, else by the letter the trade gives it.
func (p *Part) TypeOf(name string) units.Type {
	for _, f := range p.FactOrder {
		if f.Name != name {
			continue
		}
		if parts, err := units.Split(f.Rows[0].RHS.S); err == nil {
			for _, l := range []units.Leaf{parts.Hi, parts.Lo, parts.Max, parts.Min, parts.Typ, parts.Single} {
				if l.Present() {
					if q, err := units.ParseLiteral(strings.TrimSpace(f.Rows[0].RHS.S[l.Off:l.End])); err == nil {
						return q.Type
					}
				}
			}
		}
	}
	switch name[0] {
	case 'I':
		return units.Type{Dim: units.Dim{0, 0, 0, 2}}
	case 'T':
		return units.Type{Dim: units.Dim{0, 0, 0, 0, 2}, Kind: units.Point}
	}
	return Volt
}

// InSections counts the sections that note a fact of that name.
func (p *Part) InSections(name string) int {
	n, seen := 0, ""
	for _, f := range p.FactOrder {
		if f.Name == name && !strings.Contains(seen, f.Section) {
			n++
			seen += f.Section
		}
	}
	return n
}

// Choose picks the rows that speak of a pin: the pin itself before a list or
// range, before a pattern, before the part as a whole.
func (p *Part) Choose(section, name, pin string) (def *Fact, ok bool) {
	var best *Fact
	rank, tie := 0, false
	for _, f := range p.FactOrder {
		if f.Section != section || f.Name != name {
			continue
		}
		r := 1
		if len(f.Selectors) > 0 {
			r = 0
			for _, s := range f.Selectors {
				r = max(r, selects(s, pin, len(f.Selectors) > 1))
			}
		}
		switch {
		case r > rank:
			best, rank, tie = f, r, false
		case r == rank && r > 0:
			tie = true
		}
	}
	if tie {
		return nil, false
	}
	return best, true
}

// selects ranks how closely a selector speaks of a pin; 0 is not at all.
func selects(sel, pin string, list bool) int {
	if pin == "" {
		return 0
	}
	if sel == pin {
		if list {
			return 3
		}
		return 4
	}
	if pre, ok := strings.CutSuffix(sel, "*"); ok && strings.HasPrefix(pin, pre) {
		return 2
	}
	if a, b, ok := strings.Cut(sel, "-"); ok {
		pa, na := SplitNumber(a)
		pb, nb := SplitNumber(b)
		pp, np := SplitNumber(pin)
		if na >= 0 && nb >= 0 && np >= 0 && pa == pp && (pb == pa || pb == "") && na <= np && np <= nb {
			return 3
		}
	}
	return 0
}

// SplitNumber cuts "PA12" into "PA" and 12; -1 where no number ends it.
func SplitNumber(s string) (string, int) {
	i := len(s)
	for i > 0 && s[i-1] >= '0' && s[i-1] <= '9' {
		i--
	}
	n, err := strconv.Atoi(s[i:])
	if err != nil {
		return s, -1
	}
	return s[:i], n
}

// SomeOf lists the first few names and counts the rest.
func SomeOf(names []string, most int) string {
	names = slices.Compact(names)
	if len(names) <= most+1 {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
}

// LandPattern is the package drawn for a placed part: an option of its row
// that names one, else the part's own package.
func LandPattern(m *Component) string {
	for _, o := range m.Row.Options {
		if s, ok := strings.CutPrefix(strings.TrimSpace(o.S), "land pattern "); ok {
			return strings.TrimSpace(s)
		}
	}
	if e := m.Part.Attrs["land pattern"]; e != nil {
		return e.Trimmed()
	}
	return m.Part.Pack
}

// OtherSize says that the remarks behind two package names give different
// figures, such as bodies of 3 x 3 mm and of 4 x 4 mm. A name without figures
// says nothing against another.
func OtherSize(a, b string) bool {
	figures := func(s string) string {
		i := strings.IndexAny(s, ",(")
		if i < 0 {
			return ""
		}
		return strings.Join(strings.FieldsFunc(s[i:], func(r rune) bool { return r != '.' && (r < '0' || r > '9') }), " ")
	}
	x, y := figures(a), figures(b)
	return x != "" && y != "" && x != y
}

// PadCount is how many pads a package has, the thermal pad included: from
// `pads:`, else from the number in the package's name and `exposed pad:`.
func PadCount(m *Component) (int, bool) {
	p := m.Part
	if e := p.Attrs["pads"]; e != nil {
		return FirstNumber(e.Trimmed())
	}
	n, known := PackagePads(p.Pack)
	if known && hasExposedPad(p) {
		n++
	}
	return n, known
}

// hasExposedPad says that the part notes a thermal pad: an `exposed pad:`
// line, "+ EP" in the package's name, or a pin of that type.
func hasExposedPad(p *Part) bool {
	if p.Attrs["exposed pad"] != nil || strings.Contains(strings.ToUpper(p.Pack), "EP") && strings.Contains(p.Pack, "+") {
		return true
	}
	return slices.ContainsFunc(p.Pins, func(q *Pin) bool { return q.Row.Type == "thermal pad" || slices.Contains(q.Row.Numbers, "EP") })
}

// StandsOnItsOwn says that a part needs no circuit around it: nothing supplies
// it, or its note says so.
func StandsOnItsOwn(p *Part) bool {
	if e := p.Attrs["application"]; e != nil && e.Trimmed() == "none" {
		return true
	}
	return len(p.Pins) > 0 && !p.HasSupply() && !p.HasSupplyOutput()
}

// Endless says that no row of a limit has an end: a typical value alone limits
// nothing, so that everything would lie inside.
func Endless(f *Fact) bool {
	for _, e := range f.Rows {
		parts, err := units.Split(e.RHS.S)
		if err != nil || parts.Shape != units.Columns || parts.Min.Present() || parts.Max.Present() {
			return false
		}
	}
	return len(f.Rows) > 0
}
