package eval

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
)

const askedBoard = "Invented.\n\n```part Q\ntitle: switch\nkind: transistor\nabsmax: none\npins:\n  1 G input\n  2 S passive\n  3 D passive\n" +
	"spec R_DSonMAX = max 40 mΩ at V_GS >= 2.5 V\nspec V_IX = 1 V\n```\n" +
	"```part M\ntitle: controller\npackage: box\npads: 4\npins:\n  1 VDD supply\n  2 VSS ground\n  3 PA5 bidirectional\n  4 PA6 bidirectional\noperating v_dd = 2.7 V to 3.6 V\nabsmax V_DD = max 4 V\n```\n" +
	"```values\nV33 = 3.3 V ± 2 %\n```\n```circuit\nQ1  Q  G=V33 S=GND D=OUT\nU1  M  VDD=V33 VSS=GND PA5=NC PA6=-\n```\n"

func diagnosed(r *record.Record, code string) []string {
	var out []string
	for _, d := range r.Diagnostics {
		if d.Code == code {
			out = append(out, d.Message+" -> "+d.Hint)
		}
	}
	return out
}

func TestFactsNearToWhatIsRead(t *testing.T) {
	r := compileText(t, askedBoard)
	near := strings.Join(diagnosed(r, "fact-near"), "\n")
	require.Contains(t, near, "`R_DSonMAX` is not read by any check; `gate-drive` looks for `R_DSon` -> call it `spec R_DSon`")
	require.Contains(t, near, "`v_dd` is not read by any check; `supply-range` looks for `V_DD`")
	require.NotContains(t, near, "V_IX", "a letter within a name makes another quantity")
}

func TestCheckTellsWhatItReads(t *testing.T) {
	book, err := notebook.Load("-", notebook.Options{Stdin: []byte(askedBoard)})
	require.NoError(t, err)
	var checks []CheckText
	Compile(context.Background(), book, Options{Language: formula.NewLanguage(nil), Explain: &checks, Checks: TestChecks})
	for _, k := range checks {
		require.NotEmpty(t, k.Rule, k.Name)
		if k.Name == "absmax" {
			require.Contains(t, k.Reads, "absmax V_DD: M")
		}
	}
	require.Len(t, checks, len(TestChecks))
}

func TestPinsLeftOpenOnThisBoard(t *testing.T) {
	r := compileText(t, askedBoard)
	requireClaim(t, r, []string{"passed", "pin-map.U1", "left open on this board: PA6"})
	require.Len(t, diagnosed(r, "net-open-name"), 1)
	requireClaim(t, compileText(t, strings.Replace(askedBoard, "PA6=-", "", 1)), []string{"failed", "pin-map.U1", "PA6"})
	requireClaim(t, compileText(t, strings.Replace(askedBoard, "VDD=V33", "VDD=-", 1)), []string{"failed", "pin-map.U1", "VDD"})
	wrong := compileText(t, strings.Replace(askedBoard, "PA6=-", "PA7=- PA6=V33 PA6=-", 1))
	require.Len(t, diagnosed(wrong, "pin-unknown"), 1)
	require.Len(t, diagnosed(wrong, "pin-twice"), 1)
}

func TestRolesThatAPinCannotHave(t *testing.T) {
	r := compileText(t, "```part M\ntitle: controller\npins:\n  1 VDD supply\n  2 GND ground\n  3 IN input\n  4 P0 bidirectional\n```\n"+
		"```circuit\nU1 M VDD=VCC GND=GND IN=A P0=B  in use: IN output; VDD unused; P0 analog; 4 output; P7 input\nR1 resistor 1k  A B  in use: A output\n```\n")
	require.Len(t, diagnosed(r, "pin-unknown"), 1)
	wrong := strings.Join(diagnosed(r, "pin-role"), "\n")
	for _, text := range []string{"pin `IN` of U1 is noted as input", "pin `VDD` of U1 is noted as supply", "pin `4` of U1 has two roles",
		"a resistor has no pins with a role"} {
		require.Contains(t, wrong, text)
	}
}

func TestSheetWithoutMaximumRatings(t *testing.T) {
	r := compileText(t, askedBoard)
	for _, c := range r.Claims {
		if c.ID == "sections.Q" {
			require.NotContains(t, c.Open[0].Text, "maximum ratings")
		}
	}
	requireClaim(t, r, []string{"open", "sections.Q"})
}
