package trade

import (
	"math/big"
	"regexp"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/bound"
	"guardband/eval/formula"
	"guardband/units"
)

// lang is built once for all tests; it never changes.
var lang = sync.OnceValue(Language)

// desk is a Scope of named values without spread, or with one register each.
type desk struct {
	b    *bound.Builder
	vals map[string]formula.Value
}

func newDesk() *desk { return &desk{b: bound.NewBuilder(), vals: map[string]formula.Value{}} }

func (d *desk) Lookup(p *formula.Path, off, end int) (formula.Value, *formula.Error) {
	if v, ok := d.vals[p.Text()]; ok {
		return v, nil
	}
	return formula.Value{}, &formula.Error{Off: off, End: end, Code: "name-unknown", Msg: "there is no " + p.Text()}
}
func (d *desk) Fresh(v formula.Value) (formula.Value, *formula.Error) { return v, nil }
func (d *desk) Nominal(bound.Reg) (*big.Rat, bool)                    { return nil, false }
func (d *desk) NewVar(lo, hi *big.Rat, name string) bound.Reg         { return 0 }

// give defines a value by a literal.
func (d *desk) give(t *testing.T, name, literal string) {
	q, err := units.ParseLiteral(literal)
	if err != nil {
		t.Fatalf("%s = %s: %v", name, literal, err)
	}
	d.vals[name] = formula.Value{Class: formula.Number, Type: q.Type, Reg: d.b.Const(q.SI), Unit: &q.Unit, Fixed: true, Given: true}
}

// work evaluates a formula in SI units.
func (d *desk) work(t *testing.T, text string) (float64, units.Type) {
	t.Helper()
	e, errs := formula.Parse(text)
	require.Empty(t, errs, text)
	v, errs := lang().Check(e, d, d.b)
	require.Empty(t, errs, text)
	p := d.b.Extract(v.Reg)
	lo, hi, _, undefined := bound.At(p, 0, make([]*big.Rat, len(p.Inputs())))
	require.Nil(t, undefined, text)
	return (lo + hi) / 2, v.Type
}

var nameForm = regexp.MustCompile(`^[a-z][a-z0-9_]*$`)

// TestTable: every row can be read, has the result it states, and tells its
// help everything.
func TestTable(t *testing.T) {
	seen := map[string]bool{}
	for _, f := range Functions() {
		t.Run(f.Name, func(t *testing.T) {
			require.Regexp(t, nameForm, f.Name)
			require.False(t, seen[f.Name], "twice")
			seen[f.Name] = true
			require.NotEmpty(t, f.Doc)
			require.NotEmpty(t, f.Source)
			require.NotEmpty(t, f.Group)
			d := newDesk()
			for i, p := range f.Params {
				require.NotEmpty(t, p.Doc, p.Name)
				require.Equal(t, p.Name, units.FoldName(p.Name))
				require.True(t, p.Unit == "" || p.Type != units.Type{} || p.Unit == "dB", "unit of %s", p.Name)
				require.Contains(t, f.Body+strings.Join(f.Valid, " "), p.Name, "parameter unused")
				d.vals[p.Name] = formula.Value{Class: formula.Number, Type: p.Type, Reg: d.b.Var(i)}
				if p.Default != "" {
					d.give(t, "default", p.Default)
					require.Equal(t, p.Type.Dim, d.vals["default"].Type.Dim, p.Name)
				}
			}
			require.True(t, f.Unit == "" || f.Result != units.Type{}, "unit of the result")
			checkText(t, d, f.Body, formula.Number, f.Result)
			for _, v := range f.Valid {
				checkText(t, d, v, formula.Bool, units.Type{})
			}
		})
	}
	require.Greater(t, len(seen), 90)
}

func checkText(t *testing.T, d *desk, text string, class formula.Class, result units.Type) {
	e, errs := formula.Parse(text)
	require.Empty(t, errs, text)
	v, errs := lang().Check(e, d, d.b)
	require.Empty(t, errs, text)
	require.Equal(t, class, v.Class, text)
	if class == formula.Number {
		if v.Type.Wave == units.NoWave && result.Wave == units.RMS {
			v.Type.Wave = units.RMS // a root of squares of untagged quantities is rms by its meaning
		}
		if v.Type.Sense == units.NoSense {
			v.Type.Sense = result.Sense // what is worked out may be either
		}
		require.Equal(t, result, v.Type, "%s gives %s", text, v.Type.Words())
	}
}
