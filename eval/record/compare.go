package record

import (
	"maps"
	"slices"
	"strings"
)

// Change is one difference between two records; Old or New is "" where the
// thing is not there.
type Change struct {
	Name string `json:"name"`
	Old  string `json:"old,omitempty"`
	New  string `json:"new,omitempty"`
	Way  Way    `json:"way"` // of verdicts, margins and what is eased
}

// Way says where a change goes.
type Way int

// Ways of a change. What neither helps nor harms, or cannot be told, is Other.
const (
	Worse  Way = iota - 1 // -1
	Other                 // 0
	Better                // 1
)

// Changes are the differences between two records that a reader must know.
type Changes struct {
	Verdicts []Change `json:"verdicts,omitempty"`
	Margins  []Change `json:"margins,omitempty"`
	Values   []Change `json:"values,omitempty"`
	Facts    []Change `json:"facts,omitempty"`
	Sources  []Change `json:"documents,omitempty"`
	Eased    []Change `json:"eased,omitempty"` // how green was reached
}

// Compare lists what differs between two records of one design.
func Compare(old, new *Record) Changes {
	verdict := func(r *Record) map[string]string {
		return texts(r.Claims, func(c *Claim) (string, string) { return c.ID, string(c.Verdict) })
	}
	margin := func(r *Record) map[string]*Margin {
		m := map[string]*Margin{}
		for i := range r.Claims {
			if t := r.Claims[i].Thinnest(); t != nil {
				m[r.Claims[i].ID] = t
			}
		}
		return m
	}
	value := func(r *Record) map[string]string {
		return texts(r.Values, func(v *Value) (string, string) { return v.Name, v.Text })
	}
	fact := func(r *Record) map[string]string {
		m := map[string]string{}
		for _, p := range r.Parts {
			maps.Copy(m, texts(p.Facts, func(f *Fact) (string, string) {
				k := p.ID + " " + f.Section + " " + f.Name
				if f.At != "" {
					k += " at " + f.At
				}
				return k, f.Text
			}))
		}
		return m
	}
	source := func(r *Record) map[string]string {
		return texts(r.Sources, func(s *Source) (string, string) {
			if s.SHA256 == "" {
				return s.ID, s.Revision
			}
			return s.ID, s.Revision + " (" + s.SHA256[:12] + ")"
		})
	}
	d := Changes{Verdicts: differences(verdict(old), verdict(new)), Values: differences(value(old), value(new)),
		Facts: differences(fact(old), fact(new)), Sources: differences(source(old), source(new)), Eased: eased(old, new)}
	for i := range d.Verdicts {
		c := &d.Verdicts[i]
		c.Way = wayOf(standing(c.Old), standing(c.New))
	}
	before, after, was := margin(old), margin(new), old.ByID()
	for id := range new.ByID() {
		a, b := before[id], after[id]
		if was[id] == nil || a == nil && b == nil {
			continue
		}
		c := Change{Name: id}
		if a != nil {
			c.Old = a.Text
		}
		if b != nil {
			c.New = b.Text
		}
		if a != nil && b != nil {
			c.Way = wayOf(a.Key(), b.Key())
		}
		if c.Old != c.New {
			d.Margins = append(d.Margins, c)
		}
	}
	slices.SortFunc(d.Margins, byName)
	return d
}

// texts are what is said of the members of a list, by their names.
func texts[T any](list []T, say func(*T) (name, text string)) map[string]string {
	m := map[string]string{}
	for i := range list {
		name, text := say(&list[i])
		m[name] = text
	}
	return m
}

func byName(a, b Change) int { return strings.Compare(a.Name, b.Name) }

// standing puts verdicts in order. A claim that is not there has neither failed
// nor held: one that begins open or failed is worse than none, and the loss of
// one that passed too.
func standing(v string) float64 {
	switch Verdict(v) {
	case Failed:
		return 0
	case Open:
		return 1
	case Passed:
		return 4
	case "":
		return 3
	}
	return 2 // waived, skipped
}

func wayOf(old, new float64) Way {
	switch {
	case new < old:
		return Worse
	case new > old:
		return Better
	}
	return Other
}

func differences(old, new map[string]string) []Change {
	var out []Change
	for k, v := range old {
		if w := new[k]; w != v {
			out = append(out, Change{Name: k, Old: v, New: w})
		}
	}
	for k, w := range new {
		if _, ok := old[k]; !ok {
			out = append(out, Change{Name: k, New: w})
		}
	}
	slices.SortFunc(out, byName)
	return out
}
