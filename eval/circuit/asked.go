package circuit

import (
	"cmp"
	"slices"
	"strings"
)

// factQuery is one look for a fact: by any of some names, with a space between.
type factQuery struct {
	Check, Section, Names string
	Part                  *Part
	Found                 string // as noted, "" for none
}

// Inquiry keeps what the built-in checks ask the notes of parts for: `explain
// CHECK` lists it, and a fact that no check reads, near in name to one that was
// sought of its part in vain, gets a warning.
type Inquiry struct {
	Check string // the one that runs
	asked map[factQuery]bool
	Order []factQuery
}

// Ask notes that the check which runs looked for a fact of a part under some names, and what it found.
func (i *Inquiry) Ask(p *Part, section, found string, names ...string) {
	if i == nil || i.Check == "" || len(names) == 0 {
		return
	}
	if i.asked == nil {
		i.asked = map[factQuery]bool{}
	}
	q := factQuery{i.Check, section, strings.Join(names, " "), p, found}
	if !i.asked[q] {
		i.asked[q] = true
		i.Order = append(i.Order, q)
	}
}

// SymbolKey is a name as checks compare it, underscores aside.
func SymbolKey(name string) string { return strings.ReplaceAll(name, "_", "") }

// Reads lists the facts that a check asked for: "operating V_IH: PART, PART".
func (i *Inquiry) Reads(check string) []string {
	var order []string
	noted := map[string][]string{}
	for _, q := range i.Order {
		if q.Check != check {
			continue
		}
		f := q.Section + " " + strings.ReplaceAll(q.Names, " ", ", ")
		if _, ok := noted[f]; !ok {
			order = append(order, f)
			noted[f] = nil
		}
		if q.Found != "" && !slices.Contains(noted[f], q.Part.ID) {
			noted[f] = append(noted[f], q.Part.ID)
		}
	}
	for k, f := range order {
		order[k] = f + ": " + cmp.Or(strings.Join(noted[f], ", "), "(left out)")
	}
	return order
}
