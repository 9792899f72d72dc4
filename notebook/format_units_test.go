package notebook

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"guardband/units"
)

func formatted(t *testing.T, text string) string {
	t.Helper()
	once, _ := Format([]byte(text))
	twice, _ := Format(once)
	require.Equal(t, string(once), string(twice), "formatting twice")
	return string(once)
}

func TestFormatSpellsQuantities(t *testing.T) {
	for _, k := range []struct{ block, in, want string }{
		{"values", "A = 5V", "A = 5 V"},
		{"values", "A = 5V ± 2%", "A = 5 V ± 2 %"},
		{"values", "A = -40°C to 125degC", "A = -40 °C to 125 °C"},
		{"values", "A = 1.9 V min", "A = min 1.9 V"},
		{"values", "A = 1.9V min, 3V typ, 5.5V max", "A = min 1.9 V, typ 3 V, max 5.5 V"},
		{"values", "A = 5.5 V max, 1.9 V min", "A = max 5.5 V, min 1.9 V"},
		{"values", "A = 1.9 V to 5.6V", "A = 1.9 V to 5.6 V"},
		{"values", "A = 2A^2 * 3Ω", "A = 2 A^2 * 3 Ω"},
		{"values", "A = 5V/R1 + V_5V", "A = 5 V/R1 + V_5V"},
		{"values", "A = net(\"5V\") * 2", "A = net(\"5V\") * 2"},
		{"values", "A = 4k7 ohm", "A = 4k7 ohm"},
		{"values", "A = 1.5e-3A", "A = 1.5e-3 A"},
		{"values", "A = 30°", "A = 30°"},
		{"part P", "spec V_OH = V_DD - 0.4V min at I_OH <= 4mA [reg p.3 \"5V max\"]",
			"spec V_OH = min V_DD - 0.4 V  at I_OH <= 4 mA  [reg p.3 \"5V max\"]"},
		{"values", "A = 3.3V±2%", "A = 3.3 V ± 2 %"},
		{"values", "A = 3.3 V +-2%", "A = 3.3 V ± 2 %"},
		{"values", "A = ±2mV", "A = ± 2 mV"},
		{"values", "A = 41.2mA ±(1.2% + 3uA)", "A = 41.2 mA ± (1.2 % + 3 µA)"},
		{"part P", "application:\n  A B capacitor 1uF min, ESR 0.3ohm max, 6.3V", "application:\n  A  B  capacitor min 1 µF, ESR max 0.3 Ω, 6.3 V"},
		{"part P", "operating T = 125°C max ref T = 20°C", "operating T = max 125 °C ref T = 20 °C"},
		{"circuit", "C1  capacitor 10uF ± 10%, 16V, X7R, 0603  5V GND  in use: V = 3V",
			"C1  capacitor 10 µF ± 10 %, 16 V, X7R, 0603  5V GND  in use: V = 3 V"},
		{"circuit", "R1  resistor 10m, 1W  5V OUT", "R1  resistor 10m, 1 W  5V OUT"},
		{"circuit", "U1  P  5V=5V GND=GND", "U1  P  5V=5V GND=GND"},
		{"circuit", "C2  capacitor 100n, 16V  A B", "C2  capacitor 100n, 16 V  A B"},
		{"budget V3", "U1  run  5mA for 40ms every 10min", "U1  run  5 mA for 40 ms every 10 min"},
		{"claim c", "statement: At 5V it holds.\ncriterion: A <= 5V\nmargin: 5%", "statement: At 5V it holds.\ncriterion: A <= 5 V\nmargin:    5 %"},
		{"design", "ambient: -40°C to 85°C", "ambient:  -40 °C to 85 °C"},
	} {
		got := formatted(t, "```"+k.block+"\n"+k.in+"\n```\n")
		require.Equal(t, "```"+k.block+"\n"+k.want+"\n```\n", got)
	}
}

// quantities reads a text without the formatter's help: every literal as its
// exact number in SI with its type, and what stands between.
func quantities(s string) string {
	var b strings.Builder
	s = strings.ReplaceAll(s, "+-", "±") // twins of one sign
	for i := 0; i < len(s); {
		if s[i] == ' ' {
			i++
			continue
		}
		if isDigit(s[i]) && (i == 0 || !isNameByte(s, i)) {
			if q, end, ok, err := units.ScanLiteral(s, i, false); ok && err == nil {
				fmt.Fprintf(&b, "<%s %v>", q.SI.RatString(), q.Type)
				i = end
				continue
			}
		}
		b.WriteByte(s[i])
		i++
	}
	return b.String()
}

// sides gives the columns of a value in the order min, typ, max, else its text.
func sides(s string) []string {
	p, err := units.Split(s)
	if err != nil || p.Shape != units.Columns {
		return []string{quantities(s)}
	}
	var out []string
	for _, l := range []units.Leaf{p.Min, p.Typ, p.Max, p.MaxDev} {
		if l.Present() {
			out = append(out, quantities(l.Text(s)))
		} else {
			out = append(out, "")
		}
	}
	return out
}

// What stands right of "=" says the same before and after, to the last digit.
func TestFormatKeepsWhatIsSaid(t *testing.T) {
	unitsOf := []string{"V", "mV", "uF", "µF", "ohm", "kΩ", "kohm", "°C", "degC", "%", "A", "mA", "m", "K", "K/W",
		"V/ms", "ppm/K", "s", "min", "h", "mAh", "dB", "nV/√Hz", "°", "rad", "F", "T"}
	number := rapid.Custom(func(t *rapid.T) string {
		n := rapid.StringMatching(`[1-9][0-9]{0,3}(\.[0-9]{1,3})?(e-?[1-9])?`).Draw(t, "number")
		return n + rapid.SampledFrom([]string{"", " ", "  "}).Draw(t, "gap") + rapid.SampledFrom(unitsOf).Draw(t, "unit")
	})
	value := rapid.Custom(func(t *rapid.T) string {
		a, b, c := number.Draw(t, "a"), number.Draw(t, "b"), number.Draw(t, "c")
		return rapid.SampledFrom([]string{
			a, a + " min", a + " max", "typ " + a, a + " min, " + b + " typ, " + c + " max", "max " + a + ", min " + b,
			a + " to " + b, a + " +- " + b, a + "±" + b, a + " ±(" + b + " + " + c + ")",
			"V_5V * " + a, a + "/R1", a + "*2+" + b, "4k7" + rapid.SampledFrom([]string{"", " ohm"}).Draw(t, "code"),
			"net(\"" + a + "\") + " + b, a + " at I = " + b,
			a + " min at I <= " + b, "X3V" + " + " + a,
		}).Draw(t, "form")
	})
	rapid.Check(t, func(t *rapid.T) {
		text := "```part P\nspec A = " + value.Draw(t, "value") + "\n```\n"
		n, d := Read(NewSource("f.md", "", []byte(text)))
		once, _ := Format([]byte(text))
		m, e := Read(NewSource("f.md", "", once))
		require.Equal(t, d.Errors(), e.Errors(), "%s%s", text, once)
		if d.Errors() > 0 {
			require.Equal(t, text, string(once))
			return
		}
		x, y := n.Blocks[0].Entries[0], m.Blocks[0].Entries[0]
		require.Equal(t, sides(x.RHS.S), sides(y.RHS.S), "%s%s", text, once)
		require.Len(t, y.Conds, len(x.Conds))
		for i := range x.Conds {
			require.Equal(t, x.Conds[i].Op, y.Conds[i].Op)
			require.Equal(t, quantities(x.Conds[i].Value.S), quantities(y.Conds[i].Value.S), "%s%s", text, once)
		}
		twice, _ := Format(once)
		require.Equal(t, string(once), string(twice))
	})
}
