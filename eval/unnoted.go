package eval

import (
	"slices"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/record"
)

// This file keeps claims of built-in checks open where a part without a note
// has a say: it may drive a net, load it, clamp it or hold it.

// notOfNets are the checks that ask nothing of what a net carries.
var notOfNets = []string{"order-code", "pin-map", "sections", "lifecycle", "pin-list", "parts-list", "netlist", "limits"}

// givenSuffices are the checks that ask of a supply no more than its voltage:
// where the notes state it, it does not matter what else hangs there.
var givenSuffices = []string{"supply-range", "absmax", "conditions", "resistor", "capacitor-voltage", "led", "diode",
	"unused-inputs", "pull-up", "strap", "logic-level", "drivers", "input-above-supply", "decoupling"}

// unnotedMap knows which parts without a note have a say about which net.
type unnotedMap struct {
	on     map[*circuit.Net][]string // that stand on it
	behind map[*circuit.Net][]string // the same, and on nets that two-terminal parts join to it
}

// openUnnoted opens the claims about nets with parts of which nothing is known.
func (c judge) openUnnoted() {
	x := c.mapUnnoted()
	if len(x.on) == 0 {
		return
	}
	for _, cl := range c.claims {
		if cl.check == nil || slices.Contains(notOfNets, cl.check.Name) {
			continue
		}
		missed := cl.plain == record.Failed // it may be just the part that was missed
		refs := x.about(c.compiler, strings.TrimPrefix(strings.TrimPrefix(cl.id, cl.check.Name), "."),
			missed || !slices.Contains(givenSuffices, cl.check.Name))
		if len(refs) == 0 {
			continue
		}
		for i := range cl.Out.Criteria { // a verdict without arithmetic took them for nothing
			if k := &cl.Out.Criteria[i]; len(k.Tests) == 0 && k.Verdict != "" {
				k.Verdict = record.Open
			}
		}
		cl.plain = ""
		text := strings.Join(refs[:min(len(refs), 6)], ", ")
		if len(refs) > 6 {
			text += " and others"
		}
		cl.Lacks("no fact", "what "+text+" drives or draws here is not known: nothing is noted",
			"note each part with its `pins:`, or give it a row of a plain kind (`J1  connector`)")
	}
}

// mapUnnoted finds them.
func (c judge) mapUnnoted() unnotedMap {
	x := unnotedMap{on: map[*circuit.Net][]string{}, behind: map[*circuit.Net][]string{}}
	for _, m := range c.Comps.List {
		if m.Unnoted() && !m.NotFitted() {
			for _, n := range m.Conns {
				x.on[n] = circuit.AddTo(x.on[n], m.Ref)
			}
		}
	}
	if len(x.on) == 0 {
		return x
	}
	next := map[*circuit.Net][]*circuit.Net{}
	for _, m := range c.Comps.List {
		if a, b, ok := m.Ends(); ok && !m.NotFitted() {
			next[a], next[b] = append(next[a], b), append(next[b], a)
		}
	}
	for _, n := range c.Nets.List {
		if _, done := x.behind[n]; done || c.statedNet(n) {
			continue
		}
		island, refs := []*circuit.Net{n}, []string{}
		for i := 0; i < len(island); i++ {
			for _, r := range x.on[island[i]] {
				refs = circuit.AddTo(refs, r)
			}
			for _, o := range next[island[i]] {
				if !c.statedNet(o) {
					island = circuit.AddTo(island, o)
				}
			}
		}
		slices.Sort(refs)
		for _, o := range island {
			x.behind[o] = refs
		}
	}
	return x
}

// statedNet says that the notes themselves give the voltage of a net, whatever
// stands on it.
func (c judge) statedNet(n *circuit.Net) bool {
	_, given := c.values.Get(n.Name)
	return given || circuit.IsGround(n.Name)
}

// about are the parts without a note that have a say in a claim, by its
// subject: a net, a pin of a placed part, a placed part, or any other, which
// all of them may have. Those on a supply whose voltage is stated count where
// rails is set.
func (x unnotedMap) about(c *compiler, subject string, rails bool) []string {
	var nets []*circuit.Net
	ref, rest, _ := strings.Cut(subject, ".")
	m, placed := c.Comps.Get(ref)
	n, isNet := c.Nets.Get(subject)
	switch {
	case isNet:
		nets, rails = []*circuit.Net{n}, true
	case !placed:
		nets = c.Nets.List
	case m.Part == nil:
		for _, n := range m.Conns {
			nets = append(nets, n)
		}
	default:
		for q, n := range m.PinNets {
			if rest == q.Row.Name {
				nets = []*circuit.Net{n}
				break
			}
			nets = append(nets, n)
		}
	}
	var out []string
	for _, n := range nets {
		out = append(out, x.behind[n]...)
		if n != nil && (isNet || rails && !circuit.IsGround(n.Name)) {
			out = append(out, x.on[n]...)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
