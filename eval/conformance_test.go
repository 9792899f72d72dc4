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

// compileText compiles a notebook given as text.
func compileText(t testing.TB, text string) *record.Record {
	t.Helper()
	book, err := notebook.Load("-", notebook.Options{Stdin: []byte(text)})
	require.NoError(t, err)
	return Compile(context.Background(), book, Options{Checks: TestChecks, On: "2026-11-24", Language: formula.NewLanguage(nil), Typeset: true})
}

// caseText turns the compact form of a conformance case into a notebook: lines
// stand in `values` until one opens another block; `criterion:` opens a claim.
func caseText(lines []string) string {
	var b strings.Builder
	b.WriteString("```design\ntitle: case\n```\n")
	open := ""
	start := func(head string) {
		if open != "" {
			b.WriteString("```\n\n")
		}
		b.WriteString("```" + head + "\n")
		open = head
	}
	for _, l := range lines {
		word, _, _ := strings.Cut(strings.TrimSpace(l), " ")
		switch {
		case word == "part":
			start(strings.TrimSpace(l))
			continue
		case word == "circuit" || word == "readings":
			start(word)
			continue
		case word == "criterion:" && open != "claim c":
			start("claim c")
			b.WriteString("statement: the case holds\n")
		case open == "":
			start("values")
		case strings.HasPrefix(open, "claim") && strings.Contains(l, " = ") && !strings.Contains(strings.SplitN(l, " ", 2)[0], ":"):
			start("values")
		}
		b.WriteString(l + "\n")
	}
	b.WriteString("```\n")
	return b.String()
}

// want is what a conformance case asks for.
type want struct {
	verdict record.Verdict // of the claim; "" expects an error instead
	margin  string         // must stand in the margin's text
	says    string         // must stand in the headline, an open point or a diagnostic
}

// conformance holds the cases of the grammar, by its numbers; "¶" parts lines.
// Cases that the lower packages hold alone (literals, positions) stand in
// theirs.
var conformance = []struct {
	name string
	text string
	want want
}{
	{"1a", "A = 0.1 V ¶ B = 0.2 V ¶ criterion: A + B <= 0.3 V", want{verdict: record.Passed, margin: "0 V"}},
	{"1b", "A = 0.1 V ¶ B = 0.2 V ¶ criterion: A + B < 0.3 V", want{verdict: record.Failed}},
	{"2", "L = 5 m ¶ criterion: L == 5000 mm", want{verdict: record.Passed}},
	{"3a", "V = 3.3 V ± 2 % ¶ criterion: V == 3.3 V", want{verdict: record.Failed, says: "inside"}},
	{"3b", "V = 3.3 V ± 2 % ¶ criterion: V - V == 0 V", want{verdict: record.Passed}},
	{"5", "R = 4k7 ohm ¶ criterion: R == 4.7 kΩ", want{verdict: record.Passed}},
	{"6", "R = 4k7", want{says: "unit"}},
	{"7", "X = 17 % 5", want{says: "percent"}},
	{"8", "X = 3.3 V +5 % -3 % ¶ criterion: X inside 3.201 V to 3.465 V", want{verdict: record.Passed, margin: "0 V"}},
	{"10a", "X = 10 V -1 V", want{says: "space"}},
	{"10b", "X = 1.9V-5.6V", want{says: "to"}},
	{"11", "X = -40 to 125 °C ¶ criterion: X <= 125 °C", want{verdict: record.Passed, margin: "0 K"}},
	{"12a", "X = 6 V to 2.7 V", want{says: "reversed"}},
	{"12b", "X = min 3 V, max 2 V", want{says: "reversed"}},
	{"12c", "X = 3,3 V", want{says: "the decimal mark is a point"}},
	{"14", "X = ± 2 mV ¶ criterion: abs(X) <= 2 mV", want{verdict: record.Passed, margin: "0 mV"}},
	{"15a", "I = 2 A ¶ criterion: 2 A^2 * 3 Ω == 6 W and I^2 * 3 Ω == 12 W", want{verdict: record.Passed}},
	{"15b", "I = 2 A ¶ criterion: 2 A ^ 2 == 4 A^2", want{says: "(2 A)^2"}},
	{"16", "A = 25 °C ¶ B = 40 °C ¶ criterion: B - A == 15 K and A - 5 K == 20 °C and -40 °C < 0 °C", want{verdict: record.Passed}},
	{"17a", "A = 25 °C ¶ X = A + A", want{says: "point"}},
	{"17b", "A = 25 °C ¶ X = 2 * A", want{says: "point"}},
	{"19", "C = 2.2 µF ¶ D = 2.2 μF ¶ E = 2.2 uF ¶ criterion: C == D and D == E", want{verdict: record.Passed}},
	{"21a", "in = 3 V", want{says: "in"}},
	{"21b", "IN = 3 V ¶ criterion: IN == 3 V", want{verdict: record.Passed}},
	{"22", "V = 3 V # nominal ¶ criterion: V == 3 V", want{verdict: record.Passed}},
	{"25", "P = 1 W ¶ criterion: P <= 3 V", want{says: "power"}},
	{"27", "R1 = 1 kΩ ¶ circuit ¶ R1  resistor 4k7  A B", want{says: "two meanings"}},
	{"28", "D = typ 130 mV ¶ criterion: D <= 250 mV", want{verdict: record.Open, says: "note a max of D"}},
	{"30", "I = typ 1 µA, max 5 µA ¶ V = 3 V to 3.6 V ¶ criterion: V * I <= 18 µW", want{verdict: record.Passed, margin: "0 µW"}},
	{"31", "I = typ 1 µA, max 5 µA ¶ criterion: I >= 0 A", want{verdict: record.Open, says: "no min"}},
	{"32", "I = typ 1 µA, max 5 µA ¶ criterion: I <= 3 µA", want{verdict: record.Failed, says: "5 µA"}},
	{"34a", "X = 0 V to 2 V ¶ criterion: X <= 1 V", want{verdict: record.Failed}},
	{"34b", "X = 0 V to 2 V ¶ criterion: not (X <= 1 V)", want{verdict: record.Failed}},
	{"34c", "X = 0 V to 2 V ¶ criterion: not X <= 1 V", want{says: "parentheses"}},
	{"or", "X = 0 V to 2 V ¶ criterion: X <= 1 V or X >= 1 V", want{verdict: record.Passed}},
	{"35", "X = 1 V to 2 V ¶ D = typ 1 V ¶ criterion: X <= 3 V or D <= 2 V", want{verdict: record.Passed}},
	{"36", "X = 1 V to 2 V ¶ D = typ 1 V ¶ criterion: X <= 3 V and D <= 2 V", want{verdict: record.Open, says: "D"}},
	{"37", "X = 1 V to 2 V ¶ D = typ 1 V ¶ criterion: D <= 2 V ¶ criterion: X <= 1.5 V", want{verdict: record.Failed, says: "2 V"}},
	{"39", "X = -1 V to 1 V ¶ criterion: 1 V^2 / X <= 5 V", want{verdict: record.Failed}},
	{"39b", "X = -1 V to 1 V ¶ criterion: 1 V^2 / X <= 5 V or X <= 5 V", want{verdict: record.Passed}},
	{"41a", "part P ¶ spec V_OH = min 2.4 V ¶ part Q ¶ operating V_IH = min 2.0 V ¶ circuit ¶ U1  P ¶ U2  Q ¶ criterion: U1.V_OH inside U2.V_IH",
		want{verdict: record.Passed, margin: "20 %"}},
	{"41b", "part P ¶ spec V_OH = min 2.4 V ¶ part Q ¶ operating V_IH = min 2.0 V ¶ circuit ¶ U1  P ¶ U2  Q ¶ criterion: U1.V_OH >= U2.V_IH",
		want{says: "inside"}},
	{"41c", "X = 20 °C ¶ part Q ¶ absmax T_A = typ 85 °C ¶ circuit ¶ U2  Q ¶ criterion: X inside U2.absmax.T_A",
		want{verdict: record.Open, says: "limits nothing"}},
	{"41d", "X = 20 °C ¶ part Q ¶ absmax T_A = max 85 °C ¶ circuit ¶ U2  Q ¶ criterion: X inside U2.absmax.T_A", want{verdict: record.Passed}},
	{"42", "part L ¶ spec V_DROP = max 250 mV at I_OUT = 150 mA ¶ circuit ¶ U1  L  in use: I_OUT = 100 mA ¶ criterion: U1.V_DROP <= 300 mV",
		want{verdict: record.Open, says: "used at 100 mA"}},
	{"43", "part L ¶ spec V_DROP = max 250 mV at I_OUT <= 150 mA ¶ circuit ¶ U1  L  in use: I_OUT = 100 mA ¶ criterion: U1.V_DROP <= 300 mV",
		want{verdict: record.Passed, margin: "16.7 %"}},
	{"44", "part L ¶ spec V_DROP = max 250 mV at I_OUT = 150 mA ¶ circuit ¶ U1  L ¶ criterion: U1.V_DROP <= 300 mV",
		want{verdict: record.Open, says: "I_OUT of U1 is not stated"}},
	{"45", "part L ¶ spec V_DROP = max 250 mV at I_OUT <= 150 mA ¶ spec V_DROP = max 120 mV at I_OUT <= 120 mA ¶ circuit ¶ U1  L  in use: I_OUT = 100 mA ¶ criterion: U1.V_DROP <= 130 mV",
		want{verdict: record.Passed, margin: "7.69 %"}},
	{"46", "part L ¶ spec R = 100 Ω ± 10 % ¶ circuit ¶ U1  L ¶ U2  L ¶ criterion: U1.R - U1.R == 0 Ω", want{verdict: record.Passed}},
	{"46b", "part L ¶ spec R = 100 Ω ± 10 % ¶ circuit ¶ U1  L ¶ U2  L ¶ criterion: U1.R - U2.R <= 19 Ω", want{verdict: record.Failed}},
	{"47a", "X = 1 V to 2 V ¶ Y = 2 V to 3 V ¶ criterion: X <= Y", want{verdict: record.Passed, margin: "0 V"}},
	{"47b", "X = 1 V to 2 V ¶ Y = 2 V to 3 V ¶ criterion: X < Y", want{verdict: record.Failed}},
	{"47c", "X = 1 V to 2 V ¶ criterion: X < X", want{verdict: record.Failed}},
	{"47d", "X = 1 V to 2 V ¶ criterion: X <= X", want{verdict: record.Passed}},
	{"49", "V = 2.9 V to 3.1 V ¶ criterion: 2.7 V <= V <= 3.6 V ¶ margin: 5 %", want{verdict: record.Passed, margin: "7.4"}},
	{"50a", "V = 3.0 V ± 2 % ¶ criterion: V inside 2.7 V to 3.6 V ¶ margin: 10 %", want{verdict: record.Failed, margin: "8.89 %", says: "short"}},
	{"50b", "V = 3.0 V ± 2 % ¶ criterion: V inside 2.7 V to 3.6 V ¶ margin: 10 % of span", want{verdict: record.Passed, margin: "26.7 %"}},
	{"51a", "V = 1 V ¶ criterion: V >= 0 V ¶ margin: 5 %", want{says: "zero"}},
	{"51b", "V = 1 V ¶ criterion: V >= 0 V ¶ margin: 0.5 V", want{verdict: record.Passed, margin: "1 V"}},
	{"53a", "T = 110 °C ¶ criterion: T <= 125 °C ¶ margin: 10 K", want{verdict: record.Passed, margin: "15 K"}},
	{"53b", "T = 110 °C ¶ criterion: T <= 125 °C ¶ margin: 10 %", want{says: "temperature"}},
	{"55", "V = 3.0 V to 3.6 V ¶ T = 100 kΩ ± 1 % ¶ B = 47 kΩ ± 1 % ¶ criterion: V * B / (T + B) <= 1.17 V", want{verdict: record.Passed}},
	{"56a", "X = 0 V to 1 V ¶ criterion: X * (1 V - X) <= 0.25 V^2", want{verdict: record.Passed, margin: "0 V"}},
	{"56b", "X = 0 V to 1 V ¶ criterion: X * (1 V - X) < 0.25 V^2", want{verdict: record.Failed, says: "0.5 V"}},
	{"58a", "A = 1 V ± 10 % ¶ B = 1 V ± 10 % ¶ criterion: A + B <= 2.15 V ¶ analysis: root sum square", want{verdict: record.Passed}},
	{"58b", "A = 1 V ± 10 % ¶ B = 1 V ± 10 % ¶ criterion: A + A <= 2.15 V ¶ analysis: root sum square", want{verdict: record.Failed}},
}

func TestConformance(t *testing.T) {
	for _, k := range conformance {
		t.Run(k.name, func(t *testing.T) {
			r := compileText(t, caseText(splitTrim(k.text, "¶")))
			all := allText(r)
			if k.want.says != "" {
				require.Contains(t, all, k.want.says)
			}
			if k.want.verdict == "" {
				require.Positive(t, r.Summary.Errors, all)
				return
			}
			require.Zero(t, r.Summary.Errors, all)
			require.Equal(t, "c", r.Claims[0].ID)
			require.Equal(t, k.want.verdict, r.Claims[0].Verdict, all)
			if k.want.margin != "" {
				require.Contains(t, marginTexts(r), k.want.margin, all)
			}
		})
	}
}

func splitTrim(s, sep string) []string {
	out := strings.Split(s, sep)
	for i := range out {
		out[i] = strings.TrimSpace(out[i])
	}
	return out
}

func marginTexts(r *record.Record) string {
	var b strings.Builder
	for _, c := range r.Claims {
		for _, k := range c.Criteria {
			for _, t := range k.Tests {
				if t.Margin != nil {
					b.WriteString(t.Margin.Text + "\n")
				}
			}
		}
	}
	return b.String()
}

// allText is everything a user is told about a case.
func allText(r *record.Record) string {
	var b strings.Builder
	for _, d := range r.Diagnostics {
		b.WriteString(d.Code + ": " + d.Message + " | " + d.Hint + "\n")
	}
	for _, c := range r.Claims {
		b.WriteString(c.ID + " " + string(c.Verdict) + " " + c.Headline + "\n")
		for _, o := range c.Open {
			b.WriteString("  open " + o.Reason + ": " + o.Text + " | " + o.Settle + "\n")
		}
		for _, k := range c.Criteria {
			b.WriteString("  " + k.Text + " " + string(k.Verdict) + " " + k.Failure + " " + k.CornerText + "\n")
			for _, v := range k.Corner {
				b.WriteString("    " + v.Name + " = " + v.Text + "\n")
			}
			for _, o := range k.Open {
				b.WriteString("    open " + o.Reason + ": " + o.Text + " | " + o.Settle + "\n")
			}
		}
	}
	return b.String() + marginTexts(r)
}
