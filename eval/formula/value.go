package formula

import (
	"math/big"

	"guardband/eval/bound"
	"guardband/units"
)

// Class is the sort of thing a checked expression is.
type Class uint8

const (
	Bad Class = iota // swallows follow-on complaints
	Number
	Bool
	Set  // limits Lo, Hi (either may be nil: no requirement)
	List // Items
	Text // Str
)

// Value is a checked expression, lowered into the builder.
type Value struct {
	Class  Class
	Fixed  bool // no spread: every leaf is a single exact value
	Given  bool // a literal or a given (not derived) value: kelvin may stand for a point, .min/.max allowed
	Reg    bound.Reg
	Type   units.Type
	Unit   *units.Unit // unit to show it in, nil when none suggests itself
	Lo, Hi *Value      // Set; of a given Number, its columns if the scope states them
	Thing  *Thing      // of a text, a list and a part; nil of others, so that numbers stay small
}

// Thing is what a value is beyond a number. It is shared by the copies of a
// value and must not be changed.
type Thing struct {
	Str   string  // Text; for a list item that stands for a part: its designator
	Items []Value // List
	// Fields resolves ".NAME" of a list item that is a part; nil otherwise.
	// The name may be dotted: ".V_DD.min" asks for "V_DD.min".
	Fields func(name string) (Value, *Error)
}

// TextValue is a given text.
func TextValue(s string) Value {
	return Value{Class: Text, Fixed: true, Given: true, Thing: &Thing{Str: s}}
}

// Str is the text of a Text, the designator of a part, else "".
func (v *Value) Str() string {
	if v.Thing == nil {
		return ""
	}
	return v.Thing.Str
}

func (v *Value) items() []Value {
	if v.Thing == nil {
		return nil
	}
	return v.Thing.Items
}

func (v *Value) isPart() bool { return v.Thing != nil && v.Thing.Fields != nil }

// named is the value as a list item that messages call s.
func (v Value) named(s string) Value {
	t := Thing{}
	if v.Thing != nil {
		t = *v.Thing
	}
	t.Str = s
	v.Thing = &t
	return v
}

// worked is a number that is made of a given one, which has no columns and no
// facts of its own any more. Its name stays, for the texts of list items.
func (v Value) worked() Value {
	v.Given, v.Lo, v.Hi = false, nil, nil
	if v.Thing != nil {
		v.Thing = &Thing{Str: v.Thing.Str}
	}
	return v
}

// Scope gives meaning to names. off and end are those of the path in the text.
type Scope interface {
	// Lookup finds what a path means. It returns a Bad value without an error
	// when a complaint about that name was already made elsewhere.
	Lookup(p *Path, off, end int) (Value, *Error)
	// Fresh makes an independent copy of a value's inputs, for another(x).
	Fresh(v Value) (Value, *Error)
	// Nominal works out a number at the centres of its inputs (for "of nominal").
	Nominal(r bound.Reg) (*big.Rat, bool)
	// NewVar makes a fresh input of the given range, for "lo to hi" between formulas (0..1).
	NewVar(lo, hi *big.Rat, name string) bound.Reg
}

// Noter is a Scope that wants to know which part of the text may have no
// value, to explain an undefined point. Note is called with the register of a
// division, root, logarithm or power and its node; for a trade function
// outside its validity, with the call's node and the condition that must hold.
type Noter interface {
	Note(r bound.Reg, n *Node, src, valid string)
}
