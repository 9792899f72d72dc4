package eval

import (
	"regexp"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/record"
)

// defaultWords finds what a check presumes in place of a note; the rest of what is
// presumed is about the circuit, and mostly claimed elsewhere.
var defaultWords = regexp.MustCompile(`common practice|the figures of|(not|none is) noted`)

// byDefault is the verdict of a claim when what it takes in place of a note is
// weighed: figures of generic parts, of standards, of common practice. They
// never make it fail, a pass on them is counted apart, and is open where the
// run is strict.
func (c judge) byDefault(cl *Claim, v record.Verdict) record.Verdict {
	if v != record.Passed && v != record.Failed {
		return v
	}
	var generic, defaults []string
	for _, y := range closure(cl.uses) {
		if y.assumed != "" && y.comp != nil && y.comp.Part != nil && y.comp.Part.Generic {
			generic = circuit.AddTo(generic, y.name+" of "+y.assumed)
		}
	}
	defaults = append(defaults, generic...)
	for _, text := range cl.presumed {
		if defaultWords.MatchString(text) {
			defaults = append(defaults, text)
		}
	}
	point := record.OpenPoint{Reason: "default", Settle: "note the part that is bought, with its figures"}
	switch {
	case v == record.Failed && len(generic) > 0:
		point.Text = "it fails with " + strings.Join(generic, "; ") + ", which may not be the figures of this part"
	case v == record.Failed || len(defaults) == 0:
		return v
	case !c.opt.Strict:
		cl.onDefault = true
		return v
	default:
		point.Text = "the pass rests on what no note states: " + strings.Join(defaults, "; ")
	}
	cl.Out.Open = append(cl.Out.Open, point)
	return record.Open
}
