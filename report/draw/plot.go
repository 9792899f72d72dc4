package draw

import "math"

// Measures of a margin plot, in parts of the text size.
const (
	plotLabel = 1.35 // a line of labels
	plotBand  = 1.5  // height of the allowed band
	plotValue = 0.62 // height of the value's bar
	plotPad   = 0.09 // empty part of the width at each end of the scale
)

// scale maps SI values to the width of a plot.
type scale struct{ from, per, left, width float64 }

func (s scale) x(v float64) float64 { return s.left + (v-s.from)*s.per }

// newScale spans every finite point of the bar with room beside it. It gives
// false where there is nothing to span.
func newScale(b Bar, left, width float64) (scale, bool) {
	var points []float64
	for _, v := range []*float64{b.Min, b.Max, b.Nominal} {
		if v != nil {
			points = append(points, *v)
		}
	}
	if b.Low != nil {
		points = append(points, b.Low.From, b.Low.To, b.Low.To+b.AskedLow)
	}
	if b.High != nil {
		points = append(points, b.High.From, b.High.To, b.High.From-b.AskedHigh)
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, v := range points {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			lo, hi = math.Min(lo, v), math.Max(hi, v)
		}
	}
	span := hi/2 - lo/2 // halves, so that the ends of float64 do not overflow
	if lo > hi || math.IsInf(span, 0) {
		return scale{}, false
	}
	if span == 0 {
		span = math.Max(math.Abs(lo)*0.05, math.SmallestNonzeroFloat64*1e20)
	}
	pad := 2 * span * plotPad / (1 - 2*plotPad)
	if b.Min == nil || b.Max == nil || b.Low == nil || b.High == nil {
		pad *= 1.5
	}
	from, to := lo-pad, hi+pad
	if math.IsInf(from, 0) || math.IsInf(to, 0) {
		return scale{}, false
	}
	return scale{from: from, per: width / (to - from), left: left, width: width}, true
}

// MarginBar draws b to scale, width wide, with text of the given size: the
// band that the limits allow, the strip that the asked margin keeps free, the
// limits as lines, the value's range as a bar with its nominal point, and the
// part beyond a limit thicker.
func MarginBar(b Bar, measure Width, width, size float64) Picture {
	s, ok := newScale(b, 0, width)
	if !ok {
		return Picture{W: width}
	}
	p := plot{m: measure, s: s, size: size, q: Picture{W: width}}
	p.top = size * plotLabel
	p.mid = p.top + size*plotBand/2
	p.bottom = p.top + size*plotBand
	p.q.H = p.bottom + size*plotLabel
	p.band(b)
	p.spreads(b)
	p.value(b)
	p.limits(b)
	p.label(p.valueCentre(b), p.bottom+size*1.1, Ink, b.ValueLabel)
	return p.q
}

type plot struct {
	m                Width
	s                scale
	size             float64
	top, mid, bottom float64
	taken            float64 // labels on the upper line reach to here
	q                Picture
}

func (p *plot) rect(role Role, x1, x2, y1, y2 float64) {
	if x2 < x1 {
		return
	}
	p.q.Ops = append(p.q.Ops, Op{Kind: OpRect, Role: role, X: x1, Y: y1, W: x2 - x1, H: y2 - y1})
}

func (p *plot) line(role Role, x1, y1, x2, y2, stroke float64) {
	p.q.Ops = append(p.q.Ops, Op{Kind: OpLine, Role: role, X: x1, Y: y1, X2: x2, Y2: y2, Stroke: stroke})
}

// band is the allowed band with the strips that the margin keeps free.
func (p *plot) band(b Bar) {
	left, right := p.s.left, p.s.left+p.s.width
	if b.Low != nil {
		left = p.s.x(b.Low.To)
	}
	if b.High != nil {
		right = p.s.x(b.High.From)
	}
	p.line(Quiet, p.s.left, p.mid, p.s.left+p.s.width, p.mid, p.size*0.05)
	p.rect(Allowed, left, right, p.top, p.bottom)
	if b.Low != nil && b.AskedLow > 0 {
		p.hatch(Asked, left, min(right, p.s.x(b.Low.To+b.AskedLow)), p.top, p.bottom)
	}
	if b.High != nil && b.AskedHigh > 0 {
		p.hatch(Asked, max(left, p.s.x(b.High.From-b.AskedHigh)), right, p.top, p.bottom)
	}
}

// hatch fills an area with slanted strokes, so that it is told without colour.
func (p *plot) hatch(role Role, x1, x2, y1, y2 float64) {
	if x2 <= x1 {
		return
	}
	step, h := p.size*0.4, y2-y1
	var path []Seg
	for x := x1 - h; x < x2 && len(path) < 4000; x += step {
		a, b := math.Max(x, x1), math.Min(x+h, x2)
		if b > a {
			path = append(path, Seg{Cmd: 'M', X: a, Y: y2 - (a - x)}, Seg{Cmd: 'L', X: b, Y: y2 - (b - x)})
		}
	}
	p.q.Ops = append(p.q.Ops, Op{Kind: OpPath, Role: role, Stroke: p.size * 0.055, Path: path})
}

func (p *plot) value(b Bar) {
	y1, y2 := p.mid-p.size*plotValue/2, p.mid+p.size*plotValue/2
	left, right := p.s.left, p.s.left+p.s.width
	lo, hi := left, right
	if b.Min != nil {
		lo = p.s.x(*b.Min)
	}
	if b.Max != nil {
		hi = p.s.x(*b.Max)
	}
	if hi-lo < p.size*0.16 { // a value without range is still seen
		c := (lo + hi) / 2
		lo, hi = c-p.size*0.08, c+p.size*0.08
	}
	if b.Min == nil || b.Max == nil { // what nothing bounds is hatched
		p.hatch(Unknown, lo, hi, y1, y2)
	} else {
		p.rect(Span, lo, hi, y1, y2)
	}
	if b.Low != nil && b.Min != nil && *b.Min < b.Low.To {
		p.miss(lo, min(hi, p.s.x(b.Low.To)), y1, y2)
	}
	if b.High != nil && b.Max != nil && *b.Max > b.High.From {
		p.miss(max(lo, p.s.x(b.High.From)), hi, y1, y2)
	}
	if b.Min == nil {
		p.open(left, -1)
	}
	if b.Max == nil {
		p.open(right, 1)
	}
	if b.Nominal != nil {
		x := p.s.x(*b.Nominal)
		p.line(Ink, x, y1-p.size*0.18, x, y2+p.size*0.18, p.size*0.1)
	}
}

func (p *plot) miss(x1, x2, y1, y2 float64) {
	if x2-x1 < p.size*0.12 {
		x2 = x1 + p.size*0.12
	}
	p.rect(Miss, x1, x2, y1-p.size*0.12, y2+p.size*0.12)
}

// open marks an end that nothing bounds: an arrowhead pointing out.
func (p *plot) open(x, dir float64) {
	h, w := p.size*0.55, p.size*0.6*dir
	p.q.Ops = append(p.q.Ops, Op{Kind: OpPath, Role: Unknown, Path: []Seg{
		{Cmd: 'M', X: x, Y: p.mid}, {Cmd: 'L', X: x - w, Y: p.mid - h}, {Cmd: 'L', X: x - w, Y: p.mid + h}, {Cmd: 'Z'},
	}})
}

// spreads hatches limits that have a range of their own.
func (p *plot) spreads(b Bar) {
	for _, l := range []*Bound{b.Low, b.High} {
		if l == nil {
			continue
		}
		if x1, x2 := p.s.x(l.From), p.s.x(l.To); x2-x1 >= p.size*0.14 {
			p.hatch(Limit, x1, x2, p.top, p.bottom)
		}
	}
}

func (p *plot) limits(b Bar) {
	p.taken = -1
	for _, l := range []*Bound{b.Low, b.High} {
		if l == nil {
			continue
		}
		x1, x2, w := p.s.x(l.From), p.s.x(l.To), p.size*0.07
		for _, x := range []float64{x1, x2} {
			p.rect(Limit, x-w, x+w, p.top-p.size*0.1, p.bottom+p.size*0.1)
			if x2-x1 < 2*w {
				break
			}
		}
		p.label((x1+x2)/2, p.top-p.size*0.35, Ink, l.Label)
	}
}

func (p *plot) valueCentre(b Bar) float64 {
	lo, hi := p.s.left, p.s.left+p.s.width
	if b.Min != nil {
		lo = p.s.x(*b.Min)
	}
	if b.Max != nil {
		hi = p.s.x(*b.Max)
	}
	return (lo + hi) / 2
}

// label centres text at x, kept inside the plot; a second label on the upper
// line moves right of the first.
func (p *plot) label(x, y float64, role Role, s string) {
	w := p.m(p.size, s)
	left := math.Max(p.s.left, math.Min(x-w/2, p.s.left+p.s.width-w))
	if y < p.mid {
		if left < p.taken {
			left = p.taken
		}
		if left+w > p.s.left+p.s.width && p.taken > 0 {
			// both do not fit: the first one yields its place to the left
			p.shiftUpper(p.s.left + p.s.width - w - left)
			left = p.s.left + p.s.width - w
		}
		p.taken = left + w + p.size*0.6
	}
	p.q.Ops = append(p.q.Ops, Op{Kind: OpText, Role: role, X: left, Y: y, Size: p.size, Text: s})
}

// shiftUpper moves the labels of the upper line by dx, at most to the left end.
func (p *plot) shiftUpper(dx float64) {
	for i, o := range p.q.Ops {
		if o.Kind == OpText && o.Y < p.mid {
			p.q.Ops[i].X = math.Max(p.s.left, o.X+dx)
		}
	}
}
