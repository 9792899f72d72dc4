package eval

import (
	"encoding/json"
	"fmt"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

// outsideValue is a value of an outside.json, each with its published source.
type outsideValue struct {
	ID       string
	Inputs   map[string]struct{ Value float64 }
	Expected map[string]struct{ Value, Tol float64 }
	Source   string
}

func outsideValues(t *testing.T, group string) map[string]outsideValue {
	data, err := os.ReadFile("testdata/checks/" + group + "/outside.json")
	require.NoError(t, err)
	var list []outsideValue
	require.NoError(t, json.Unmarshal(data, &list))
	out := map[string]outsideValue{}
	for _, v := range list {
		require.NotEmpty(t, v.Source, v.ID)
		out[v.ID] = v
	}
	return out
}

// busBoard is an open-drain bus with one pull-up.
func busBoard(vdd, vol, iol, rise, bus string, r float64) string {
	return "```part BUS\ntitle: bus part\n" + rise +
		"operating V_IH = min 0 V\nspec I_LEAK = 0 A to 0 A\nspec V_OL = max " + vol + " at I_OL <= " + iol + "\nat least zero: V_OL\npins:\n" +
		"  1 VDD supply V_DD\n  2 GND ground\n  3 SDA bidirectional open drain\n```\n\n```values\nVCC = " + vdd + "\n" + bus + "```\n\n" +
		"```circuit\nU1  BUS  VDD=VCC GND=GND SDA=SDA\nR1  resistor " + fmt.Sprintf("%.4f", r) + " Ω  SDA VCC\n```\n"
}

// The lower limit of a pull-up turns between the published value less and more
// its tolerance.
func TestPullUpLowerLimitAgreesWithPublishedValues(t *testing.T) {
	for _, id := range []string{"I2C-03", "I2C-08"} {
		v := outsideValues(t, "signal")[id]
		x := v.Expected["Rp_min"]
		text := func(r float64) string {
			return busBoard(fmt.Sprintf("%g V", v.Inputs["VDD"].Value), fmt.Sprintf("%g V", v.Inputs["VOL"].Value),
				fmt.Sprintf("%g mA", v.Inputs["IOL"].Value), "", "", r)
		}
		requireClaim(t, compileText(t, text(x.Value+x.Tol)), []string{"passed", "pull-up.SDA"})
		requireClaim(t, compileText(t, text(x.Value-x.Tol)), []string{"failed", "pull-up.SDA"})
	}
}

// So does the upper limit, from rise time and bus capacitance. The published
// constant 0.8473 is rounded; its share of the limit widens the tolerance.
func TestPullUpUpperLimitAgreesWithPublishedValues(t *testing.T) {
	k := outsideValues(t, "signal")["I2C-01"].Expected["k"]
	for _, id := range []string{"I2C-05", "I2C-06"} {
		v := outsideValues(t, "signal")[id]
		x := v.Expected["Rp_max"]
		tol := x.Tol + x.Value*k.Tol/k.Value
		text := func(r float64) string {
			return busBoard("3.3 V", "0.4 V", "30 mA", fmt.Sprintf("operating t_R = max %g ns\n", v.Inputs["tr"].Value),
				fmt.Sprintf("C_BUS = %g pF\n", v.Inputs["Cb"].Value), r)
		}
		requireClaim(t, compileText(t, text(x.Value-tol)), []string{"passed", "pull-up.SDA"})
		requireClaim(t, compileText(t, text(x.Value+tol)), []string{"failed", "pull-up.SDA"})
	}
}

// levelBoard joins an output to an input.
func levelBoard(voh, vol, vih, vil float64) string {
	return fmt.Sprintf("```part A\ntitle: driver\nspec V_OH = min %g V\nspec V_OL = max %g V\npins:\n  1 VDD supply V_DD\n  2 Q output\n```\n\n"+
		"```part B\ntitle: receiver\noperating V_IH = min %g V\noperating V_IL = max %g V\npins:\n  1 VDD supply V_DD\n  2 D input\n```\n\n"+
		"```values\nVCC = 5 V\n```\n\n```circuit\nU1  A  VDD=VCC Q=S\nU2  B  VDD=VCC D=S\n```\n", voh, vol, vih, vil)
}

// Noise margins as published tables give them.
func TestLogicLevelAgreesWithPublishedMargins(t *testing.T) {
	for _, id := range []string{"LOGIC-01", "LOGIC-03", "LOGIC-05"} {
		v := outsideValues(t, "signal")[id]
		in := v.Inputs
		r := compileText(t, levelBoard(in["VOH"].Value, in["VOL"].Value, in["VIH"].Value, in["VIL"].Value))
		requireClaim(t, r, []string{"passed", "logic-level.U2.D"})
		require.InDelta(t, v.Expected["NMH"].Value, absoluteMargin(t, r, "logic-level.U2.D", 0), 1e-9, id)
		require.InDelta(t, v.Expected["NML"].Value, absoluteMargin(t, r, "logic-level.U2.D", 1), 1e-9, id)
	}
	v := outsideValues(t, "signal")["LOGIC-06"]
	r := compileText(t, levelBoard(v.Inputs["VOH"].Value, 0.4, v.Inputs["VIH"].Value, 1.5))
	requireClaim(t, r, []string{"failed", "logic-level.U2.D"})
	require.InDelta(t, v.Expected["NMH"].Value, absoluteMargin(t, r, "logic-level.U2.D", 0), 1e-9)
}

func absoluteMargin(t *testing.T, r *record.Record, id string, criterion int) float64 {
	for _, c := range r.Claims {
		if c.ID == id {
			require.Greater(t, len(c.Criteria), criterion)
			require.NotEmpty(t, c.Criteria[criterion].Tests)
			m := c.Criteria[criterion].Tests[0].Margin
			require.NotNil(t, m)
			require.NotNil(t, m.Absolute)
			return *m.Absolute
		}
	}
	require.Fail(t, "no claim "+id)
	return 0
}

// A divider's worst level: a strap that asks for a hair less than it passes,
// a hair more fails. Leakage is nil here, so that the divider stands alone.
func TestStrapDividerAgreesWithWorkedValue(t *testing.T) {
	v := outsideValues(t, "signal")["DIV-05"]
	x := v.Expected["Vmin"]
	text := func(vih float64) string {
		return fmt.Sprintf("```part M\ntitle: controller\noperating V_IH = min %.7f V\noperating V_IL = max 0.1 V\nspec I_LEAK = 0 A\npins:\n"+
			"  1 VDD supply V_DD\n  2 B input strap\n```\n\n```values\nVCC = %g V\n```\n\n```circuit\nU1  M  VDD=VCC B=S\n"+
			"R1  resistor %g kΩ ± %g %%  VCC S\nR2  resistor %g kΩ ± %g %%  S GND\n```\n",
			vih, v.Inputs["V"].Value, v.Inputs["R1"].Value, v.Inputs["t"].Value, v.Inputs["R2"].Value, v.Inputs["t"].Value)
	}
	requireClaim(t, compileText(t, text(x.Value-1e-6)), []string{"passed", "strap.U1.B"})
	requireClaim(t, compileText(t, text(x.Value+1e-6)), []string{"failed", "strap.U1.B"})
}

// The injected current by Ohm's law, worked by hand: (5 V - 3 V) / R <= 1 mA
// turns at 2 kΩ.
func TestInjectionTurnsWhereOhmsLawSays(t *testing.T) {
	text := func(r int) string {
		return fmt.Sprintf("```part A\ntitle: driver\nspec V_OH = min V_DD\npins:\n  1 VDD supply V_DD\n  2 Q output\n  3 GND ground\n```\n\n"+
			"```part B\ntitle: receiver\nabsmax I_INJ = -1 mA to 1 mA\nabsmax V_PIN = 0 V to V_DD\npins:\n  1 VDD supply V_DD\n  2 D input\n  3 GND ground\n```\n\n"+
			"```values\nV5 = 5 V\nV3 = 3 V\n```\n\n```circuit\nU1  A  VDD=V5 Q=S GND=GND\nR1  resistor %d Ω  S T\nU2  B  VDD=V3 D=T GND=GND\n```\n", r)
	}
	requireClaim(t, compileText(t, text(2000)), []string{"passed", "input-above-supply.U2.D"})
	requireClaim(t, compileText(t, text(1999)), []string{"failed", "input-above-supply.U2.D"})
}
