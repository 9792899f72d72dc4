package units

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
)

// The lists of IEC 60063 as far as the check values carry them: E3, E12, E48,
// E96 in full, and the entries of E24 that the geometric rule does not give.
func TestSeriesAgainstStandard(t *testing.T) {
	names := map[string]string{"Complete series E3": "E3", "Complete series E12": "E12", "Complete series E48": "E48", "Complete series E96": "E96"}
	found := 0
	for _, c := range checks(t, "e-series") {
		name, ok := names[c.Title]
		if !ok {
			continue
		}
		found++
		got, _ := Series(name)
		scale := 1
		if c.List[0] == 10 {
			scale = 10
		}
		want := make([]int, 0, len(c.List))
		for _, v := range c.List {
			want = append(want, v*scale)
		}
		require.Equal(t, want, got, name)
	}
	require.Equal(t, 4, found)
}

// E24, E6 and E192 from memory of IEC 60063 (they are printed in every table of
// preferred values).
func TestSeriesWhole(t *testing.T) {
	e6, _ := Series("E6")
	require.Equal(t, []int{100, 150, 220, 330, 470, 680}, e6)
	e24, _ := Series("E24")
	require.Equal(t, []int{100, 110, 120, 130, 150, 160, 180, 200, 220, 240, 270, 300, 330, 360, 390, 430, 470, 510,
		560, 620, 680, 750, 820, 910}, e24)
	var exceptions []int
	for i, v := range e24 {
		if rule := int(math.Round(10 * math.Pow(10, float64(i)/24))); rule*10 != v {
			exceptions = append(exceptions, v/10)
		}
	}
	for _, c := range checks(t, "e-series") {
		if c.ID == "ESER-08" {
			require.Equal(t, c.List, exceptions)
		}
	}
	e192, _ := Series("E192")
	require.Equal(t, []int{
		100, 101, 102, 104, 105, 106, 107, 109, 110, 111, 113, 114, 115, 117, 118, 120, 121, 123, 124, 126, 127, 129, 130, 132,
		133, 135, 137, 138, 140, 142, 143, 145, 147, 149, 150, 152, 154, 156, 158, 160, 162, 164, 165, 167, 169, 172, 174, 176,
		178, 180, 182, 184, 187, 189, 191, 193, 196, 198, 200, 203, 205, 208, 210, 213, 215, 218, 221, 223, 226, 229, 232, 234,
		237, 240, 243, 246, 249, 252, 255, 258, 261, 264, 267, 271, 274, 277, 280, 284, 287, 291, 294, 298, 301, 305, 309, 312,
		316, 320, 324, 328, 332, 336, 340, 344, 348, 352, 357, 361, 365, 370, 374, 379, 383, 388, 392, 397, 402, 407, 412, 417,
		422, 427, 432, 437, 442, 448, 453, 459, 464, 470, 475, 481, 487, 493, 499, 505, 511, 517, 523, 530, 536, 542, 549, 556,
		562, 569, 576, 583, 590, 597, 604, 612, 619, 626, 634, 642, 649, 657, 665, 673, 681, 690, 698, 706, 715, 723, 732, 741,
		750, 759, 768, 777, 787, 796, 806, 816, 825, 835, 845, 856, 866, 876, 887, 898, 909, 920, 931, 942, 953, 965, 976, 988,
	}, e192)
	for _, name := range []string{"E3", "E6", "E12", "E24", "E48", "E96", "E192"} {
		values, ok := Series(name)
		require.True(t, ok)
		require.Equal(t, 100, values[0])
	}
	_, ok := Series("E5")
	require.False(t, ok)
}

func TestPreferred(t *testing.T) {
	for _, c := range checks(t, "e-series") {
		if c.ID != "ESER-10" {
			continue
		}
		// queries of ESER-10, in its order
		n1, _ := NearestPreferred(rat("1770"), "E24")
		n2, _ := NearestPreferred(rat("3578"), "E96")
		n3, _ := NearestPreferred(rat("2950"), "E12")
		a, _ := PreferredAbove(rat("966.7"), "E24")
		b, _ := PreferredBelow(rat("885"), "E24")
		for i, got := range []*big.Rat{n1, n2, n3, a, b} {
			require.Zero(t, got.Cmp(new(big.Rat).SetInt64(int64(c.List[i]))), i)
		}
	}
	for _, v := range []string{"4.7e-12", "4700", "1", "1000", "9.1"} {
		a, _ := PreferredAbove(rat(v), "E24")
		b, _ := PreferredBelow(rat(v), "E24")
		require.Zero(t, a.Cmp(rat(v)))
		require.Zero(t, b.Cmp(rat(v)))
	}
	up, _ := PreferredAbove(rat("9.5"), "E24")
	require.Zero(t, up.Cmp(rat("10")))
	_, err := NearestPreferred(rat("0"), "E24")
	require.Equal(t, CodeSeriesArgument, err.Code)
	_, err = NearestPreferred(rat("1"), "E7")
	require.Equal(t, CodeSeriesUnknown, err.Code)
}

func TestMarkingAgainstIEC60062(t *testing.T) {
	for _, c := range checks(t, "rkm-code") {
		kind := "resistor"
		if c.Expected["value"].Unit == "F" {
			kind = "capacitor"
		}
		code := c.Inputs["code"].(string)
		q, err := ParseMarking(code, kind)
		require.Nil(t, err, code)
		require.InEpsilon(t, c.Expected["value"].Value, Float(q.SI), 1e-12, "%s (%s)", code, c.Source)
	}
}

func TestMarkingErrors(t *testing.T) {
	for _, c := range []struct{ text, kind, code, hint string }{
		{"470", "resistor", CodeMarkingForm, "470R"}, {"104", "capacitor", CodeMarkingForm, "100n"}, {"4k7J",
			"resistor", CodeMarkingForm, "tolerance"},
		{"", "resistor", CodeMarkingForm, "4k7"}, {"4n7", "resistor", CodeMarkingKind, "R, k, M"}, {"4R7", "capacitor", CodeMarkingKind, "p, n"},
		{"k", "resistor", CodeMarkingForm, "tolerance"}, {"4k7", "diode", CodeMarkingKind, "unit"}, {"4x7", "resistor", CodeMarkingForm, "R, k"},
	} {
		_, err := ParseMarking(c.text, c.kind)
		require.NotNil(t, err, c.text)
		require.Equal(t, c.code, err.Code, "%s: %s", c.text, err.Msg)
		require.Contains(t, err.Hint, c.hint, c.text)
	}
	q, err := ParseMarking("2.2u", "capacitor")
	require.Nil(t, err)
	require.Equal(t, "11/5000000", q.SI.RatString())
	_, err = ParseMarking("2.2.2u", "capacitor")
	require.NotNil(t, err)
	q, err = ParseMarking(" 4k7 ", "resistor")
	require.Nil(t, err)
	require.Equal(t, "4.7 kΩ", q.String())
}
