package checks

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/lists"
)

// netlistFile compares the notes with a board's test netlist.
var netlistFile = &eval.Check{
	Name: "netlist",
	Rule: "The test netlist named by `netlist:` joins the same pins as the notes, net by net. Nets are known by " +
		"their pins, so another name alone is reported, not failed.",
	Source: "IPC-D-356A (bare substrate electrical test data format), access records 317 and 327",
	Run: on(func(c *board, b *eval.Check) {
		for _, f := range c.Exported("netlist") {
			compareNets(c, b, f)
		}
	}),
}

// compareNets makes a claim for each net of the notes and one for the rest of the file.
func compareNets(c *board, b *eval.Check, f *eval.Exported) {
	pins, cutNets, extra := lists.PinMap{}, map[string]bool{}, []string{}
	for _, r := range f.Rows {
		net := r.Cells["net"]
		cutNets[net] = cutNets[net] || r.Cut
		if old, again := pins.Add(r); again {
			extra = append(extra, r.Cells["designator"]+"."+r.Cells["pin"]+" is on "+old.Net+" and on "+net+" in the file")
		}
	}
	x := c.matcher(lists.RefColumns, lists.PadColumns).View(pins)
	used := map[string]bool{}
	for _, n := range c.DrawnNets() {
		if len(x.Want[n]) == 0 {
			continue
		}
		cl := c.Claim(b, n.Name, "Net "+n.Name+" joins in "+f.Name+" what it joins in the notes.", f.Entry)
		name := x.FileNet(n)
		used[name] = true
		bad, cut := netDifferences(x, n, name, cutNets[name])
		if len(cut) > 0 {
			cl.Lacks("no fact", "the file cuts the names of nets, and "+name+" may be this net or another: "+
				worded(cut), "export the netlist with its records of long names (NNAME), or give the nets names "+
				"that differ in their first letters")
		}
		text := fmt.Sprintf("%d pins agree", len(x.Want[n]))
		if !lists.SameNet(name, n.Name) {
			text += "; the file names the net " + name
		}
		settleAll(cl, bad, text)
	}
	for _, name := range slices.Sorted(maps.Keys(x.Have)) {
		if pins := x.Have[name]; !used[name] && len(pins) > 1 {
			extra = append(extra, "net "+name+" ("+strings.Join(pins, ", ")+") is not in the notes")
		}
	}
	for _, ref := range x.Others {
		extra = append(extra, ref+" is in the file, not in the notes")
	}
	var doubts pinDoubts
	for _, m := range c.Comps.List {
		if lists.Unpinned(m) && x.Of[m] != nil {
			doubts.unpinned(m)
		}
		doubts.add(m, x.Match[m])
	}
	cl := c.Claim(b, "others", "No other net or part is in "+f.Name+".", f.Entry)
	doubts.open(cl)
	for _, ref := range slices.Sorted(maps.Keys(x.Cut)) {
		cl.Lacks("no fact", "the file cuts designators to six columns: "+ref+" may be "+strings.Join(x.Cut[ref], " or "),
			"compare these parts by a pin list as well, and skip this check with that reason")
	}
	settleAll(cl, extra, "no other net or part is in the file")
}

// netDifferences are the pins that a net of the file has more or less than one of the notes; cut are those that may be
// on another net, whose name is cut to the same letters.
func netDifferences(x *lists.View, n *circuit.Net, name string, isCut bool) (bad, cut []string) {
	for _, k := range x.Want[n] {
		if got, there := x.On[k]; !there {
			bad = append(bad, k+" is not in the file")
		} else if got != name {
			bad = append(bad, k+" is on "+cmp.Or(got, "no net")+" in the file")
		}
	}
	begins := func(full string) bool { return strings.HasPrefix(lists.FoldNet(full), lists.FoldNet(name)) }
	for _, k := range x.Have[name] {
		switch other := x.Drawn[k]; {
		case other == n:
		case isCut && other != nil && begins(other.Name) && begins(n.Name):
			cut = append(cut, k)
		default:
			bad = append(bad, k+" is on it in the file, not in the notes")
		}
	}
	return bad, cut
}
