package notebook

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Chunked notebooks: a case starts at "<!-- case: NAME -->". A line
// "<!-- COL[-END] CODE[: WORDS] -->" below a line says that the line above
// raises that complaint at that column, its message or hint holding the
// words. Those lines are taken out before the notebook is read. Missing and
// surplus complaints fail.
var wantLine = regexp.MustCompile(`^<!-- (\d+)(?:-(\d+))? ([a-z0-9-]+)(?:: (.*))? -->$`)

type want struct {
	line, col, end int
	code, words    string
}

func parseCase(chunk string) (src string, wants []want) {
	var b strings.Builder
	line := 0
	for l := range strings.Lines(chunk) {
		if m := wantLine.FindStringSubmatch(strings.TrimRight(l, "\n")); m != nil {
			w := want{line: line, code: m[3], words: m[4]}
			fmt.Sscan(m[1], &w.col)
			if m[2] != "" {
				fmt.Sscan(m[2], &w.end)
			}
			wants = append(wants, w)
			continue
		}
		line++
		b.WriteString(l)
	}
	return b.String(), wants
}

// cases reads all cases under testdata/notebook.
func cases(t testing.TB) map[string]string {
	files, err := filepath.Glob("../testdata/notebook/*.md")
	require.NoError(t, err)
	out := map[string]string{}
	for _, f := range files {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		for _, chunk := range strings.Split(string(data), "<!-- case: ")[1:] {
			name, body, _ := strings.Cut(chunk, " -->\n")
			key := filepath.Base(f) + "/" + name
			require.NotContains(t, out, key)
			out[key] = body
		}
	}
	return out
}

func TestCases(t *testing.T) {
	all := cases(t)
	require.Greater(t, len(all), 40)
	for name, chunk := range all {
		t.Run(name, func(t *testing.T) {
			src, wants := parseCase(chunk)
			_, diags := Read(NewSource("case.md", "", []byte(src)))
			list := diags.Sorted()
			for _, w := range wants {
				k := match(list, w)
				if k < 0 {
					t.Errorf("missing: line %d:%d-%d %s: %s", w.line, w.col, w.end, w.code, w.words)
					continue
				}
				list = append(list[:k:k], list[k+1:]...)
			}
			for _, d := range list {
				t.Errorf("surplus: line %d:%d-%d %s: %s (%s)", d.Line, d.Col, d.EndCol, d.Code, d.Message, d.Hint)
			}
			if t.Failed() {
				t.Log(src)
			}
		})
	}
}

func match(list []Diagnostic, w want) int {
	for k, d := range list {
		if d.Line == w.line && d.Col == w.col && d.Code == w.code && (w.end == 0 || w.end == d.EndCol) &&
			strings.Contains(d.Message+" "+d.Hint, w.words) {
			return k
		}
	}
	return -1
}
