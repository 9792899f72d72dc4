package lists

import (
	"maps"
	"slices"
	"strings"

	"guardband/eval/circuit"
)

// Pin is a pin or land as an exported file has it.
type Pin struct {
	Net, Name string
	Line      int
	Type      string // electrical type, as typed
}

// PinMap are the pins of a file by designator and pin, as spelled.
type PinMap map[string]map[string]Pin

// Add enters a pin. twice says that it is there already on another net, old; a pad of several lands is on the net of
// the one that has any.
func (f PinMap) Add(r Row) (old Pin, twice bool) {
	ref, pin, p := r.Cells["designator"], r.Cells["pin"], Pin{r.Cells["net"], r.Cells["name"], r.Line, r.Cells["type"]}
	if f[ref] == nil {
		f[ref] = map[string]Pin{}
	}
	old, has := f[ref][pin]
	if has && (p.Net == "" || SameNet(old.Net, p.Net)) {
		return old, false
	}
	f[ref][pin] = p
	return old, has && old.Net != ""
}

// FoldNet is the name of a net as files are compared by it: without case, without a leading slash; "" is no net.
func FoldNet(s string) string { return strings.ToUpper(strings.TrimPrefix(s, "/")) }

// SameNet compares nets as files spell them.
func SameNet(a, b string) bool { return FoldNet(a) == FoldNet(b) }

// Matcher finds the pins of a file among those of the notes.
type Matcher struct {
	*circuit.Circuit
	Pads           func(m *circuit.Component) map[string]string // names that the notes give to the pads of a plain kind
	RefCut, PadCut int                                          // columns that the form has for a designator and a pin, 0 for any
}

// Sorted are the pins of a file by the placed parts of the notes.
type Sorted struct {
	Of     map[*circuit.Component]map[string]Pin
	Others []string            // designators that the notes do not have
	Cut    map[string][]string // designators that the form cuts, to those they may be
}

// Sort finds the placed part of each designator: one that fills its columns may be the beginning of a longer one.
func (b Matcher) Sort(pins PinMap) *Sorted {
	x := &Sorted{Of: map[*circuit.Component]map[string]Pin{}, Cut: map[string][]string{}}
	for _, ref := range slices.Sorted(maps.Keys(pins)) {
		var may []*circuit.Component
		if m, ok := b.Comps.Get(ref); ok {
			may = append(may, m)
		}
		if full := b.RefCut > 0 && len(ref) == b.RefCut; full || len(may) == 0 {
			for _, m := range b.Comps.List {
				if m.Ref != ref && (strings.EqualFold(m.Ref, ref) && pins[m.Ref] == nil ||
					full && len(m.Ref) > b.RefCut && strings.EqualFold(m.Ref[:b.RefCut], ref)) {
					may = append(may, m)
				}
			}
		}
		switch {
		case len(may) == 0:
			x.Others = append(x.Others, ref)
		case len(may) == 1 && x.Of[may[0]] == nil:
			x.Of[may[0]] = pins[ref]
		default:
			for _, m := range may {
				x.Cut[ref] = append(x.Cut[ref], m.Ref)
			}
		}
	}
	return x
}

// isCut says that a placed part is among those that a designator cut by the form may be.
func (x *Sorted) isCut(m *circuit.Component) bool {
	for _, refs := range x.Cut {
		if slices.Contains(refs, m.Ref) {
			return true
		}
	}
	return false
}
