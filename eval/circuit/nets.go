package circuit

import (
	"slices"
	"strings"

	"guardband/notebook"
)

// Resistor is one that joins a net to another.
type Resistor struct {
	Comp  *Component
	Other *Net
}

// Net is one net of the board.
type Net struct {
	Name    string
	Joined  []Joint // of parts that are fitted
	Text    notebook.Text
	spelled string       // its voltage in a formula, once asked
	Names   []string     // of the nets that links make one of it
	Links   []*Component // those links
	Feed    *feedBy      // what brings it the voltage of another net
	Ties    []*Component // what joins it to others with little resistance
}

// AddTo adds what a list does not have yet.
func AddTo[T comparable](l []T, x T) []T {
	if slices.Contains(l, x) {
		return l
	}
	return append(l, x)
}

// SupplyOutputs are the supplies that feed a net, one a part.
func SupplyOutputs(n *Net) []Joint {
	var out []Joint
	for _, j := range n.PinsOf() {
		if j.Pin.Row.Type == "supply output" && !SamePart(out, j) {
			out = append(out, j)
		}
	}
	return out
}

// SamePart says that one of some pins is of the same part.
func SamePart(js []Joint, j Joint) bool {
	return slices.ContainsFunc(js, func(k Joint) bool { return k.Comp == j.Comp })
}

// DriversOf are the pins of a net that can set the level another pin reads.
func (c *Circuit) DriversOf(n *Net, in Joint) []Joint {
	return slices.DeleteFunc(n.PinsOf(), func(j Joint) bool { return j.Comp == in.Comp || !j.Pin.Drives() })
}

// NetName is the name of a net, "" of none.
func NetName(n *Net) string {
	if n == nil {
		return ""
	}
	return n.Name
}

// Take joins what is fitted: a part left off the board neither feeds a net nor
// loads it.
func (n *Net) Take(j Joint) {
	if !j.Comp.NotFitted() {
		n.Joined = append(n.Joined, j)
	}
}

// PinsNamed are the pins of that name, or the one of that number.
func (m *Component) PinsNamed(name string) []*Pin {
	others := func(q *Pin) bool { return q.Row.Name != name }
	if out := slices.DeleteFunc(slices.Clone(m.Pins()), others); len(out) > 0 {
		return out
	}
	for _, q := range m.Pins() {
		if slices.Contains(q.Row.Numbers, name) {
			return []*Pin{q}
		}
	}
	return nil
}

// PinNames are the names of the pins, in the order noted.
func (p *Part) PinNames() []string {
	return namesOf(p.Pins, func(q *Pin) string { return q.Row.Name })
}

// Obeys is the name of the facts a pin obeys: the one its row gives, else its
// own. The name of a supply in the row of a signal pin gives it no limits.
func (q *Pin) Obeys() string {
	if q.Row.Facts != "" && !q.Refers {
		return q.Row.Facts
	}
	return q.Row.Name
}

// SameSymbol compares a pin name with a fact's symbol: V_IN is VIN.
func SameSymbol(a, b string) bool {
	return strings.ReplaceAll(a, "_", "") == strings.ReplaceAll(b, "_", "")
}

// Drivers are the supply outputs that stand on a net with a stated voltage.
func (n *Net) Drivers() []Joint {
	return slices.DeleteFunc(n.PinsOf(), func(j Joint) bool {
		return j.Pin.Row.Type != "supply output" || j.Comp.Part.OutputFact(j.Pin) == ""
	})
}

// OutputFact is the fact that states the voltage of an output pin, "" if none.
func (p *Part) OutputFact(q *Pin) string {
	if k := slices.IndexFunc(p.FactOrder, func(f *Fact) bool { return f.Section == "spec" && SameSymbol(f.Name, q.Obeys()) }); k >= 0 {
		return p.FactOrder[k].Name
	}
	if p.HasFact("V_OUT") {
		return "V_OUT"
	}
	return ""
}

// Name is the designator, and the pin of a part with notes: U1.VDD.
func (j Joint) Name() string {
	if j.Pin == nil {
		return j.Comp.Ref
	}
	return j.Comp.Ref + "." + j.Pin.Row.Name
}

// IsGround knows the names of the common return, which is 0 V by definition.
func IsGround(name string) bool {
	return slices.Contains([]string{"GND", "AGND", "DGND", "PGND", "VSS", "0V"}, name)
}

// RefList lists designators.
func RefList(ms []*Component) string {
	return strings.Join(namesOf(ms, func(m *Component) string { return m.Ref }), ", ")
}

// NetsNamed are the nets of the pins that a name of the facts speaks of.
func (m *Component) NetsNamed(name string) []*Net {
	if m.Part == nil {
		return nil
	}
	var own, obeying []*Net
	for _, q := range m.Pins() {
		n := m.PinNets[q]
		switch {
		case n == nil:
		case SameSymbol(q.Row.Name, name):
			own = AddTo(own, n)
		case SameSymbol(q.Obeys(), name):
			obeying = AddTo(obeying, n)
		}
	}
	if len(own) > 0 {
		return own
	}
	return obeying
}

// NetNames joins the names of nets by "and".
func NetNames(l []*Net) string {
	return strings.Join(namesOf(l, func(n *Net) string { return n.Name }), " and ")
}

func namesOf[T any](l []T, name func(T) string) (out []string) {
	for _, x := range l {
		out = append(out, name(x))
	}
	return out
}

// IsRail says that a net carries a supply or the common return, not a signal.
func (c *Circuit) IsRail(n *Net) bool {
	rail, known := c.rails[n]
	if !known {
		rail = c.findRail(n)
		if c.rails == nil {
			c.rails = map[*Net]bool{}
		}
		c.rails[n] = rail
	}
	return rail
}

func (c *Circuit) findRail(n *Net) bool {
	if IsGround(n.Name) || c.VoltageKnown(n) {
		return true
	}
	return n.hasPin("supply", "supply output", "ground")
}

// IsReturn says that a net is the common return: by its name, or a ground pin
// of a part stands on it and no supply does.
func IsReturn(n *Net) bool {
	return IsGround(n.Name) || n.hasPin("ground") && !n.hasPin("supply", "supply output")
}

// hasPin says that a pin of one of some types is on a net.
func (n *Net) hasPin(types ...string) bool {
	return slices.ContainsFunc(n.Joined, func(j Joint) bool { return j.Pin != nil && slices.Contains(types, j.Pin.Row.Type) })
}

// SignalNets are the nets that carry no supply, in the order they were named.
func (c *Circuit) SignalNets() []*Net {
	return slices.DeleteFunc(slices.Clone(c.Nets.List), c.IsRail)
}

// PinsOf are the noted pins that stand on a net.
func (n *Net) PinsOf() []Joint {
	var out []Joint
	for _, j := range n.Joined {
		if j.Pin != nil {
			out = append(out, j)
		}
	}
	return out
}

// ResistorsAt are the placed resistors on a net, with their far ends.
func (c *Circuit) ResistorsAt(n *Net) []Resistor {
	var out []Resistor
	for _, j := range n.Joined {
		if !j.Comp.IsResistor() {
			continue
		}
		if far := j.Comp.Opposite(n); far != nil && far != n {
			out = append(out, Resistor{j.Comp, far})
		}
	}
	return out
}

// Pulls are the resistors from a signal net to a rail or to the return.
func (c *Circuit) Pulls(n *Net) []Resistor {
	return slices.DeleteFunc(c.ResistorsAt(n), func(r Resistor) bool { return !c.IsRail(r.Other) })
}

// PinsAlone says that nothing on a net passes a direct current but pins of
// parts with a supply.
func PinsAlone(n *Net) bool {
	return !slices.ContainsFunc(n.Joined, func(j Joint) bool {
		quiet := slices.Contains([]string{"capacitor", "crystal", "resonator", "test point"}, j.Comp.Sort())
		return !quiet && !j.Comp.IsConnector() && (j.Comp.Part == nil || !j.Comp.Part.HasSupply())
	})
}

// BareName is a pin's name without what marks it active low or numbers it:
// /CS, nCS, CS_N, CSN, CS#, CS1 are CS.
func BareName(s string) string {
	s = strings.ToUpper(strings.TrimPrefix(s, "n"))
	s = strings.Trim(s, "/~#!*_0123456789")
	if len(s) > 2 {
		s = strings.TrimSuffix(s, "_N")
		s = strings.TrimSuffix(s, "_B")
		if len(s) > 2 {
			s = strings.TrimSuffix(s, "N")
		}
	}
	return strings.Trim(s, "_")
}
