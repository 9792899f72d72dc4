// Package circuit has the nouns of a board: parts as noted and as placed, pins and
// what they do, nets and what joins them. It gives no verdicts and works out no
// formulas; it may spell one.
package circuit

// Circuit is what is placed and how it is joined.
type Circuit struct {
	Parts  Index[*Part]
	Comps  Index[*Component]
	Nets   Index[*Net]
	drawn  []*Net // nets as drawn, where links make one of several; else nil
	Values Values // what the notes tell of quantities

	rails map[*Net]bool // which nets carry a supply or the return, once asked
	view  *boardView    // of what is placed, made when first asked
}

// Values is what a circuit asks of the notes.
type Values interface {
	VoltageKnown(n *Net) bool // the voltage of the net is stated or driven
	Given(name string) bool   // a value of that name is given
	IsName(text string) bool  // a formula can hold the text as a bare name
}
