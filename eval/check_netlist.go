package eval

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
)

// NetlistFile compares the notes with a board's test netlist.
var NetlistFile = &Check{
	Name: "netlist",
	Rule: "The test netlist named by `netlist:` joins the same pins as the notes, net by net. Nets are known by " +
		"their pins, so another name alone is reported, not failed.",
	Source: "IPC-D-356A (bare substrate electrical test data format), access records 317 and 327",
	Run: on(func(c *compiler, b *Check) {
		for _, f := range (reader{c}).exportedFiles("netlist") {
			text, _ := listText(f.data)
			nodes, records, odd := readTestNetlist([]byte(text))
			what := "has no access record (317 or 327) of a test netlist"
			if odd > 0 {
				what = fmt.Sprintf("has an access record in line %d whose designator and pin are not in their columns", odd)
			}
			if records == 0 || odd > 0 {
				c.diagnose(notebook.Err, "exported-form", f.entry.Value, "`"+f.name+"` "+what,
					"export the board's test netlist in the form of IPC-D-356A")
				continue
			}
			reader{c}.compareNets(b, f, nodes)
		}
	}),
}

// compareNets makes a claim for each net of the notes and one for nets that
// only the file has.
func (c reader) compareNets(b *Check, f exportedFile, nodes []testNode) {
	x := c.netlistPins(nodes)
	used := map[string]bool{}
	for _, n := range c.DrawnNets() {
		want := x.want[n]
		if len(want) == 0 {
			continue
		}
		cl := c.Claim(b, n.Name, "Net "+n.Name+" joins in "+f.name+" what it joins in the notes.", f.entry)
		name := x.fileNet(n)
		used[name] = true
		bad, cut := x.differences(n, name)
		if len(cut) > 0 {
			cl.Lacks("no fact", "the file cuts the names of nets, and "+name+" may be this net or another: "+
				worded(cut), "export the netlist with its records of long names (NNAME), or give the nets names "+
				"that differ in their first letters")
		}
		if len(bad) > 0 {
			cl.Settle(record.Failed, worded(bad))
			continue
		}
		text := fmt.Sprintf("%d pins agree", len(want))
		if !sameNetName(name, n.Name) {
			text += "; the file names the net " + name
		}
		cl.Settle(record.Passed, text)
	}
	c.netlistRest(b, f, x, used)
}

// differences are the pins that a net of the file has more or less than one of
// the notes; cut are those that may be on another net, whose name is cut to the
// same letters.
func (x *netlistView) differences(n *circuit.Net, name string) (bad, cut []string) {
	wanted := map[string]bool{}
	for _, k := range x.want[n] {
		wanted[k] = true
		got, there := x.of[k]
		switch {
		case !there:
			bad = append(bad, k+" is not in the file")
		case got != name:
			bad = append(bad, k+" is on "+cmp.Or(got, "no net")+" in the file")
		}
	}
	for _, k := range x.have[name] {
		switch other := x.drawn[k]; {
		case wanted[k]:
		case x.cutNet[name] && other != nil && cutName(other.Name, name) && cutName(n.Name, name):
			cut = append(cut, k)
		default:
			bad = append(bad, k+" is on it in the file, not in the notes")
		}
	}
	return bad, cut
}

func cutName(full, name string) bool { return strings.HasPrefix(foldNet(full), foldNet(name)) }

// netlistRest tells nets and designators that only the file has, and what it
// has of parts that cannot be compared.
func (c reader) netlistRest(b *Check, f exportedFile, x *netlistView, used map[string]bool) {
	extra := slices.Clone(x.twice)
	for _, name := range slices.Sorted(maps.Keys(x.have)) {
		if pins := x.have[name]; !used[name] && len(pins) > 1 {
			extra = append(extra, "net "+name+" ("+strings.Join(pins, ", ")+") is not in the notes")
		}
	}
	for _, ref := range x.sorted.others {
		extra = append(extra, ref+" is in the file, not in the notes")
	}
	var bare []string
	var doubt endDoubts
	for _, m := range c.Comps.List {
		if s := c.bareOf(m.Ref); s != "" && x.sorted.of[m] != nil {
			bare = append(bare, s)
		}
		doubt.add(m, x.match[m])
	}
	cl := c.Claim(b, "others", "No other net or part is in "+f.name+".", f.entry)
	cl.lacksPins(bare)
	cl.lacksEnds(doubt)
	for _, ref := range slices.Sorted(maps.Keys(x.sorted.cut)) {
		cl.Lacks("no fact", "the file cuts designators to six columns: "+ref+" may be "+
			strings.Join(x.sorted.cut[ref], " or "), "compare these parts by a pin list as well, and skip this "+
			"check with that reason")
	}
	if len(extra) > 0 {
		cl.Settle(record.Failed, worded(extra))
	} else {
		cl.Settle(record.Passed, "no other net or part is in the file")
	}
}
