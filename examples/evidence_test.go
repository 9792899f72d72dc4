package examples_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

// citing compiles a notebook with one placed part, the facts of which cite a
// sheet of the examples: reg is the guide's regulator.
func citing(t *testing.T, facts string, claims ...string) *record.Record {
	t.Helper()
	return citingFile(t, "guide/sheets/zqx-30.pdf", facts, claims...)
}

func citingFile(t *testing.T, file, facts string, claims ...string) *record.Record {
	t.Helper()
	dir := t.TempDir()
	pdf, err := os.ReadFile(file)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "reg.pdf"), pdf, 0o644))
	text := "```design\ntitle: x\n```\n```source reg\ntitle: a sheet\nfile: reg.pdf\n```\n" +
		"```part P\nsource: reg\n" + facts + "\n```\n```circuit\nU1  P  in use: I_OUT = 100 mA; T_J = 40 °C; V_IN = 4 V\n```\n"
	for i, k := range claims {
		text += "```claim c" + string(rune('0'+i)) + "\nstatement: x\ncriterion: " + k + "\n```\n"
	}
	path := filepath.Join(dir, "board.md")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	r := compileWith(t, path, dir, library)
	require.Zero(t, r.Summary.Errors, "%+v", r.Diagnostics)
	return r
}

// verdictsOf are the verdicts of the claims written by citing.
func verdictsOf(r *record.Record) string {
	var out []string
	for _, c := range r.Claims {
		if c.Kind == "claim" {
			out = append(out, string(c.Verdict))
		}
	}
	return strings.Join(out, " ")
}

// A number whose digits no cited page shows opens what rests on it.
func TestNumberThatIsOnNoCitedPage(t *testing.T) {
	for _, c := range []struct{ fact, verdict string }{
		{`spec V_DROP = max 230 mV  at I_OUT <= 150 mA  [p.4 "Dropout voltage"]`, "open"},
		{`spec V_DROP = max 230 mV  at I_OUT <= 150 mA  [p.4]`, "open"},
		{`spec V_DROP = max 250 mV  at I_OUT <= 150 mA  [p.4 "Dropout voltage"]`, "passed"},
		{`spec V_DROP = max 0.25 V  at I_OUT <= 150 mA  [p.4]`, "passed"},
		{`spec V_DROP = max 230 mV  at I_OUT <= 150 mA  [p.4 read by K. Sedge 2026-11-20]`, "passed"},
		{`spec V_DROP = max 230 mV  at I_OUT <= 150 mA  [p.9 read by K. Sedge 2026-11-20]`, "open"}, // there is no such page
		{`spec V_DROP = max 250 mV  at I_OUT <= 160 mA  [p.4 "Dropout voltage"]`, "open"},           // the condition is on no page
		{`spec V_DROP = max 250 mV  at I_OUT <= 150 mA  [p.3] [p.4]`, "passed"},                     // one of the pages will do
		{`spec V_DROP = max 230 mV  at I_OUT <= 150 mA  [p.3] [p.4]`, "open"},
		{`spec V_DROP = 230 mV ± 5 mV  at I_OUT <= 150 mA  [p.4]`, "open"},
		{`spec V_DROP = 250 mV ± 7 mV  at I_OUT <= 150 mA  [p.4]`, "open"}, // so is a tolerance
	} {
		r := citing(t, c.fact+"\nat least zero: V_DROP", "U1.V_DROP <= 0.3 V")
		require.Equal(t, c.verdict, verdictsOf(r), "%s\n%+v", c.fact, r.Claims[0].Open)
	}
	r := citing(t, `spec V_DROP = max 230 mV  at I_OUT <= 150 mA  [p.4 read by K. Sedge 2026-11-20]`)
	require.Equal(t, map[string]int{"read by a person": 1}, r.Sources[0].Checked)
	require.Equal(t, "read by K. Sedge on 2026-11-20", r.Parts[0].Facts[0].Cites[0].Text)
}

// A number that its page gives as typical alone promises nothing, whether the
// note says typ or not.
func TestTypicalValueNotedBare(t *testing.T) {
	for _, c := range []struct{ fact, criterion, verdict string }{
		{`spec R_θJA = 195 K/W  [p.3 "Junction to ambient"]`, "U1.R_θJA <= 300 K/W", "open"},
		{`spec R_θJA = 195 K/W  [p.3]`, "U1.R_θJA <= 300 K/W", "open"},
		{`spec R_θJA = typ 195 K/W  [p.3]`, "U1.R_θJA <= 300 K/W", "open"},
		{`spec R_θJA = 195 K/W  [p.3]`, "U1.R_θJA.typ <= 300 K/W", "passed"},
		{`spec R_θJA = 195 K/W  [p.3]`, "U1.R_θJA <= 100 K/W", "failed"},
		{`spec R_θJA = 195 K/W  [p.3 read by K. Sedge 2026-11-20]`, "U1.R_θJA <= 300 K/W", "passed"},
		{`spec V_OUT = 3.00 V  at I_OUT = 1 mA to 150 mA  [p.4 "Output voltage"]`, "U1.V_OUT <= 3.1 V", "open"},
		{`spec V_DROP = 250 mV  at I_OUT <= 150 mA  [p.4 "Dropout voltage"]`, "U1.V_DROP <= 0.3 V", "passed"}, // the max column
		{`operating V_DROP = 130 mV  [p.4]`, "0.13 V inside U1.operating.V_DROP", "open"},
	} {
		require.Equal(t, c.verdict, verdictsOf(citing(t, c.fact, c.criterion)), "%s: %s", c.fact, c.criterion)
	}
	values := "```\n```values\nX = 195 K/W  [reg p.3]\n```\n```values"
	require.Equal(t, "open", verdictsOf(citing(t, values, "X <= 300 K/W")))
}

// A citation by words alone is looked up wherever they stand, one by a section
// alone is not; a page read after the day of the run is looked up as well.
func TestCitationsWithoutAPage(t *testing.T) {
	const fact = "at least zero: V_DO\nspec V_DO = max %s  at I_OUT <= 150 mA; T_J = -40 °C to 125 °C; V_IN = 2.2 V to 5.5 V  [%s]"
	for _, c := range []struct{ value, cite, verdict, says string }{
		{"210 mV", `"Dropout voltage"`, "passed", ""},
		{"230 mV", `"Dropout voltage"`, "open", "230 mV is nowhere on pdf.1, pdf.4 of reg"},
		{"210 µV", `"Dropout voltage"`, "open", "210 µV is not on pdf.1, pdf.4 of reg: the row “Dropout voltage” gives 210 mV"},
		{"210 mV", `"Drop out of school"`, "open", "are not there"},
		{"210 mV", "§4", "passed", ""},
		{"210 µV", `p.4 "Dropout voltage" read by K. Sedge 2027-11-20`, "open", "gives 210 mV"},
	} {
		r := citingFile(t, "weirkeeper/sheets/ozd-l2.pdf", fmt.Sprintf(fact, c.value, c.cite), "U1.V_DO <= 0.3 V")
		require.Equal(t, c.verdict, verdictsOf(r), "%s %s\n%+v", c.value, c.cite, r.Claims[0].Open)
		if c.says != "" {
			require.Contains(t, fmt.Sprint(r.Claims[0].Open), c.says)
		}
		for _, d := range r.Diagnostics {
			require.NotEqual(t, "page-missing", d.Code)
		}
	}
}

// What the head of a table or the row itself asks and the note lacks opens what
// rests on the fact, until it is noted or a person answers.
func TestConditionsThatTheNoteLacks(t *testing.T) {
	const fact = "at least zero: V_DO\nspec V_DO = max 210 mV  at I_OUT <= 150 mA"
	for _, c := range []struct{ facts, verdict string }{
		{fact + `  [p.4 "Dropout voltage"]`, "open"},
		{fact + `; T_J = -40 °C to 125 °C  [p.4 "Dropout voltage"]`, "open"},
		{fact + `; T_J = -40 °C to 125 °C; V_IN = 2.2 V to 5.5 V  [p.4 "Dropout voltage"]`, "passed"},
		{fact + `  [p.4 "Dropout voltage" read by K. Sedge 2026-11-20]`, "passed"},
		{fact + "  [p.4 \"Dropout voltage\"]\noperating V_IN = 2.2 V to 5.5 V  [p.3]\noperating T_J = -40 °C to 125 °C  [p.3]", "passed"},
		{fact + "  [p.4 \"Dropout voltage\"]\noperating V_IN = 2.2 V to 5.5 V  [p.3]\nabsmax T_J = -40 °C to 125 °C  [p.3]", "open"},
		{"at least zero: V_DO\nspec V_DO = max 210 mV  at T_J = -40 °C to 125 °C; V_IN = 2.2 V to 5.5 V  [p.4 \"Dropout voltage\"]", "open"},
	} {
		r := citingFile(t, "weirkeeper/sheets/ozd-l2.pdf", c.facts, "U1.V_DO <= 0.3 V")
		require.Equal(t, c.verdict, verdictsOf(r), "%s\n%+v", c.facts, r.Claims[0].Open)
	}
}

// The columns of a part's facts carry the units that were typed.
func TestFactColumnsCarryTheirUnits(t *testing.T) {
	r := citing(t, "absmax T_J = -40 to 125 °C  [p.3]\noperating V_IN = (1.9 to 5.6) V  [p.3]\nspec t_R = max 300 ns")
	require.Equal(t, "-40 °C/125 °C", r.Parts[0].Facts[0].MinText+"/"+r.Parts[0].Facts[0].MaxText)
	require.Equal(t, "1.9 V/5.6 V", r.Parts[0].Facts[1].MinText+"/"+r.Parts[0].Facts[1].MaxText)
	require.Equal(t, "300 ns", r.Parts[0].Facts[2].MaxText)
}

// A failure that rests on a number its page does not show says so, and that
// page is looked up first.
func TestFailureOnANumberThatIsNotThere(t *testing.T) {
	facts := "spec V_DROP = min 1 mV, max 230 mV  at I_OUT <= 150 mA  [p.4]\nspec I_Q = typ 1.2 µA  at \"no load\"  [p.1]"
	r := citing(t, facts, "U1.I_Q <= 2 µA", "U1.V_DROP <= 0.2 V")
	require.Equal(t, "open failed", verdictsOf(r))
	require.Contains(t, r.LookUp[0].Page, "p.4")
	for _, c := range r.Claims {
		if c.ID == "c1" {
			require.Len(t, c.Open, 1)
			require.Contains(t, c.Open[0].Text, "230 mV")
		}
	}
}
