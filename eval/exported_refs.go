package eval

import (
	"maps"
	"slices"
	"strings"

	"guardband/eval/circuit"
)

// filePins are the pins of an exported file by designator and pin, as spelled.
type filePins map[string]map[string]placedPin

// add enters a pin. twice says that it is there already on another net, old; a
// pad of several lands is on the net of the one that has any.
func (f filePins) add(ref, pin string, p placedPin) (old placedPin, twice bool) {
	if f[ref] == nil {
		f[ref] = map[string]placedPin{}
	}
	old, has := f[ref][pin]
	if has && (p.net == "" || sameNetName(old.net, p.net)) {
		return old, false
	}
	f[ref][pin] = p
	return old, has && old.net != ""
}

// sortedPins are the pins of a file by the placed parts of the notes.
type sortedPins struct {
	of     map[*circuit.Component]map[string]placedPin
	others []string            // designators that the notes do not have
	cut    map[string][]string // designators that the form cuts, to those they may be
}

// sortPins finds the placed part of each designator. width is the number of
// columns that the form has for a designator, 0 for any: one that fills them
// may be the beginning of a longer one.
func (c reader) sortPins(pins filePins, width int) *sortedPins {
	x := &sortedPins{of: map[*circuit.Component]map[string]placedPin{}, cut: map[string][]string{}}
	for _, ref := range slices.Sorted(maps.Keys(pins)) {
		var may []*circuit.Component
		if m, ok := c.Comps.Get(ref); ok {
			may = append(may, m)
		}
		if len(may) == 0 || width > 0 && len(ref) == width {
			for _, m := range c.Comps.List {
				if m.Ref != ref && (strings.EqualFold(m.Ref, ref) && pins[m.Ref] == nil ||
					width > 0 && len(ref) == width && len(m.Ref) > width && strings.EqualFold(m.Ref[:width], ref)) {
					may = append(may, m)
				}
			}
		}
		switch {
		case len(may) == 0:
			x.others = append(x.others, ref)
		case len(may) == 1 && x.of[may[0]] == nil:
			x.of[may[0]] = pins[ref]
		default:
			for _, m := range may {
				x.cut[ref] = append(x.cut[ref], m.Ref)
			}
		}
	}
	return x
}

// isCut says that a placed part is among those that a designator cut by the
// form may be.
func (x *sortedPins) isCut(m *circuit.Component) bool {
	for _, refs := range x.cut {
		if slices.Contains(refs, m.Ref) {
			return true
		}
	}
	return false
}

// asNoted are the pins of a file under the numbers of the notes.
func (x pinMatch) asNoted(file map[string]placedPin) map[string]placedPin {
	out := map[string]placedPin{}
	for id, p := range file {
		if key, has := x.key[id]; has {
			id = key
		}
		out[id] = p
	}
	return out
}

// endDoubts are parts whose way round, or whose pins, a comparison cannot tell.
type endDoubts struct{ unnamed, unknown, lost []string }

func (d *endDoubts) add(m *circuit.Component, x pinMatch) {
	switch {
	case x.lost:
		d.lost = append(d.lost, m.Ref)
	case x.unnamed:
		d.unnamed = append(d.unnamed, m.Ref)
	case x.unknown:
		d.unknown = append(d.unknown, m.Ref)
	}
}

// lacksEnds opens a comparison for parts whose way round is not known.
func (cl *Claim) lacksEnds(d endDoubts) {
	if len(d.unknown) > 0 {
		cl.Lacks("no fact", "which way round "+strings.Join(d.unknown, ", ")+
			" is in the file is not known: it has numbers for their ends, the notes have names",
			"add `pads: 1 = K` (or `1 = A`, `1 = +`) as the land patterns number them, `pads D1: 1 = A` for one part; "+
				"or export the names of the pins")
	}
	if len(d.unnamed) > 0 {
		cl.Lacks("no fact", "which way round "+strings.Join(d.unnamed, ", ")+
			" is drawn is not known: the row names no terminals", "name them: A=NET K=NET, or +=NET -=NET")
	}
	if len(d.lost) > 0 {
		cl.Lacks("no fact", "which pin of "+strings.Join(d.lost, ", ")+
			" in the file is which in the notes is not known", "name the pins in the row as the file does, say "+
			"`pads J1: 1 = NAME, 2 = ...`, or note the part with its `pins:`")
	}
}
