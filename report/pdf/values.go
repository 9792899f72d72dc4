package pdf

import (
	"guardband/eval"
	"guardband/report/draw"
)

func (d *document) valuesBlock(b *eval.BlockRef) func() {
	var list []*eval.Value
	for _, n := range b.Names {
		if v := d.values[n]; v != nil {
			list = append(list, v)
		}
	}
	if len(list) == 0 {
		return nil
	}
	return func() {
		d.blockHead("values", b.ID, nil, b.Position, "")
		d.openBar(hairline, 0.8, 8, 30)
		for _, v := range list {
			d.value(v)
		}
		d.closeBar(8)
	}
}

const valueName = 84

// value sets one quantity: its name, its formula with the numbers put in, what
// it comes to, and its page.
func (d *document) value(v *eval.Value) {
	st := small()
	d.space(2)
	d.keep(0, func() { d.mark("value:" + v.Name) })
	res := []span{d.sp(body().with(bold), v.Text)}
	if !v.Exact && v.Min != nil && v.Max != nil && *v.Min != *v.Max {
		res = append(res, d.sp(st.in(soft), " (outer bounds)"))
	}
	tail := d.join(st, "; ", d.cites(v.Cites, st), d.words(st.in(verdictColour(eval.Open)), prefixed("assumed: ", v.Assumed)), d.words(st.in(soft), prefixed("formula: ", v.Source)))
	if len(tail) > 0 {
		tail = append([]span{d.sp(st.in(soft), " · ")}, tail...)
	}
	if !v.Derived || v.Math == nil {
		if v.Formula != "" && v.Formula != v.Text {
			res = append([]span{d.sp(st.in(soft), v.Formula+"  =  ")}, res...)
		}
		d.named(v.Name, append(res, tail...))
		return
	}
	d.derived(v, append(res, tail...))
}

// named sets a name as formulas do, and text beside it.
func (d *document) named(name string, spans []span) {
	q := draw.Name(name, metrics{d.g}, 9)
	if q.W > valueName-6 || q.H > 30 {
		d.para(append([]span{d.code(small(), name), d.sp(small(), "  ")}, spans...)...)
		return
	}
	ls := d.layout(spans, d.w-valueName)
	x := d.x
	d.keep(0, func() { d.drawing(q, x, d.y+ls[0].asc-q.Base, ink) })
	d.lines(ls, valueName)
}

// derived sets formula, numbers and result below each other, their signs of
// equality in one column.
func (d *document) derived(v *eval.Value, result []span) {
	w := d.w - valueName - 12
	top, okTop := d.formula(v.Math, 9, w)
	num, okNum := d.formula(v.Numbers, 8, w)
	head := draw.Name(v.Name, metrics{d.g}, 9)
	if !okTop {
		d.named(v.Name, []span{d.sp(small(), "= "), d.code(small(), v.Formula)})
	} else {
		h := max(top.H, head.H) + 4
		wide := head.W > valueName-6
		if wide {
			d.keepPara(d.code(small(), v.Name))
		}
		need := h
		if okNum {
			need += num.H + 4
		}
		d.ready(need)
		if !wide {
			d.drawing(head, d.x, d.y+top.Base-head.Base+2, ink)
		}
		d.equals(top, h, ink)
	}
	if okNum {
		d.put(num.H+4, func() { d.equalsAt(num, soft) })
	}
	d.lines(d.layout(append([]span{d.sp(body(), "=  ")}, result...), d.w-valueName), valueName)
}

func (d *document) equals(q draw.Picture, h float64, c rgb) {
	d.equalsAt(q, c)
	d.y += h
}

func (d *document) equalsAt(q draw.Picture, c rgb) {
	d.text(d.x+valueName, d.y+2+q.Base, body().in(c), "=")
	d.drawing(q, d.x+valueName+11, d.y+2, c)
}

// valuesRegister lists every value; those that stand in no notebook are set
// with their formula.
func (d *document) valuesRegister() {
	st := small()
	t := table{cols: []column{{head: "Name", most: 120}, {head: "Value"}, {head: "As typed"}, {head: "Page", most: 110}, {head: "Used by"}}}
	for i := range d.r.Values {
		v := &d.r.Values[i]
		typed := cell{d.code(st.in(soft), v.Formula)}
		if v.Formula == "" || v.Formula == v.Text {
			typed = nil
		}
		t.rows = append(t.rows, row{anchor: "value:" + v.Name, cells: []cell{
			{d.code(st.keepTo("value:"+v.Name), v.Name)}, d.words(st, v.Text), typed,
			d.join(st, "; ", d.cites(v.Cites, st), d.words(st.in(verdictColour(eval.Open)), prefixed("assumed: ", v.Assumed))),
			d.claimLinks(v.UsedBy, st),
		}})
	}
	d.table(dropEmpty(t))
}
