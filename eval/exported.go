package eval

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"maps"
	"os"
	"path"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/lists"
	"guardband/eval/record"
	"guardband/notebook"
)

// This file reads the exported files that a design or circuit block names, and `pads:`, which says what their pads are.

// Exported is a file that a label names, as it was read.
type Exported struct {
	lists.Table
	Name  string          // as typed
	Entry *notebook.Entry // the label
	Left  map[string]bool // designators of the `leave out:` line
	Pins  lists.PinMap    // of a pin list
	src   *notebook.Source
}

// exportedEntries visits the entries of blocks that take exported files: no other does, and values are many.
func (c *compiler) exportedEntries(visit func(b *notebook.Block, i int, e *notebook.Entry)) {
	for _, b := range c.blocks {
		if b.Kind == "design" || b.Kind == "circuit" {
			for i, e := range b.Entries {
				visit(b, i, e)
			}
		}
	}
}

// exportedForms are the forms that the file under a label may have.
var exportedForms = map[string][]*lists.Form{"pin list": {lists.Pins}, "parts list": {lists.Parts}, "netlist": {lists.Netlist},
	"placed from": {lists.Netlist, lists.Pins, lists.Parts}}

// Exported reads the files named under a label, in the order written. What cannot be read is told at the label, at the
// `columns:` line below it, or in the file.
func (c *compiler) Exported(label string) (out []*Exported) {
	c.exportedEntries(func(b *notebook.Block, i int, e *notebook.Entry) {
		if e.Label != label || e.Trimmed() == "" {
			return
		}
		f, columns := &Exported{Entry: e, Name: e.Trimmed(), Left: map[string]bool{}}, (*notebook.Entry)(nil)
		for _, next := range b.Entries[i+1:] {
			if next.Label == "columns" && columns == nil {
				columns = next
			} else if next.Label == "leave out" && len(f.Left) == 0 {
				for _, ref := range lists.Designators(next.Trimmed()) {
					f.Left[ref] = true
				}
			} else {
				break
			}
		}
		if c.readExported(f, columns) {
			out = append(out, f)
		}
	})
	return out
}

func (c *compiler) readExported(f *Exported, columns *notebook.Entry) bool {
	data := c.fileBeside(f.Entry, "exported-file", "name the exported file itself, by its path from the notebook's own folder")
	if data == nil {
		return false
	}
	if !lists.Bounded(data) {
		c.diagnose(notebook.Err, "exported-file", f.Entry.Value, fmt.Sprintf("`%s` has more than %d rows or %d cells", f.Name,
			lists.MaxRows, lists.MaxCells), "export the list alone")
		return false
	}
	asTyped := ""
	if columns != nil {
		asTyped = columns.Trimmed()
	}
	var faults []lists.Fault
	f.Table, faults = lists.Read(f.Name, data, asTyped, exportedForms[f.Entry.Label]...)
	f.src = notebook.NewSource(path.Join(path.Dir(f.Entry.Text.Src.Path), f.Name), "", []byte(f.Text))
	for _, x := range faults {
		at := f.Entry.Value
		if x.InColumns {
			at = columns.Value
		} else if x.Line > 0 {
			at = f.at(x.Line)
		}
		c.diagnose(notebook.Err, x.Code, at, x.Msg, x.Hint)
	}
	for _, x := range f.Loose {
		c.diagnose(notebook.Warn, "exported-form", f.at(x.Line), "a net without a designator or a pin is left out: "+x.Cells["net"],
			"export the list with a designator and a pin number on each line")
	}
	if f.Entry.Label == "pin list" {
		f.Pins = lists.PinMap{}
		for _, r := range f.Rows {
			c.addPin(f, f.Pins, r)
		}
	}
	return len(faults) == 0 || len(f.Rows) > 0 && f.Entry.Label == "placed from"
}

// maxBeside bounds a file that a notebook names beside itself, in bytes.
const maxBeside = 16 << 20

// fileBeside reads the file that an entry names; nil where it cannot be read, which is told.
func (c *compiler) fileBeside(e *notebook.Entry, code, hint string) []byte {
	bad := func(why, hint string) []byte {
		c.diagnose(notebook.Err, code, e.Value, "`"+e.Trimmed()+"` "+why, hint)
		return nil
	}
	path, err := c.book.Resolve(e.Text.Src, e.Trimmed())
	if errors.Is(err, notebook.ErrOutside) {
		return bad("is outside the design's folder", "copy it into the folder of the notebook")
	} else if err != nil {
		return bad("cannot be found", hint)
	}
	if info, err := os.Stat(path); err != nil || !info.Mode().IsRegular() || info.Size() > maxBeside {
		return bad(fmt.Sprintf("cannot be read: it is not an ordinary file of at most %d MiB", maxBeside>>20), hint)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return bad("cannot be read", hint)
	}
	sum := sha256.Sum256(data)
	c.exported = append(c.exported, record.File{Abs: path, SHA256: hex.EncodeToString(sum[:]), Kind: record.FileExported})
	return data
}

// at is a line of the file.
func (f *Exported) at(line int) notebook.Text { return notebook.TextOn(f.src, line, f.src.Line(line)) }

// addPin adds a line of a pin table to the pins of a file, and complains of one that is there on another net.
func (c *compiler) addPin(f *Exported, pins lists.PinMap, r lists.Row) {
	if old, twice := pins.Add(r); twice {
		c.diagnose(notebook.Err, "exported-form", f.at(r.Line), fmt.Sprintf("pin %s of %s is on %s and on %s", r.Cells["pin"],
			r.Cells["designator"], old.Net, cmp.Or(r.Cells["net"], "no net")), "one pin, one net; a panel of several boards is exported as one")
	}
}

// Pads are the names that `pads:` gives to the pads of a component of a plain kind, by their numbers; `pads D1: ...`
// comes before `pads: ...`.
func (c *compiler) Pads(m *circuit.Component) map[string]string {
	one := c.design.padsOf[m.Ref]
	switch {
	case m.Part != nil:
		return nil
	case one == nil && circuit.PolarisedEnds(m):
		return c.design.padsOf[""]
	}
	return one
}

// matcher finds pins of files that cut nothing.
func (c *compiler) matcher() lists.Matcher { return lists.Matcher{Circuit: &c.Circuit, Pads: c.Pads} }

// readPads reads `pads: 1 = K, 2 = A`: which end a number of the land patterns is, of all parts that work one way round
// or of those named.
func (c reader) readPads() {
	c.design.padsOf = map[string]map[string]string{}
	c.exportedEntries(func(_ *notebook.Block, _ int, e *notebook.Entry) {
		if e.Label == "pads" {
			c.readPadsLine(e)
		}
	})
}

func (c reader) readPadsLine(e *notebook.Entry) {
	names := map[string]string{}
	for _, item := range notebook.SplitList(e.Trimmed()) {
		pad, end, ok := strings.Cut(item, "=")
		pad, end = strings.TrimSpace(pad), strings.TrimSpace(end)
		if !ok || pad == "" || end == "" || e.Arg == "" && !strings.Contains("A K + -", circuit.Polarity(end)) {
			c.diagnose(notebook.Err, "pads-form", e.Value, "`"+item+"` does not name the end that a pad is",
				"write `pads: 1 = K`, with A, K, + or -; `pads J1: 1 = VBUS` for one part")
			return
		}
		names[pad] = end
	}
	refs := lists.Designators(e.Arg)
	if e.Arg == "" {
		refs = []string{""}
	}
	for _, ref := range refs {
		if m, ok := c.Comps.Get(ref); ref != "" && (!ok || m.Part != nil) {
			c.diagnose(notebook.Err, "pads-part", e.Value, "`"+ref+"` is not a placed part of a plain kind",
				"the pins of a part with a note have the numbers of its `pins:`")
			continue
		}
		if c.design.padsOf[ref] == nil {
			c.design.padsOf[ref] = map[string]string{}
		}
		maps.Copy(c.design.padsOf[ref], names)
	}
}
