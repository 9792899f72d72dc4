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

// PinList compares the notes with a pin list exported from a schematic.
var PinList = &Check{
	Name: "pin-list",
	Rule: "The pin list named by `pin list:` has every placed part with the pins of the notes, and joins the same ones; a net of another name is reported, not failed. Columns: designator, pin, net, and name where it has one; " +
		"`columns: pin = Pin number, net = Signal` names headings that differ. Of a part that " +
		"`placed from:` places, the file has each noted pin under its name, and no other.",
	Source: "common practice",
	Run: on(func(c *compiler, b *Check) {
		for _, f := range (reader{c}).exportedFiles("pin list") {
			t, ok := reader{c}.readTable(f, []string{"designator", "pin", "net", "name"}, []string{"designator", "pin", "net"})
			if !ok {
				continue
			}
			pins := filePins{}
			reader{c}.eachPin(f, t, func(r tableRow) {
				ref, number := r.cells["designator"], r.cells["pin"]
				if old, twice := pins.add(ref, number, placedPin{r.cells["net"], r.cells["name"], r.line}); twice {
					c.diagnose(notebook.Err, "exported-form", f.entry.Value,
						fmt.Sprintf("`%s`, line %d: pin %s of %s appears twice, on %s and on %s", f.name, r.line, number,
							ref, cmp.Or(old.net, "no net"), cmp.Or(r.cells["net"], "no net")), "")
				}
			})
			told := reader{c}.namesOfNotes(pins)
			reader{c}.comparePins(b, f, reader{c}.sortPins(pins, 0), t.has["name"], told)
		}
		if c.fromFiles != nil {
			reader{c}.comparePlaced(b, c.fromFiles)
		}
	}),
}

// eachPin visits the lines of a pin table, and warns of nets without a pin.
func (c reader) eachPin(f exportedFile, t table, visit func(tableRow)) {
	for _, r := range t.rows {
		switch {
		case r.cells["designator"] != "" && r.cells["pin"] != "":
			visit(r)
		case r.cells["net"] != "":
			c.diagnose(notebook.Warn, "exported-form", f.entry.Value, fmt.Sprintf("`%s`, line %d: a net without a "+
				"designator or a pin is left out: %s", f.name, r.line, r.cells["net"]),
				"export the list with a designator and a pin number on each line")
		}
	}
}

// comparePins makes a claim for each part with notes, and one for the rest.
func (c reader) comparePins(b *Check, f exportedFile, pins *sortedPins, names bool, told []string) {
	rest, restBad, bare := 0, []string{}, []string{}
	var doubt endDoubts
	for _, m := range c.Comps.List {
		file := pins.of[m]
		if m.NotFitted() && file == nil {
			continue // a list may leave off what the board does
		}
		if m.Part != nil && len(m.Pins()) > 0 {
			cl := c.Claim(b, m.Ref, "The pins of "+m.Label()+" in "+f.name+" are those of the notes.", f.entry)
			if file == nil {
				cl.Settle(record.Failed, m.Ref+" is not in "+f.name)
			} else if d := c.pinDifferences(m, c.matchPins(m, file, 0).asNoted(file), names); len(d) > 0 {
				cl.Settle(record.Failed, worded(d))
			} else {
				cl.Settle(record.Passed, fmt.Sprintf("%d pins agree", len(file)))
			}
			continue
		}
		switch {
		case m.Part == nil:
		case circuit.HasNoPins(m.Part) && file != nil:
			restBad = append(restBad, m.Ref+" has pins in the file, none by the notes")
			continue
		case circuit.HasNoPins(m.Part):
			continue
		case file == nil:
			restBad = append(restBad, m.Ref+" is not in the file")
			continue
		default:
			bare = append(bare, m.Ref+" (part "+m.Part.ID+")")
			continue
		}
		rest++
		x := c.matchPins(m, file, 0)
		if d := kindDifference(m, file, x); d != "" {
			restBad = append(restBad, d)
		} else {
			doubt.add(m, x)
		}
	}
	for _, ref := range pins.others {
		restBad = append(restBad, ref+" is in the file, not in the notes")
	}
	cl := c.Claim(b, "others", "The other parts in "+f.name+" are those of the notes.", f.entry)
	cl.lacksPins(bare)
	cl.lacksEnds(doubt)
	if len(restBad) > 0 {
		cl.Settle(record.Failed, worded(restBad))
	} else {
		text := fmt.Sprintf("%d parts without notes agree, and the file has no others", rest)
		if len(told) > 0 {
			text += "; " + worded(told)
		}
		cl.Settle(record.Passed, text)
	}
}

// lacksPins opens a comparison for parts whose notes have no pins to compare.
func (cl *Claim) lacksPins(refs []string) {
	if len(refs) > 0 {
		cl.Lacks("no fact", "what the file joins to "+strings.Join(refs, ", ")+" cannot be compared: no pins are noted",
			"note `pins:` from the pin table, or `pins: none` for a part without any")
	}
}

// bareOf names a placed part that a file joins to nets, but whose notes have
// no pins; "" for any other designator.
func (c reader) bareOf(ref string) string {
	m, ok := c.Comps.Get(ref)
	if !ok || m.NotFitted() || m.Part == nil || len(m.Pins()) > 0 || circuit.HasNoPins(m.Part) {
		return ""
	}
	return m.Ref + " (part " + m.Part.ID + ")"
}

// kindDifference compares a component of a plain kind pin by pin where they are
// known, else by the nets it joins, whichever way round.
func kindDifference(m *circuit.Component, file map[string]placedPin, x pinMatch) string {
	if file == nil {
		return m.Ref + " is not in the file"
	}
	nets := map[string]*circuit.Net{}
	var got, want []string
	for _, d := range circuit.DrawnPins(m) {
		nets[d.Key] = d.Net
		want = append(want, foldNet(netName(d.Net)))
	}
	missing := len(nets) - len(x.key)
	for _, id := range slices.Sorted(maps.Keys(file)) {
		got = append(got, foldNet(file[id].net))
		key, has := x.key[id]
		switch {
		case x.turns || x.lost:
		case !has && file[id].net != "":
			return "pin " + id + " of " + m.Ref + " on " + file[id].net + " is not in the notes"
		case has && !sameNetName(file[id].net, netName(nets[key])):
			return fmt.Sprintf("%s of %s is on %s in the file, on %s in the notes", key, m.Ref, cmp.Or(file[id].net, "no net"),
				cmp.Or(netName(nets[key]), "no net"))
		}
	}
	slices.Sort(got)
	slices.Sort(want)
	got, want = slices.Compact(got), slices.Compact(want)
	apart := slices.ContainsFunc(want, func(n string) bool { return !slices.Contains(got, n) })
	if !x.lost && missing > 0 || apart || x.turns && !slices.Equal(got, want) {
		return m.Ref + " joins " + strings.Join(got, ", ") + " in the file, " + strings.Join(want, ", ") +
			" in the notes"
	}
	return ""
}

// foldNet is a net's name as sameNetName compares it.
func foldNet(s string) string { return strings.ToUpper(strings.TrimPrefix(s, "/")) }
