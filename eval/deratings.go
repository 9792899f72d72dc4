package eval

import (
	"math/big"
	"strings"

	"guardband/eval/circuit"
	"guardband/notebook"
	"guardband/units"
)

// DeratingPoint is a share of a rating and the temperature it is stated for, ""
// for any.
type DeratingPoint struct{ Share, At string }

// deratingIn finds the label of a block that speaks of a kind, nil without one.
func deratingIn(b *notebook.Block, kind string) []DeratingPoint {
	for _, e := range b.Entries {
		if e.Label == "derating" && strings.TrimSpace(e.Arg) == kind {
			if p := deratingPoints(e.Trimmed()); p != nil {
				return p
			}
		}
	}
	return nil
}

// deratingPoints reads a share, or shares at rising temperatures; nil of what
// is neither.
func deratingPoints(text string) (out []DeratingPoint) {
	last := (*big.Rat)(nil)
	list := strings.Split(text, ",")
	for _, t := range list {
		share, at, _ := strings.Cut(t, " at ")
		p := DeratingPoint{strings.TrimSpace(share), strings.TrimSpace(at)}
		q, err := units.ParseLiteral(p.Share)
		if err != nil || q.Type != (units.Type{}) || q.SI.Sign() < 0 || q.SI.Cmp(one) > 0 ||
			len(list) == 1 && (p.At != "" || q.SI.Sign() == 0) {
			return nil
		}
		if len(list) > 1 {
			x, err := units.ParseLiteral(p.At)
			if err != nil || x.Type.Kind != units.Point || last != nil && x.SI.Cmp(last) <= 0 {
				return nil
			}
			last = x.SI
		}
		out = append(out, p)
	}
	return out
}

// checkDeratings tells of labels that no derating can be read from: nothing
// would be derated.
func (c *compiler) checkDeratings() {
	for _, b := range c.blocks {
		for _, e := range b.Entries {
			if e.Label == "derating" && deratingPoints(e.Trimmed()) == nil {
				c.diagnose(notebook.Err, "derating-bad", e.Text, "a share of a rating was expected here",
					"write `derating resistor: 80 %`, or by rising temperature `derating resistor: 100 % at 70 °C, 0 % at 155 °C`")
			}
		}
	}
}

// Derating is the derating asked for a placed part: by its note, else by the
// circuit or the design, for its kind before any.
func (c answers) Derating(m *circuit.Component, kind string) []DeratingPoint {
	for _, want := range []string{kind, ""} {
		if m.Part != nil {
			if p := deratingIn(m.Part.Block, want); p != nil {
				return p
			}
		}
	}
	for _, want := range []string{kind, ""} {
		for _, b := range c.blocks {
			if p := deratingIn(b, want); b.Kind != "part" && p != nil {
				return p
			}
		}
	}
	return nil
}
