package eval

import (
	"math/big"

	"guardband/eval/bound"
	"guardband/eval/formula"
	"guardband/units"
)

// constantSymbol is a constant of nature by its name (k_B, N_A, ε0), known
// where the notes give the name no other meaning; nil for other names. An
// exact constant is one number, another stands within its standard uncertainty
// as published.
func (c *compiler) constantSymbol(name string) *symbol {
	if y, ok := c.constants[name]; ok {
		return y
	}
	k, ok := units.ConstantNamed(name)
	if !ok || k.Name == name {
		return nil
	}
	y := &symbol{name: name, constant: k.Source}
	y.define = func(y *symbol) {
		v := formula.Value{Class: formula.Number, Type: k.Type, Given: true}
		if u, err := units.ParseUnit(k.Unit); err == nil {
			v.Unit = &u
		}
		if k.Uncertainty == nil || k.Uncertainty.Sign() == 0 {
			v.Reg, v.Fixed = c.b.Const(k.Value), true
		} else {
			lo, hi := new(big.Rat).Sub(k.Value, k.Uncertainty), new(big.Rat).Add(k.Value, k.Uncertainty)
			y.input = &input{sym: y, name: name, typ: k.Type, unit: v.Unit,
				in: bound.Input{Lo: lo, Hi: hi, SureLo: lo, SureHi: hi, Centre: k.Value}}
			y.exactLeaf = true
			v.Reg = c.newInput(y.input)
		}
		y.val = v
	}
	c.constants[name] = y
	return y
}
