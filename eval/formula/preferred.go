package formula

import (
	"math/big"

	"guardband/units"
)

// preferredBuiltins round to the series of IEC 60063. Rounding is no
// continuous function, so they take a single exact value.
func preferredBuiltins(group string) []builtin {
	out := []builtin{
		entry(group, "preferred", "x series", `value of a series nearest to x by ratio: preferred(3578 Ω, "E96")`, preferred(units.NearestPreferred)),
		entry(group, "preferred_above", "x series", "smallest value of a series that is not below x", preferred(units.PreferredAbove)),
		entry(group, "preferred_below", "x series", "largest value of a series that is not above x", preferred(units.PreferredBelow)),
	}
	for i := range out {
		out[i].Source = "IEC 60063"
	}
	return out
}

func preferred(round func(*big.Rat, string) (*big.Rat, *units.Error)) func(c *checker, n *Node) Value {
	return func(c *checker, n *Node) Value {
		if !c.arity(n, 2, 2) {
			return Value{}
		}
		v, ok := c.number(n.Args[0])
		series := n.Args[1].bare()
		if !ok {
			return Value{}
		}
		if series.Kind != NodeText {
			c.fail(series, "function-argument", "the series is quoted", `write "E24"`)
			return Value{}
		}
		exact, constant := c.b.ConstOf(v.Reg)
		if !constant || v.Type.Kind != units.Plain {
			c.fail(n.Args[0], "function-argument", "`"+n.Word+"` takes a single exact value; `"+c.typed(n.Args[0])+
				"` is none", "choose the value, give it a name and its tolerance")
			return Value{}
		}
		r, err := round(exact, series.Word)
		if err != nil {
			c.fail(n, err.Code, err.Msg, err.Hint)
			return Value{}
		}
		return Value{Class: Number, Type: v.Type, Reg: c.b.Const(r), Unit: v.Unit, Fixed: true}
	}
}
