package circuit

import (
	"slices"
	"strings"

	"guardband/notebook"
	"guardband/units"
)

// Joint is a pin, or an end of a plain kind, on a net.
type Joint struct {
	Comp *Component
	Pin  *Pin // nil for a plain kind
}

// Component is one placed part.
type Component struct {
	Ref     string
	Part    *Part  // nil for a kind
	Kind    string // "resistor"
	Row     *notebook.Placement
	Entry   *notebook.Entry
	Conns   map[string]*Net // by pin name or number as typed; of a plain kind by placed
	Placed  []string        // the ends of a plain kind in the order of its row: "1", "2", a number or a name
	PinNets map[*Pin]*Net
	roles   []*Pin        // its pins where its row gives some of them a role, else nil
	Bare    map[*Pin]bool // pins left open on this board, `PA6=-`
	Virtual bool          // "one unit, any" of a part type that is not placed
	Asleep  bool          // its supplies are off in the state that is worked out

	Subjects  map[*Pin]string // how claims name its pins, once asked
	FromFile  map[string]*Pin // pins that a file joins, by the key of their connection
	Overruled []string        // pins of the file that the row joins itself

	Link       bool            // it makes its two nets one
	drawnPins  map[*Pin]*Net   // nets as drawn of the pins that a link moved to another
	drawnConns map[string]*Net // the same of conns
	Feeds      *Net            // net that it brings the voltage of its other one to
}

// OtherPlaced says that something speaks of another placement of the same
// part, which has a comparison of its own.
func (m *Component) OtherPlaced(speaks func(ref string) bool) bool {
	return slices.ContainsFunc(m.Part.Placed, func(o *Component) bool { return o != m && speaks(o.Ref) })
}

// StatesUse says that conditions of use state a quantity.
func StatesUse(conds []notebook.Cond, name string) bool {
	return slices.ContainsFunc(conds, func(k notebook.Cond) bool { return k.Flag == "" && SameSymbol(k.Name, name) })
}

// HasFlag says that conditions of use name a flag.
func HasFlag(conds []notebook.Cond, flag string) bool {
	return slices.ContainsFunc(conds, func(k notebook.Cond) bool { return k.Flag == flag })
}

// SteadyMake says that a capacitor is of a make whose capacitance does not go
// with the voltage across it: known by the words of its title or its row.
func (m *Component) SteadyMake() bool {
	return m.Says("electrolytic", "film", "tantalum", "polymer", "mica")
}

// Says that one of some words stands in the row or the title of a part.
func (m *Component) Says(wanted ...string) bool {
	words := ""
	for _, o := range m.Row.Options {
		words += " " + strings.ToLower(o.S)
	}
	if m.Part != nil {
		words += " " + strings.ToLower(m.Part.Title)
	}
	return slices.ContainsFunc(wanted, func(w string) bool { return strings.Contains(words, w) })
}

// NotFitted says that a placement is left off the board.
func (m *Component) NotFitted() bool {
	for _, o := range m.Row.Options {
		switch strings.ToLower(strings.TrimSpace(o.S)) {
		case "do not populate", "dnp", "not fitted":
			return true
		}
	}
	return false
}

// WithoutNote is the kind of a part that exported files place and of which
// nothing else is known: something that may bring or take anything.
const WithoutNote = "part without a note"

// Unnoted says that nothing is known of a part but where it is joined: it has
// no note, or one without pins.
func (m *Component) Unnoted() bool {
	return m.Kind == WithoutNote || m.Part != nil && len(m.Pins()) == 0 && !HasNoPins(m.Part)
}

// Option is the first option of a row that is one quantity of a dimension, as
// typed.
func (m *Component) Option(dim units.Dim) (string, bool) {
	for _, o := range m.Row.Options {
		t := strings.TrimSpace(o.S)
		if q, err := units.ParseLiteral(t); err == nil && q.Type.Dim == dim && q.Type.Kind == units.Plain && q.Unit.Symbol != "" {
			return t, true
		}
	}
	return "", false
}

// OptionNamed is what follows a word at the start of an option: the "62 %" of
// "retention 62 %".
func (m *Component) OptionNamed(words ...string) string {
	for _, o := range m.Row.Options {
		first, rest, _ := strings.Cut(strings.TrimSpace(o.S), " ")
		if slices.Contains(words, first) && strings.TrimSpace(rest) != "" {
			return strings.TrimSpace(rest)
		}
	}
	return ""
}

// StatedOf is what a row states of a use, as typed.
func StatedOf(m *Component, use string) string {
	for _, k := range m.Row.InUse {
		if k.Flag == "" && k.Name == use {
			return strings.TrimSpace(k.Value.S)
		}
	}
	return ""
}
