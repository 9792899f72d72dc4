package eval_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// faults are ways to misread a notebook: each gives the compiler the notebook
// as somebody with that fault would have read it.
var faults = []struct {
	name string
	read func(string) string
}{
	{"<= read as >= in criteria", lines("criterion", "<=", ">=")},
	{">= read as <= in criteria", lines("criterion", ">=", "<=")},
	{"rows up to a current hold from it", lines("spec", "at I_OUT <= ", "at I_OUT >= ")},
	{"rows from a current hold up to it", lines("spec", "at I_OUT >= ", "at I_OUT <= ")},
	{"conditions of rows are ignored", pattern(`(?m)^(spec .*?)  at .*$`, "$1")},
	{"max read as min", pattern(`(?m)^((?:spec )?[QX]_\d+ = )max `, "${1}min ")},
	{"min read as max", pattern(`(?m)^((?:spec )?[QX]_\d+ = )min ([^,\n]*?)((?:  at .*)?)$`, "${1}max $2$3")},
	{"a typical value is a promise", pattern(`(?m)^((?:spec )?[QX]_\d+ = )typ ([^,\n]*?)((?:  at .*)?)$`, "$1$2$3")},
	{"a maximum alone is the value", pattern(`(?m)^((?:spec )?[QX]_\d+ = )max ([^,\n]*?)((?:  at .*)?)$`, "$1$2$3")},
	{"the typical value is the least", pattern(`(?m)^((?:spec )?[QX]_\d+ = )typ ([^,\n]*), max`, "${1}min $2, max")},
	{"in use is ignored", pattern(`  in use: .*`, "")},
	{"at least zero is ignored", pattern(`(?m)^at least zero: .*$`, "")},
	{"tolerances are ignored", pattern(` ± .*`, "")},
	{"a range is its first end", pattern(`(?m)^(Q_\d+ = [^,\n]*?) to .*$`, "$1")},
	{"millivolts are volts", pattern(` mV\b`, " V")},
	{"microamperes are milliamperes", pattern(` µA\b`, " mA")},
	{"margins are ignored", pattern(` with margin .*`, "")},
	{"a margin of a share is of ten times as much", pattern(`with margin (\d+) %`, "with margin ${1}0 %")},
	{"the second criterion is ignored", pattern(`(?m)^(criterion: .*)\ncriterion: .*$`, "$1")},
	{"and read as or", lines("criterion", " and ", " or ")},
	{"or read as and", lines("criterion", " or ", " and ")},
	{"the ambient is its first end", pattern(`(?m)^(ambient: .*) to .*$`, "$1")},
	{"min read as max in formulas", lines("criterion", "min(", "max(")},
	{"parallel adds", lines("criterion", "parallel(", "sum(")},
	{"root sum square read as the worst case", pattern(`(?m)^analysis: root sum square$`, "")},
	{"margins of statistics are ignored", pattern(`(?m)^margin: .*$`, "")},
	{"a tenth of the spread in statistics", pattern(`(?m)^(P_\d+ = \S+ \S+ ± )(\S+) mV`, "${1}${2} µV")},
	{"a yield of all is none", pattern(`(?m)^yield: 95 %$`, "yield: 99.99 %")},
	{"readings are taken at what the notes say", pattern(`(?m)^(D_\d+ = \S+ \S+ ± \S+ \S+)  at .*$`, "$1")},
	{"the accuracy of a reading is ignored", pattern(`(?m)^(D_\d+ = \S+ \S+) ± \S+ \S+`, "$1")},
	{"a difference is a sum", pattern(`([\w)]) - ([\w(])`, "$1 + $2")},
}

// lines replaces text in the lines that begin with a word.
func lines(word, old, by string) func(string) string {
	return func(text string) string {
		ls := strings.Split(text, "\n")
		for i, l := range ls {
			if strings.HasPrefix(l, word) {
				ls[i] = strings.ReplaceAll(l, old, by)
			}
		}
		return strings.Join(ls, "\n")
	}
}

func pattern(re, by string) func(string) string {
	r := regexp.MustCompile(re)
	return func(text string) string { return r.ReplaceAllString(text, by) }
}

// TestOracleFindsFaults plants each fault and asks that the oracle disagrees
// with some verdict within 2,000 claims; a complaint alone does not count.
func TestOracleFindsFaults(t *testing.T) {
	const each = 20
	for _, f := range faults {
		t.Run(f.name, func(t *testing.T) {
			found := 0
			for seed := uint64(1); seed <= 2000/each && found == 0; seed++ {
				text, want := writeNotebook(seed, each)
				misread := f.read(text)
				if misread == text {
					continue
				}
				got, errs := verdicts(t, misread)
				if len(errs) > 0 {
					continue
				}
				for id, v := range want {
					if !agrees(v, got[id]) {
						found++
					}
				}
			}
			require.NotZero(t, found, "nobody would have noticed")
		})
	}
}
