package eval

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

// readingBoard is a regulator's junction, its rail and a few claims, with
// readings.
func readingBoard(readings ...string) string {
	return "```design\ntitle: bench\nambient: -20 °C to 60 °C\nstates: awake, asleep\n```\n" +
		"```part REG\nspec V_OUT = min 2.94 V, max 3.06 V\nspec V_DO = max 250 mV at I_OUT <= 150 mA\nspec V_DO = max 90 mV at I_OUT <= 50 mA\n" +
		"spec R_θJA = 180 K/W ± 10 K/W\nspec X = typ 3 V\nat least zero: V_DO\npins:\n  1  VOUT  supply output\n```\n" +
		"```circuit\nU1  REG  VOUT=V3V0  in use: I_OUT = I_LOAD\n```\n" +
		"```values\nV_IN = 4.5 V to 5.5 V\nV_LOW = 3.4 V\nT_BOX = 45 °C\nI_LOAD = 1 mA to 100 mA\nR_S = 10 Ω\n" +
		"P = (V_IN - V_LOW) * I_LOAD\nT_J = T_BOX + P * U1.R_θJA\nT_A2 = ambient + 5 K\nV_SH = I_LOAD * R_S\n```\n" +
		"```claim rail\nstatement: The rail is high enough.\ncriterion: V3V0 >= 3.05 V\nwaiver: 2099-12-31, A. Tarn, the bench will tell\n```\n" +
		"```claim tested\nstatement: With the lid closed T_A2 is as worked out.\nmethod: test\n```\n" +
		"```readings\n" + strings.Join(readings, "\n") + "\n```\n"
}

func TestReadingsAtTheirConditions(t *testing.T) {
	const bench = " at V_IN = 5 V; V_LOW = 4 V; T_BOX = 23 °C; I_LOAD = 100 mA"
	for _, x := range []struct {
		reading, id string
		verdict     record.Verdict
		says        string
	}{
		// 23 °C + 1 V · 0.1 A · (170 to 190) K/W = 40 °C to 42 °C
		{"T_J = 41 °C ± 0.5 °C" + bench, "T_J", record.Passed, "40 °C to 42 °C"},
		{"T_J = 55 °C ± 2 °C" + bench, "T_J", record.Failed, "above the prediction"},
		{"T_J = 42 °C ± 1 °C" + bench, "T_J", record.Open, "straddles"},
		{"T_J = 55 °C ± 2 °C", "T_J", record.Open, "does not state T_BOX, V_LOW, V_IN and I_LOAD"},
		{"T_J = 500 °C ± 2 °C", "T_J", record.Open, "does not state"},
		{"T_J = 41 °C ± 0.5 °C at V_IN = 5 V; V_LOW = 4 V; I_LOAD = 100 mA", "T_J", record.Open, "does not state T_BOX"},
		{"T_J = 41 °C ± 0.5 °C at P = 100 mW; T_BOX = 23 °C", "T_J", record.Passed, ""}, // a derived value stands for what makes it
		{"T_A2 = 28 °C ± 0.1 °C", "T_A2", record.Open, "does not state T_A,"},
		{"T_A2 = 28 °C ± 0.1 °C at T_A = 23 °C ± 0.2 °C", "T_A2", record.Passed, ""},
		{"V_SH = 0.5 V ± 1 mV at I_LOAD = 50 mA ± 0.2 mA", "V_SH", record.Passed, ""}, // R_S is a property, not a condition
		// The row that covers the use on the bench counts.
		{"U1.V_DO = 120 mV at I_LOAD = 20 mA", "U1.V_DO", record.Failed, "to 90 mV"},
		{"U1.V_DO = 120 mV at I_LOAD = 80 mA", "U1.V_DO", record.Passed, ""},
		{"U1.V_DO = 120 mV at U1.use.I_OUT = 20 mA", "U1.V_DO", record.Failed, ""},
		{"U1.V_DO = 120 mV at I_LOAD = 200 mA", "U1.V_DO", record.Open, ""},
		{"U1.X = 3 V", "U1.X", record.Open, "predict nothing"},
		{"V_IN = 5 V", "V_IN", record.Passed, ""},
		{"V_IN = 6 V", "V_IN", record.Failed, ""},
		{"V3V0 = 3.055 V ± 2 mV", "V3V0", record.Passed, ""},
		{"V3V0 = 3.004 V ± 2 mV", "V3V0", record.Failed, "claim rail asks, V3V0 >= 3.05 V"},
	} {
		c := claimOf(t, compileText(t, readingBoard(x.reading)), "reading."+x.id)
		require.Equal(t, x.verdict, c.Verdict, "%s: %s", x.reading, c.Headline+" "+allText(compileText(t, readingBoard(x.reading))))
		if x.says != "" {
			require.Contains(t, allText(compileText(t, readingBoard(x.reading))), x.says, "%s", x.reading)
		}
	}
}

// TestReadingThatSettles: a test is settled by a reading of what its claim uses
// or names, and by no other.
func TestReadingThatSettles(t *testing.T) {
	for _, x := range []struct {
		reading string
		verdict record.Verdict
		code    string
	}{
		{"T_A2 = 28 °C ± 0.1 °C at T_A = 23 °C ± 0.2 °C\nsettles: tested", record.Passed, ""},
		{"T_A2 = 38 °C ± 0.1 °C at T_A = 23 °C\nsettles: tested", record.Failed, ""},
		{"T_A2 = 28 °C ± 0.1 °C\nsettles: tested", record.Open, ""},
		{"V_IN = 5 V\nsettles: tested", record.Open, "error settles-other"},
	} {
		r := compileText(t, readingBoard(x.reading))
		require.Equal(t, x.verdict, claimOf(t, r, "tested").Verdict, "%s", x.reading)
		if x.code != "" {
			require.Contains(t, codes(r), x.code)
			require.Equal(t, record.Passed, claimOf(t, r, "reading.V_IN").Verdict, "it still counts by itself")
		}
	}
	used := strings.Replace(readingBoard("V_IN = 5 V\nsettles: tested"), "With the lid closed T_A2 is as worked out.", "s\ncriterion: V_IN <= 6 V", 1)
	require.Equal(t, record.Passed, claimOf(t, compileText(t, used), "tested").Verdict)
	inWord := strings.Replace(readingBoard("V_IN = 5 V\nsettles: tested"), "T_A2 is", "V_INX and XV_IN are", 1)
	require.Contains(t, codes(compileText(t, inWord)), "error settles-other")
}

// TestReadingForms: what is not a reading is told, and stops nothing.
func TestReadingForms(t *testing.T) {
	for reading, code := range map[string]string{
		"V_IN = min 4 V, typ 5 V":              "error reading-form",
		"V_IN = max 5 V":                       "error reading-form",
		"V_IN = V_LOW + T_J * 1 V/K":           "",
		"V_IN = V_LOW + V_SH":                  "error reading-form",
		"V_IN = 5 A":                           "error dimension",
		"V_SH = 0.5 V at I_LOAD = 50 mV":       "error dimension",
		"V_SH = 0.5 V at T_A = 5 V":            "error dimension",
		"V_SH = 0.5 V at V_SH = 0.5 V":         "error condition-itself",
		"V_SH = 0.5 V at I_LOADX = 50 mA":      "error name-unknown",
		"V_SH = 0.5 V at U1.use.I_XX = 50 mA":  "error name-unknown",
		"V_SH = 0.5 V at I_LOAD = I_LOAD + I1": "error name-unknown",
	} {
		r := compileText(t, readingBoard(reading))
		if code != "" {
			require.Contains(t, codes(r), code, reading)
		}
		for _, c := range r.Claims {
			if c.Kind == "reading" {
				require.Equal(t, record.Open, c.Verdict, reading)
			}
		}
	}
}
