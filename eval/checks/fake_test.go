package checks

import (
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
)

// fake is a board without notes: placed parts, and the voltages and facts that a test gives. What
// a check asks it in the language is kept as the text of criteria.
type fake struct {
	eval.Board // what it does not answer is a fault of the test
	circuit    circuit.Circuit
	known      map[string]bool // nets whose voltage is stated
	sections   map[string]record.Section
	claims     []*eval.Claim
}

// newFake makes a board: rows are "P: VDD supply, IN input" for a part, "U1 P VDD=V3V0 IN=A" and
// "R1 resistor A B" for what is placed.
func newFake(known string, rows ...string) *fake {
	f := &fake{known: map[string]bool{}}
	f.circuit.Values = f
	for _, n := range strings.Fields(known) {
		f.known[n] = true
	}
	for _, row := range rows {
		if id, pins, ok := strings.Cut(row, ": "); ok {
			p := &circuit.Part{ID: id, Title: id, Attrs: map[string]*notebook.Entry{}, Block: &notebook.Block{}}
			for _, pin := range strings.Split(pins, ", ") {
				w := strings.SplitN(pin, " ", 3)
				q := &circuit.Pin{Row: &notebook.PinRow{Name: w[0], Numbers: []string{w[0]}, Type: w[1]}, Entry: entry("")}
				if len(w) > 2 {
					q.Row.Flags = strings.Split(w[2], " + ")
				}
				p.Pins = append(p.Pins, q)
			}
			f.circuit.Parts.Enter(id, p)
			continue
		}
		f.place(strings.Fields(row))
	}
	return f
}

func entry(value string) *notebook.Entry {
	return &notebook.Entry{Value: notebook.Text{S: value}}
}

func (f *fake) place(w []string) {
	m := &circuit.Component{Ref: w[0], Row: &notebook.Placement{}, Entry: entry(""),
		Conns: map[string]*circuit.Net{}, PinNets: map[*circuit.Pin]*circuit.Net{}}
	if p, ok := f.circuit.Parts.Get(w[1]); ok {
		m.Part, p.Placed = p, append(p.Placed, m)
	} else {
		m.Kind = w[1]
	}
	for i, conn := range w[2:] {
		pin, name, named := strings.Cut(conn, "=")
		if !named {
			pin, name = string(rune('1'+i)), conn
		}
		f.circuit.Nets.Enter(name, &circuit.Net{Name: name})
		n, _ := f.circuit.Nets.Get(name)
		j := circuit.Joint{Comp: m}
		if m.Part != nil {
			j.Pin = m.PinsNamed(pin)[0]
			m.PinNets[j.Pin] = n
		}
		m.Conns[pin], n.Joined = n, append(n.Joined, j)
		m.Row.Conns = append(m.Row.Conns, notebook.Conn{Pin: pin, Net: name})
	}
	f.circuit.Comps.Enter(m.Ref, m)
}

// run makes the claims of a check.
func (f *fake) run(k *eval.Check) []*eval.Claim { k.Run(f, k); return f.claims }

func (f *fake) Placed() *circuit.Circuit                                       { return &f.circuit }
func (f *fake) VoltageKnown(n *circuit.Net) bool                               { return f.known[n.Name] }
func (f *fake) VoltageStated(n *circuit.Net) bool                              { return f.known[n.Name] }
func (f *fake) Given(name string) bool                                         { return false }
func (f *fake) IsName(text string) bool                                        { return notebook.IsName(text) }
func (f *fake) Ask(cl *eval.Claim, text string)                                { f.Try(cl, text) }
func (f *fake) TotalOf(*circuit.Component, string) (upper, lower *circuit.Net) { return nil, nil }
func (f *fake) ApartIn(_, _ *circuit.Net) (sure, unsaid []string, ok bool)     { return nil, nil, false }
func (f *fake) Sections(*circuit.Part) map[string]record.Section               { return f.sections }
func (f *fake) Claim(k *eval.Check, subject, statement string, _ *notebook.Entry) *eval.Claim {
	cl := &eval.Claim{Out: record.Claim{ID: k.Name + "." + subject, Statement: statement}}
	f.claims = append(f.claims, cl)
	return cl
}
func (f *fake) Try(cl *eval.Claim, text string) bool {
	cl.Out.Criteria = append(cl.Out.Criteria, record.Criterion{Text: text})
	cl.Crit = append(cl.Crit, &eval.Criterion{})
	return true
}
