package draw

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"guardband/eval/record"
)

func name(s string) record.Math { return record.Math{Op: "name", Text: s} }
func op(o, t string, a ...record.Math) record.Math {
	return record.Math{Op: o, Text: t, Args: a}
}

// inside says that every shape lies in its picture, up to a pen's width.
func inside(t require.TestingT, p Picture, size float64) {
	eps := size * 0.15
	ok := func(x, y float64) bool {
		return !math.IsNaN(x) && !math.IsNaN(y) && x >= -eps && x <= p.W+eps && y >= -eps && y <= p.H+eps
	}
	for _, o := range p.Ops {
		switch o.Kind {
		case OpText:
			require.True(t, ok(o.X, o.Y), "text %q at %g, %g in %g by %g", o.Text, o.X, o.Y, p.W, p.H)
			require.LessOrEqual(t, o.X+Plain{}.Width(o.Font, o.Size, o.Text), p.W+eps, o.Text)
		case OpLine:
			require.True(t, ok(o.X, o.Y) && ok(o.X2, o.Y2), "line %+v in %g by %g", o, p.W, p.H)
		case OpRect:
			require.True(t, ok(o.X, o.Y) && ok(o.X+o.W, o.Y+o.H) && o.W >= 0 && o.H >= 0, "rect %+v in %g by %g", o, p.W, p.H)
		case OpPath:
			for _, s := range o.Path {
				require.True(t, s.Cmd == 'Z' || ok(s.X, s.Y), "path %+v in %g by %g", s, p.W, p.H)
			}
		}
	}
}

func textOf(p Picture) string {
	var b strings.Builder
	for _, o := range p.Ops {
		if o.Kind == OpText {
			b.WriteString(o.Text)
		}
	}
	return b.String()
}

func TestSplitName(t *testing.T) {
	for in, want := range map[string]NameParts{
		"V_OUT":             {Base: "V", Sub: "OUT", Italic: true},
		"R_θJA":             {Base: "R", Sub: "θJA", Italic: true},
		"V":                 {Base: "V", Italic: true},
		"V3V0":              {Base: "V3V0"},
		"V3V0.max":          {Base: "V3V0.max"},
		"C12":               {Base: "C12"},
		"U1.operating.V_DD": {Path: "U1.operating.", Base: "V", Sub: "DD", Italic: true},
		"U2.spec.V_OUT.min": {Path: "U2.spec.", Base: "V", Sub: "OUT, min", Italic: true},
		"gm_crit":           {Base: "gm", Sub: "crit"},
		"RAIL_A":            {Base: "RAIL_A"},
		"_x":                {Base: "_x"},
		"x_":                {Base: "x_"},
		"":                  {},
		"V_A + V_B":         {Base: "V_A + V_B"},
	} {
		require.Equal(t, want, SplitName(in), in)
	}
}

func TestFractionHangsOnTheAxis(t *testing.T) {
	m := op("fraction", "", name("R"), op("row", "+", name("R_TOP"), name("R_BOT")))
	p := Formula(&m, Plain{}, 10)
	inside(t, p, 10)
	rule := p.Ops[len(p.Ops)-1]
	require.Equal(t, OpLine, rule.Kind)
	require.InDelta(t, p.Base-axis*10, rule.Y, 1e-9)
	require.Equal(t, rule.Y, rule.Y2)
	var above, below []string
	for _, o := range p.Ops {
		if o.Kind == OpText && o.Y < rule.Y {
			above = append(above, o.Text)
		} else if o.Kind == OpText {
			below = append(below, o.Text)
		}
	}
	require.Equal(t, []string{"R"}, above)
	require.Equal(t, []string{"R", "TOP", "+", "R", "BOT"}, below)
}

func TestScripts(t *testing.T) {
	sub := name("V_OUT")
	p := Formula(&sub, Plain{}, 10)
	require.Greater(t, p.Ops[1].Y, p.Ops[0].Y, "a subscript stands lower")
	require.Less(t, p.Ops[1].Size, p.Ops[0].Size)
	pow := op("power", "", name("x"), op("number", "2"))
	p = Formula(&pow, Plain{}, 10)
	require.Less(t, p.Ops[1].Y, p.Ops[0].Y, "an exponent stands higher")
	inside(t, p, 10)
}

func TestBracketsGrow(t *testing.T) {
	flat := op("paren", "", name("x"))
	require.Equal(t, "(x)", textOf(Formula(&flat, Plain{}, 10)))
	tall := op("paren", "", op("fraction", "", name("x"), name("y")))
	p := Formula(&tall, Plain{}, 10)
	inside(t, p, 10)
	paths := 0
	for _, o := range p.Ops {
		if o.Kind == OpPath {
			paths++
			require.InDelta(t, p.H, o.Path[1].Y-o.Path[0].Y, 1e-9, "as tall as what it holds")
		}
	}
	require.Equal(t, 2, paths)
}

func TestEveryOpIsSet(t *testing.T) {
	a, b, c := name("a"), name("b"), name("c")
	for want, m := range map[string]record.Math{
		"1.8 V":              op("number", "1.8 V"),
		"a≤b":                op("row", "<=", a, b),
		"a≤b≤c":              {Op: "chain", Signs: []string{"<=", "<="}, Args: []record.Math{a, b, c}},
		"a·b":                op("row", "*", a, b),
		"−a":                 op("neg", "", a),
		"not a":              op("not", "", a),
		"max(a, b)":          op("call", "max", a, b),
		"[a, b]":             op("list", "", a, b),
		"if a then b else c": op("if", "", a, b, c),
		"ainsideb to c":      op("inside", "inside", a, b, c),
		"ainsideb":           op("inside", "inside", a, b),
		"a to b":             op("range", "", a, b),
		"words":              op("text", "words"),
		"a":                  op("root", "", a),
		"kept":               op("no such op", "kept"),
	} {
		p := Formula(&m, Plain{}, 10)
		inside(t, p, 10)
		got := textOf(p)
		if want == "3a" {
			require.ElementsMatch(t, []rune(want), []rune(got))
			continue
		}
		require.Equal(t, want, got)
	}
	require.Zero(t, Formula(nil, Plain{}, 10))
}

func TestMissingArgumentsAndDepth(t *testing.T) {
	for _, o := range []string{"row", "chain", "fraction", "power", "root", "neg", "not", "paren", "list", "call", "if", "inside", "range"} {
		m := record.Math{Op: o}
		require.NotPanics(t, func() { inside(t, Formula(&m, Plain{}, 10), 10) }, o)
	}
	deep := name("x")
	for range 100_000 {
		deep = op("fraction", "", name("1"), deep)
	}
	p := Formula(&deep, Plain{}, 10)
	require.Contains(t, textOf(p), "…")
}

func TestAnyFormulaStaysInItsBox(t *testing.T) {
	var gen func(d int) *rapid.Generator[record.Math]
	gen = func(d int) *rapid.Generator[record.Math] {
		return rapid.Custom(func(t *rapid.T) record.Math {
			ops := []string{"name", "number"}
			if d > 0 {
				ops = append(ops, "row", "fraction", "power", "root", "neg", "paren", "call", "list", "inside", "if")
			}
			m := record.Math{Op: rapid.SampledFrom(ops).Draw(t, "op"), Text: rapid.SampledFrom([]string{"V_OUT", "x",
				"sqrt", "+", "12 kΩ"}).Draw(t, "text")}
			if d > 0 {
				for range rapid.IntRange(0, 3).Draw(t, "n") {
					m.Args = append(m.Args, gen(d-1).Draw(t, "arg"))
				}
			}
			return m
		})
	}
	rapid.Check(t, func(t *rapid.T) {
		m := gen(4).Draw(t, "m")
		p := Formula(&m, Plain{}, 12)
		inside(t, p, 12)
		require.GreaterOrEqual(t, p.Base, 0.0)
		require.LessOrEqual(t, p.Base, p.H+1e-9)
	})
}

func num64(v float64) *float64 { return &v }

func side(text string, lo, hi *float64, shown string) record.Span {
	return record.Span{Text: text, Min: lo, Max: hi, Shown: shown}
}

func TestBarsMergeBothLimits(t *testing.T) {
	rail := side("RAIL", num64(2.94), num64(3.06), "2.94 V to 3.06 V")
	low, high := side("2.7 V", num64(2.7), num64(2.7), "2.7 V"), side("3.6 V", num64(3.6), num64(3.6), "3.6 V")
	tests := []record.Test{
		{Op: "<=", Left: low, Right: rail, Verdict: record.Passed, Margin: &record.Margin{RequiredAbsolute: num64(0.135), Text: "a"}},
		{Op: "<=", Left: rail, Right: high, LimitRight: true, Verdict: record.Failed, Margin: &record.Margin{Text: "b"}},
	}
	bars := Bars(tests)
	require.Len(t, bars, 1)
	b := bars[0]
	require.Equal(t, "2.7 V", b.Low.Label)
	require.Equal(t, "3.6 V", b.High.Label)
	require.Equal(t, 0.135, b.AskedLow)

	tests[1].Left.Text, tests[1].Left.Shown = "OTHER", "other"
	require.Len(t, Bars(tests), 2, "two values are two bars")
	require.Empty(t, Bars([]record.Test{{Op: "==", Left: rail, Right: high, LimitRight: true}}))
	require.Empty(t, Bars([]record.Test{{Op: "<=", Left: rail, Right: side("x", nil, nil, "unknown"), LimitRight: true}}))
	require.Empty(t, Bars([]record.Test{{Op: "<=", Left: side("x", nil, nil, ""), Right: high, LimitRight: true}}))
}

// TestMarginBarIsToScale measures the drawing: positions are a linear function of the values.
func TestMarginBarIsToScale(t *testing.T) {
	b := Bar{
		Low: &Bound{2.7, 2.7, "2.7 V"}, High: &Bound{3.6, 3.6, "3.6 V"}, AskedLow: 0.135,
		Min: num64(2.94), Max: num64(3.06), Nominal: num64(3), ValueLabel: "2.94 V to 3.06 V",
	}
	p := MarginBar(b, Plain{}, 300, 10)
	inside(t, p, 10)
	var limits, spans []Op
	var nominal Op
	for _, o := range p.Ops {
		switch {
		case o.Kind == OpRect && o.Role == Limit:
			limits = append(limits, o)
		case o.Kind == OpRect && o.Role == Span:
			spans = append(spans, o)
		case o.Kind == OpLine && o.Role == Ink:
			nominal = o
		}
	}
	require.Len(t, limits, 2)
	require.Len(t, spans, 1)
	lo, hi := limits[0].X+limits[0].W/2, limits[1].X+limits[1].W/2
	at := func(x float64) float64 { return 2.7 + (x-lo)/(hi-lo)*0.9 }
	require.InDelta(t, 2.94, at(spans[0].X), 1e-9)
	require.InDelta(t, 3.06, at(spans[0].X+spans[0].W), 1e-9)
	require.InDelta(t, 3.0, at(nominal.X), 1e-9)
	require.Contains(t, textOf(p), "2.94 V to 3.06 V")
}

func TestMissIsDrawnBeyondTheLimit(t *testing.T) {
	b := Bar{High: &Bound{3, 3, "3 V"}, Min: num64(2.5), Max: num64(3.5)}
	p := MarginBar(b, Plain{}, 300, 10)
	var limit, span, miss Op
	for _, o := range p.Ops {
		switch {
		case o.Kind == OpRect && o.Role == Limit:
			limit = o
		case o.Kind == OpRect && o.Role == Span:
			span = o
		case o.Kind == OpRect && o.Role == Miss:
			miss = o
		}
	}
	require.InDelta(t, limit.X+limit.W/2, miss.X, 1e-9)
	require.InDelta(t, span.X+span.W, miss.X+miss.W, 1e-9)
	inside(t, p, 10)
}

func TestMarginBarOfAnything(t *testing.T) {
	value := func(t *rapid.T, what string) *float64 {
		if rapid.Bool().Draw(t, what+" unknown") {
			return nil
		}
		return num64(rapid.Float64().Draw(t, what))
	}
	bound := func(t *rapid.T, what string) *Bound {
		if rapid.Bool().Draw(t, what+" none") {
			return nil
		}
		v := rapid.Float64().Draw(t, what)
		return &Bound{v, v + math.Abs(rapid.Float64Range(0, 10).Draw(t, what+" width")), "limit of some length"}
	}
	rapid.Check(t, func(t *rapid.T) {
		b := Bar{
			Min: value(t, "min"), Max: value(t, "max"), Nominal: value(t, "nominal"), Low: bound(t, "low"), High: bound(t, "high"),
			AskedLow: rapid.Float64Range(0, 100).Draw(t, "asked"), ValueLabel: "a label",
		}
		if b.Min != nil && b.Max != nil && *b.Min > *b.Max {
			b.Min, b.Max = b.Max, b.Min
		}
		inside(t, MarginBar(b, Plain{}, 300, 10), 10)
	})
}

func TestSVGIsXML(t *testing.T) {
	evil := `"><script>alert(1)</script>&`
	m := op("root", "", op("fraction", "", name(evil), op("paren", "", op("fraction", "", name("b"), name("c")))))
	b := Bar{High: &Bound{math.Inf(1), math.NaN(), evil}, Min: num64(2.5), Max: num64(3.5), ValueLabel: evil}
	for _, s := range []string{SVG(Formula(&m, Plain{}, 10)), SVG(MarginBar(b, Plain{}, 300, 10)),
		SVG(Picture{W: math.NaN()})} {
		d := xml.NewDecoder(strings.NewReader(s))
		for {
			tok, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			require.NoError(t, err, s)
			if e, ok := tok.(xml.StartElement); ok {
				require.NotEqual(t, "script", e.Name.Local)
			}
		}
		require.NotContains(t, s, "NaN")
	}
}

// A gauge draws what is left to the right of zero, a miss to the left, and all
// gauges to one scale.
func TestGauge(t *testing.T) {
	bar := func(percent float64) Op {
		for _, o := range (&Gauge{Percent: percent, Asked: 10}).Picture(120, 10).Ops {
			if o.Kind == OpRect {
				return o
			}
		}
		return Op{}
	}
	zero := 120 * gaugeLeft
	require.InDelta(t, 2*bar(20).W, bar(40).W, 1e-9)
	require.InDelta(t, zero, bar(20).X, 1e-9)
	require.Equal(t, Miss, bar(-5).Role)
	require.InDelta(t, zero, bar(-5).X+bar(-5).W, 1e-9)
	require.GreaterOrEqual(t, bar(-1e6).X, 0.0)
	require.LessOrEqual(t, bar(1e9).X+bar(1e9).W, 120.0)
	require.Nil(t, NewGauge(&record.Margin{Base: "span", Percent: new(float64)}))
}
