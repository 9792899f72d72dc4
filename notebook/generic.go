package notebook

import (
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"slices"
	"strings"

	"guardband/units"
)

// GenericPath names the built-in notes of generic parts in positions.
const GenericPath = "generic parts (built in)"

//go:embed generic.md
var genericNotes []byte

// Generic is the ID of the built-in note that a row without a part takes: "LED_red"
// of `LED, red  A=X K=Y`, "" where there is none or the row does not name its ends.
func (p *Placement) Generic() string {
	if p.Part != "" || !slices.ContainsFunc(p.Conns, func(k Conn) bool { return k.Pin == "A" }) {
		return ""
	}
	for _, o := range p.Options {
		if _, err := units.ParseLiteral(strings.TrimSpace(o.S)); err == nil {
			return "" // a rating of its own, which the generic part does not have
		}
	}
	for _, o := range p.Options {
		id := p.Kind + "_" + strings.TrimSpace(o.S)
		if strings.Contains(string(genericNotes), "```part "+id+"\n") {
			return id
		}
	}
	return ""
}

// readGeneric adds the built-in notes to a book in which a row takes one. Beside
// pins of an exported file none is: which number is the anode only a sheet says.
func (b *Book) readGeneric() {
	taken, exported := false, false
	for _, n := range b.Notebooks {
		for _, k := range n.Blocks {
			for _, e := range k.Entries {
				taken = taken || e.Placement != nil && e.Placement.Generic() != ""
				exported = exported || slices.Contains([]string{"placed from", "pin list", "netlist"}, e.Label)
			}
		}
	}
	if !taken || exported {
		return
	}
	sum := sha256.Sum256(genericNotes)
	src := NewSource(GenericPath, "", genericNotes)
	src.SHA256 = hex.EncodeToString(sum[:])
	n, _ := Read(src)
	b.Notebooks = append(b.Notebooks, n)
}
