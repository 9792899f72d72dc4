package draft

import (
	"strconv"
	"strings"

	"guardband/notebook/sheet"
)

// packages writes the package of the order code with the sizes of its drawing;
// the other packages follow as further lines, their sizes as remarks.
func (n *noteWriter) packages(d sheet.Draft) {
	for i := range d.Packages {
		p := &d.Packages[i]
		if strings.ContainsAny(p.Name, "[]#") {
			n.remark("package %s %s", p.Name, cite(p.Quoted))
			continue
		}
		n.label("package", p.Name, p.Quoted)
		if i > 0 {
			n.sizeRemarks(p, nil)
			continue
		}
		n.sizes(p)
	}
}

// sizes writes body, pitch, height, pad count and exposed pad.
func (n *noteWriter) sizes(p *sheet.DraftPackage) {
	used := map[sheet.SizeOf]bool{}
	pair := func(label string, a, b sheet.SizeOf) {
		x, okA := p.Size(a)
		y, okB := p.Size(b)
		if !okA || !okB || nominal(x) == "" || nominal(y) == "" {
			return
		}
		n.label(label, nominal(x)+" x "+nominal(y), x.Quoted, y.Quoted)
		used[a], used[b] = true, true
	}
	pair("body", sheet.BodyLength, sheet.BodyWidth)
	if s, ok := p.Size(sheet.LeadPitch); ok && nominal(s) != "" {
		n.label("pitch", nominal(s), s.Quoted)
		used[sheet.LeadPitch] = true
	}
	if s, ok := p.Size(sheet.BodyHeight); ok && factValue(s.DraftRow, "", nil) != "" {
		n.label("height", factValue(s.DraftRow, "", nil), s.Quoted)
		used[sheet.BodyHeight] = true
	}
	n.padCount(p, used)
	pair("exposed pad", sheet.PadLength, sheet.PadWidth)
	n.sizeRemarks(p, used)
}

// padCount writes the leads, an exposed pad counted with them.
func (n *noteWriter) padCount(p *sheet.DraftPackage, used map[sheet.SizeOf]bool) {
	s, ok := p.Size(sheet.LeadCount)
	if !ok {
		return
	}
	leads, err := strconv.Atoi(nominal(s))
	if err != nil {
		return
	}
	from := []sheet.Quoted{s.Quoted}
	if pad, ok := p.Size(sheet.PadLength); ok {
		leads++
		from = append(from, pad.Quoted)
	}
	n.label("pads", strconv.Itoa(leads), from...)
	used[sheet.LeadCount] = true
}

// nominal is the nominal value of a dimension as printed, with its unit; "" if
// none is printed.
func nominal(s sheet.DraftSize) string {
	v := s.Typ
	if v == "" {
		v = s.Value
	}
	if v == "" {
		return ""
	}
	return strings.TrimSpace(v + " " + s.Unit)
}

// sizeRemarks keeps what was read of a package and not written.
func (n *noteWriter) sizeRemarks(p *sheet.DraftPackage, used map[sheet.SizeOf]bool) {
	for _, s := range p.Sizes {
		if !used[s.Of] {
			n.remark("%s: %s %s", p.Name, s.Text, cite(s.Quoted))
		}
	}
	if len(p.More) > 0 {
		var more []string
		for _, m := range p.More {
			more = append(more, m.Title+" "+m.Text)
		}
		n.remark("%s: %s %s", p.Name, strings.Join(more, ", "), cite(p.Quoted))
	}
}
