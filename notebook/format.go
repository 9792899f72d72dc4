package notebook

import (
	"bytes"
	"strings"
)

// This file lays out our blocks in one canonical way. It works line by line,
// so that comments, continuation lines and all prose stay where they are; a
// block with errors, or one whose meaning would change, is left alone.

// edit replaces bytes off to end of the file.
type edit struct {
	off, end int
	text     string
}

// Format lays out the blocks of a notebook: labels, names, values and
// citations in columns, "+-" as "±", "uF" as "µF", "5V" as "5 V", "1.9 V min" as
// "min 1.9 V". Prose, other fences and blocks with errors are untouched, and so
// is the meaning of every block. Formatting twice changes nothing more. The complaints are those of Read.
func Format(src []byte) ([]byte, *Diagnostics) {
	data := bytes.TrimPrefix(src, []byte(byteOrderMark))
	r := newReader(NewSource("", "", data))
	var edits []edit
	r.onBlock = func(b *Block, lines []rawLine, clean bool) {
		if clean {
			edits = append(edits, formatBlock(b, lines)...)
		}
	}
	r.read()
	if len(edits) == 0 {
		return src, r.diags
	}
	var out bytes.Buffer
	out.Grow(len(src) + len(src)/8)
	out.Write(src[:len(src)-len(data)])
	at := 0
	for _, e := range edits {
		out.Write(data[at:e.off])
		out.WriteString(e.text)
		at = e.end
	}
	out.Write(data[at:])
	return out.Bytes(), r.diags
}

// formatBlock gives the edits that lay out one block; none where a line has
// blanks that are not in the file, or where the meaning would change.
func formatBlock(b *Block, lines []rawLine) []edit {
	for _, l := range lines {
		if l.pad != 0 {
			return nil
		}
	}
	laid := layout(b, lines)
	var old, want strings.Builder
	for i, l := range lines {
		old.WriteString(b.Src.text[l.off:l.end] + "\n")
		want.WriteString(laid[i] + "\n")
	}
	if old.String() == want.String() {
		return nil
	}
	if !sameMeaning(b, old.String(), want.String()) {
		return nil
	}
	var out []edit
	for i, l := range lines {
		if laid[i] != b.Src.text[l.off:l.end] {
			out = append(out, edit{l.off, l.end, laid[i]})
		}
	}
	return out
}

// sameMeaning reads both forms of a block and compares what was read.
func sameMeaning(b *Block, old, want string) bool {
	x, y := reread(b, old), reread(b, want)
	return x != "" && x == y
}

// reread gives the meaning of a block's lines as text; "" where they are not
// read without errors as one block.
func reread(b *Block, lines string) string {
	fence := strings.Repeat("`", 3)
	for strings.Contains(lines, fence) {
		fence += "`"
	}
	head := fence + b.Kind
	if b.ID != "" {
		head += " " + b.ID
	}
	n, diags := Read(NewSource("", "", []byte(head+"\n"+lines+fence+"\n")))
	if len(n.Blocks) != 1 || diags.Errors() > 0 {
		return ""
	}
	var out strings.Builder
	for _, e := range n.Blocks[0].Entries {
		writeMeaning(&out, e)
	}
	return "." + out.String()
}

// writeMeaning writes all that an entry says, blanks and twins of spelling
// aside.
func writeMeaning(b *strings.Builder, e *Entry) {
	put := func(parts ...string) {
		for _, p := range parts {
			b.WriteString(tidy(p))
			b.WriteByte('|')
		}
	}
	texts := func(ts []Text) {
		for _, t := range ts {
			put(t.S)
		}
	}
	conds := func(cs []Cond) {
		for _, c := range cs {
			put("?", c.Name, c.Op, canonical(c.Value.S), c.Flag)
		}
	}
	put("\n", string('0'+rune(e.Kind)), e.Label, e.Arg)
	if l := e.Value.S; l != "" {
		if quantityLabels[e.Label] {
			l = spaced(tidy(l))
		}
		b.WriteString(strings.Join(strings.Fields(l), " "))
	}
	put(e.Section, e.Name, strings.Join(e.Selectors, ","), canonical(e.RHS.S), e.RefName, canonical(e.RefValue.S))
	conds(e.Conds)
	for _, c := range e.Cites {
		put("[", c.Source, c.From, c.To, c.Page, c.Section, c.Quote, c.Date, c.Assumed)
	}
	if e.Unconfirmed {
		put("unconfirmed")
	}
	if p := e.Pin; p != nil {
		put(strings.Join(p.Numbers, ","), p.Name, p.Type, strings.Join(p.Flags, ","), p.Facts)
		texts(p.More)
	}
	if p := e.Need; p != nil {
		put(p.A, p.B, p.Kind)
		for _, n := range p.Needs {
			put(n.Name, canonical(n.Value.S))
		}
	}
	if p := e.Placement; p != nil {
		put(strings.Join(p.Refs, ","), p.Part, p.Kind, canonical(p.Value.S))
		for _, o := range p.Options {
			put(canonical(o.S))
		}
		for _, c := range p.Conns {
			put(c.Pin+"="+c.Net, strings.Join(c.Nets, ","))
		}
		conds(p.InUse)
		for _, x := range p.Roles {
			put(x.Pin, x.Role)
		}
	}
	if l := e.Load; l != nil {
		put(l.Ref, l.State, canonical(l.Value.S), canonical(l.For.S), canonical(l.Every.S), l.From)
	}
	for _, row := range e.Rows {
		writeMeaning(b, row)
	}
}
