package eval

import (
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
)

// assumptions lists what is taken as given, each once, with the claims that
// rest on it.
type assumptions struct {
	list []record.Assumption
	by   map[string]int
}

func (a *assumptions) add(kind, text, claim string, at *record.Position) int {
	key := kind + "\x00" + text
	i, ok := a.by[key]
	if !ok {
		if a.by == nil {
			a.by = map[string]int{}
		}
		i = len(a.list)
		a.by[key] = i
		a.list = append(a.list, record.Assumption{Text: text, Kind: kind, Claims: []string{}, Position: at})
	}
	a.list[i].Claims = circuit.AddTo(a.list[i].Claims, claim)
	return i
}

// assumed lists what a claim takes as given.
func (c judge) assumed(cl *Claim) {
	note := func(kind, text string, e *notebook.Entry) {
		var at *record.Position
		if e != nil {
			at = position(e.Text.Pos(0))
		}
		cl.Out.Assumes = circuit.AddTo(cl.Out.Assumes, c.assume.add(kind, text, cl.id, at))
	}
	for _, text := range cl.presumed {
		kind := "standard figure"
		if strings.HasPrefix(text, OnRating) {
			kind = record.KindRating
		}
		note(kind, text, nil)
	}
	for _, y := range closure(cl.uses) {
		if y.assumed != "" {
			note("assumed", y.name+": "+y.assumed, y.entry)
		} else if y.entry != nil && !y.derived && len(y.cites) == 0 && !y.limitless() {
			note("uncited value", y.name+" = "+c.statedAs(y)+" has no source", y.entry)
		}
		if y.nonneg {
			note(notebook.AtLeastZero, y.name+" is declared non-negative", y.entry)
		}
		for _, r := range y.rows {
			if r.out {
				continue
			}
			if len(r.entry.Conds) == 0 && r.entry.Section == "spec" && bare(r) {
				note("bare figure", y.name+" = "+strings.TrimSpace(r.entry.RHS.S)+" has no tolerance given and is used as exact", r.entry)
			}
			for _, d := range r.conds {
				if d.judged {
					note("condition", y.name+" stated at "+strings.TrimSpace(d.cond.Text.S)+" is used over the whole range", r.entry)
				}
			}
			if y.comp != nil && y.comp.Virtual && len(r.entry.Conds) > 0 {
				note("condition", y.name+" is taken at its own conditions: "+condsText(r.entry), r.entry)
			}
		}
	}
	for _, k := range cl.Crit {
		if k.empty {
			note("nothing asked", "`"+k.src+"` is true for any values", nil)
		}
		if strings.Contains(k.src, ".typ") {
			note("typical by name", "`"+k.src+"` leans on a typical value by name", nil)
		}
	}
}

// OnRating begins what such a pass presumes.
const OnRating = "the pass rests on a maximum rating"

// limitless says that a symbol is no quantity of the notes: a net, ambient.
func (y *symbol) limitless() bool { return y.entry.RHS.S == "" && y.entry.Placement == nil }

func bare(r *row) bool {
	return r.cols[0] == nil && r.cols[2] == nil && r.cols[1] != nil && r.cols[1].Fixed
}

// condsText is the conditions of a row as typed, without "at".
func condsText(e *notebook.Entry) string {
	var out []string
	for _, k := range e.Conds {
		out = append(out, strings.TrimSpace(k.Text.S))
	}
	return strings.Join(out, "; ")
}

// statedAs is a symbol as the notes state it.
func (c judge) statedAs(y *symbol) string {
	if y.entry != nil && len(y.rows) == 0 && y.entry.RHS.S != "" {
		return strings.TrimSpace(y.entry.RHS.S)
	}
	return recorder(c).basis(y).Shown
}
