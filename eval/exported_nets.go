package eval

import (
	"cmp"
	"maps"
	"slices"

	"guardband/eval/circuit"
)

// netlistView is a test netlist by the pins of the notes, "U1.3", and the nets
// of the notes with their pins. It leaves out parts whose pins are not known.
type netlistView struct {
	sorted *sortedPins
	match  map[*circuit.Component]pinMatch
	want   map[*circuit.Net][]string // pins of a net of the notes
	drawn  map[string]*circuit.Net   // net of the notes that a pin is drawn on
	of     map[string]string         // net of the file that a pin is on
	have   map[string][]string       // pins of a net of the file
	cutNet map[string]bool           // nets of the file whose names may be cut
	twice  []string                  // pins that stand on two nets
}

// netlistPins puts the pins of a netlist under the names of the notes.
func (c reader) netlistPins(nodes []testNode) *netlistView {
	pins, cut, twice := filePins{}, map[string]bool{}, []string{}
	for _, n := range nodes {
		cut[n.net] = cut[n.net] || n.cut
		if old, again := pins.add(n.ref, n.pin, placedPin{net: n.net, line: n.line}); again {
			twice = append(twice, n.ref+"."+n.pin+" is on "+old.net+" and on "+n.net+" in the file")
		}
	}
	x := c.viewPins(pins, refColumns, padColumns)
	x.cutNet, x.twice = cut, twice
	return x
}

// viewPins puts the pins of a file under the names of the notes; its form has
// so many columns for a designator and for a pin, 0 for any. Parts that are not
// fitted have their lands all the same, so they are compared where the file has
// them.
func (c reader) viewPins(pins filePins, refColumns, padColumns int) *netlistView {
	x := &netlistView{match: map[*circuit.Component]pinMatch{}, want: map[*circuit.Net][]string{}, drawn: map[string]*circuit.Net{},
		of: map[string]string{}, have: map[string][]string{}}
	x.sorted = c.sortPins(pins, refColumns)
	var turning []*circuit.Component
	for _, m := range c.Comps.List {
		file := x.sorted.of[m]
		if file == nil && (m.NotFitted() || x.sorted.isCut(m)) || c.bareOf(m.Ref) != "" {
			continue
		}
		x.take(m, file, c.matchPins(m, file, padColumns))
		if x.match[m].turns {
			turning = append(turning, m)
		}
	}
	for _, ref := range x.sorted.others {
		for pin, p := range pins[ref] {
			x.of[ref+"."+pin] = p.net
		}
	}
	x.turnEnds(turning)
	for _, k := range slices.Sorted(maps.Keys(x.of)) {
		if x.of[k] != "" {
			x.have[x.of[k]] = append(x.have[x.of[k]], k)
		}
	}
	return x
}

// take enters the pins of one part.
func (x *netlistView) take(m *circuit.Component, file map[string]placedPin, k pinMatch) {
	x.match[m] = k
	keys := map[string]bool{}
	for id, p := range file {
		key, known := k.key[id]
		switch {
		case known:
			keys[key] = true
			x.of[m.Ref+"."+key] = p.net
		case !k.lost:
			x.of[m.Ref+"."+id] = p.net
		}
	}
	for _, d := range circuit.DrawnPins(m) {
		if d.Net != nil && (keys[d.Key] || !k.lost) {
			x.drawn[m.Ref+"."+d.Key] = d.Net
			x.want[d.Net] = append(x.want[d.Net], m.Ref+"."+d.Key)
		}
	}
}

// fileNet is the net of the file that holds most pins of a net of the notes;
// among equals the one of its name.
func (x *netlistView) fileNet(n *circuit.Net) string {
	v := ballot{}
	for _, k := range x.want[n] {
		v.add(x.of[k])
	}
	return v.best(n)
}

// ballot counts pins by the net of the file that they are on.
type ballot map[string]int

func (v ballot) add(net string) {
	if net != "" {
		v[net]++
	}
}

func (v ballot) best(n *circuit.Net) string {
	best := ""
	for _, s := range slices.Sorted(maps.Keys(v)) {
		if best == "" || v[s] > v[best] || v[s] == v[best] && sameNetName(s, n.Name) {
			best = s
		}
	}
	return best
}

// turnEnds turns parts whose two ends are known only by their nets to where
// they agree: first those with an end on a net that other pins tell, which then
// tell the next; then by the names of nets; the last as the file has them.
func (x *netlistView) turnEnds(parts []*circuit.Component) {
	votes := map[*circuit.Net]ballot{}
	vote := func(n *circuit.Net, net string) {
		if votes[n] == nil {
			votes[n] = ballot{}
		}
		votes[n].add(net)
	}
	turning := map[string]bool{}
	for _, m := range parts {
		for _, d := range circuit.DrawnPins(m) {
			turning[m.Ref+"."+d.Key] = true
		}
	}
	for k, n := range x.drawn {
		if !turning[k] {
			vote(n, x.of[k])
		}
	}
	rules := []func(n *circuit.Net, net string) bool{
		func(n *circuit.Net, net string) bool { return net != "" && votes[n].best(n) == net },
		func(n *circuit.Net, net string) bool { return net != "" && sameNetName(n.Name, net) },
		func(*circuit.Net, string) bool { return true },
	}
	for level := 0; len(parts) > 0; {
		done, same := 0, rules[level]
		parts = slices.DeleteFunc(parts, func(m *circuit.Component) bool {
			d := circuit.DrawnPins(m)
			one, two := m.Ref+"."+d[0].Key, m.Ref+"."+d[1].Key
			a, b := x.of[one], x.of[two]
			straight, turned := same(d[0].Net, a) || same(d[1].Net, b), same(d[0].Net, b) || same(d[1].Net, a)
			if !straight && !turned || done > 0 && level == len(rules)-1 {
				return false
			}
			if !straight {
				x.of[one], x.of[two] = b, a
			}
			vote(d[0].Net, x.of[one])
			vote(d[1].Net, x.of[two])
			done++
			return true
		})
		if level++; done > 0 {
			level = 0
		}
	}
}

// namesOfNotes gives the nets of a pin list the names of the notes. A net whose
// name both have is that net, so that exchanged pins show; one of a name that
// the notes do not have takes the place of the net of the notes, of a name that
// the file does not have, most of whose pins it holds. No two nets of the file
// get one name. told says which were renamed.
func (c reader) namesOfNotes(pins filePins) (told []string) {
	x := c.viewPins(pins, 0, 0)
	nets := slices.Clone(c.DrawnNets())
	slices.SortStableFunc(nets, func(a, b *circuit.Net) int { return cmp.Compare(len(x.want[b]), len(x.want[a])) })
	name, taken := map[string]string{}, map[string]bool{}
	for _, n := range nets {
		f := n.Name
		if x.have[f] == nil {
			for _, f = range slices.Sorted(maps.Keys(x.have)) {
				if sameNetName(f, n.Name) {
					break
				}
			}
		}
		if name[f] == "" && sameNetName(f, n.Name) && x.have[f] != nil {
			name[f], taken[foldNet(n.Name)] = n.Name, true
		}
	}
	for _, n := range nets {
		if f := x.fileNet(n); f != "" && name[f] == "" && !taken[foldNet(n.Name)] {
			name[f], taken[foldNet(n.Name)] = n.Name, true
			told = append(told, "the file names the net "+n.Name+" "+f)
		}
	}
	for _, ref := range pins {
		for id, p := range ref {
			switch {
			case name[p.net] != "":
				p.net = name[p.net]
			case p.net != "" && taken[foldNet(p.net)]:
				p.net = "another net " + p.net
			}
			ref[id] = p
		}
	}
	slices.Sort(told)
	return told
}
