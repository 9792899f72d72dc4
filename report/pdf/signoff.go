package pdf

import (
	"fmt"

	"guardband/eval"
	"guardband/report/draw"
)

// bringUpRow is one thing to measure on the built board.
type bringUpRow struct {
	claim            *eval.Claim
	quantity, window string
	limit            string
}

// bringUpRows turns the comparisons of the claims into windows: what the
// facts predict, and the limit that must hold. Each pair of quantity and window
// comes once.
func (d *document) bringUpRows() []bringUpRow {
	var out []bringUpRow
	for i := range d.r.Claims {
		c := &d.r.Claims[i]
		if c.Kind == "shortlist" {
			continue
		}
		at := map[string]int{}
		for j := range c.Criteria {
			for k := range c.Criteria[j].Tests {
				t := &c.Criteria[j].Tests[k]
				value, limit := t.Left, draw.Sign(t.Op)+"\u00a0"+t.Right.Shown
				if !t.LimitRight {
					value, limit = t.Right, draw.Sign(mirrored(t.Op))+"\u00a0"+t.Left.Shown
				}
				key := value.Text + "\x00" + value.Shown
				if n, ok := at[key]; ok {
					out[n].limit += ", " + limit
					continue
				}
				at[key] = len(out)
				out = append(out, bringUpRow{c, value.Text, value.Shown, limit})
			}
		}
	}
	return out
}

// mirrored is the comparison read from its right side.
func mirrored(op string) string {
	switch op {
	case "<":
		return ">"
	case "<=":
		return ">="
	case ">":
		return "<"
	case ">=":
		return "<="
	}
	return op
}

func (d *document) hasBringUp() bool { return len(d.r.Readings) > 0 || len(d.bringUpRows()) > 0 }

// bringUp is the table to fill in at the bench, after what was read so far.
// The safety messages stand before it once more, in full.
func (d *document) bringUp() {
	st := small()
	for i := range d.r.Safety {
		d.caution(&d.r.Safety[i], true)
	}
	if len(d.r.Readings) > 0 {
		var list []*eval.Reading
		for i := range d.r.Readings {
			list = append(list, &d.r.Readings[i])
		}
		d.space(5)
		d.keepPara(d.sp(st.in(soft), "Readings so far:"))
		d.table(d.readingTable(list))
	}
	rows := d.bringUpRows()
	if len(rows) == 0 {
		return
	}
	d.space(8)
	d.keepPara(d.sp(st.in(soft), "To measure: the predicted window is what the facts allow; widen it by the accuracy of the instrument."))
	t := table{ruled: true, cols: []column{
		{head: "Quantity", most: 150}, {head: "Predicted window", most: 110}, {head: "Must hold", most: 90}, {head: "Claim", most: 120},
		{head: "Reading", fixed: 62}, {head: "Instrument", fixed: 60}, {head: "In window", fixed: 40},
	}}
	for _, r := range rows {
		t.rows = append(t.rows, row{blank: 17, cells: []cell{
			{d.code(st, r.quantity)}, d.words(st, r.window), d.words(st, r.limit), {d.claimLink(r.claim.ID, st)}, nil, nil, {d.sp(body().at(11), "☐")},
		}})
	}
	d.table(t)
}

// signOff leaves room for names, dates and signatures; the author does not
// decide alone.
func (d *document) signOff() {
	st := small()
	d.put(16, func() {
		x := d.x
		for _, s := range []string{"accepted", "accepted with actions", "rejected"} {
			x = d.text(x, d.y+11, body(), "☐ "+s) + 24
		}
	})
	d.space(4)
	t := table{ruled: true, cols: []column{{head: "Role", fixed: 110}, {head: "Name", fixed: 150}, {head: "Date", fixed: 76}, {head: "Signature"}}}
	people := d.r.Review.Participants
	if len(people) == 0 {
		people = []eval.Field{{Name: d.r.Design.Author, Value: "author"}, {Value: "reviewer"}, {Value: "decides"}}
	}
	for _, p := range people {
		t.rows = append(t.rows, row{blank: 24, cells: []cell{d.words(st, p.Value), d.words(st, p.Name)}})
	}
	if len(d.r.Review.Participants) > 0 {
		t.rows = append(t.rows, row{blank: 24, cells: []cell{d.words(st, "decides")}})
	}
	d.table(t)
}

// limits says what this record is not.
func (d *document) limits() {
	st := body()
	for _, s := range []string{
		"This record is not a certificate. It was computed from the entries of its author: the facts as noted, the values as stated, the parts as placed. What is not noted was not considered.",
		"A passed claim says that the criterion as written holds over the facts as noted, the asked margin included. It says nothing about the board in hand, and passing claims are no approval to energise it.",
		"Citations were checked for words and numbers on the page; whether the right page of the right document was read is for the reviewer.",
		"The applicable standards, local codes and the judgement of licensed or otherwise qualified people come before this record.",
	} {
		d.space(4)
		d.para(d.sp(st, s))
	}
	d.replacedCharacters()
}

// replacedCharacters lists what the document's fonts could not set.
func (d *document) replacedCharacters() {
	list := d.g.replacements()
	if len(list) == 0 {
		return
	}
	text := "Characters that this document's fonts do not have, and what stands in their place: "
	for i, r := range list {
		if i > 0 {
			text += ", "
		}
		if r.Shown == "" {
			text += fmt.Sprintf("U+%04X left out (it prints nothing)", r.Rune)
		} else {
			text += fmt.Sprintf("U+%04X as %s", r.Rune, r.Shown)
		}
	}
	d.space(4)
	d.para(d.sp(small().in(soft), text+"."))
}
