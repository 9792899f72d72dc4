package eval

import (
	"slices"
	"strings"

	"guardband/eval/circuit"
	"guardband/notebook"
)

// warnNearNames warns of facts that no check reads and that are near in name to
// one that was sought of their part and not found: `t_RMAX` for `t_R`.
func (c *compiler) warnNearNames() {
	known := map[string]bool{} // asked of any part: names of the trade
	for _, q := range c.inquiry.Order {
		for _, n := range strings.Fields(q.Names) {
			known[circuit.SymbolKey(n)] = true
		}
	}
	told := map[*circuit.Fact]bool{}
	for _, q := range c.inquiry.Order {
		if q.Found != "" {
			continue
		}
		for _, f := range q.Part.FactOrder {
			if told[f] || f.Section != q.Section || known[circuit.SymbolKey(f.Name)] {
				continue
			}
			names := strings.Fields(q.Names)
			k := slices.IndexFunc(names, func(n string) bool { return nearSymbol(f.Name, n) })
			if k < 0 {
				continue
			}
			told[f] = true
			c.diagnose(notebook.Warn, "fact-near", f.Rows[0].NameText, "`"+f.Name+"` is not read by any check; `"+q.Check+"` looks for `"+names[k]+"`",
				"call it `"+q.Section+" "+names[k]+"` if it is that quantity")
		}
	}
}

// nearSymbol says that a name is likely meant for another: the same but for
// case, or with a column or more letters behind it. Single letters within it
// are not compared: V_IH is not V_IL.
func nearSymbol(a, b string) bool {
	x, y := circuit.SymbolKey(a), circuit.SymbolKey(b)
	if strings.EqualFold(x, y) {
		return true
	}
	if len(x) <= len(y) || !strings.EqualFold(x[:len(y)], y) {
		return false
	}
	rest := strings.ToLower(x[len(y):])
	return len(y) >= 5 || slices.Contains([]string{"max", "min", "typ", "nom", "rise"}, rest)
}

// CheckText describes a built-in check to a reader.
type CheckText struct {
	Name, Rule, Source string
	Reads              []string // what it asked this design's notes for, with the answers
}

// checkTexts describes the built-in checks in the order of their claims.
func (c *compiler) checkTexts() []CheckText {
	var out []CheckText
	for _, b := range c.opt.Checks {
		out = append(out, CheckText{b.Name, b.Rule, b.Source, c.inquiry.Reads(b.Name)})
	}
	return out
}
