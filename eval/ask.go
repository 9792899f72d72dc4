package eval

import (
	"slices"

	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
)

// try adds a criterion like ask, but tells what is wrong with it as an open
// point: the criteria of a check are put together from what the notes say, so
// a mismatch of units or a missing column is a gap of the notes and no error
// in anything that the user typed. It says whether the criterion stands.
func (c *compiler) try(cl *claim, text string) bool {
	e, errs := formula.Parse(text)
	k := &criterion{text: notebook.Text{S: text}, src: text, expr: e}
	s := &scope{c: c}
	if len(errs) == 0 {
		k.comp, errs = c.check.Criterion(e, s, nil)
	}
	switch {
	case len(errs) > 0:
		cl.lacks("not evaluated", "`"+text+"`: "+errs[0].Msg, errs[0].Hint)
		return false
	case k.comp.Class != formula.Bool:
		cl.lacks("not evaluated", "`"+text+"` cannot be worked out", "see the diagnostics")
		return false
	}
	k.uses = s.used
	for _, y := range s.used {
		cl.note(y)
	}
	cl.crit = append(cl.crit, k)
	return true
}

// presume notes a figure that a check takes from a standard or from common
// practice because the notes state none; the record lists it as assumed.
func (cl *claim) presume(text string) {
	if !slices.Contains(cl.presumed, text) {
		cl.presumed = append(cl.presumed, text)
	}
}

// tryUnsure adds a criterion that opens with a reason where it is broken.
func (c *compiler) tryUnsure(cl *claim, text string, unsure *record.OpenPoint) {
	if c.try(cl, text) && unsure != nil {
		cl.crit[len(cl.crit)-1].unsure = unsure
	}
}
