package record

import "sort"

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
	var d Changes
	verdict := func(r *Record) map[string]string {
		m := map[string]string{}
		for _, c := range r.Claims {
			m[c.ID] = string(c.Verdict)
		}
		return m
	}
	margin := func(r *Record) map[string]string {
		m := map[string]string{}
		for i := range r.Claims {
			if t := r.Claims[i].Thinnest(); t != nil {
				m[r.Claims[i].ID] = t.Text
			}
		}
		return m
	}
	values := func(r *Record) map[string]string {
		m := map[string]string{}
		for _, v := range r.Values {
			m[v.Name] = v.Text
		}
		return m
	}
	facts := func(r *Record) map[string]string {
		m := map[string]string{}
		for _, p := range r.Parts {
			for _, f := range p.Facts {
				k := p.ID + " " + f.Section + " " + f.Name
				if f.At != "" {
					k += " at " + f.At
				}
				m[k] = f.Text
			}
		}
		return m
	}
	sources := func(r *Record) map[string]string {
		m := map[string]string{}
		for _, s := range r.Sources {
			t := s.Revision
			if s.SHA256 != "" {
				t += " (" + s.SHA256[:12] + ")"
			}
			m[s.ID] = t
		}
		return m
	}
	d.Verdicts = differences(verdict(old), verdict(new))
	moved := map[string]bool{}
	for _, c := range d.Verdicts {
		moved[c.Name] = c.Old == "" || c.New == ""
	}
	for _, c := range differences(margin(old), margin(new)) {
		if !moved[c.Name] {
			d.Margins = append(d.Margins, c)
		}
	}
	for i := range d.Verdicts {
		c := &d.Verdicts[i]
		c.Way = wayOf(standing(c.Old), standing(c.New))
	}
	oldKeys, newKeys := marginKeys(old), marginKeys(new)
	for i := range d.Margins {
		c := &d.Margins[i]
		a, ok := oldKeys[c.Name]
		if b, also := newKeys[c.Name]; ok && also {
			c.Way = wayOf(a, b)
		}
	}
	d.Values = differences(values(old), values(new))
	d.Facts = differences(facts(old), facts(new))
	d.Sources = differences(sources(old), sources(new))
	d.Eased = eased(old, new)
	return d
}

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

// marginKeys are the thinnest margins of claims as numbers.
func marginKeys(r *Record) map[string]float64 {
	out := map[string]float64{}
	for i := range r.Claims {
		if t := r.Claims[i].Thinnest(); t != nil {
			out[r.Claims[i].ID] = t.Key()
		}
	}
	return out
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
	sort.Slice(out, func(i, j int) bool { return out[i].Name < out[j].Name })
	return out
}
