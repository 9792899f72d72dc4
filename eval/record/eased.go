package record

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Since says what differs between a record and an earlier one of the design.
type Since struct {
	Name      string   `json:"name"`                // of the earlier one: a file, a revision
	AsOf      string   `json:"as_of,omitempty"`     // the day of the earlier one
	Verdicts  []Change `json:"verdicts"`            // that differ
	Facts     []Change `json:"facts,omitempty"`     // of the parts
	Values    []Change `json:"values,omitempty"`    // that are given, not worked out
	Documents []Change `json:"documents,omitempty"` // revision and digest
	Eased     []Change `json:"eased"`               // what made it easier to pass, or may have
}

// SinceRecord compares a record with an earlier one for its reader.
func SinceRecord(name string, old, new *Record) *Since {
	d := Compare(old, new)
	derived := map[string]bool{}
	for _, v := range new.Values {
		derived[v.Name] = v.Derived
	}
	given := slices.DeleteFunc(d.Values, func(c Change) bool { return derived[c.Name] })
	return &Since{Name: name, AsOf: old.Design.AsOf, Verdicts: d.Verdicts, Facts: d.Facts, Values: given,
		Documents: d.Sources, Eased: d.Eased}
}

// Worse counts the verdicts that became worse.
func (s *Since) Worse() int {
	n := 0
	for _, c := range s.Verdicts {
		if c.Way == Worse {
			n++
		}
	}
	return n
}

// easing collects what made a green easier to reach. Worse is a change that
// surely did, Other one that may have.
type easing struct{ list []Change }

func (e *easing) add(way Way, name, old, new string) {
	if c := (Change{Name: name, Old: old, New: new, Way: way}); old != new && !slices.Contains(e.list, c) {
		e.list = append(e.list, c)
	}
}

// eased lists what changed in how a design is judged: criteria, margins,
// methods, skips, waivers, ranges, limits, conditions, assumptions, pages.
func eased(old, new *Record) []Change {
	e := &easing{}
	e.add(Other, "ambient", old.Design.Ambient, new.Design.Ambient)
	before := old.ByID()
	after := new.ByID()
	for i := range new.Claims {
		c := &new.Claims[i]
		e.claim(before[c.ID], c)
	}
	for i := range old.Claims {
		if c := &old.Claims[i]; after[c.ID] == nil && c.Kind == "claim" {
			e.add(Worse, "claim "+c.ID, string(c.Verdict), "")
		}
	}
	given := map[string]*Value{}
	for i := range old.Values {
		given[old.Values[i].Name] = &old.Values[i]
	}
	for i := range new.Values {
		v := &new.Values[i]
		if was := given[v.Name]; was != nil && !v.Derived && !was.Derived {
			if tighter(was.Min, was.Max, v.Min, v.Max) {
				e.add(Worse, "range of "+v.Name, was.Formula, v.Formula)
			}
		}
	}
	e.facts(old, new)
	had := map[string]bool{}
	for _, a := range old.Assumptions {
		had[assumptionKey(a)] = true
	}
	for _, a := range new.Assumptions {
		if !had[assumptionKey(a)] {
			e.add(Worse, "assumption", "", a.Text)
		}
	}
	slices.SortStableFunc(e.list, func(a, b Change) int { return int(a.Way - b.Way) })
	return e.list
}

// assumptionKey tells assumptions apart, whatever number they are about.
func assumptionKey(a Assumption) string {
	subject, _, _ := strings.Cut(a.Text, " = ")
	return a.Kind + " " + subject
}

// ByID are the claims by their IDs.
func (r *Record) ByID() map[string]*Claim {
	out := map[string]*Claim{}
	for i := range r.Claims {
		out[r.Claims[i].ID] = &r.Claims[i]
	}
	return out
}

// claim compares how a claim was judged; was is nil for a new one.
func (e *easing) claim(was, c *Claim) {
	if was == nil {
		was = &Claim{Kind: c.Kind, Criteria: c.Criteria, Analysis: c.Analysis, Method: c.Method}
	}
	if c.Verdict == Skipped && (was.Verdict != Skipped || was.Reason != c.Reason) {
		e.add(Worse, "skip of "+c.ID, "", c.Reason)
	}
	if w := c.Waiver; w != nil {
		text := waiverText(w)
		old := ""
		if was.Waiver != nil {
			old = waiverText(was.Waiver)
		}
		e.add(Worse, "waiver of "+c.ID, old, text)
	}
	if c.Kind != "claim" {
		return
	}
	e.add(Worse, "analysis of "+c.ID, was.Analysis, c.Analysis)
	e.add(Other, "method of "+c.ID, was.Method, c.Method)
	if len(was.Criteria) != len(c.Criteria) {
		e.add(Other, "criteria of "+c.ID, criteriaText(was), criteriaText(c))
		return
	}
	for i := range c.Criteria {
		e.criterion(c.ID, &was.Criteria[i], &c.Criteria[i])
	}
	e.add(Other, "states of "+c.ID, strings.Join(was.States, ", "), strings.Join(c.States, ", "))
}

func (e *easing) criterion(id string, was, k *Criterion) {
	way := Other
	if len(was.Tests) == 1 && len(k.Tests) == 1 && was.Tests[0].Left.Text == k.Tests[0].Left.Text && was.Tests[0].Op == k.Tests[0].Op {
		a, b := was.Tests[0].Right, k.Tests[0].Right
		switch up := strings.HasPrefix(k.Tests[0].Op, "<"); {
		case a.Min == nil || b.Min == nil:
		case *a.Min != *b.Min && up == (*b.Min > *a.Min):
			way = Worse
		case *a.Min != *b.Min:
			way = Better
		}
	}
	if way != Better {
		e.add(way, "criterion of "+id, was.Text, k.Text)
	}
	for i := range min(len(was.Tests), len(k.Tests)) {
		a, b := was.Tests[i].Margin, k.Tests[i].Margin
		if a == nil || b == nil || a.Required == b.Required {
			continue
		}
		if b.RequiredAbsolute == nil || a.RequiredAbsolute != nil && *b.RequiredAbsolute < *a.RequiredAbsolute {
			e.add(Worse, "margin asked of "+id, a.Required, b.Required)
		}
	}
}

func criteriaText(c *Claim) string {
	var l []string
	for _, k := range c.Criteria {
		l = append(l, k.Text)
	}
	return strings.Join(l, "; ")
}

func waiverText(w *Waiver) string {
	t := "until " + w.Until + ", " + w.Person + ", " + w.Reason
	if w.Accepts != "" {
		t += ", accepts " + w.Accepts
	}
	return t
}

// facts compares the parts' notes: limits that allow more, quantities that
// promise more, conditions, `unconfirmed` gone without a second person.
func (e *easing) facts(old, new *Record) {
	type row struct {
		f       Fact
		checked string
	}
	rows := func(r *Record) map[string]row {
		out := map[string]row{}
		for _, p := range r.Parts {
			n := map[string]int{}
			for _, f := range p.Facts {
				k := p.ID + " " + f.Section + " " + f.Name + strings.Join(f.Pins, ",")
				n[k]++
				if n[k] > 1 {
					k += fmt.Sprintf(" (row %d)", n[k])
				}
				out[k] = row{f, p.Checked}
			}
		}
		return out
	}
	before, after := rows(old), rows(new)
	for _, k := range slices.Sorted(maps.Keys(after)) {
		a, ok := before[k]
		if !ok {
			continue
		}
		b := after[k]
		limit := b.f.Section != "spec"
		if limit && tighter(b.f.Min, b.f.Max, a.f.Min, a.f.Max) || !limit && tighter(a.f.Min, a.f.Max, b.f.Min, b.f.Max) {
			e.add(Worse, k, a.f.Text, b.f.Text)
		}
		e.add(Other, "conditions of "+k, a.f.At, b.f.At)
		if a.f.Unconfirmed && !b.f.Unconfirmed && (b.checked == "" || b.checked == a.checked) {
			e.add(Worse, k, "unconfirmed", "confirmed, and no second person has checked part "+strings.Fields(k)[0])
		}
	}
	for _, k := range slices.Sorted(maps.Keys(before)) {
		if _, ok := after[k]; !ok && before[k].f.Section != "spec" {
			e.add(Worse, k, before[k].f.Text, "")
		}
	}
}

// tighter says that the second range leaves out something of the first: an end
// that was open has been closed, or moved inwards.
func tighter(lo, hi, newLo, newHi *float64) bool {
	return newLo != nil && (lo == nil || *newLo > *lo) || newHi != nil && (hi == nil || *newHi < *hi)
}
