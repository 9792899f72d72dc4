package circuit

import (
	"slices"
	"strings"
)

// IsConnector says that a component is what cables and plugs go to.
func (m *Component) IsConnector() bool {
	if m.Sort() == "connector" {
		return true
	}
	if m.Part == nil || m.Part.HasSupply() {
		return false
	}
	for _, w := range strings.FieldsFunc(strings.ToLower(m.Part.Title), func(r rune) bool { return strings.ContainsRune(" ,;()-", r) }) {
		switch w {
		case "connector", "receptacle", "header", "socket", "plug":
			return true
		}
	}
	return false
}

// NetworkEnds are the nets that a part joins, of a junction anode and cathode.
func (m *Component) NetworkEnds() (from, to *Net) {
	if m.IsJunction() {
		if a, k := m.LedPins(); a != nil && k != nil {
			return a, k
		}
	}
	if a, b, ok := m.Ends(); ok {
		return a, b
	}
	if a, b := m.WindingEnds(); a != nil && b != nil {
		return a, b
	}
	return m.ChannelEnds()
}

// IsJunction says that a part is a diode of some kind between two ends.
func (m *Component) IsJunction() bool {
	switch m.Sort() {
	case "diode", "LED", "Zener diode":
		return !m.SeveralInOne()
	}
	if m.Part == nil {
		return false
	}
	return m.ByLight() || m.IsSuppressor()
}

// ByLight says that a part is an optocoupler: it notes a transfer ratio, or the
// forward voltage of its LED.
func (m *Component) ByLight() bool {
	_, _, poles := m.Poles()
	return m.Part.FactNamed("spec", "CTR") != "" || poles && m.Part.FactNamed("spec", "V_F") != "" &&
		m.Says("optocoupler", "opto-coupler", "photocoupler", "opto-triac", "phototriac", "solid-state relay", "photorelay")
}

// SeveralInOne says that a part of a kind with two ends joins more nets: several
// of them are in one package.
func (m *Component) SeveralInOne() bool {
	if m.Part == nil || !TwoTerminal[m.Sort()] || m.Sort() == "crystal" || m.ByLight() {
		return false
	}
	var nets []*Net
	for _, q := range m.Part.Pins {
		if n := m.PinNets[q]; n != nil && q.Row.Type != "not connected" && q.Row.Type != "do not connect" {
			nets = AddTo(nets, n)
		}
	}
	return len(nets) > 2
}

// IsSuppressor says that a part with notes is a suppressor of two ends.
func (m *Component) IsSuppressor() bool {
	_, _, ok := m.Ends()
	return ok && m.Part != nil && (LimitNamed(m.Part, "V_RWM") != "" || slices.Contains([]string{"suppressor", "suppressor diode",
		"TVS", "TVS diode"}, m.Sort()))
}

// BreaksDown says that a diode is made to be used in breakdown.
func (m *Component) BreaksDown() bool {
	return m.Sort() == "Zener diode" || m.Part != nil && m.IsSuppressor()
}

// MakesVoltage says that a part may drive a pin beyond its supplies: it stands
// at a coil, or states a switching frequency.
func (m *Component) MakesVoltage() bool {
	if m.Part.FactNamed("spec", "f_SW", "f_OSC", "f_CP") != "" {
		return true
	}
	for _, n := range m.PinNets {
		for _, j := range n.Joined {
			if k := j.Comp.Sort(); k == "inductor" || k == "transformer" {
				return true
			}
		}
	}
	return false
}

// CoilEnds are the nets of the coil of a part that notes its resistance.
func (m *Component) CoilEnds() (one, two *Net) {
	if m.Part.FactNamed("spec", "R_COIL", "R_C") == "" {
		return nil, nil
	}
	if a, b, ok := m.Ends(); ok {
		return a, b
	}
	return m.End(coilEnds[0]...), m.End(coilEnds[1]...)
}

// coilEnds are usual names of the ends of a coil; common practice.
var coilEnds = [2][]string{{"C1", "A1", "COIL1", "COIL+", "COIL_P", "A", "+", "L1"}, {"C2", "A2", "COIL2", "COIL-", "COIL_N", "B", "-", "L2"}}

// IsContact says that a pin is no end of a coil.
func (q *Pin) IsContact() bool {
	return !slices.Contains(coilEnds[0], q.Row.Name) && !slices.Contains(coilEnds[1], q.Row.Name)
}

// Channel says whether a field-effect transistor is a p-channel one, by its
// title or by the sign of the gate voltages in its note.
func (m *Component) Channel() (down, known bool) {
	switch {
	case m.Says("p-channel", "pmos", "p-mos", "p channel"):
		return true, true
	case m.Says("n-channel", "nmos", "n-mos", "n channel"):
		return false, true
	}
	for _, f := range m.Part.FactOrder {
		if IsOnResistance(f.Name) {
			for _, e := range f.Rows {
				for _, k := range e.Conds {
					if a := ReadAsked(k.Value.S); k.Name == "V_GS" && a.Nominal != "" {
						return a.Nom < 0, true
					}
				}
			}
		}
	}
	for _, k := range [][]string{{"absmax", "V_DS", "V_DSS"}, {"spec", "V_GSth", "V_GS_th", "V_TH"}} {
		for _, e := range m.Part.RowsOf(k[0], m.Part.FactNamed(k[0], k[1:]...)) {
			switch a := ReadAsked(e.RHS.S); {
			case a.High != "" && a.Hi > 0 && (a.Low == "" || a.Lo >= 0):
				return false, true
			case a.Low != "" && a.Lo < 0 && (a.High == "" || a.Hi <= 0):
				return true, true
			}
		}
	}
	return false, false
}

// IsOnResistance says that a symbol is that of the resistance of a switch that is on.
func IsOnResistance(name string) bool {
	return SameSymbol(name, "R_DSon") || SameSymbol(name, "R_DSON") || SameSymbol(name, "R_ON")
}

// LedPins are the nets of anode and cathode.
func (m *Component) LedPins() (a, k *Net) {
	if a, k, ok := m.Poles(); ok {
		return a, k
	}
	return m.End("A", "A1", "AN", "ANODE", "+"), m.End("K", "A2", "C1", "CA", "CATHODE", "-")
}

// WindingEnds are the nets of the ends of a coil that may be switched, nil of
// what is none.
func (m *Component) WindingEnds() (one, two *Net) {
	coil := slices.Contains([]string{"inductor", "relay", "solenoid", "valve", "motor", "contactor", "electromagnet"}, m.Sort())
	switch a, b, ok := m.Ends(); {
	case m.Part != nil && m.Part.FactNamed("spec", "R_COIL", "R_C") != "" && !m.Part.HasSupply():
		return m.CoilEnds()
	case coil && ok:
		return a, b
	}
	return nil, nil
}

// TransistorEnds are the names of the ends between which a transistor conducts.
var TransistorEnds = [2][]string{{"D", "DRAIN", "C", "COLLECTOR"}, {"S", "SOURCE", "E", "EMITTER"}}

// plusEnds and minusEnds are the names of the trade for the ends of a diode and
// of a capacitor with a polarity.
var (
	plusEnds  = []string{"A", "AN", "ANODE", "+", "P", "POS", "PLUS"}
	minusEnds = []string{"K", "CA", "CATHODE", "KATHODE", "-", "N", "NEG", "MINUS"}
)

// Poles are the nets of the anode, or positive end, and of the cathode; ok says
// that the notes name both.
func (m *Component) Poles() (plus, minus *Net, ok bool) {
	plus, minus = m.End(plusEnds...), m.End(minusEnds...)
	if minus == nil && (m.Part == nil || len(m.Pins()) == 2) {
		minus = m.End("C")
	}
	return plus, minus, plus != nil && minus != nil
}

// IsResistor says that a component is a resistor: of that kind, or a part of
// two pins that notes a resistance R.
func (m *Component) IsResistor() bool {
	if m.Part == nil {
		return m.Kind == "resistor"
	}
	return len(m.Pins()) == 2 && m.Part.HasFact("R")
}

// IsTransistor says that a part without supply pins has the ends of a transistor.
func (m *Component) IsTransistor() bool {
	from, to := m.ChannelEnds()
	return from != nil && to != nil && m.End("G", "GATE", "B", "BASE") != nil
}

// ChannelEnds are drain and source, or collector and emitter.
func (m *Component) ChannelEnds() (from, to *Net) {
	if m.Part == nil || m.Part.HasSupply() {
		return nil, nil
	}
	return m.End(TransistorEnds[0]...), m.End(TransistorEnds[1]...)
}

// SupplyCurrents are the symbols of the trade for what a part draws.
var SupplyCurrents = []string{"I_DD", "I_CC", "I_VDD", "I_SUPPLY"}

// ChargeCurrents are the symbols of the trade for the current that charges a cell.
var ChargeCurrents = []string{"I_CHG", "I_CHRG", "I_CHARGE", "I_FAST"}

// IsCell says that a component is a cell or battery: by its kind, or because it
// is no circuit and notes how it may be charged, or by its title and poles.
func IsCell(m *Component) bool {
	kind := m.Sort()
	if word := kind[strings.LastIndexByte(kind, ' ')+1:]; word == "cell" || word == "battery" {
		return true
	}
	if m.Part == nil || m.Part.HasSupply() {
		return false
	}
	_, _, poles := m.Poles()
	hazard, _, _ := BatteryOf(m.Part.Title)
	return LimitNamed(m.Part, append(ChargeCurrents, "V_CHG", "V_CHARGE")...) != "" || poles && hazard != ""
}

// LimitNamed names the first limit of a part under one of some names,
// operating ones first, with its section.
func LimitNamed(p *Part, names ...string) string {
	for _, s := range []string{"operating", "absmax"} {
		if n := p.FactNamed(s, names...); n != "" {
			return s + "." + n
		}
	}
	return ""
}

// FedFromOutside says that a connector or a cell stands on a net.
func FedFromOutside(n *Net) bool {
	for _, j := range n.Joined {
		if k := j.Comp.Sort(); k == "connector" || IsCell(j.Comp) {
			return true
		}
	}
	return false
}
