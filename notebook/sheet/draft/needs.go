package draft

import (
	"fmt"
	"strings"

	"guardband/notebook/sheet"
)

// needs writes what the sheet asks for in words. A value that stands only in
// the drawing is a comment: the person looks which pins it joins.
func (n *noteWriter) needs(d sheet.Draft) {
	switch {
	case len(d.Needs) > 0:
		fmt.Fprintln(n.w, "application:")
	case len(d.Drawn) > 0:
		fmt.Fprintln(n.w, "# application:") // a label without rows is an error
	}
	for _, k := range d.Needs {
		value := k.Value
		if k.ESR != "" {
			value += ", ESR " + k.ESR
		}
		n.wrote.Needs++
		fmt.Fprintf(n.w, "  %-5s %-5s %s %s  %s %s\n", k.A, k.B, k.Kind, micro(value), cite(k.Quoted), Mark)
	}
	for _, v := range d.Drawn {
		near := ""
		if v.Near != "" {
			near = " near " + v.Near
		}
		fmt.Fprintf(n.w, "  # PIN  PIN  %s %s  drawn%s; look which pins it joins  %s\n", v.Kind, micro(v.Value), near, cite(v.Quoted))
	}
}

// micro writes the prefix as the language does.
func micro(s string) string { return strings.ReplaceAll(s, "μ", "µ") }
