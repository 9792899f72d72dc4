package eval

import (
	"cmp"
	"slices"
	"strings"

	"guardband/notebook"
)

// inquiry keeps what the built-in checks ask the notes of parts for: `explain
// CHECK` lists it, and a fact that no check reads, near in name to one that was
// sought of its part in vain, gets a warning.
type inquiry struct {
	check string // the one that runs
	asked map[factQuery]bool
	order []factQuery
}

// factQuery is one look for a fact: by any of some names, with a space between.
type factQuery struct {
	check, section, names string
	part                  *part
	found                 string // as noted, "" for none
}

func (i *inquiry) ask(p *part, section, found string, names ...string) {
	if i == nil || i.check == "" || len(names) == 0 {
		return
	}
	if i.asked == nil {
		i.asked = map[factQuery]bool{}
	}
	q := factQuery{i.check, section, strings.Join(names, " "), p, found}
	if !i.asked[q] {
		i.asked[q] = true
		i.order = append(i.order, q)
	}
}

// symbolKey is a name as checks compare it, underscores aside.
func symbolKey(name string) string { return strings.ReplaceAll(name, "_", "") }

// warnNearNames warns of facts that no check reads and that are near in name to
// one that was sought of their part and not found: `t_RMAX` for `t_R`.
func (c *compiler) warnNearNames() {
	known := map[string]bool{} // asked of any part: names of the trade
	for _, q := range c.inquiry.order {
		for _, n := range strings.Fields(q.names) {
			known[symbolKey(n)] = true
		}
	}
	told := map[*factDef]bool{}
	for _, q := range c.inquiry.order {
		if q.found != "" {
			continue
		}
		for _, f := range q.part.factOrder {
			if told[f] || f.section != q.section || known[symbolKey(f.name)] {
				continue
			}
			names := strings.Fields(q.names)
			k := slices.IndexFunc(names, func(n string) bool { return nearSymbol(f.name, n) })
			if k < 0 {
				continue
			}
			told[f] = true
			c.whole(notebook.Warn, "fact-near", f.rows[0].NameText, "`"+f.name+"` is read by no check; `"+q.check+"` looks for `"+names[k]+"`",
				"call it `"+q.section+" "+names[k]+"` if it is that quantity")
		}
	}
}

// nearSymbol says that a name is likely meant for another: the same but for
// case, or with a column or more letters behind it. Single letters within it
// are not compared: V_IH is not V_IL.
func nearSymbol(a, b string) bool {
	x, y := symbolKey(a), symbolKey(b)
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
	for _, b := range builtins() {
		out = append(out, CheckText{b.name, b.rule, b.source, c.inquiry.reads(b.name)})
	}
	return out
}

// reads lists the facts that a check asked for: "operating V_IH: PART, PART".
func (i *inquiry) reads(check string) []string {
	var order []string
	noted := map[string][]string{}
	for _, q := range i.order {
		if q.check != check {
			continue
		}
		f := q.section + " " + strings.ReplaceAll(q.names, " ", ", ")
		if _, ok := noted[f]; !ok {
			order = append(order, f)
			noted[f] = nil
		}
		if q.found != "" && !slices.Contains(noted[f], q.part.id) {
			noted[f] = append(noted[f], q.part.id)
		}
	}
	for k, f := range order {
		order[k] = f + ": " + cmp.Or(strings.Join(noted[f], ", "), "(left out)")
	}
	return order
}
