package eval

import (
	"slices"
	"strings"

	"guardband/notebook"
	"guardband/units"
)

// rating is the limit of a placed part as a formula holds it.
type rating struct {
	text     string // "C1.absmax.V_R.max", "16 V"
	presumed string // where a standard and not the notes gives it: which
}

var (
	watt       = units.Type{Dim: units.Dim{4, 2, -6}}
	currentDim = units.Dim{0, 0, 0, 2}
)

// rated is the limit stated for a placed part: an absolute maximum of one of
// some names, an operating limit of one, else an option of its row that is a
// quantity of the same dimension ("16 V", "0.1 W").
func (m *component) rated(dim units.Dim, names ...string) (rating, bool) {
	if m.part != nil {
		for _, section := range []string{"absmax", "operating"} {
			if n := m.part.factNamed(section, names...); n != "" {
				return rating{text: m.ref + "." + section + "." + n + ".max"}, true
			}
		}
	}
	if q, ok := m.option(dim); ok {
		return rating{text: q}, true
	}
	return rating{}, false
}

// option is the first option of a row that is one quantity of a dimension, as
// typed.
func (m *component) option(dim units.Dim) (string, bool) {
	for _, o := range m.row.Options {
		t := strings.TrimSpace(o.S)
		if q, err := units.ParseLiteral(t); err == nil && q.Type.Dim == dim && q.Type.Kind == units.Plain && q.Unit.Symbol != "" {
			return t, true
		}
	}
	return "", false
}

// optionNamed is what follows a word at the start of an option: the "62 %" of
// "retention 62 %".
func (m *component) optionNamed(words ...string) string {
	for _, o := range m.row.Options {
		first, rest, _ := strings.Cut(strings.TrimSpace(o.S), " ")
		if slices.Contains(words, first) && strings.TrimSpace(rest) != "" {
			return strings.TrimSpace(rest)
		}
	}
	return ""
}

// size is the chip size of a placed part: an option of its row, else the
// package of its note.
func (m *component) size() (chipSize, bool) {
	for _, o := range m.row.Options {
		if s, ok := chipOf(strings.TrimSpace(o.S)); ok {
			return s, true
		}
	}
	if m.part != nil {
		return chipOf(strings.TrimSpace(m.part.pack))
	}
	return chipSize{}, false
}

// derating is the share of a rating that may be used, as a factor of a
// formula: from `derating KIND: 80 %` of the part, the circuit or the design,
// else `derating: 80 %`; "" where the notes ask for none.
func (c *compiler) derating(m *component, kind string) string {
	if m.part != nil {
		if k := deratingOf(m.part.block, kind); k != "" {
			return k + " * "
		}
	}
	for _, want := range []string{kind, ""} {
		for _, n := range c.book.Notebooks {
			for _, b := range n.Blocks {
				if b.Kind == "part" {
					continue
				}
				if k := deratingIn(b, want); k != "" {
					return k + " * "
				}
			}
		}
	}
	return ""
}

func deratingOf(b *notebook.Block, kind string) string {
	if k := deratingIn(b, kind); k != "" {
		return k
	}
	return deratingIn(b, "")
}

// deratingIn finds a label of a block that speaks of a kind; it counts only if
// it is a share.
func deratingIn(b *notebook.Block, kind string) string {
	for _, e := range b.Entries {
		if e.Label != "derating" || strings.TrimSpace(e.Arg) != kind {
			continue
		}
		if q, err := units.ParseLiteral(value(e)); err == nil && q.Type == (units.Type{}) && q.SI.Sign() > 0 {
			return value(e)
		}
	}
	return ""
}
