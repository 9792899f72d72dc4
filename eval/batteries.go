package eval

import (
	"slices"
	"strings"
	"unicode"

	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
)

// This file tells from words what kind of battery a part is. A cell that must
// never be charged is the rule: only words and codes that say so make one
// rechargeable.

// The cautions of batteries; no two of them hold for one part.
const (
	lithiumIon     = "lithium-ion battery"
	primaryLithium = "primary lithium battery"
	primaryCell    = "primary battery"
	leadAcid       = "lead-acid battery"
	nickelCell     = "nickel battery"
)

var batteryHazards = []string{primaryLithium, primaryCell, lithiumIon, leadAcid, nickelCell}

// batteryWords are words of a chemistry, and the caution that each calls for.
// The order counts: the first that fits decides. Chemistries of IEC 60086-1,
// IEC 62133 and IEC 61951, from memory.
var batteryWords = []struct {
	hazard string
	words  []string
}{
	{primaryLithium, []string{"thionyl", "socl2", "lisocl2", "manganese dioxide", "mno2", "limno2", "disulfide",
		"disulphide", "fes2", "lifes2", "sulfur dioxide",
		"sulphur dioxide", "liso2", "monofluoride", "cfx", "licfx", "lithium metal"}},
	{lithiumIon, []string{"lithium ion", "li ion", "liion", "lithium polymer", "li polymer", "li po", "lipo",
		"lipoly", "iron phosphate", "lifepo4", "life po4", "lfp",
		"titanate", "lto", "nmc", "lco", "lithium cobalt"}},
	{leadAcid, []string{"lead acid", "lead", "vrla", "sla", "agm"}},
	{nickelCell, []string{"nimh", "ni mh", "nicd", "ni cd", "metal hydride", "cadmium", "nickel zinc", "nizn",
		"nickel iron"}},
	{primaryCell, []string{"alkaline", "zinc carbon", "zinc air", "zinc chloride", "silver oxide", "carbon zinc"}},
}

// batteryCodes are the letters before the size of a cell: IEC 60086-1 for
// primary ones, IEC 61960-3 for lithium-ion, IEC 61951 for nickel. LIR, ML and
// VL of rechargeable coin cells are common practice.
var batteryCodes = []struct {
	hazard  string
	letters []string
}{
	{lithiumIon, []string{"icr", "inr", "imr", "ifr", "icp", "inp", "ifp", "lir", "ml", "vl"}},
	{primaryLithium, []string{"cr", "br", "er", "fr"}},
	{nickelCell, []string{"hr", "kr"}},
	{primaryCell, []string{"lr", "sr", "pr", "r"}},
}

// batteryOf tells what caution a text about a part calls for, "" for none.
// settled is false where its words do not say whether it may be charged, and
// it is taken for one that must not. coin says that it is a coin or button
// cell.
func batteryOf(text string) (hazard string, settled, coin bool) {
	words := strings.FieldsFunc(strings.ToLower(text),
		func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	s := " " + strings.Join(words, " ") + " "
	has := func(list ...string) bool {
		return slices.ContainsFunc(list, func(w string) bool { return strings.Contains(s, " "+w+" ") })
	}
	code, size := batteryCode(words)
	lithium := has("lithium", "li")
	named := has("cell", "cells", "battery", "batteries", "accumulator", "accumulators", "charger", "charging") ||
		lithium && has("pack", "packs", "coin")
	if has("load cell", "solar cell", "solar cells", "fuel cell", "photo cell", "photocell", "memory cell",
		"hall cell", "cell phone", "capacitor", "supercapacitor", "resistor") ||
		!named && (code == "" || len(words) > 3) {
		return "", true, false
	}
	coin = has("coin", "coins", "button") || isCoinSize(code, size)
	never := has("not rechargeable", "non rechargeable", "nonrechargeable", "never charge", "not be charged",
		"primary", "disposable")
	for _, c := range batteryWords {
		if has(c.words...) && !(never && (c.hazard == lithiumIon || c.hazard == leadAcid || c.hazard == nickelCell)) {
			if c.hazard == primaryCell && has("rechargeable") {
				return primaryCell, false, coin
			}
			return c.hazard, true, coin
		}
	}
	accessory := has("holder", "clip", "connector", "contact", "gauge", "monitor", "protector", "protection",
		"switch", "supervisor", "balancer", "charger", "charging",
		"regulator", "controller", "converter", "reference", "socket", "retainer")
	switch {
	case never && (lithium || code == primaryLithium):
		return primaryLithium, true, coin
	case code != "" && !(never && code == lithiumIon):
		return code, true, coin
	case never:
		return primaryCell, true, coin
	case lithium && has("rechargeable", "secondary", "accumulator", "charger", "charging"):
		return lithiumIon, true, coin
	case lithium || coin:
		return primaryLithium, false, coin
	case accessory:
		return "", true, false
	}
	return primaryCell, false, coin
}

// batteryCode finds the code of a cell among words: CR2032, 2LR6, ICR18650.
func batteryCode(words []string) (hazard, size string) {
	for _, w := range words {
		w = strings.TrimLeft(w, "0123456789")
		letters := w[:len(w)-len(strings.TrimLeft(w, "abcdefghijklmnopqrstuvwxyz"))]
		size := strings.TrimRight(w[len(letters):], "abcdefghijklmnopqrstuvwxyz")
		if size == "" || strings.Trim(size, "0123456789") != "" {
			continue
		}
		for _, c := range batteryCodes {
			if slices.Contains(c.letters, letters) && (len(letters) < 3 || len(size) > 3 || letters == "lir") {
				return c.hazard, size
			}
		}
	}
	return "", ""
}

// isCoinSize says that the size of a code is that of a coin or button cell:
// diameter and height in four digits, and of silver oxide, zinc-air and alkaline
// ones the sizes from 41, but 61, and those of three digits.
func isCoinSize(code, size string) bool {
	switch {
	case code == "":
		return false
	case len(size) == 2:
		return size >= "41" && size <= "70" && size != "61" && code == primaryCell
	case len(size) == 3:
		return code == primaryCell
	}
	return len(size) == 4 && size < "4000" && code != nickelCell
}

// batteryHazardOf tells what a part's own `hazard:` says of its battery; both
// where it names two that exclude each other.
func (c *compiler) batteryHazardOf(p *circuit.Part) (name string, both bool) {
	for _, e := range p.Block.Entries {
		if e.Label != notebook.Hazard {
			continue
		}
		for _, h := range splitList(e.Trimmed()) {
			if h = hazardName(h); slices.Contains(batteryHazards, h) {
				if name != "" && name != h {
					both = true
				}
				if name == "" || slices.Index(batteryHazards, h) < slices.Index(batteryHazards, name) {
					name = h
				}
			}
		}
	}
	return name, both
}

// excluded says that a part names another caution that excludes this one and
// comes before it.
func (c *compiler) excluded(h hazard, name string) bool {
	id, ok := strings.CutPrefix(h.from, "part ")
	if p, known := c.Parts.Get(id); ok && known && slices.Contains(batteryHazards, name) {
		own, _ := c.batteryHazardOf(p)
		return own != name
	}
	return false
}

// inferCells finds batteries among the parts by their own hazard, else by their
// kind and title, and among the rows of the circuit that place a plain cell.
func (c *compiler) inferCells(add func(name, why string, at *record.Position, claim string)) {
	c.batteries = map[*circuit.Part]string{}
	ask := func(t notebook.Text, what string) {
		c.whole(notebook.Warn, "battery-kind", t, "whether "+what+" may be charged is not stated; it is taken for one "+
			"that must not",
			"say it by `kind:`, as in `kind: lithium-ion cell` or `kind: primary lithium cell`")
	}
	for _, p := range c.Parts.List {
		own, both := c.batteryHazardOf(p)
		text := p.Title
		if e := p.Attrs["kind"]; e != nil && e.Trimmed() != "" {
			text = e.Trimmed()
			if h, settled, _ := batteryOf(text); h == "" || !settled {
				text += " " + p.Title
			}
		}
		hazard, settled, coin := batteryOf(text)
		if own != "" {
			hazard, settled = own, true
		}
		if both {
			c.whole(notebook.Err, "hazard-excludes", p.Attrs[notebook.Hazard].Value,
				"two cautions that exclude each other are named for part "+p.ID, "keep the one that holds for its cell")
		}
		if hazard == "" {
			continue
		}
		c.batteries[p] = hazard
		at := position(p.Block.Pos)
		add(hazard, "part "+p.ID+": "+p.Title, at, "")
		if coin {
			add("coin or button cell", "part "+p.ID+": "+p.Title, at, "")
		}
		if !settled {
			ask(p.Block.IDText, "the cell of part "+p.ID)
		}
	}
	for _, m := range c.Comps.List {
		if m.Part != nil || m.Kind != "cell" && m.Kind != "battery" {
			continue
		}
		text := m.Kind + " " + m.Row.Value.S
		for _, o := range m.Row.Options {
			text += " " + o.S
		}
		hazard, settled, coin := batteryOf(text)
		at := position(m.Entry.Text.Pos(0))
		add(hazard, m.Ref+" is a "+m.Kind, at, "")
		if coin {
			add("coin or button cell", m.Ref+" is a "+m.Kind, at, "")
		}
		if !settled {
			ask(m.Row.RefText, m.Ref)
		}
	}
}
