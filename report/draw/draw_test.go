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
			require.LessOrEqual(t, o.X+PlainWidth(o.Size, o.Text), p.W+eps, o.Text)
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
	p := MarginBar(b, PlainWidth, 300, 10)
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
	p := MarginBar(b, PlainWidth, 300, 10)
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
		inside(t, MarginBar(b, PlainWidth, 300, 10), 10)
	})
}

func TestSVGIsXML(t *testing.T) {
	evil := `"><script>alert(1)</script>&`
	b := Bar{High: &Bound{math.Inf(1), math.NaN(), evil}, Min: num64(2.5), Max: num64(3.5), ValueLabel: evil}
	for _, s := range []string{SVG(MarginBar(b, PlainWidth, 300, 10)),
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
