package pdf

import (
	"strings"

	"guardband/eval"
)

// signalColour repeats the signal words of ANSI Z535.
func signalColour(word string) rgb {
	switch word {
	case "DANGER":
		return verdictColour(eval.Failed)
	case "WARNING":
		return rgb{0x9a, 0x4a, 0x00}
	case "CAUTION":
		return verdictColour(eval.Open)
	}
	return rgb{0x24, 0x4b, 0x73}
}

// cautions sets every safety message. The short form sets its text in one
// paragraph; nothing of it is left out.
func (d *document) cautions(short bool) {
	if len(d.r.Safety) == 0 {
		return
	}
	d.space(12)
	d.keep(0, func() { d.bookmark(0, "Safety messages") })
	for i := range d.r.Safety {
		d.caution(&d.r.Safety[i], short)
	}
}

func (d *document) caution(c *eval.Caution, short bool) {
	const indent = 10
	col := signalColour(c.Word)
	st := body()
	if short {
		st = small()
	}
	d.space(6)
	d.openBar(col, 3.5, indent, 44)
	d.mark("caution:" + c.ID)
	d.para(d.sp(st.with(bold).in(col), c.Word+"  "), d.sp(st.with(bold), c.Hazard))
	for _, t := range c.Text {
		d.para(d.sp(st, t))
	}
	sm := small().in(soft)
	last := d.join(sm, " · ",
		d.words(sm, prefixed("Called for by: ", c.Why)),
		d.words(sm, prefixed("Source: ", c.Source)),
		d.words(sm, prefixed("Acknowledged: ", c.Acknowledged)),
		d.where(c.Position, sm))
	if len(c.Claims) > 0 {
		last = d.join(sm, " · ", last, append(d.words(sm, "Touches "), d.claimLinks(c.Claims, sm)...))
	}
	if len(last) > 0 {
		d.para(last...)
	}
	d.closeBar(indent)
}

// beside is a safety message next to the claim that it touches, in full: its
// last words leave the decision to local codes and licensed practice.
func (d *document) beside(ids []string) {
	for _, id := range ids {
		for i := range d.r.Safety {
			c := &d.r.Safety[i]
			if c.ID != id {
				continue
			}
			st := small()
			out := []span{d.sp(st.with(bold).in(signalColour(c.Word)).keepTo("caution:"+id), c.Word+" "), d.sp(st.keepTo("caution:"+id), c.Hazard+". ")}
			d.para(append(out, d.sp(st, strings.Join(c.Text, " ")))...)
		}
	}
}

func prefixed(prefix, s string) string {
	if s == "" {
		return ""
	}
	return prefix + s
}
