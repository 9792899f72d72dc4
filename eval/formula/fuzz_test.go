package formula

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"guardband/eval/bound"
)

// seeds are the formulas of the golden file and some that nest.
func seeds(t testing.TB) []string {
	data, err := os.ReadFile(filepath.Join("testdata", "formulas.txt"))
	if err != nil {
		t.Fatal(err)
	}
	out := strings.Split(string(data), "\n")
	return append(out, strings.Repeat("(", 60)+"1"+strings.Repeat(")", 60), strings.Repeat("a^", 500)+"a",
		strings.Repeat("1 < ", 300)+"2", "\x00", "\xff\xfe", "a\u0301 + e", "x inside (1 to", "each(A1-A99999999999, .R)")
}

// FuzzParse: no text makes Parse or Check panic, every complaint and every
// node lies inside the text, and a formula without complaints reads the same
// again from its canonical text.
func FuzzParse(f *testing.F) {
	for _, s := range seeds(f) {
		f.Add(s)
	}
	lang := NewLanguage([]Function{{Name: "double", Params: []Param{{Name: "x"}}, Body: "2 * x", Valid: []string{"x > 0"}}})
	f.Fuzz(func(t *testing.T, text string) {
		e, errs := Parse(text)
		inside(t, text, errs)
		Walk(e.Root, func(n *Node) {
			if n.Off() < 0 || n.End() > len(text) || n.Off() > n.End() {
				t.Fatalf("%q: node %d:%d outside", text, n.Off(), n.End())
			}
		})
		s := &bench{b: bound.NewBuilder(), vals: map[string]Value{}}
		s.t = nil
		s.vals["a"] = Value{Class: Number, Reg: s.b.Var(0), Given: true}
		s.vals["x"] = Value{Class: Number, Reg: s.b.Var(1), Given: true}
		_, more := lang.Check(e, s, s.b)
		inside(t, text, more)
		_, more = lang.Criterion(e, s, s.b, &Margin{Of: "limit"})
		inside(t, text, more)
		if len(errs) > 0 || len(text) > MaxBytes/4 {
			return
		}
		again := e.Root.Canonical(text)
		e2, errs := Parse(again)
		if len(errs) > 0 {
			t.Fatalf("%q: canonical %q: %v", text, again, errs[0])
		}
		if third := e2.Root.Canonical(again); third != again {
			t.Fatalf("%q: canonical %q then %q", text, again, third)
		}
	})
}

func inside(t *testing.T, text string, errs []*Error) {
	for _, x := range errs {
		if x.Off < 0 || x.End > len(text) || x.Off > x.End || x.Code == "" || x.Msg == "" {
			t.Fatalf("%q: %+v", text, x)
		}
		if m := masked.FindString(x.Msg + x.Hint); m != "" && !strings.Contains(text, m) {
			t.Fatalf("%q: the masked text shows in %q", text, x.Msg)
		}
	}
}

// masked is an operand as expr's parser is given it.
var masked = regexp.MustCompile(`\bv[0-9]+\b`)
