package main

import (
	"bytes"
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
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
	n := &newBoard{Title: filepath.Base(filepath.Clean(dir)), Files: names}
	board := filepath.Join(dir, "board.md")
	text, err := a.text("board", n)
	if err != nil {
		return err
	}
	if err := a.writeNew(board, text); err != nil {
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
	for _, t := range n.Types {
		if text, err = a.text("part", t); err == nil {
			err = a.writeNew(filepath.Join(dir, "parts", t.ID+".md"), text)
		}
		if err != nil {
			return err
		}
	}
	if text, err = a.text("board", n); err != nil {
		return err
	}
	if err := writeFile(board, text); err != nil {
		return err
	}
	fmt.Fprintf(a.out, "%d parts are placed, %d of them of types without a note; `guardband check %s` shows what can be judged\n",
		n.Placed, n.Unknown, dir)
	return nil
}

// newBoard is what a notebook from exported files says.
type newBoard struct {
	Title           string
	Files           []string
	Placed, Unknown int
	Supplies        []newSupply
	Kinds           []string // rows of plain kinds to confirm
	Rest            []string // designators whose value the list does not say
	Types           []*newType
}

// newSupply is a net that looks like a supply: as the file spells it, and its
// name in the notes.
type newSupply struct{ File, Name, Volts string }

// newType is a part type to be noted.
type newType struct {
	ID, Title, Order, Pack string
	Refs                   []string
	Pins                   []record.Field // of one of them
	Nets                   int            // joined by all of them
}

// Mark is the mark before the rows of pins: they are comments until each has a type.
func (t *newType) Mark() string {
	if slices.ContainsFunc(t.Pins, func(p record.Field) bool { return pinType(p) == "" }) {
		return "# "
	}
	return ""
}

// pinTypes are electrical types as exported files usually spell them, without
// case and marks, in words of the notes; common practice.
var pinTypes = map[string]string{"input": "input", "output": "output", "passive": "passive", "ground": "ground", "analog": "analog",
	"bidirectional": "bidirectional", "bidi": "bidirectional", "io": "bidirectional", "inout": "bidirectional",
	"power": "supply", "powerin": "supply", "powerinput": "supply", "powerout": "supply output", "poweroutput": "supply output",
	"tristate": "output three-state", "threestate": "output three-state", "3state": "output three-state", "hiz": "output three-state",
	"opencollector": "output open drain", "opendrain": "output open drain", "nc": "NC", "noconnect": "NC", "notconnected": "NC"}

// pinType is the type of a pin in words of the notes, "" where the file does
// not say it.
func pinType(p record.Field) string {
	word := pinTypes[strings.NewReplacer(" ", "", "_", "", "-", "", "/", "").Replace(strings.ToLower(p.Type))]
	if strings.HasPrefix(word, "supply") && (circuit.IsGround(p.Value) || circuit.IsGround(p.Means)) {
		return "ground"
	}
	return word
}

// packageName is the name of a package as exported, "" where it could not be
// one of the notes.
func packageName(s string) string {
	if s = s[strings.LastIndexByte(s, ':')+1:]; strings.ContainsAny(s, "#[]\"") {
		return ""
	}
	return s
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
		n.Placed++
		if p.Part != circuit.WithoutNote || line[p.Ref].Quantity == 0 {
			continue
		}
		n.Unknown++
		letters := strings.TrimRight(p.Ref, "0123456789")
		if kind := usualKinds[letters]; kind != "" {
			kinds[kind] = append(kinds[kind], p.Ref)
			continue
		}
		if slices.Contains([]string{"R", "C", "L"}, letters) {
			n.Rest = append(n.Rest, p.Ref)
			continue
		}
		l := line[p.Ref]
		key := l.Order + "\x00" + l.Title + "\x00" + l.Package
		if l.Order+p.Text == "" { // nothing says that it is of the type of another
			key += p.Ref
		}
		t := types[key]
		if t == nil {
			t = &newType{Title: p.Text, Order: l.Order, Pack: packageName(l.Package), Pins: p.Nets}
			t.ID = freeName(cmp.Or(t.Order, t.Title, p.Ref), func(id string) bool {
				return slices.ContainsFunc(n.Types, func(o *newType) bool { return strings.EqualFold(o.ID, id) })
			})
			types[key] = t
			n.Types = append(n.Types, t)
		}
		t.Refs, t.Nets = append(t.Refs, p.Ref), t.Nets+len(p.Nets)
	}
	slices.SortStableFunc(n.Types, func(a, b *newType) int { return cmp.Compare(b.Nets, a.Nets) })
	for kind, refs := range kinds {
		n.Kinds = append(n.Kinds, "# "+strings.Join(refs, ", ")+"  "+kind)
	}
	slices.Sort(n.Kinds)
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
		s := newSupply{File: net, Name: net, Volts: "... V ± ... %"}
		if !notebook.IsName(net) {
			s.Name = freeName("V"+strings.NewReplacer(".", "V", "+", "", "-", "N").Replace(net), func(id string) bool { return pins[id] > 0 })
		}
		switch m := voltsName.FindStringSubmatch(net); {
		case groundName.MatchString(net):
			s.Volts = "0 V"
		case m != nil:
			s.Volts = strings.TrimSuffix(m[1]+"."+m[2]+m[3], ".") + " V ± 5 %  [assumed: by its name]"
		}
		n.Supplies = append(n.Supplies, s)
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

// text is a note, laid out.
func (a *app) text(name string, of any) ([]byte, error) {
	var b bytes.Buffer
	if err := texts.ExecuteTemplate(&b, name, of); err != nil {
		return nil, err
	}
	text, _ := notebook.Format(b.Bytes())
	return text, nil
}
