package lists

import (
	"cmp"
	"maps"
	"slices"

	"guardband/eval/circuit"
)

// View is a file by the pins of the notes, "U1.3", and the nets of the notes with their pins. It leaves out parts whose
// pins are not known. Parts that are not fitted have their lands all the same, so they are there where the file has them.
type View struct {
	*Sorted
	Match map[*circuit.Component]Match
	Want  map[*circuit.Net][]string // pins of a net of the notes
	Drawn map[string]*circuit.Net   // net of the notes that a pin is drawn on
	On    map[string]string         // net of the file that a pin is on
	Have  map[string][]string       // pins of a net of the file
}

// Unpinned says that the notes have no pins of a placed part that has some.
func Unpinned(m *circuit.Component) bool {
	return !m.NotFitted() && m.Part != nil && len(m.Pins()) == 0 && !circuit.HasNoPins(m.Part)
}

// View puts the pins of a file under the names of the notes.
func (b Matcher) View(pins PinMap) *View {
	x := &View{Sorted: b.Sort(pins), Match: map[*circuit.Component]Match{}, Want: map[*circuit.Net][]string{},
		Drawn: map[string]*circuit.Net{}, On: map[string]string{}, Have: map[string][]string{}}
	var turning []*circuit.Component
	for _, m := range b.Comps.List {
		file := x.Of[m]
		if file == nil && (m.NotFitted() || x.isCut(m)) || Unpinned(m) {
			continue
		}
		k := b.Match(m, file)
		if x.take(m, file, k); k.Turns {
			turning = append(turning, m)
		}
	}
	for _, ref := range x.Others {
		for pin, p := range pins[ref] {
			x.On[ref+"."+pin] = p.Net
		}
	}
	x.turnEnds(turning)
	for _, k := range slices.Sorted(maps.Keys(x.On)) {
		if x.On[k] != "" {
			x.Have[x.On[k]] = append(x.Have[x.On[k]], k)
		}
	}
	return x
}

// take enters the pins of one part.
func (x *View) take(m *circuit.Component, file map[string]Pin, k Match) {
	x.Match[m] = k
	keys := map[string]bool{}
	for id, p := range file {
		key, known := k.Key[id]
		if keys[key] = true; known || k.Doubt != Lost {
			x.On[m.Ref+"."+cmp.Or(key, id)] = p.Net
		}
	}
	for _, d := range circuit.DrawnPins(m) {
		if d.Net != nil && (keys[d.Key] || k.Doubt != Lost) {
			x.Drawn[m.Ref+"."+d.Key] = d.Net
			x.Want[d.Net] = append(x.Want[d.Net], m.Ref+"."+d.Key)
		}
	}
}

// FileNet is the net of the file that holds most pins of a net of the notes; among equals the one of its name.
func (x *View) FileNet(n *circuit.Net) string {
	v := ballot{}
	for _, k := range x.Want[n] {
		v[x.On[k]]++
	}
	return v.best(n)
}

// ballot counts pins by the net of the file that they are on.
type ballot map[string]int

func (v ballot) best(n *circuit.Net) string {
	best := ""
	for _, s := range slices.Sorted(maps.Keys(v)) {
		if s != "" && (best == "" || v[s] > v[best] || v[s] == v[best] && SameNet(s, n.Name)) {
			best = s
		}
	}
	return best
}

// turnEnds turns parts whose two ends are known only by their nets to where they agree: first those with an end on a
// net that other pins tell, which then tell the next; then by the names of nets; the last as the file has them.
func (x *View) turnEnds(parts []*circuit.Component) {
	turning := map[string]bool{}
	for _, m := range parts {
		for _, d := range circuit.DrawnPins(m) {
			turning[m.Ref+"."+d.Key] = true
		}
	}
	votes := map[*circuit.Net]ballot{}
	for k, n := range x.Drawn {
		if votes[n] == nil {
			votes[n] = ballot{}
		}
		if !turning[k] {
			votes[n][x.On[k]]++
		}
	}
	rules := []func(n *circuit.Net, net string) bool{
		func(n *circuit.Net, net string) bool { return net != "" && votes[n].best(n) == net },
		func(n *circuit.Net, net string) bool { return n != nil && net != "" && SameNet(n.Name, net) },
		func(*circuit.Net, string) bool { return true },
	}
	for level := 0; len(parts) > 0; {
		done, same := 0, rules[level]
		parts = slices.DeleteFunc(parts, func(m *circuit.Component) bool {
			d := circuit.DrawnPins(m)
			one, two := m.Ref+"."+d[0].Key, m.Ref+"."+d[1].Key
			a, b := x.On[one], x.On[two]
			straight, turned := same(d[0].Net, a) || same(d[1].Net, b), same(d[0].Net, b) || same(d[1].Net, a)
			if !straight && !turned || done > 0 && level == len(rules)-1 {
				return false
			}
			if !straight {
				x.On[one], x.On[two] = b, a
			}
			for i, k := range []string{one, two} {
				if v := votes[d[i].Net]; v != nil {
					v[x.On[k]]++
				}
			}
			done++
			return true
		})
		if level++; done > 0 {
			level = 0
		}
	}
}

// Rename gives the nets of a file the names of the notes. A net whose name both have is that net, so that exchanged
// pins show; one of a name that the notes do not have takes the place of the net of the notes, of a name that the file
// does not have, most of whose pins it holds. No two nets of the file get one name. told says which were renamed.
func (b Matcher) Rename(pins PinMap) (told []string) {
	x := b.View(pins)
	nets := slices.Clone(b.DrawnNets())
	slices.SortStableFunc(nets, func(a, b *circuit.Net) int { return cmp.Compare(len(x.Want[b]), len(x.Want[a])) })
	name, taken := map[string]string{}, map[string]bool{}
	spelled := slices.Sorted(maps.Keys(x.Have))
	for _, n := range nets {
		f := n.Name
		if x.Have[f] == nil {
			if i := slices.IndexFunc(spelled, func(s string) bool { return SameNet(s, n.Name) }); i >= 0 {
				f = spelled[i]
			}
		}
		if name[f] == "" && x.Have[f] != nil {
			name[f], taken[FoldNet(n.Name)] = n.Name, true
		}
	}
	for _, n := range nets {
		if f := x.FileNet(n); f != "" && name[f] == "" && !taken[FoldNet(n.Name)] {
			name[f], taken[FoldNet(n.Name)] = n.Name, true
			told = append(told, "the file names the net "+n.Name+" "+f)
		}
	}
	for _, ref := range pins {
		for id, p := range ref {
			switch {
			case name[p.Net] != "":
				p.Net = name[p.Net]
			case p.Net != "" && taken[FoldNet(p.Net)]:
				p.Net = "another net " + p.Net
			}
			ref[id] = p
		}
	}
	slices.Sort(told)
	return told
}
