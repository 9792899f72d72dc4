package eval

import (
	"cmp"
	"fmt"
	"strings"

	"guardband/eval/circuit"
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
		for _, m := range c.PlacedParts() {
			cl := c.builtClaim(b, m.Ref, "The order code of "+m.Label()+" buys the part that is drawn.", m.Entry)
			code := codeOf(m)
			if code == "" {
				cl.lacks("no fact", "no order code is noted for part "+m.Part.ID, "note `order:` from the ordering table")
				continue
			}
			for _, o := range m.Part.Orders {
				cl.entries = append(cl.entries, o.Entry)
			}
			if m.Part.Code == nil {
				cl.lacks("no fact", "order code "+code+" cannot be decoded: part "+m.Part.ID+" has no `code:` pattern", "note the pattern and its field tables from the ordering page, or `code: "+code+"` where the sheet knows this code alone")
				continue
			}
			cl.entries = append(append(cl.entries, m.Part.Code), m.Part.Fields...)
			if e := m.Part.Attrs["package"]; e != nil {
				cl.entries = append(cl.entries, e)
			}
			if e := m.Part.Attrs["temperature grade"]; e != nil {
				if a := circuit.ReadAsked(e.Trimmed()); a.Ok && a.Dim == dimKelvin && a.Low != "" && a.High != "" {
					c.checkGrade(cl, m, "temperature grade "+e.Trimmed(), e.Trimmed(), a)
				}
			}
			said := map[string]bool{}
			for _, o := range m.Part.Orders { // each code noted may be bought
				if got, bad := c.decodedOf(m.Part, o.Code); bad != "" {
					cl.settle(record.Failed, bad)
				} else {
					c.checkOptions(cl, m, o.Code, got, said)
				}
			}
		}
	},
}

// checkOptions compares what a code buys with what is drawn.
func (c *compiler) checkOptions(cl *claim, m *circuit.Component, code string, got []decoded, said map[string]bool) {
	var says []string
	drawn := landPattern(m)
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
		if same := circuit.SamePackage(d.means, drawn); same && otherSize(d.means, drawn) {
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
		cl.lacksOnce(said, "no fact", "no package is noted for part "+m.Part.ID, "note `package:` from the mechanical data")
	}
}

// landPattern is the package drawn for a placed part: an option of its row
// that names one, else the part's own package.
func landPattern(m *circuit.Component) string {
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
