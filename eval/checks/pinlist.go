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
	"guardband/eval/record"
)

// pinList compares the notes with a pin list exported from a schematic.
var pinList = &eval.Check{
	Name: "pin-list",
	Rule: "The pin list named by `pin list:` has every placed part with the pins of the notes, and joins the same ones; " +
		"a net of another name is reported, not failed. Columns: designator, pin, net, and name where it has one; " +
		"`columns: pin = Pin number, net = Signal` names headings that differ. Of a part that " +
		"`placed from:` places, the file has each noted pin under its name, and no other.",
	Source: "common practice",
	Run: on(func(c *board, b *eval.Check) {
		for _, f := range c.Exported("pin list") {
			comparePins(c, b, f)
		}
		for _, m := range c.Comps.List {
			x := c.FromFile(m)
			if x == nil || m.Part == nil || len(m.Pins()) == 0 || len(x.Pins) == 0 {
				continue
			}
			cl := c.Claim(b, m.Ref, "The pins of "+m.Label()+" in "+x.Where+" are those of its note.", m.Entry)
			settleAll(cl, pinDifferences(m, x.Pins, x.Named), fmt.Sprintf("%d pins agree with the note", len(x.Pins)))
		}
	}),
}

// matcher finds the pins of a file among those of the notes; its form has so many columns for a designator and a pin.
func (c *board) matcher(refCut, padCut int) lists.Matcher {
	return lists.Matcher{Circuit: c.Circuit, Pads: c.Pads, RefCut: refCut, PadCut: padCut}
}

// settleAll fails a comparison by what differs, a long list cut with its count, or passes it.
func settleAll(cl *eval.Claim, differences []string, agrees string) {
	if n := len(differences); n > 0 {
		cl.Settle(record.Failed, worded(differences))
	} else {
		cl.Settle(record.Passed, agrees)
	}
}

// worded joins differences; a long list is cut with its count.
func worded(list []string) string {
	const most = 12
	if len(list) > most {
		return strings.Join(list[:most], "; ") + fmt.Sprintf("; and %d more", len(list)-most)
	}
	return strings.Join(list, "; ")
}

// comparePins makes a claim for each part with notes, and one for the rest.
func comparePins(c *board, b *eval.Check, f *eval.Exported) {
	match := c.matcher(0, 0)
	told := match.Rename(f.Pins)
	pins := match.Sort(f.Pins)
	rest, restBad := 0, []string{}
	var doubts pinDoubts
	for _, m := range c.Comps.List {
		file := pins.Of[m]
		if m.NotFitted() && file == nil {
			continue // a list may leave off what the board does
		}
		if m.Part != nil && len(m.Pins()) > 0 {
			cl := c.Claim(b, m.Ref, "The pins of "+m.Label()+" in "+f.Name+" are those of the notes.", f.Entry)
			if file == nil {
				cl.Settle(record.Failed, m.Ref+" is not in "+f.Name)
			} else {
				settleAll(cl, pinDifferences(m, match.Match(m, file).AsNoted(file), f.Has["name"]), fmt.Sprintf("%d pins agree", len(file)))
			}
			continue
		}
		switch {
		case m.Part != nil && circuit.HasNoPins(m.Part):
			if file != nil {
				restBad = append(restBad, m.Ref+" has pins in the file, none by the notes")
			}
			continue
		case file == nil:
			restBad = append(restBad, m.Ref+" is not in the file")
		case m.Part != nil:
			doubts.unpinned(m)
		default:
			x := match.Match(m, file)
			if d := kindDifference(m, file, x); d != "" {
				restBad = append(restBad, d)
			} else {
				doubts.add(m, x)
			}
		}
		if m.Part == nil {
			rest++
		}
	}
	for _, ref := range pins.Others {
		restBad = append(restBad, ref+" is in the file, not in the notes")
	}
	cl := c.Claim(b, "others", "The other parts in "+f.Name+" are those of the notes.", f.Entry)
	doubts.open(cl)
	text := fmt.Sprintf("%d parts without notes agree, and the file has no others", rest)
	if len(told) > 0 {
		text += "; " + worded(told)
	}
	settleAll(cl, restBad, text)
}

// pinDoubts are parts of which a comparison cannot tell pins or ends apart.
type pinDoubts struct {
	noPins []string
	of     [lists.Lost + 1][]string
}

func (d *pinDoubts) unpinned(m *circuit.Component) {
	d.noPins = append(d.noPins, m.Ref+" (part "+m.Part.ID+")")
}

func (d *pinDoubts) add(m *circuit.Component, x lists.Match) {
	d.of[x.Doubt] = append(d.of[x.Doubt], m.Ref)
}

// open opens a comparison for them.
func (d *pinDoubts) open(cl *eval.Claim) {
	for _, x := range []struct {
		refs                  []string
		before, after, settle string
	}{
		{d.noPins, "what the file joins to ", " cannot be compared: no pins are noted",
			"note `pins:` from the pin table, or `pins: none` for a part without any"},
		{d.of[lists.FileUnnamed], "which way round ", " is in the file is not known: it has numbers for their ends, the notes have names",
			"add `pads: 1 = K` (or `1 = A`, `1 = +`) as the land patterns number them, `pads D1: 1 = A` for one part; " +
				"or export the names of the pins"},
		{d.of[lists.NotesUnnamed], "which way round ", " is drawn is not known: the row names no terminals", "name them: A=NET K=NET, or +=NET -=NET"},
		{d.of[lists.Lost], "which pin of ", " in the file is which in the notes is not known", "name the pins in the row as the file " +
			"does, say `pads J1: 1 = NAME, 2 = ...`, or note the part with its `pins:`"},
	} {
		if len(x.refs) > 0 {
			cl.Lacks("no fact", x.before+strings.Join(x.refs, ", ")+x.after, x.settle)
		}
	}
}

// kindDifference compares a component of a plain kind pin by pin where they are known, else by the nets it joins,
// whichever way round.
func kindDifference(m *circuit.Component, file map[string]lists.Pin, x lists.Match) string {
	nets := map[string]string{}
	var got, want []string
	for _, d := range circuit.DrawnPins(m) {
		nets[d.Key] = circuit.NetName(d.Net)
		want = circuit.AddTo(want, lists.FoldNet(nets[d.Key]))
	}
	lost := x.Doubt == lists.Lost
	for _, id := range slices.Sorted(maps.Keys(file)) {
		net := file[id].Net
		got = circuit.AddTo(got, lists.FoldNet(net))
		key, has := x.Key[id]
		switch {
		case x.Turns || lost:
		case !has && net != "":
			return "pin " + id + " of " + m.Ref + " on " + net + " is not in the notes"
		case has && !lists.SameNet(net, nets[key]):
			return fmt.Sprintf("%s of %s is on %s in the file, on %s in the notes", key, m.Ref, cmp.Or(net, "no net"), cmp.Or(nets[key], "no net"))
		}
	}
	slices.Sort(got)
	slices.Sort(want)
	apart := slices.ContainsFunc(want, func(n string) bool { return !slices.Contains(got, n) })
	if !lost && len(nets) > len(x.Key) || apart || x.Turns && !slices.Equal(got, want) {
		return m.Ref + " joins " + strings.Join(got, ", ") + " in the file, " + strings.Join(want, ", ") + " in the notes"
	}
	return ""
}
