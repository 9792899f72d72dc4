package html

import (
	"fmt"
	"net/url"
	"path"
	"strings"

	"guardband/eval"
)

// index finds what names of the record point to.
type index struct {
	claims  map[string]*eval.Claim
	values  map[string]*eval.Value
	parts   map[string]*eval.Part
	sources map[string]*eval.Source
	placed  map[string]*eval.Placement
}

func newIndex(r *eval.Record) index {
	x := index{
		claims: map[string]*eval.Claim{}, values: map[string]*eval.Value{}, parts: map[string]*eval.Part{},
		sources: map[string]*eval.Source{}, placed: map[string]*eval.Placement{},
	}
	for i := range r.Claims {
		x.claims[r.Claims[i].ID] = &r.Claims[i]
	}
	for i := range r.Values {
		x.values[r.Values[i].Name] = &r.Values[i]
	}
	for i := range r.Parts {
		x.parts[r.Parts[i].ID] = &r.Parts[i]
	}
	for i := range r.Sources {
		x.sources[r.Sources[i].ID] = &r.Sources[i]
	}
	for i := range r.Placements {
		x.placed[r.Placements[i].Ref] = &r.Placements[i]
	}
	return x
}

// anchor makes an ID from a kind and a name. It is injective: what is neither
// letter nor digit nor one of "-_." becomes "~" and its code.
func anchor(kind, name string) string {
	var b strings.Builder
	b.WriteString(kind)
	b.WriteByte('-')
	for _, r := range name {
		if r == '-' || r == '_' || r == '.' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' {
			b.WriteRune(r)
			continue
		}
		fmt.Fprintf(&b, "~%x~", r)
	}
	return b.String()
}

// id writes an id attribute. A name met twice gets a number: links point to the first.
func (p *page) id(kind, name string) {
	a := anchor(kind, name)
	p.given[a]++
	if n := p.given[a]; n > 1 {
		a = fmt.Sprintf("%s~~%d", a, n)
	}
	p.attr("id", a)
}

// link writes text as a link to an anchor that the page has, else as text.
func (p *page) link(kind, name, text string) {
	if !p.has(kind, name) {
		p.text(text)
		return
	}
	p.raw(markup(`<a`))
	p.attr("href", "#"+anchor(kind, name))
	p.raw(markup(`>`), text, markup(`</a>`))
}

// has says whether the page will hold the anchor.
func (p *page) has(kind, name string) bool {
	x := p.index
	if p.opt.Only != "" && kind != "claim" && kind != "caution" {
		return false
	}
	switch kind {
	case "claim":
		if p.opt.Only != "" {
			return p.listed(name)
		}
		return x.claims[name] != nil
	case "value":
		return x.values[name] != nil
	case "part":
		return x.parts[name] != nil
	case "source":
		return x.sources[name] != nil
	case "placed":
		return x.placed[name] != nil
	case "fact":
		return p.factExists(name)
	case "caution":
		for _, c := range p.r.Safety {
			if c.ID == name {
				return true
			}
		}
	}
	return false
}

func (p *page) listed(id string) bool {
	for _, a := range p.r.Attention {
		if a == id {
			return p.index.claims[id] != nil
		}
	}
	return false
}

// factName is the name of a fact's anchor: part, section, name, pins.
func factName(part string, f eval.Fact) string {
	return strings.Join(append([]string{part, f.Section, f.Name}, f.Pins...), ".")
}

func (p *page) factExists(name string) bool {
	part, rest, _ := strings.Cut(name, ".")
	t := p.index.parts[part]
	if t == nil {
		return false
	}
	for _, f := range t.Facts {
		if factName(part, f) == part+"."+rest {
			return true
		}
	}
	return false
}

// basis links the name of a fact or value that a claim rests on:
// "U2.spec.V_DROP" to the fact of U2's part, "V_CELL" to the value.
func (p *page) basis(name string) {
	if p.index.values[name] != nil {
		p.linkName("value", name, name)
		return
	}
	ref, rest, dotted := strings.Cut(name, ".")
	if pl := p.index.placed[ref]; pl != nil {
		if dotted && p.has("fact", pl.Part+"."+rest) {
			p.linkName("fact", pl.Part+"."+rest, name)
			return
		}
		p.linkName("placed", ref, name)
		return
	}
	p.name(name)
}

// linkName is link with the text set as a name.
func (p *page) linkName(kind, target, name string) {
	if !p.has(kind, target) {
		p.name(name)
		return
	}
	p.raw(markup(`<a`))
	p.attr("href", "#"+anchor(kind, target))
	p.raw(markup(`>`))
	p.name(name)
	p.raw(markup(`</a>`))
}

// place writes file and line, as a link where the page knows the way there.
func (p *page) place(at *eval.Position) {
	if at == nil || at.File == "" {
		return
	}
	text := at.File
	if at.Line > 0 {
		text = fmt.Sprintf("%s:%d", at.File, at.Line)
	}
	p.raw(markup(`<span class="at">`))
	p.file(at.File, "", text)
	p.raw(markup(`</span>`))
}

// file writes a link to a notebook. Only plain relative paths become links;
// everything else stays text.
func (p *page) file(name, fragment, text string) {
	base := p.opt.Notes
	if base == "" {
		base = p.opt.Base
	}
	p.fileFrom(base, name, fragment, text)
}

func (p *page) fileFrom(base, name, fragment, text string) {
	href, ok := fileURL(base, name)
	if !ok {
		p.text(text)
		return
	}
	p.raw(markup(`<a`))
	p.attr("href", href+fragment)
	p.raw(markup(`>`), text, markup(`</a>`))
}

func fileURL(base, name string) (string, bool) {
	if base == "" || name == "" || path.IsAbs(name) || strings.ContainsAny(name, "\\:?#\x00") {
		return "", false
	}
	u := url.URL{Path: path.Join(base, name)}
	s := u.String()
	if strings.HasPrefix(s, "//") {
		return "", false
	}
	return s, true
}

// address gives the address of a link in prose where it is one a reader may
// follow; other schemes are dropped.
func address(s string) (string, bool) {
	u, err := url.Parse(strings.TrimSpace(s))
	if err != nil {
		return "", false
	}
	switch strings.ToLower(u.Scheme) {
	case "http", "https", "mailto":
		return u.String(), true
	case "":
		if u.Host == "" && !strings.ContainsRune(s, '\\') && u.Opaque == "" {
			return u.String(), s != ""
		}
	}
	return "", false
}
