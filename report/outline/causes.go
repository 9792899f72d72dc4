package outline

import (
	"fmt"
	"sort"
	"strings"

	"guardband/eval/record"
	"guardband/report/internal/words"
)

// cause is a fact that failed claims share.
type cause struct {
	key    string
	bases  []*record.Basis // the fact, of every part that has it
	claims []*record.Claim
}

// causes groups the failed claims by the fact that explains most of them: one
// whose page does not show its number first, else the one that uses most of
// their margins. The Record says how much each input uses.
func (b *builder) causes() []Block {
	var failed []*record.Claim
	for i := range b.r.Claims {
		if b.r.Claims[i].Verdict == record.Failed {
			failed = append(failed, &b.r.Claims[i])
		}
	}
	if len(failed) == 0 {
		return nil
	}
	t := Table{Caption: "Why it fails: failed claims by the fact they share", Columns: []Column{
		{Head: "Claim", Most: 110}, {Head: "States"}, {Head: "Short by", Width: 90}, {Head: "Short of what was asked", Width: 90},
		{Head: "Passes at", Width: 90},
	}}
	for _, k := range b.group(failed) {
		t.Rows = append(t.Rows, Row{Title: b.causeTitle(&k), Shade: true})
		const few = 8          // names in a row: all are named above
		at := map[string]int{} // rows of one check that say the same
		more := map[int]int{}
		for _, c := range k.claims {
			states, asked := c.Statement, ""
			short := strings.TrimLeft(strings.TrimPrefix(c.Headline, string(c.Verdict)), ", ")
			if x := b.readingOf(c); x != nil {
				states += " Read " + x.Reading + ", predicted " + x.Predicted + "."
			} else if x := words.Thinnest(c); x != nil && x.Margin != nil {
				short = strings.NewReplacer("-", "", "−", "").Replace(x.Margin.Text) // a shortfall has no sign
				asked = words.Join("; asked ", x.Margin.Lacking, x.Margin.Required)
			}
			if c.Check != "" && short != "" { // whose ID says what it is
				states = ""
			}
			key := words.Join("\x00", c.Check, short, turn(c, &k))
			if n, ok := at[key]; ok && c.Check != "" {
				name := b.attendLink(c.ID, strings.TrimPrefix(c.ID, c.Check+"."))
				name[0].Style = Code // the first names the page
				if more[n]++; more[n] < few {
					t.Rows[n].Cells[0] = join(", ", t.Rows[n].Cells[0], name)
				}
				continue
			}
			at[key] = len(t.Rows)
			t.Rows = append(t.Rows, Row{Verdict: c.Verdict,
				Cells: []Text{b.attendLink(c.ID, c.ID), plain(states), plain(short), plain(asked), plain(turn(c, &k))}})
		}
		for n, count := range more {
			if count >= few {
				t.Rows[n].Cells[0] = append(t.Rows[n].Cells[0], Span{Text: fmt.Sprintf(" and %d more", count-few+1), Style: Quiet})
			}
		}
	}
	return tableOf(t)
}

// causeTitle is the fact with its value, its pages, and whether they show it.
func (b *builder) causeTitle(k *cause) Text {
	if len(k.bases) == 0 {
		return styled(Strong, "each for a reason of its own")
	}
	var names []Text
	var cites []record.Cite
	for _, x := range k.bases {
		names = append(names, b.basis(x.Name))
		cites = append(cites, x.Cites...)
	}
	out := append(join(", ", names...), Span{Text: " = " + k.bases[0].Shown, Style: Strong})
	out = join("  ", out, styled(Notice, words.Prefixed("assumed: ", k.bases[0].Assumed)))
	if len(cites) == 0 {
		if k.bases[0].Assumed != "" {
			return out
		}
		return join("  ", out, styled(Notice, "no page is cited for it"))
	}
	out = append(append(out, Span{Text: "  "}), b.cites(cites)...)
	for i := range cites {
		if b.notFound(&cites[i]) != "" {
			return out
		}
	}
	return append(out, Span{Text: ", found there"})
}

// turn is the value of the cause at which the verdict of c changes.
func turn(c *record.Claim, k *cause) string {
	for i := range c.Criteria {
		for _, x := range c.Criteria[i].Contributions {
			for _, f := range k.bases {
				if sameFact(x.Name, f.Name) {
					return words.Join(" ", x.Name, strings.TrimPrefix(x.Text, "turns at "))
				}
			}
		}
	}
	return ""
}

// sameFact compares a fact named with its section and one named without.
func sameFact(a, b string) bool {
	return a == b || short(a) == short(b)
}

func short(name string) string {
	p := strings.Split(name, ".")
	if len(p) > 2 {
		return p[0] + "." + p[len(p)-1]
	}
	return name
}

// group takes the cause that explains most, then the next among what is left.
func (b *builder) group(failed []*record.Claim) []cause {
	var out []cause
	left := failed
	for len(left) > 0 {
		k := b.best(left)
		if k == nil {
			return append(out, cause{claims: left})
		}
		in := map[*record.Claim]bool{}
		for _, c := range k.claims {
			in[c] = true
		}
		var rest []*record.Claim
		for _, c := range left {
			if !in[c] {
				rest = append(rest, c)
			}
		}
		out, left = append(out, *k), rest
	}
	return out
}

func (b *builder) best(failed []*record.Claim) *cause {
	all := map[string]*cause{}
	score := map[string]float64{}
	var keys []string
	for _, c := range failed {
		once := map[string]bool{}
		for i := range c.RestsOn {
			x := &c.RestsOn[i]
			if len(x.Cites) == 0 && x.Assumed == "" {
				continue // derived: what it is made of is listed too
			}
			key := factKey(x)
			k := all[key]
			if k == nil {
				k = &cause{key: key}
				all[key] = k
				keys = append(keys, key)
			}
			known := false
			for _, y := range k.bases {
				known = known || y.Name == x.Name
			}
			if !known {
				k.bases = append(k.bases, x)
			}
			if once[key] {
				continue
			}
			once[key] = true
			k.claims = append(k.claims, c)
			score[key] += share(c, x.Name)
			for j := range x.Cites {
				if b.notFound(&x.Cites[j]) != "" && b.notFound(&x.Cites[j]) != "page only" {
					score[key] += 10
					break
				}
			}
		}
	}
	sort.SliceStable(keys, func(i, j int) bool { return score[keys[i]] > score[keys[j]] })
	if len(keys) == 0 || score[keys[0]] == 0 {
		return nil
	}
	return all[keys[0]]
}

// factKey is one for a fact of any part with the same name and value, and for
// limits of one kind and value: a sheet has its own name for a supply.
func factKey(x *record.Basis) string {
	_, rest, dotted := strings.Cut(x.Name, ".")
	if !dotted {
		return x.Name
	}
	if section, _, limit := strings.Cut(rest, "."); limit {
		rest = section
	}
	return rest + "\x00" + x.Shown
}

// share is how much of the margin of c an input uses, of 1.
func share(c *record.Claim, name string) float64 {
	most := 0.0
	for i := range c.Criteria {
		for _, x := range c.Criteria[i].Contributions {
			if sameFact(x.Name, name) {
				most = max(most, x.Share)
			}
		}
	}
	return most
}
