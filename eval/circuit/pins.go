package circuit

import (
	"slices"
	"strings"

	"guardband/notebook"
)

// Pin is one row of a pin table.
type Pin struct {
	Row    *notebook.PinRow
	Entry  *notebook.Entry
	Refers bool // its row names the supply it belongs to, not the facts it obeys
	Unused bool // its role where it is placed
	noted  *Pin // the pin as noted, of one that a row gives a role
}

// AsNoted is the pin before its firmware gives it the role it is placed in.
func (q *Pin) AsNoted() *Pin {
	if q.noted != nil {
		return q.noted
	}
	return q
}

// Pins are the pins of the part in the roles that its row gives them.
func (m *Component) Pins() []*Pin {
	if m.roles != nil {
		return m.roles
	}
	return m.Part.Pins
}

// rolesOf are the roles that pins of some types may be given besides unused.
var rolesOf = map[string][]string{
	"bidirectional": {"input", "output", "analog", "analog input", "analog output"},
	"input":         {"input"},
	"output":        {"output"},
	"analog":        {"analog", "analog input", "analog output"},
	"analog input":  {"analog", "analog input"},
	"analog output": {"analog", "analog output"},
}

// GiveRole gives the pins of a name the role of a row, and says why it cannot;
// known is whether there are such pins. An unused pin that goes both ways is left
// as it comes out of reset, an input.
func (m *Component) GiveRole(r notebook.PinRole) (why string, known bool) {
	for _, q := range m.PinsNamed(r.Pin) {
		known = true
		roles, signal := rolesOf[q.AsNoted().Row.Type]
		switch {
		case q.noted != nil:
			return "has two roles", true
		case !signal || r.Role != notebook.Unused && !slices.Contains(roles, r.Role):
			return "is noted as " + q.Row.Type, true
		}
		row := *q.Row
		switch {
		case r.Role != notebook.Unused:
			row.Type = r.Role
		case row.Type == "bidirectional":
			row.Type = "input"
		}
		if m.roles == nil {
			m.roles = slices.Clone(m.Part.Pins)
		}
		m.roles[slices.Index(m.roles, q)] = &Pin{Row: &row, Entry: q.Entry, Refers: q.Refers,
			Unused: r.Role == notebook.Unused, noted: q}
	}
	return "", known
}

// ByNumber are the noted pins of a placed part by their numbers.
func (m *Component) ByNumber() map[string]*Pin {
	out := map[string]*Pin{}
	if m.Part == nil {
		return out
	}
	for _, q := range m.Pins() {
		for _, k := range q.Row.Numbers {
			out[k] = q
		}
	}
	return out
}

// Pushes says that a pin is an output that holds its net at all times.
func Pushes(q *Pin) bool {
	return q.Row.Type != "bidirectional" && (q.Drives() || q.Row.Type == "analog output") && !q.LetsGo()
}

// PinSymbols are the conditions of an output that its net can tell.
var PinSymbols = map[string]bool{"I_OL": true, "IOL": true, "I_OH": true, "IOH": true}

// AsksPinCurrent says that a fact holds at a current of one pin, which is not
// stated for the part as a whole.
func (m *Component) AsksPinCurrent(f *Fact) bool {
	if m.Virtual || f.Section != "spec" {
		return false
	}
	for _, e := range f.Rows {
		for _, k := range e.Conds {
			if k.Flag == "" && PinSymbols[k.Name] && !StatesUse(m.Row.InUse, k.Name) {
				return true
			}
		}
	}
	return false
}

// Has says that the row of the pin has a flag.
func (q *Pin) Has(flag string) bool { return slices.Contains(q.Row.Flags, flag) }

// Drives says that a pin can set the level of its net.
func (q *Pin) Drives() bool {
	switch q.Row.Type {
	case "output", "bidirectional":
		return true
	case "clock":
		return q.Has("output")
	}
	return false
}

// Brings says that a pin can put the voltage of its part's supply on its net.
func (q *Pin) Brings() bool { return q.Drives() || q.Row.Type == "analog output" }

// Reads says that a pin takes a logic level from its net.
func (q *Pin) Reads() bool {
	switch q.Row.Type {
	case "input", "bidirectional":
		return true
	case "clock":
		return !q.Has("output")
	}
	return false
}

// OnlyReads says that a pin is an input and nothing else.
func (q *Pin) OnlyReads() bool { return q.Reads() && !q.Drives() }

// OnlyPullsLow says that a pin cannot drive its net high.
func (q *Pin) OnlyPullsLow() bool {
	return q.Drives() && (q.Has("open drain") || q.Has("open collector"))
}

// PulledInside says that the sheet notes a pull at the pin.
func (q *Pin) PulledInside() bool {
	return q.Has("pull-up") || q.Has("pull-down") || q.Has("keeper")
}

// LetsGo says that an output can leave its net alone.
func (q *Pin) LetsGo() bool {
	return q.Has("open drain") || q.Has("open collector") || q.Has("open source") || q.Has("three-state")
}

// MayStayOpen says that a pin needs no net: no internal connection, do not
// connect, or marked optional. An output may stay open as well; an input only
// where it is pulled inside, which unused-inputs judges too.
func MayStayOpen(q *Pin) bool {
	switch q.Row.Type {
	case "not connected", "do not connect", "output", "analog output":
		return true
	}
	return slices.Contains(q.Row.Flags, "optional") || q.OnlyReads() && q.PulledInside()
}

// FirstNumber is the whole number a text starts with.
func FirstNumber(s string) (int, bool) {
	n, i := 0, 0
	for i < len(s) && s[i] >= '0' && s[i] <= '9' && n < 1e6 {
		n = n*10 + int(s[i]-'0')
		i++
	}
	return n, i > 0
}

// IsFeedback says that a pin senses the output that its part makes.
func (q *Pin) IsFeedback() bool {
	return slices.Contains([]string{"FB", "VFB", "ADJ", "VADJ"}, strings.ToUpper(BareName(q.Row.Name)))
}
