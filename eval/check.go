package eval

import (
	"math/big"

	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// Board is what a built-in check sees of a design: the circuit, what the notes
// tell of its quantities, and claims to make of it. Texts are formulas of the
// language, so that a reviewer can check each like a written one.
type Board interface {
	Placed() *circuit.Circuit

	// claims
	Claim(k *Check, subject, statement string, at *notebook.Entry) *Claim
	Ask(cl *Claim, text string)
	Try(cl *Claim, text string) bool // what is wrong with it is an open point; false: it was not added
	AskAmong(cl *Claim, among func(*Drive) []string, texts ...string) *Criterion
	Proven(text string) bool
	Judged(text string, set func(*Criterion)) record.Verdict  // at once
	Later(text string, f func())                              // when conditions are settled
	Meet(row *notebook.Entry, ref string)                     // a row of an application circuit
	Spares(m *circuit.Component, f *circuit.Fact, why string) // a limit that nothing on the board comes near

	// quantities, nil where nothing is stated
	Fact(m *circuit.Component, section, name, pin string) *Quantity
	PinFact(m *circuit.Component, section string, q *circuit.Pin, dim units.Dim, symbols ...string) (*Quantity, string)
	LimitEnd(m *circuit.Component, q *circuit.Pin, dim units.Dim, column string, symbols ...string) string
	ValueOf(m *circuit.Component) *Quantity
	Value(name string) *Quantity
	Option(m *circuit.Component, name string) *Quantity
	Use(m *circuit.Component, name string) (*Quantity, string)
	UseText(m *circuit.Component, name string, stated ...string) string
	Voltage(n *circuit.Net) *Quantity
	Ends(q *Quantity) (lo, hi *big.Rat)
	Between(from, to *circuit.Net) (lo, hi *big.Rat)
	AtMost(text string) bool // proven at most 0
	Ambient() bool           // the ambient temperature is stated

	// supplies
	VoltageStated(n *circuit.Net) bool
	Negative(n *circuit.Net) bool
	CrossesZero(n *circuit.Net) bool
	TotalOf(m *circuit.Component, name string) (upper, lower *circuit.Net)
	InputOf(m *circuit.Component) (in *circuit.Net, why string)
	LoadOf(m *circuit.Component, out *circuit.Net, several bool, q *circuit.Pin) string
	ToldLoad(m *circuit.Component, name string) string
	Peak(n *circuit.Net) string                // of its budget, as a formula
	Loads(n *circuit.Net, ref string) []string // what its budget says of a part
	FedByBudget(m *circuit.Component) bool
	ApartIn(live, dead *circuit.Net) (sure, unsaid []string, ok bool)
	OffIn(n *circuit.Net) (state string, now bool)
	Unsaid(live, dead *circuit.Net, state string) (text, hint string)

	// exported files
	Exported(label string) []*Exported // what cannot be read is told
	FromFile(m *circuit.Component) *FromFile
	Pads(m *circuit.Component) map[string]string

	// pins and notes
	PinCurrent(m *circuit.Component, pin string, low bool) (text, why string)
	PulledBy(d circuit.Joint) string
	StatedAt(j circuit.Joint, level, current string) string
	SinkPoint(cl *Claim, j circuit.Joint, low string) (level, most string, open *record.OpenPoint)
	Derating(m *circuit.Component, kind string) []DeratingPoint
	BatteryHazard(p *circuit.Part) (name string, both bool)
	Sections(p *circuit.Part) map[string]record.Section
}

// Placed is the circuit of the design.
func (c *compiler) Placed() *circuit.Circuit { return &c.Circuit }
