package sheet

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// TestTitles: headings and titles of columns in other languages and with slips
// of the pen (IEC 60134 in its languages; else common practice, from memory).
func TestTitles(t *testing.T) {
	for text, want := range map[string]Section{
		"Grenzwerte": SectionRatings, "Limiting values in accordance with the Absolute Maximum Rating System (IEC 60134)": SectionRatings,
		"绝对最大额定值（注1）": SectionRatings, "絶対最大定格": SectionRatings, "Maximum (not in working mode)": SectionRatings,
		"Elektrische Kenndaten": SectionElectrical, "电气特性": SectionElectrical, "電気的特性": SectionElectrical,
		"Pinbelegung": SectionPins, "引脚功能描述": SectionPins, "端子配列": SectionPins, "Brochage": SectionPins,
		"订购信息": SectionOrdering, "Bestellbezeichnung": SectionOrdering, "典型应用电路": SectionApplication, "外形寸法図": SectionPackage,
	} {
		got, _, ok := sectionHeading(text)
		require.True(t, ok, text)
		require.Equal(t, want, got, text)
	}
	for text, want := range map[string]Kind{"最小值": KindMin, "単位": KindUnit, "Formelzeichen": KindSymbol,
		"Prameter": KindName, "Smybol": KindSymbol, "Tpy": KindTyp, "Test Method and Condition": KindCondition} {
		got, _, ok := headKind(text)
		require.True(t, ok, text)
		require.Equal(t, want, got, text)
	}
	for _, text := range []string{"Tip", "Sample", "Pyramid", "Pay"} {
		_, _, ok := headKind(text)
		require.False(t, ok, text)
	}
	require.True(t, isOperating("推荐工作条件"))
}
