package eval

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

// firstTest is the first test of a claim that compares by an operator, or by
// any where that is "".
func firstTest(t *testing.T, text, id, op string) record.Test {
	t.Helper()
	r := compileText(t, text)
	for _, c := range r.Claims {
		for _, k := range c.Criteria {
			if c.ID == id && len(k.Tests) > 0 && (op == "" || strings.Contains(k.Text, " "+op+" ")) {
				return k.Tests[0]
			}
		}
	}
	require.Fail(t, "no such test", "%s in %v", id, r.Diagnostics)
	return record.Test{}
}

// leftOf is the largest value of the left side of a claim's first test.
func leftOf(t *testing.T, text, id string) float64 {
	t.Helper()
	x := firstTest(t, text, id, "")
	require.NotNil(t, x.Left.Max)
	return *x.Left.Max
}

const regulatorNote = "```part REG\ntitle: regulator\nabsmax T_J = max 150 °C\nspec V_OUT = %s\nspec V_DO = max 1 mV\nspec R_θJA = %g K/W\npins:\n  1 VIN supply\n  2 GND ground\n  3 VOUT supply output\n```\n\n" +
	"```design\ntitle: t\nambient: %g °C\n```\n\n```values\nVIN = %g V\n```\n\n```circuit\nU1  REG  VIN=VIN GND=GND VOUT=VO  in use: I_OUT = %g mA\n```\n"

func TestRegulatorJunctionAgreesWithPublishedValues(t *testing.T) {
	all := outsideValues(t, "power")
	v := all["LDO-01"] // the rating of the sheet is a thermal resistance in other words
	in := func(n string) float64 { return v.Inputs[n].Value }
	theta := (in("Tjmax") - 25) / (in("PD") / 1000)
	got := leftOf(t, fmt.Sprintf(regulatorNote, fmt.Sprintf("%g V", in("VOUT")), theta, in("Ta"), in("VIN"), in("IOUT")), "regulator.U1.junction")
	require.InDelta(t, v.Expected["Tj"].Value, got-273.15, v.Expected["Tj"].Tol)

	v = all["LDO-06"] // 218.1 mW from 1 V at 218.1 mA
	got = leftOf(t, fmt.Sprintf(regulatorNote, "3 V", in("theta"), in("Ta"), 4.0, in("P")), "regulator.U1.junction")
	require.InDelta(t, v.Expected["Tj"].Value, got-273.15, v.Expected["Tj"].Tol)
}

// The load seen is the published one where the claim's left side is nought.
func TestCrystalLoadAgreesWithPublishedValues(t *testing.T) {
	v := outsideValues(t, "power")["XTAL-06"]
	text := fmt.Sprintf("```part X\ntitle: crystal\nspec C_L = %g pF\npins:\n  1 A passive\n  2 B passive\n```\n\n```circuit\nY1  X  A=N1 B=N2  in use: C_STRAY = %g pF\nC1  capacitor %g pF  N1 GND\nC2  capacitor %g pF  N2 GND\n```\n",
		v.Inputs["CL"].Value, v.Inputs["Cs"].Value, v.Expected["C"].Value, v.Expected["C"].Value)
	require.InDelta(t, 0, leftOf(t, text, "crystal.Y1.load")*1e12, v.Expected["C"].Tol)
}

func TestLEDCurrentAgreesWithPublishedValues(t *testing.T) {
	v := outsideValues(t, "power")["LED-01"]
	text := fmt.Sprintf("```part H\ntitle: LED\nkind: LED\nabsmax I_F = max 20 mA\nspec V_F = %g V\npins:\n  1 A passive\n  2 K passive\n```\n\n```values\nVS = %g V\n```\n\n```circuit\nH1  H  A=N K=GND\nR1  resistor %g Ω, 0603  VS N\n```\n",
		v.Inputs["Vd"].Value, v.Inputs["Vs"].Value, v.Inputs["Rs"].Value)
	require.InDelta(t, v.Expected["I"].Value, leftOf(t, text, "led.H1")*1000, v.Expected["I"].Tol)
}

func TestInductorPeakAgreesWithPublishedValues(t *testing.T) {
	for _, id := range []string{"BUCK-05", "BUCK-06", "BUCK-08"} {
		v := outsideValues(t, "power")[id]
		in := func(n string) float64 { return v.Inputs[n].Value }
		unit := "kHz"
		if id == "BUCK-08" {
			unit = "MHz"
		}
		text := fmt.Sprintf("```part L\ntitle: inductor\nkind: inductor\nspec L = %g µH\nspec I_SAT = 100 A\npins:\n  1 A passive\n  2 B passive\n```\n\n```part U\ntitle: converter\nspec f_SW = %g %s\nspec V_OUT = %g V\npins:\n  1 VIN supply\n  2 GND ground\n  3 SW output\n  4 VO supply output\n```\n\n"+
			"```values\nVI = %g V\n```\n\n```circuit\nU1  U  VIN=VI GND=GND SW=SW VO=VO  in use: I_OUT = %g A\nL1  L  A=SW B=VO\n```\n",
			in("Ls"), in("f"), unit, in("VOUT"), in("VIN"), in("IO"))
		require.InDelta(t, v.Expected["Ipk"].Value, leftOf(t, text, "inductor.L1"), v.Expected["Ipk"].Tol, id)
	}
}

// A hot coil asks for the published voltage: the check turns between a supply
// that has it and one that has not.
func TestCoilPullInAgreesWithPublishedValues(t *testing.T) {
	v := outsideValues(t, "power")["COIL-01"]
	x := v.Expected["E1"]
	text := func(supply float64) string {
		return fmt.Sprintf("```part K\ntitle: relay\nspec R_COIL = 320 Ω\nspec V_OP = max %g V ref T = %g °C\nat least zero: V_OP\npins:\n  1 C1 passive\n  2 C2 passive\n```\n\n"+
			"```values\nVS = %g V\n```\n\n```circuit\nK1  K  C1=VS C2=GND  in use: T_COIL = %g °C\n```\n",
			v.Inputs["E0"].Value, v.Inputs["T0"].Value, supply, v.Inputs["T1"].Value)
	}
	right := firstTest(t, text(28), "coil.K1", ">=").Right.Max
	require.NotNil(t, right)
	require.InDelta(t, x.Value, *right, x.Tol)
	requireClaim(t, compileText(t, text(x.Value+x.Tol)), []string{"passed", "coil.K1"})
	requireClaim(t, compileText(t, text(x.Value-x.Tol)), []string{"failed", "coil.K1"})
}

// What tolerance, class and bias leave of a capacitor.
func TestEffectiveCapacitanceAgreesWithPublishedValues(t *testing.T) {
	v := outsideValues(t, "power")["CAP-EFF-01"]
	x := v.Expected["CEFF"]
	text := func(asked float64) string {
		return fmt.Sprintf("```design\ntitle: t\nambient: -40 °C to 85 °C\n```\n\n```part REG\ntitle: regulator\npins:\n  1 VIN supply\n  2 GND ground\n  3 VOUT supply output\napplication:\n  VOUT GND  capacitor min %g µF\n```\n\n"+
			"```circuit\nU1  REG  VIN=VI GND=GND VOUT=VO\nC1  capacitor %g µF ± %g %%, 6.3 V, X5R, retention %g %%  VO GND\n```\n",
			asked, v.Inputs["C"].Value, v.Inputs["tol"].Value, 100*v.Inputs["Cbias"].Value/v.Inputs["C"].Value)
	}
	left := firstTest(t, text(1), "application.U1.VOUT", ">=").Left.Min
	require.NotNil(t, left)
	require.InDelta(t, x.Value, *left*1e6, x.Tol)
	requireClaim(t, compileText(t, text(x.Value-x.Tol)), []string{"passed", "application.U1.VOUT"})
	requireClaim(t, compileText(t, text(x.Value+x.Tol)), []string{"failed", "application.U1.VOUT"})
}

// The check asks for five times the critical transconductance.
func TestCrystalGainAgreesWithPublishedValues(t *testing.T) {
	v := outsideValues(t, "power")["XTAL-GM-01"]
	in := func(n string) float64 { return v.Inputs[n].Value }
	text := func(gm float64) string {
		return fmt.Sprintf("```part X\ntitle: crystal\nspec C_L = 9 pF\nspec f = %g MHz\nspec ESR = %g Ω\nspec C_0 = %g pF\npins:\n  1 A passive\n  2 B passive\n```\n\n"+
			"```circuit\nY1  X  A=N1 B=N2  in use: C_STRAY = %g pF; g_m = %.9g mA/V\nC1  capacitor %g pF  N1 GND\nC2  capacitor %g pF  N2 GND\n```\n",
			in("f"), in("ESR"), in("C0"), in("Cs"), gm, in("C"), in("C"))
	}
	x := v.Expected["gmcrit"]
	right := firstTest(t, text(in("gm")), "crystal.Y1.gain", ">=").Right.Max
	require.NotNil(t, right)
	require.InDelta(t, x.Value, *right*1000/5, x.Tol)
	require.InDelta(t, v.Expected["margin"].Value, in("gm")/(*right*1000/5), v.Expected["margin"].Tol)
	requireClaim(t, compileText(t, text(5*x.Value*1.000001)), []string{"passed", "crystal.Y1.gain"})
	requireClaim(t, compileText(t, text(5*x.Value*0.999999)), []string{"failed", "crystal.Y1.gain"})
}

// The power limit turns at the published voltage, and derated at the lower one.
func TestResistorVoltageAgreesWithPublishedValues(t *testing.T) {
	v := outsideValues(t, "power")["RES-01"]
	text := func(volts float64, derating string) string {
		return fmt.Sprintf("```design\nambient: 20 °C to 70 °C\n```\n\n```part R\ntitle: resistor\nkind: resistor\nabsmax P = max %g W\nspec R = %g kΩ\npins:\n  1 A passive\n  2 B passive\n```\n\n```values\nVS = %g V\n```\n\n```circuit\n%sR1  R  A=VS B=GND\n```\n",
			v.Inputs["P"].Value, v.Inputs["R"].Value, volts, derating)
	}
	x, y := v.Expected["V"], v.Expected["Vderated"]
	derating := fmt.Sprintf("derating resistor: %g %%\n", v.Inputs["k"].Value)
	requireClaim(t, compileText(t, text(x.Value, "")), []string{"passed", "resistor.R1"})
	requireClaim(t, compileText(t, text(x.Value+x.Tol, "")), []string{"failed", "resistor.R1"})
	requireClaim(t, compileText(t, text(y.Value-y.Tol, derating)), []string{"passed", "resistor.R1"})
	requireClaim(t, compileText(t, text(y.Value+y.Tol, derating)), []string{"failed", "resistor.R1"})
}
