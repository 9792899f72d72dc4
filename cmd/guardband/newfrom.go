package main

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/notebook/files"
)

// newFrom makes a notebook that places its parts from exported files, which it
// copies: first one of these lines alone, then what its record shows is added.
func (a *app) newFrom(dir string, from []string) error {
	names := []string{}
	for _, f := range from {
		data, err := os.ReadFile(f)
		if err != nil {
			return fmt.Errorf("cannot read %s: %w", f, reason(err))
		}
		name := filepath.Base(f)
		if slices.Contains(names, name) {
			return fmt.Errorf("two files are named %s; rename one", name)
		}
		names = append(names, name)
		if err := a.writeNew(filepath.Join(dir, name), data); err != nil {
			return err
		}
	}
	n := &newBoard{title: filepath.Base(filepath.Clean(dir)), files: names}
	board := filepath.Join(dir, "board.md")
	if err := a.writeNew(board, n.text()); err != nil {
		return err
	}
	r, err := a.compile(board, eval.Options{})
	if err != nil {
		return err
	}
	if r.Summary.Errors > 0 {
		a.complain(r, 20)
		fmt.Fprintf(a.out, "%s has errors: correct the files, or say in it how they are read (`columns:`, `leave out:`)\n", board)
		return exitError(exitErrors)
	}
	n.look(r)
	for _, t := range n.types {
		if err := a.writeNew(filepath.Join(dir, "parts", t.id+".md"), t.text()); err != nil {
			return err
		}
	}
	if err := files.Write(board, func(w io.Writer) error { _, err := w.Write(n.text()); return err }); err != nil {
		return err
	}
	fmt.Fprintf(a.out, "%d parts are placed, %d of them of types without a note; `guardband check %s` shows what can be judged\n",
		n.placed, n.unknown, dir)
	return nil
}

// newBoard is what a notebook from exported files says.
type newBoard struct {
	title           string
	files           []string
	placed, unknown int
	supplies        []newSupply
	kinds           []string // rows of plain kinds to confirm
	rest            []string // designators whose value the list does not say
	types           []*newType
}

// newSupply is a net that looks like a supply: as the file spells it, and its
// name in the notes.
type newSupply struct{ file, name, volts string }

// newType is a part type to be noted.
type newType struct {
	id, title, order, pack string
	refs                   []string
	pins                   []record.Field // of one of them
	nets                   int            // joined by all of them
}

// usualKinds are the kinds that letters of a designator usually stand for;
// common practice, so they are only proposed.
var usualKinds = map[string]string{"J": "connector", "P": "connector", "CN": "connector", "X": "connector",
	"TP": "test point", "JP": "jumper", "SW": "switch", "S": "switch", "F": "fuse", "FB": "ferrite bead",
	"D": "diode", "LED": "LED", "K": "relay", "BT": "battery"}

// look takes from the record of the first lines what is placed.
func (n *newBoard) look(r *record.Record) {
	line := map[string]record.PartsLine{}
	for _, l := range r.PartsList {
		for _, ref := range l.Refs {
			line[ref] = l
		}
	}
	pins := map[string]int{}
	types, kinds := map[string]*newType{}, map[string][]string{}
	for _, p := range r.Placements {
		for _, f := range p.Nets {
			pins[f.Value]++
		}
		n.placed++
		if p.Part != circuit.WithoutNote || line[p.Ref].Quantity == 0 {
			continue
		}
		n.unknown++
		letters := strings.TrimRight(p.Ref, "0123456789")
		if kind := usualKinds[letters]; kind != "" {
			kinds[kind] = append(kinds[kind], p.Ref)
			continue
		}
		if slices.Contains([]string{"R", "C", "L"}, letters) {
			n.rest = append(n.rest, p.Ref)
			continue
		}
		l := line[p.Ref]
		key := l.Order + "\x00" + l.Title + "\x00" + l.Package
		t := types[key]
		if t == nil {
			t = &newType{title: p.Text, order: l.Order, pack: l.Package, pins: p.Nets}
			t.id = freeName(cmp.Or(t.order, t.title, p.Ref), func(id string) bool {
				return slices.ContainsFunc(n.types, func(o *newType) bool { return strings.EqualFold(o.id, id) })
			})
			types[key] = t
			n.types = append(n.types, t)
		}
		t.refs, t.nets = append(t.refs, p.Ref), t.nets+len(p.Nets)
	}
	slices.SortStableFunc(n.types, func(a, b *newType) int { return cmp.Compare(b.nets, a.nets) })
	for kind, refs := range kinds {
		n.kinds = append(n.kinds, "# "+strings.Join(refs, ", ")+"  "+kind)
	}
	slices.Sort(n.kinds)
	n.lookForSupplies(pins)
}

// supplyName are names of nets that look like supplies, and those that say
// their voltage; common practice, so they are only proposed.
var (
	supplyName = regexp.MustCompile(`(?i)^[/+]?(A|D)?V(CC|DD|BUS|BAT|IN|SYS|REF|AA|PP|EE|S|O?UT)|^[/+]?V?[0-9]+(V|\.)|_[0-9]+V`)
	voltsName  = regexp.MustCompile(`(?i)([0-9]+)(?:V([0-9]*)|\.([0-9]+)V)`)
	groundName = regexp.MustCompile(`(?i)^[/]?([A-Z]*GND|GND[_A-Z0-9]*|VSS[A-Z]*)$`)
)

func (n *newBoard) lookForSupplies(pins map[string]int) {
	var nets []string
	for net, count := range pins {
		if count > 2 && (supplyName.MatchString(net) || groundName.MatchString(net)) && !circuit.IsGround(net) {
			nets = append(nets, net)
		}
	}
	slices.SortFunc(nets, func(a, b string) int { return cmp.Or(cmp.Compare(pins[b], pins[a]), cmp.Compare(a, b)) })
	for _, net := range nets {
		s := newSupply{file: net, name: net, volts: "... V ± ... %"}
		if !notebook.IsName(net) {
			s.name = freeName("V"+strings.NewReplacer(".", "V", "+", "", "-", "N").Replace(net), func(id string) bool { return pins[id] > 0 })
		}
		switch m := voltsName.FindStringSubmatch(net); {
		case groundName.MatchString(net):
			s.volts = "0 V"
		case m != nil:
			s.volts = strings.TrimSuffix(m[1]+"."+m[2]+m[3], ".") + " V ± 5 %  [assumed: by its name]"
		}
		n.supplies = append(n.supplies, s)
	}
}

// freeName makes a name of a text that nothing else has.
func freeName(text string, taken func(string) bool) string {
	id := strings.Trim(strings.Map(func(r rune) rune {
		if r < 128 && (notebook.IsName(string(r)) || r >= '0' && r <= '9' || r == '_') {
			return r
		}
		return '_'
	}, strings.TrimSpace(text)), "_")
	if !notebook.IsName(id) {
		id = "P_" + id
	}
	for k, first := 2, id; taken(id); k++ {
		id = fmt.Sprintf("%s_%d", first, k)
	}
	return id
}

// text is the notebook.
func (n *newBoard) text() []byte {
	var b bytes.Buffer
	p := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	p("# %s\n\n```design\ntitle: %s", n.title, n.title)
	if len(n.types) > 0 {
		p("include: parts")
	}
	p("```\n")
	if len(n.supplies) > 0 {
		p("These nets look like supplies. Take off the mark where the voltage is given and not made by a part below,\n" +
			"and correct it.\n\n```values")
		for _, s := range n.supplies {
			p("# %s = %s", s.name, s.volts)
		}
		p("```\n")
	}
	p("```circuit")
	for _, f := range n.files {
		p("placed from: %s", f)
	}
	for _, s := range n.supplies {
		if s.name != s.file {
			p("nets: %q = %s", s.file, s.name)
		}
	}
	if n.placed > 0 {
		p("# tolerances: resistor 5 %%, capacitor 20 %%, inductor 20 %%")
	}
	for _, row := range n.kinds {
		p("%s", row)
	}
	for _, t := range n.types {
		if t.order == "" && t.title != t.id {
			p("%s  %s", strings.Join(t.refs, ", "), t.id)
		}
	}
	p("```")
	if len(n.kinds) > 0 {
		p("\nThe rows with a mark say what parts usually are by their letters: remove it where that is right.")
	}
	if len(n.rest) > 0 {
		p("\nThe list does not show what these are; give each a row: %s.", strings.Join(n.rest, ", "))
	}
	if len(n.types) > 0 {
		p("\nTo note, those that join most first:\n\n| type | placed | joined pins | note |\n|---|---|---|---|")
		for _, t := range n.types {
			p("| %s | %s | %d | parts/%s.md |", strings.ReplaceAll(t.title, "|", "/"), strings.Join(t.refs, ", "), t.nets, t.id)
		}
	}
	return laidOut(b)
}

func laidOut(b bytes.Buffer) []byte {
	text, _ := notebook.Format(b.Bytes())
	return text
}

// text is the note of a type, its pins as comments until each has its type.
func (t *newType) text() []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "```part %s\ntitle: %s\n", t.id, cmp.Or(t.title, t.id))
	if t.order != "" {
		fmt.Fprintf(&b, "order: %q\n", t.order)
	}
	if pack := t.pack[strings.LastIndexByte(t.pack, ':')+1:]; pack != "" && !strings.ContainsAny(pack, "#[]\"") {
		fmt.Fprintf(&b, "package: %s\n", pack)
	}
	b.WriteString("# Give each pin its type from the sheet, then take off the marks:\n# supply, supply output, ground, input, " +
		"output, bidirectional, analog, passive, NC\n# pins:\n")
	for _, f := range t.pins {
		fmt.Fprintf(&b, "#   %s  %s  TYPE\n", f.Name, cmp.Or(f.Means, "P"+f.Name))
	}
	b.WriteString("```\n")
	return laidOut(b)
}
