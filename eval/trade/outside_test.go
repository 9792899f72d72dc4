package trade

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/formula"
	"guardband/units"
)

// outside is one figure: a formula over inputs, and what its source prints.
// Status "seen" means that the source was read, "derived" that its figure is
// solved for another quantity, "memory" that it is given from memory, "hand"
// that nobody published it (worked).
type outside struct {
	ID, Key, Formula, Unit, Source, Status string
	Inputs                                 map[string]string
	Expected, Tolerance                    float64
}

// readOutside are the published figures of testdata/trade.
func readOutside(t *testing.T) []outside {
	var all []outside
	for _, name := range []string{"check-values.json", "published.json"} {
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "trade", name))
		require.NoError(t, err)
		var part []outside
		require.NoError(t, json.Unmarshal(data, &part))
		all = append(all, part...)
	}
	return all
}

func TestOutsideValues(t *testing.T) {
	for _, c := range append(readOutside(t), worked...) {
		t.Run(c.ID+" "+c.Key, func(t *testing.T) {
			require.NotEmpty(t, c.Source)
			require.Positive(t, c.Tolerance)
			d := newDesk()
			for name, literal := range c.Inputs {
				d.give(t, name, literal)
			}
			got, typ := d.work(t, c.Formula)
			unit := units.Unit{}
			if c.Unit != "" {
				u, err := units.ParseUnit(c.Unit)
				if err != nil {
					t.Fatal(err)
				}
				unit = u
				require.Equal(t, u.Type.Dim, typ.Dim)
				offset := 0.0
				if u.Offset != nil && typ.Kind == units.Point {
					offset, _ = u.Offset.Float64()
				}
				factor, _ := u.Factor.Float64()
				got = (got - offset) / factor
			}
			require.InDelta(t, c.Expected, got, c.Tolerance*(1+1e-9)+1e-15*math.Abs(got), "%s in %s, %s", c.Formula, unit.Symbol, c.Source)
		})
	}
}

// figures counts, for every formula of the trade, its figures by status: those
// that call it, by itself or to feed another formula of the trade.
func figures(t *testing.T) map[string]map[string]int {
	out := map[string]map[string]int{}
	for _, c := range append(readOutside(t), worked...) {
		require.Contains(t, []string{"seen", "derived", "memory", "hand"}, c.Status, c.ID)
		e, errs := formula.Parse(c.Formula)
		require.Empty(t, errs)
		formula.Walk(e.Root, func(n *formula.Node) {
			if n.Kind != formula.NodeCall {
				return
			}
			if out[n.Word] == nil {
				out[n.Word] = map[string]int{}
			}
			out[n.Word][c.Status]++
		})
	}
	return out
}

// byHand are the formulas for which no published figure was found. Their
// figures are worked from the definition, apart from the program.
var byHand = []string{"adc_buffer_capacitor", "adc_total_error", "base_current", "bleed_time", "clamp_voltage", "converter_input_current",
	"copper_resistance_at", "divider_voltage", "first_order_level", "forced_gain", "led_resistor", "self_discharge_current", "settling_time",
	"soft_start_capacitor", "thermal_rise"}

// TestEveryFormulaIsChecked: no formula goes without a figure, and those that
// have none from outside are named. With -v it lists them all.
func TestEveryFormulaIsChecked(t *testing.T) {
	got := figures(t)
	var none []string
	for _, f := range Functions() {
		n := got[f.Name]
		require.NotEmpty(t, n, "%s has no figure: add one to testdata/trade/published.json, with its source, or to worked", f.Name)
		t.Logf("%-30s seen %d, derived %d, memory %d, by hand %d", f.Name, n["seen"], n["derived"], n["memory"], n["hand"])
		if n["seen"]+n["derived"]+n["memory"] == 0 {
			none = append(none, f.Name)
		}
	}
	slices.Sort(none)
	require.Equal(t, byHand, none, "formulas without a figure from outside")
}
