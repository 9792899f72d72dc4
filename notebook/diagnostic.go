package notebook

import (
	"cmp"
	"slices"
)

// Severity of a diagnostic.
type Severity string

const (
	Err  Severity = "error"
	Warn Severity = "warning"
)

// Diagnostic is one complaint that a user can act on.
type Diagnostic struct {
	Code     string    `json:"code"` // stable: "name-unknown"
	Severity Severity  `json:"severity"`
	Pos                // first character meant
	EndCol   int       `json:"end_column,omitempty"` // column after the last, on the same line; 0 = one character
	Source   string    `json:"source,omitempty"`     // the line itself
	Message  string    `json:"message"`
	Hint     string    `json:"hint,omitempty"` // how to mend it
	Related  []Related `json:"related,omitempty"`
}

// Related is another place that a diagnostic speaks of.
type Related struct {
	Pos
	Message string `json:"message"`
}

// Diagnostics collects complaints of one run.
type Diagnostics struct{ list []Diagnostic }

// Add keeps a complaint.
func (d *Diagnostics) Add(x Diagnostic) { d.list = append(d.list, x) }

// At complains about bytes i to j of a text.
func (d *Diagnostics) At(sev Severity, code string, t Text, i, j int, message, hint string, rel ...Related) {
	p := t.Pos(i)
	x := Diagnostic{Code: code, Severity: sev, Pos: p, Message: message, Hint: hint, Related: rel}
	if t.Src != nil {
		x.Source = t.Src.Line(p.Line)
		if j > i {
			if q := t.Pos(j - 1); q.Line == p.Line {
				x.EndCol = q.Col + 1
			}
		}
	}
	d.Add(x)
}

// Sorted gives all complaints by file, line, column and code, repeats of the
// same code at one place dropped.
func (d *Diagnostics) Sorted() []Diagnostic {
	l := slices.Clone(d.list)
	slices.SortStableFunc(l, func(a, b Diagnostic) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col),
			cmp.Compare(a.Code, b.Code), cmp.Compare(a.Message, b.Message))
	})
	return slices.CompactFunc(l, func(a, b Diagnostic) bool {
		return a.Pos == b.Pos && a.Code == b.Code && a.Message == b.Message
	})
}

// Errors counts complaints of severity Err.
func (d *Diagnostics) Errors() int {
	n := 0
	for _, x := range d.list {
		if x.Severity == Err {
			n++
		}
	}
	return n
}
