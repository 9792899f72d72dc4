package draw

func (l layout) fraction(num, den Picture, size float64) Picture {
	pad, stroke, gap := size*0.12, size*ruleStroke, size*fractionGap
	w := max(num.W, den.W) + 2*pad
	q := Picture{W: w}
	ruleY := num.H + gap/2
	q.place(num, (w-num.W)/2, 0)
	q.place(den, (w-den.W)/2, ruleY+gap/2)
	q.Ops = append(q.Ops, Op{Kind: OpLine, X: pad / 2, X2: w - pad/2, Y: ruleY, Y2: ruleY, Stroke: stroke})
	q.Base = ruleY + axis*size
	q.H = max(ruleY+gap/2+den.H, q.Base)
	return q
}

// power raises exp beside the top of base, clear of it even when base is tall.
func (l layout) power(base, exp Picture, size float64) Picture {
	rise := max(base.Base-size*0.35, size*0.42) // baseline of the exponent above that of the base
	top := rise + exp.Base
	q := Picture{Base: max(base.Base, top)}
	q.place(base, 0, q.Base-base.Base)
	q.place(exp, base.W+size*0.04, q.Base-top)
	q.W = base.W + exp.W + size*0.08
	q.H = q.Base + max(base.Depth(), exp.Depth()-rise)
	return q
}

func (l layout) subscript(base, sub Picture, size float64) Picture {
	drop := size * 0.2
	q := Picture{Base: max(base.Base, sub.Base-drop)}
	q.place(base, 0, q.Base-base.Base)
	q.place(sub, base.W+size*0.02, q.Base+drop-sub.Base)
	q.W = base.W + sub.W + size*0.05
	q.H = q.Base + max(base.Depth(), drop+sub.Depth())
	return q
}

func (l layout) root(in Picture, size float64) Picture {
	stroke, lead, head := size*ruleStroke, size*0.55, size*0.16
	q := Picture{W: lead + in.W + size*0.1, H: in.H + head, Base: in.Base + head}
	q.place(in, lead, head)
	bottom, mid := q.H-stroke, q.H*0.55
	q.Ops = append(q.Ops, Op{Kind: OpPath, Stroke: stroke, Path: []Seg{
		{Cmd: 'M', X: size * 0.05, Y: mid + size*0.08},
		{Cmd: 'L', X: size * 0.17, Y: mid},
		{Cmd: 'L', X: size * 0.32, Y: bottom},
		{Cmd: 'L', X: size * 0.5, Y: stroke},
		{Cmd: 'L', X: q.W, Y: stroke},
	}})
	return q
}

// bracket puts in between brackets that are as tall as it: the font's own
// where one line of text stands inside, drawn ones otherwise.
func (l layout) bracket(in Picture, open, shut rune, size float64) Picture {
	plain := l.text(Regular, size, string(open))
	if in.H <= plain.H*1.15 {
		return row(plain, in, l.text(Regular, size, string(shut)))
	}
	w := size * 0.34
	q := Picture{W: in.W + 2*w, H: in.H, Base: in.Base}
	q.place(in, w, 0)
	q.Ops = append(q.Ops,
		Op{Kind: OpPath, Stroke: size * 0.07, Path: bracketPath(open, w*0.8, w*0.3, in.H)},
		Op{Kind: OpPath, Stroke: size * 0.07, Path: bracketPath(open, q.W-w*0.8, q.W-w*0.3, in.H)})
	return q
}

// bracketPath runs from the top at the tips' x to the back's x and down.
func bracketPath(kind rune, tip, back, h float64) []Seg {
	if kind == '[' {
		return []Seg{{Cmd: 'M', X: tip, Y: 0}, {Cmd: 'L', X: back, Y: 0}, {Cmd: 'L', X: back, Y: h}, {Cmd: 'L', X: tip, Y: h}}
	}
	return []Seg{{Cmd: 'M', X: tip, Y: 0}, {
		Cmd: 'C', X: tip, Y: h,
		X1: back - (tip-back)*0.35, Y1: h * 0.28, X2: back - (tip-back)*0.35, Y2: h * 0.72,
	}}
}
