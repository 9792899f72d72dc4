package checks

import (
	"sort"

	"guardband/eval/circuit"
)

// match gives every need a part that stands between its nets, each part to one
// need at most. It prefers parts whose size will do and that stand near the
// need's part in the circuit, then makes room by moving needs to other parts
// that will do as well. What it chooses is only a choice: the proof follows.
func match(c *board, needs []*need) {
	v := c.View()
	groups := map[matchKey][]*need{}
	var order []matchKey
	for _, n := range needs {
		if n.bad != "" || n.a == nil || n.b == nil || n.a == n.b {
			continue
		}
		k := matchKey{circuit.PairOf(n.a, n.b), n.row.Kind}
		if groups[k] == nil {
			order = append(order, k)
		}
		groups[k] = append(groups[k], n)
	}
	for _, exact := range []bool{true, false} { // what may serve several kinds goes to its own first
		for _, k := range order {
			var parts []*circuit.Component
			for _, m := range v.Between[k.pair] {
				if kindFits(k.kind, m.Sort()) && v.Claimed[m] == nil && (m.Sort() == k.kind || !exact) {
					parts = append(parts, m)
				}
			}
			var left []*need
			for _, n := range groups[k] {
				if n.met == nil {
					left = append(left, n)
				}
			}
			matchGroup(c, left, parts)
			for _, n := range left {
				if n.met != nil {
					v.Claimed[n.met] = n.m
				}
			}
		}
	}
}

type matchKey struct {
	pair circuit.NetPair
	kind string
}

// kindFits says whether a placed kind stands for the kind asked.
func kindFits(asked, placed string) bool {
	switch asked {
	case placed:
		return true
	case "diode":
		return placed == "Zener diode"
	case "link":
		return placed == "wire" || placed == "jumper"
	}
	return false
}

// mostMoved bounds the search for room: above it the first choice stands.
const mostMoved = 400

// matching is one search: needs and parts of one kind between two nets, the
// parts in the order of the circuit.
type matching struct {
	parts []*circuit.Component
	size  []sizes
	place map[*circuit.Component]int
	taken []*need
}

func matchGroup(c *board, needs []*need, parts []*circuit.Component) {
	x := &matching{parts: parts, place: c.View().Order, taken: make([]*need, len(parts))}
	for _, m := range parts {
		x.size = append(x.size, sizesOf(c, m))
	}
	// The needs that ask for most choose first.
	byWish := append([]*need(nil), needs...)
	sort.SliceStable(byWish, func(i, j int) bool { return byWish[i].wish() > byWish[j].wish() })
	for _, n := range byWish {
		if x.take(n, 2, nil) || len(needs) <= mostMoved && x.take(n, 2, make([]bool, len(parts))) {
			continue
		}
		x.take(n, 1, nil)
	}
}

// take gives a need the nearest free part that suits it, first those that
// follow its own part in the circuit; with seen it may move another need to
// make room.
func (x *matching) take(n *need, rank int, seen []bool) bool {
	from := sort.Search(len(x.parts), func(i int) bool { return x.place[x.parts[i]] > x.place[n.m] })
	for k := range x.parts {
		i := (from + k) % len(x.parts)
		if x.taken[i] == nil && n.suits(x.size[i]) == rank {
			x.taken[i], n.met = n, x.parts[i]
			return true
		}
	}
	if seen == nil {
		return false
	}
	for i := range x.parts {
		if seen[i] || x.taken[i] == nil || n.suits(x.size[i]) != rank {
			continue
		}
		seen[i] = true
		if x.take(x.taken[i], rank, seen) {
			x.taken[i], n.met = n, x.parts[i]
			return true
		}
	}
	return false
}

// wish is how much a need asks for, to let the greatest choose first.
func (n *need) wish() float64 {
	switch {
	case !n.ask.Ok:
		return 0
	case n.ask.Nominal != "":
		return n.ask.Nom
	case n.ask.Low != "":
		return n.ask.Lo
	}
	return 0
}

// A capacitor at a supply pin of which the sheet says no more, in farads, and how
// many times the value drawn is taken to be as good at high frequencies; common
// practice.
const (
	leastDecoupling = 1e-9
	usualDecoupling = 10e-9
	mostOfDrawn     = 10
)

// decouples says that a need is for a capacitor at a supply pin.
func (n *need) decouples() bool { return n.supply && n.row.Kind == "capacitor" }

// suits ranks a part for a need: 2 its size will do, 1 only its nominal value
// would, 0 not at all.
func (n *need) suits(s sizes) int {
	const slack = 1 + 1e-9
	a := n.ask
	switch {
	case !a.Ok && !n.decouples():
		return 2
	case !s.known:
		return 1
	case !a.Ok && s.nominal*slack < leastDecoupling:
		return 0
	case !a.Ok && (s.nominal*slack < usualDecoupling || s.bulk):
		return 1
	case !a.Ok:
		return 2
	case a.Nominal != "" && n.decouples():
		switch {
		case s.nominal*slack < a.Nom:
			return 0
		case s.nominal > a.Nom*mostOfDrawn*slack:
			return 1
		}
		return 2
	case a.Nominal != "":
		if s.nominal*slack >= a.Nom && s.nominal <= a.Nom*slack {
			return 2
		}
		return 0
	}
	low := a.Low == "" || s.least*slack >= a.Lo
	high := a.High == "" || s.most <= a.Hi*slack
	switch {
	case low && high:
		return 2
	case (a.Low == "" || s.nominal*slack >= a.Lo) && (a.High == "" || s.nominal <= a.Hi*slack):
		return 1
	}
	return 0
}
