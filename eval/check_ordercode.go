package eval

import (
	"cmp"
	"fmt"
	"strings"

	"guardband/eval/record"
)

// orderCodes asks that the order code of each placed part fits the maker's
// pattern and buys the package and options that are drawn.
var orderCodes = &builtin{
	name: "order-code",
	rule: "The order code decodes by the part's own table, and the package it buys is the package drawn. What its other fields mean agrees with the notes: " +
		"a quantity with the fact of the field's name, or the main value of the part for `volts` and `value`; a tolerance with the spread noted; a range of temperature with the surroundings.",
	source: "common practice; ordering table of the part's own sheet",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.placedParts() {
			cl := c.builtClaim(b, m.ref, "The order code of "+m.label()+" buys the part that is drawn.", m.entry)
			code := m.codeOf()
			if code == "" {
				cl.lacks("no fact", "no order code is noted for part "+m.part.id, "note `order:` from the ordering table")
				continue
			}
			for _, o := range m.part.orders {
				cl.entries = append(cl.entries, o.entry)
			}
			if m.part.code == nil {
				cl.lacks("no fact", "order code "+code+" cannot be decoded: part "+m.part.id+" has no `code:` pattern", "note the pattern and its field tables from the ordering page, or `code: "+code+"` where the sheet knows this code alone")
				continue
			}
			cl.entries = append(append(cl.entries, m.part.code), m.part.fields...)
			if e := m.part.attrs["package"]; e != nil {
				cl.entries = append(cl.entries, e)
			}
			if e := m.part.attrs["temperature grade"]; e != nil {
				if a := readAsked(value(e)); a.ok && a.dim == dimKelvin && a.low != "" && a.high != "" {
					c.checkGrade(cl, m, "temperature grade "+value(e), value(e), a)
				}
			}
			said := map[string]bool{}
			for _, o := range m.part.orders { // each code noted may be bought
				if got, bad := c.decodedOf(m.part, o.code); bad != "" {
					cl.settle(record.Failed, bad)
				} else {
					c.checkOptions(cl, m, o.code, got, said)
				}
			}
		}
	},
}

// checkOptions compares what a code buys with what is drawn.
func (c *compiler) checkOptions(cl *claim, m *component, code string, got []decoded, said map[string]bool) {
	var says []string
	drawn := m.landPattern()
	for _, d := range got {
		says = append(says, d.field+" "+cmp.Or(d.code, "(left out)")+" = "+d.means)
	}
	if len(says) == 0 {
		cl.settle(record.Passed, code+" is the code the pattern allows")
	} else {
		cl.settle(record.Passed, code+" decodes: "+strings.Join(says, ", "))
	}
	for _, d := range got {
		if _, known := packagePads(d.means); !known && !isPackageField(d.field) {
			c.checkField(cl, m, d)
		}
	}
	for _, d := range got {
		named := isPackageField(d.field)
		if _, known := packagePads(d.means); drawn == "" || !named && !known {
			continue
		}
		if same := samePackage(d.means, drawn); same && otherSize(d.means, drawn) {
			cl.lacks("no fact", fmt.Sprintf("%s buys %s, and %s is drawn: it is not known whether these are one body", code, d.means, drawn), "note the same figures in the field table and in `package:`, or skip this check with the reason")
		} else if !named && !same {
			cl.lacks("no fact", fmt.Sprintf("%s has %s = %s, which reads like a package, and %s is drawn", code, d.field, d.means, drawn), "name the field `package` if it is the package, or skip this check with the reason")
			continue
		} else if same {
			cl.settle(record.Passed, fmt.Sprintf("%s buys %s, which is drawn", code, d.means))
		} else {
			cl.settle(record.Failed, fmt.Sprintf("%s buys %s, but %s is drawn", code, d.means, drawn))
		}
		return
	}
	if drawn == "" {
		cl.lacksOnce(said, "no fact", "no package is noted for part "+m.part.id, "note `package:` from the mechanical data")
	}
}

// landPattern is the package drawn for a placed part: an option of its row
// that names one, else the part's own package.
func (m *component) landPattern() string {
	for _, o := range m.row.Options {
		if s, ok := strings.CutPrefix(strings.TrimSpace(o.S), "land pattern "); ok {
			return strings.TrimSpace(s)
		}
	}
	if e := m.part.attrs["land pattern"]; e != nil {
		return value(e)
	}
	return m.part.pack
}

func isPackageField(name string) bool {
	switch strings.ToLower(name) {
	case "case", "package", "pkg", "housing", "body":
		return true
	}
	return false
}

// otherSize says that the remarks behind two package names give different
// figures, such as bodies of 3 x 3 mm and of 4 x 4 mm. A name without figures
// says nothing against another.
func otherSize(a, b string) bool {
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

// samePackage compares package names without blanks, dashes and case; what
// follows a comma or bracket is a remark.
func samePackage(a, b string) bool {
	fold := func(s string) string {
		if i := strings.IndexAny(s, ",("); i >= 0 {
			s = s[:i]
		}
		return strings.ToUpper(strings.NewReplacer(" ", "", "-", "", "_", "").Replace(s))
	}
	return fold(a) == fold(b)
}
