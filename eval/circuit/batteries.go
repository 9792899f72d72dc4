package circuit

import (
	"slices"
	"strings"
	"unicode"
)

// The cautions of batteries; no two of them hold for one part.
const (
	LithiumIon     = "lithium-ion battery"
	PrimaryLithium = "primary lithium battery"
	PrimaryCell    = "primary battery"
	LeadAcid       = "lead-acid battery"
	NickelCell     = "nickel battery"
)

// BatteryHazards are these cautions, the one that goes first before the others.
var BatteryHazards = []string{PrimaryLithium, PrimaryCell, LithiumIon, LeadAcid, NickelCell}

// batteryWords are words of a chemistry, and the caution that each calls for.
// The order counts: the first that fits decides. Chemistries of IEC 60086-1,
// IEC 62133 and IEC 61951, from memory.
var batteryWords = []struct {
	hazard string
	words  []string
}{
	{PrimaryLithium, []string{"thionyl", "socl2", "lisocl2", "manganese dioxide", "mno2", "limno2", "disulfide",
		"disulphide", "fes2", "lifes2", "sulfur dioxide",
		"sulphur dioxide", "liso2", "monofluoride", "cfx", "licfx", "lithium metal"}},
	{LithiumIon, []string{"lithium ion", "li ion", "liion", "lithium polymer", "li polymer", "li po", "lipo",
		"lipoly", "iron phosphate", "lifepo4", "life po4", "lfp",
		"titanate", "lto", "nmc", "lco", "lithium cobalt"}},
	{LeadAcid, []string{"lead acid", "lead", "vrla", "sla", "agm"}},
	{NickelCell, []string{"nimh", "ni mh", "nicd", "ni cd", "metal hydride", "cadmium", "nickel zinc", "nizn",
		"nickel iron"}},
	{PrimaryCell, []string{"alkaline", "zinc carbon", "zinc air", "zinc chloride", "silver oxide", "carbon zinc"}},
}

// batteryCodes are the letters before the size of a cell: IEC 60086-1 for
// primary ones, IEC 61960-3 for lithium-ion, IEC 61951 for nickel. LIR, ML and
// VL of rechargeable coin cells are common practice.
var batteryCodes = []struct {
	hazard  string
	letters []string
}{
	{LithiumIon, []string{"icr", "inr", "imr", "ifr", "icp", "inp", "ifp", "lir", "ml", "vl"}},
	{PrimaryLithium, []string{"cr", "br", "er", "fr"}},
	{NickelCell, []string{"hr", "kr"}},
	{PrimaryCell, []string{"lr", "sr", "pr", "r"}},
}

// BatteryOf tells what caution a text about a part calls for, "" for none.
// settled is false where its words do not say whether it may be charged, and
// it is taken for one that must not. coin says that it is a coin or button
// cell.
func BatteryOf(text string) (hazard string, settled, coin bool) {
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
		if has(c.words...) && !(never && (c.hazard == LithiumIon || c.hazard == LeadAcid || c.hazard == NickelCell)) {
			if c.hazard == PrimaryCell && has("rechargeable") {
				return PrimaryCell, false, coin
			}
			return c.hazard, true, coin
		}
	}
	accessory := has("holder", "clip", "connector", "contact", "gauge", "monitor", "protector", "protection",
		"switch", "supervisor", "balancer", "charger", "charging",
		"regulator", "controller", "converter", "reference", "socket", "retainer")
	switch {
	case never && (lithium || code == PrimaryLithium):
		return PrimaryLithium, true, coin
	case code != "" && !(never && code == LithiumIon):
		return code, true, coin
	case never:
		return PrimaryCell, true, coin
	case lithium && has("rechargeable", "secondary", "accumulator", "charger", "charging"):
		return LithiumIon, true, coin
	case lithium || coin:
		return PrimaryLithium, false, coin
	case accessory:
		return "", true, false
	}
	return PrimaryCell, false, coin
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
		return size >= "41" && size <= "70" && size != "61" && code == PrimaryCell
	case len(size) == 3:
		return code == PrimaryCell
	}
	return len(size) == 4 && size < "4000" && code != NickelCell
}
