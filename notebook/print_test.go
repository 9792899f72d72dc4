package notebook

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestPrint(t *testing.T) {
	long := strings.Repeat("abcdefghij", 30)
	cases := map[string]struct {
		d    Diagnostic
		want string
	}{
		"all of it": {
			Diagnostic{Code: "x-y", Severity: Err, Pos: Pos{File: "a.md", Line: 3, Col: 7}, EndCol: 10,
				Source: "title: foo", Message: "wrong", Hint: "mend",
				Related: []Related{{Pos{File: "b.md", Line: 1, Col: 2}, "here"}}},
			"a.md:3:7: error: wrong [x-y]\n    title: foo\n          ^^^\n    hint: mend\n    b.md:1:2: here\n",
		},
		"tabs": {Diagnostic{Code: "c", Severity: Warn, Pos: Pos{File: "a", Line: 1, Col: 4}, EndCol: 6,
			Source: "\ta\tbc"}, "a:1:4: warning:  [c]\n        a   bc\n            ^^\n"},
		"micro, ohm": {Diagnostic{Code: "c", Severity: Err, Pos: Pos{File: "a", Line: 1, Col: 5}, Source: "µ Ω x"},
			"a:1:5: error:  [c]\n    µ Ω x\n        ^\n"},
		"wide": {Diagnostic{Code: "c", Severity: Err, Pos: Pos{File: "a", Line: 1, Col: 2}, EndCol: 4,
			Source: "電圧x"}, "a:1:2: error:  [c]\n    電圧x\n      ^^^\n"},
		"combining": {Diagnostic{Code: "c", Severity: Err, Pos: Pos{File: "a", Line: 1, Col: 3}, Source: "e\u0301x"},
			"a:1:3: error:  [c]\n    e\u0301x\n     ^\n"},
		"end of line": {Diagnostic{Code: "c", Severity: Err, Pos: Pos{File: "a", Line: 1, Col: 4}, Source: "V ="},
			"a:1:4: error:  [c]\n    V =\n       ^\n"},
		"control": {Diagnostic{Code: "c", Severity: Err, Pos: Pos{File: "a\x1b", Line: 1, Col: 2},
			Source: "\x1b[2Jx", Message: "\x07"}, "a\uFFFD:1:2: error: \uFFFD [c]\n    \uFFFD[2Jx\n     ^\n"},
		"file alone": {Diagnostic{Code: "c", Severity: Err, Pos: Pos{File: "a"}, Message: "m"}, "a: error: m [c]\n"},
		"nowhere":    {Diagnostic{Code: "c", Severity: Err, Message: "m"}, "error: m [c]\n"},
		"long, start": {Diagnostic{Code: "c", Severity: Err, Pos: Pos{File: "a", Line: 1, Col: 1}, Source: long},
			"a:1:1: error:  [c]\n    " + long[:100] + "…\n    ^\n"},
		"long, inner": {Diagnostic{Code: "c", Severity: Err, Pos: Pos{File: "a", Line: 1, Col: 151}, EndCol: 153,
			Source: long}, "a:1:151: error:  [c]\n    …" + long[100:200] + "…\n    " + strings.Repeat(" ", 51) +
			"^^\n"},
		"long, end": {Diagnostic{Code: "c", Severity: Err, Pos: Pos{File: "a", Line: 1, Col: 301}, Source: long},
			"a:1:301: error:  [c]\n    …" + long[200:] + "\n    " + strings.Repeat(" ", 101) + "^\n"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			var b bytes.Buffer
			Print(&b, []Diagnostic{c.d}, PrintOptions{})
			require.Equal(t, c.want, b.String())
		})
	}
}

func TestPrintCap(t *testing.T) {
	list := make([]Diagnostic, 57)
	count := func(limit int) (int, string) {
		var b bytes.Buffer
		Print(&b, list, PrintOptions{Max: limit})
		return strings.Count(b.String(), "[]\n"), b.String()
	}
	n, out := count(0)
	require.Equal(t, 20, n)
	require.True(t, strings.HasSuffix(out, "\n20 of 57 shown\n"))
	n, out = count(-1)
	require.Equal(t, 57, n)
	require.NotContains(t, out, "shown")
	n, _ = count(3)
	require.Equal(t, 3, n)
}

func TestPrintColor(t *testing.T) {
	var b bytes.Buffer
	Print(&b, []Diagnostic{{Code: "c", Severity: Err, Pos: Pos{File: "a", Line: 1, Col: 1}, Source: "x", Message: "m",
		Hint: "h"}}, PrintOptions{Color: true})
	require.Equal(t, "a:1:1: \x1b[1;31merror\x1b[0m: m [c]\n    x\n    \x1b[31m^\x1b[0m\n    \x1b[1mhint:\x1b[0m h\n", b.String())
}

func TestNearest(t *testing.T) {
	words := []string{"title", "revision", "V_CELL", "V_CEL2", "supply"}
	require.Equal(t, "title", Nearest("titel", words))
	require.Equal(t, "title", Nearest("Title", words))
	require.Equal(t, "V_CELL", Nearest("vcell", words))
	require.Equal(t, "supply", Nearest("suply", words))
	require.Equal(t, "", Nearest("xyz", words))
	require.Equal(t, "", Nearest("a", []string{"b1"}))
	require.Equal(t, "revision", Nearest("revison", words))
}
