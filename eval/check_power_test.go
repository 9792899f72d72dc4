package eval

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/notebook"
)

func TestCheckPowerCases(t *testing.T) {
	files, err := filepath.Glob("testdata/checks/power/*.md")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	seen := map[string]bool{}
	for _, path := range files {
		t.Run(filepath.Base(path), func(t *testing.T) {
			signalCases(t, path, func(t *testing.T, text string, expect [][]string) {
				r := compileText(t, text)
				for _, d := range r.Diagnostics {
					require.NotEqual(t, notebook.Err, d.Severity, "%s: %s", d.Code, d.Message)
				}
				for _, e := range expect {
					requireClaim(t, r, e)
					check, _, _ := strings.Cut(e[1], ".")
					seen[check+" "+e[0]] = true
				}
			})
		})
	}
	for _, b := range powerChecks() {
		require.NotEmpty(t, b.rule)
		require.NotEmpty(t, b.source)
		for _, v := range []string{"passed", "failed", "open", "skipped"} {
			if b == decoupling && v == "open" {
				continue // placement always decides it
			}
			require.True(t, seen[b.name+" "+v], "%s has no case that is %s", b.name, v)
		}
	}
}

// powerValue is a value of testdata/checks/power/outside.json with its source.
type powerValue struct {
	ID       string
	Inputs   map[string]struct{ Value float64 }
	Expected map[string]struct{ Value, Tol float64 }
	Source   string
}

func powerValues(t *testing.T) map[string]powerValue {
	data, err := os.ReadFile("testdata/checks/power/outside.json")
	require.NoError(t, err)
	var list []powerValue
	require.NoError(t, json.Unmarshal(data, &list))
	out := map[string]powerValue{}
	for _, v := range list {
		require.NotEmpty(t, v.Source, v.ID)
		out[v.ID] = v
	}
	return out
}

// leftOf is the largest value of the left side of a claim's first test.
func leftOf(t *testing.T, text, id string) float64 {
	r := compileText(t, text)
	for _, c := range r.Claims {
		if c.ID == id && len(c.Criteria) > 0 && len(c.Criteria[0].Tests) > 0 && c.Criteria[0].Tests[0].Left.Max != nil {
			return *c.Criteria[0].Tests[0].Left.Max
		}
	}
	require.Fail(t, "no such test", "%s in %v", id, r.Diagnostics)
	return 0
}

const regulatorNote = "```part REG\ntitle: regulator\nabsmax T_J = max 150 °C\nspec V_OUT = %s\nspec V_DO = max 1 mV\nspec R_θJA = %g K/W\npins:\n  1 VIN supply\n  2 GND ground\n  3 VOUT supply output\n```\n\n" +
	"```design\ntitle: t\nambient: %g °C\n```\n\n```values\nVIN = %g V\n```\n\n```circuit\nU1  REG  VIN=VIN GND=GND VOUT=VO  in use: I_OUT = %g mA\n```\n"

func TestRegulatorJunctionAgreesWithPublishedValues(t *testing.T) {
	all := powerValues(t)
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
	v := powerValues(t)["XTAL-06"]
	text := fmt.Sprintf("```part X\ntitle: crystal\nspec C_L = %g pF\npins:\n  1 A passive\n  2 B passive\n```\n\n```circuit\nY1  X  A=N1 B=N2  in use: C_STRAY = %g pF\nC1  capacitor %g pF  N1 GND\nC2  capacitor %g pF  N2 GND\n```\n",
		v.Inputs["CL"].Value, v.Inputs["Cs"].Value, v.Expected["C"].Value, v.Expected["C"].Value)
	require.InDelta(t, 0, leftOf(t, text, "crystal.Y1.load")*1e12, v.Expected["C"].Tol)
}

func TestLEDCurrentAgreesWithPublishedValues(t *testing.T) {
	v := powerValues(t)["LED-01"]
	text := fmt.Sprintf("```part H\ntitle: LED\nkind: LED\nabsmax I_F = max 20 mA\nspec V_F = %g V\npins:\n  1 A passive\n  2 K passive\n```\n\n```values\nVS = %g V\n```\n\n```circuit\nH1  H  A=N K=GND\nR1  resistor %g Ω, 0603  VS N\n```\n",
		v.Inputs["Vd"].Value, v.Inputs["Vs"].Value, v.Inputs["Rs"].Value)
	require.InDelta(t, v.Expected["I"].Value, leftOf(t, text, "led.H1")*1000, v.Expected["I"].Tol)
}

func TestInductorPeakAgreesWithPublishedValues(t *testing.T) {
	for _, id := range []string{"BUCK-05", "BUCK-06", "BUCK-08"} {
		v := powerValues(t)[id]
		in := func(n string) float64 { return v.Inputs[n].Value }
		unit := "kHz"
		if id == "BUCK-08" {
			unit = "MHz"
		}
		text := fmt.Sprintf("```part L\ntitle: inductor\nkind: inductor\nspec L = %g µH\nspec I_SAT = 100 A\npins:\n  1 A passive\n  2 B passive\n```\n\n```part U\ntitle: converter\nspec f_SW = %g %s\nspec V_OUT = %g V\npins:\n  1 VIN supply\n  2 GND ground\n  3 SW output\n  4 VO supply output\n```\n\n"+
			"```values\nVI = %g V\n```\n\n```circuit\nU1  U  VIN=VI GND=GND SW=SW VO=VO  in use: I_OUT = %g A\nL1  L  A=SW B=VO\n```\n", in("Ls"), in("f"), unit, in("VOUT"), in("VIN"), in("IO"))
		require.InDelta(t, v.Expected["Ipk"].Value, leftOf(t, text, "inductor.L1"), v.Expected["Ipk"].Tol, id)
	}
}
