package checks

import (
	"cmp"
	"fmt"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// orderCodes asks that the order code of each placed part fits the maker's
// pattern and buys the package and options that are drawn.
var orderCodes = &eval.Check{
	Name: "order-code",
	Rule: "The order code decodes by the part's own table, and the package it buys is the package drawn. What its other fields mean agrees with the notes: " +
		"a quantity with the fact of the field's name, or the main value of the part for `volts` and `value`; a tolerance with the spread noted; a range of temperature with the ambient range.",
	Source: "common practice; ordering table of the part's own sheet",
	Run: on(func(c *board, b *eval.Check) {
		for _, m := range c.PlacedParts() {
			cl := c.Claim(b, m.Ref, "The order code of "+m.Label()+" buys the part that is drawn.", m.Entry)
			code := circuit.CodeOf(m)
			if code == "" {
				cl.Lacks("no fact", "no order code is noted for part "+m.Part.ID, "note `order:` from the ordering table")
				continue
			}
			for _, o := range m.Part.Orders {
				cl.Entries = append(cl.Entries, o.Entry)
			}
			if m.Part.Code == nil {
				cl.Lacks("no fact", "order code "+code+" cannot be decoded: part "+m.Part.ID+" has no `code:` pattern",
					"note the pattern and its field tables from the ordering page, or `code: "+code+"` where the sheet knows this code alone")
				continue
			}
			cl.Entries = append(append(cl.Entries, m.Part.Code), m.Part.Fields...)
			if e := m.Part.Attrs["package"]; e != nil {
				cl.Entries = append(cl.Entries, e)
			}
			if e := m.Part.Attrs["temperature grade"]; e != nil {
				if a := circuit.ReadAsked(e.Trimmed()); a.Ok && a.Dim == circuit.DimKelvin && a.Low != "" && a.High != "" {
					checkGrade(c, cl, m, "temperature grade "+e.Trimmed(), e.Trimmed(), a)
				}
			}
			said := map[string]bool{}
			for _, o := range m.Part.Orders { // each code noted may be bought
				if got, bad := circuit.DecodedOf(m.Part, o.Code); bad != "" {
					cl.Settle(record.Failed, bad)
				} else {
					checkOptions(c, cl, m, o.Code, got, said)
				}
			}
		}
	}),
}

// checkOptions compares what a code buys with what is drawn.
func checkOptions(c *board, cl *eval.Claim, m *circuit.Component, code string, got []circuit.CodeField, said map[string]bool) {
	var says []string
	drawn := circuit.LandPattern(m)
	for _, d := range got {
		says = append(says, d.Field+" "+cmp.Or(d.Code, "(left out)")+" = "+d.Means)
	}
	if len(says) == 0 {
		cl.Settle(record.Passed, code+" is the code the pattern allows")
	} else {
		cl.Settle(record.Passed, code+" decodes: "+strings.Join(says, ", "))
	}
	for _, d := range got {
		if _, known := circuit.PackagePads(d.Means); !known && !isPackageField(d.Field) {
			checkField(c, cl, m, d)
		}
	}
	for _, d := range got {
		named := isPackageField(d.Field)
		if _, known := circuit.PackagePads(d.Means); drawn == "" || !named && !known {
			continue
		}
		if same := circuit.SamePackage(d.Means, drawn); same && circuit.OtherSize(d.Means, drawn) {
			cl.Lacks("no fact", fmt.Sprintf("%s buys %s, and %s is drawn: it is not known whether these are one body",
				code, d.Means, drawn), "note the same figures in the field table and in `package:`, or skip this check with the reason")
		} else if !named && !same {
			cl.Lacks("no fact", fmt.Sprintf("%s has %s = %s, which reads like a package, and %s is drawn", code,
				d.Field, d.Means, drawn), "name the field `package` if it is the package, or skip this check with the reason")
			continue
		} else if same {
			cl.Settle(record.Passed, fmt.Sprintf("%s buys %s, which is drawn", code, d.Means))
		} else {
			cl.Settle(record.Failed, fmt.Sprintf("%s buys %s, but %s is drawn", code, d.Means, drawn))
		}
		return
	}
	if drawn != "" && m.Part.Pack != "" && !circuit.SamePackage(drawn, m.Part.Pack) {
		cl.LacksOnce(said, "no fact", "land pattern "+drawn+" is drawn, and the package of part "+m.Part.ID+" is "+m.Part.Pack,
			"draw the land pattern of the package, or skip this check with the reason")
	}
	if drawn == "" {
		cl.LacksOnce(said, "no fact", "no package is noted for part "+m.Part.ID, "note `package:` from the mechanical data")
	}
}

func isPackageField(name string) bool {
	switch strings.ToLower(name) {
	case "case", "package", "pkg", "housing", "body":
		return true
	}
	return false
}
