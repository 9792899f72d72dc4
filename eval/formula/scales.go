package formula

import (
	"math/big"

	"guardband/eval/bound"
	"guardband/units"
)

// temperatureDim is the dimension of K alone.
var temperatureDim = units.Dim{4: 2}

// scaleBuiltins convert between temperatures and between the forms in which
// alternating quantities are stated.
func scaleBuiltins(group string) []builtin {
	return []builtin{
		entry(group, "kelvin", "T", "temperature above absolute zero, to calculate with", one((*checker).kelvin)),
		entry(group, "celsius", "T", "a temperature above absolute zero as a point on the Celsius scale", one((*checker).celsius)),
		entry(group, "peak", "x", "peak value of a sine whose rms or peak-to-peak value is x", wave(units.Peak)),
		entry(group, "rms", "x", "rms value of a sine whose peak or peak-to-peak value is x", wave(units.RMS)),
		entry(group, "peak_to_peak", "x", "peak-to-peak value of a sine whose rms or peak value is x", wave(units.PeakToPeak)),
	}
}

// kelvin reads a point as a difference from absolute zero.
func (c *checker) kelvin(n *Node, v Value) Value {
	return c.counted(n, v, units.Plain, "a temperature on a scale", units.Type{Dim: temperatureDim}, nil)
}

// celsius reads a difference from absolute zero as a point.
func (c *checker) celsius(n *Node, v Value) Value {
	return c.counted(n, v, units.Point, "a temperature above absolute zero",
		units.Type{Dim: temperatureDim, Kind: units.Point}, resultUnit("°C"))
}

// counted gives a temperature another type and refuses those of a kind.
func (c *checker) counted(n *Node, v Value, not units.Kind, takes string, to units.Type, unit *units.Unit) Value {
	if v.Type.Dim != temperatureDim || v.Type.Kind == not {
		c.fail(n.Args[0], "function-argument", "`"+n.Word+"` takes "+takes+"; `"+c.typed(n.Args[0])+"` is "+v.Type.Words(), "")
		return Value{}
	}
	return Value{Class: Number, Type: to, Reg: v.Reg, Unit: unit, Fixed: v.Fixed}
}

// wave converts to one way of stating a sine.
func wave(to units.Wave) func(c *checker, n *Node) Value {
	return one(func(c *checker, n *Node, v Value) Value {
		if v.Type.Wave == units.NoWave {
			c.fail(n.Args[0], "type-wave", "`"+c.typed(n.Args[0])+"` carries no tag: it is d.c. or instantaneous",
				"tag the number it comes from with rms, pk or pp")
			return Value{}
		}
		ratio := new(big.Rat).Quo(squareOfPeak[to], squareOfPeak[v.Type.Wave])
		v.Reg = c.b.Binary(bound.OpMul, v.Reg, c.b.Unary(bound.OpSqrt, c.b.Const(ratio)))
		v.Type.Wave = to
		v.Unit = nil
		return v
	})
}

// squareOfPeak is the square of what a sine of peak value 1 is stated as.
var squareOfPeak = map[units.Wave]*big.Rat{
	units.Peak: big.NewRat(1, 1), units.RMS: big.NewRat(1, 2), units.PeakToPeak: big.NewRat(4, 1),
}

// levelBuiltins convert between levels in decibels and what they stand for.
// Nothing converts unasked.
func levelBuiltins(group string) []builtin {
	return []builtin{
		entry(group, "dB_power", "ratio", "10 log10 of a ratio of powers, in dB", ratioLevel(10)),
		entry(group, "dB_voltage", "ratio", "20 log10 of a ratio of voltages or currents, in dB", ratioLevel(20)),
		entry(group, "power_ratio", "x", "ratio of powers that a difference in dB gives", levelRatio(10)),
		entry(group, "voltage_ratio", "x", "ratio of voltages or currents that a difference in dB gives", levelRatio(20)),
		entry(group, "from_level", "x", "power, or rms voltage or current, that an absolute level gives", one((*checker).fromLevel)),
		entry(group, "level_dBm", "P", "level of a power above 1 mW", toLevel("m")),
		entry(group, "level_dBW", "P", "level of a power above 1 W", toLevel("W")),
		entry(group, "level_dBV", "V", "level of an rms voltage above 1 V", toLevel("V")),
		entry(group, "level_dBuV", "V", "level of an rms voltage above 1 µV", toLevel("µV")),
	}
}

// ratioLevel is factor * log10(ratio).
func ratioLevel(factor int64) func(c *checker, n *Node) Value {
	return one(func(c *checker, n *Node, v Value) Value {
		v = c.plainFunction(n, v, bound.OpLog10)
		if v.Class == Bad {
			return v
		}
		v.Reg = c.b.Binary(bound.OpMul, c.constant(factor, 1), v.Reg)
		v.Type.Kind = units.LevelStep
		v.Unit = resultUnit("dB")
		return v
	})
}

// levelRatio is 10 to the x / factor.
func levelRatio(factor int64) func(c *checker, n *Node) Value {
	return one(func(c *checker, n *Node, v Value) Value {
		if v.Type.Kind != units.LevelStep || !v.Type.Dim.IsZero() {
			c.fail(n.Args[0], "function-argument", "`"+n.Word+"` takes a difference in dB; `"+c.typed(n.Args[0])+"` is "+v.Type.Words(), "")
			return Value{}
		}
		return Value{Class: Number, Reg: c.tenTo(v.Reg, factor), Fixed: v.Fixed}
	})
}

func (c *checker) tenTo(x bound.Reg, factor int64) bound.Reg {
	return c.b.Binary(bound.OpPow, c.constant(10, 1), c.b.Binary(bound.OpDiv, x, c.constant(factor, 1)))
}

// fromLevel is the quantity that an absolute level stands for.
func (c *checker) fromLevel(n *Node, v Value) Value {
	ref, known := units.LevelReference(v.Type.Ref)
	if v.Type.Kind != units.Level || !known || ref.Value == nil {
		c.fail(n.Args[0], "function-argument", "`from_level` takes an absolute level such as 14 dBm; `"+c.typed(n.Args[0])+"` is "+v.Type.Words(), "")
		return Value{}
	}
	r := c.b.Binary(bound.OpMul, c.b.Const(ref.Value), c.tenTo(v.Reg, int64(ref.Step)))
	return Value{Class: Number, Type: ref.Type, Reg: r, Fixed: v.Fixed}
}

// toLevel is the level of a quantity above a reference.
func toLevel(ref string) func(c *checker, n *Node) Value {
	return one(func(c *checker, n *Node, v Value) Value {
		above, _ := units.LevelReference(ref)
		if v.Type != above.Type {
			c.fail(n.Args[0], "function-argument", "`"+n.Word+"` takes "+above.Type.Words()+"; `"+c.typed(n.Args[0])+"` is "+v.Type.Words(), "")
			return Value{}
		}
		ratio := c.b.Binary(bound.OpDiv, v.Reg, c.b.Const(above.Value))
		r := c.b.Unary(bound.OpLog10, ratio)
		c.noteAt(r, n)
		r = c.b.Binary(bound.OpMul, c.constant(int64(above.Step), 1), r)
		return Value{Class: Number, Type: units.Type{Kind: units.Level, Ref: ref}, Reg: r, Unit: resultUnit("dB" + ref), Fixed: v.Fixed}
	})
}
