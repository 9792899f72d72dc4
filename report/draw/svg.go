package draw

import (
	"html"
	"math"
	"strconv"
	"strings"
)

// SVG writes p as an inline SVG element of its natural size. Each shape has
// its role as class ("gb-span"), so colours come from the page's style. It is
// hidden from assistive technology, as each drawing repeats a text beside it.
func SVG(p Picture) string {
	var b strings.Builder
	w, h := num(p.W), num(p.H)
	b.WriteString(`<svg class="gb-plot" width="` + w + `" height="` + h + `" viewBox="0 0 ` + w + ` ` + h + `" aria-hidden="true" focusable="false">`)
	for _, o := range p.Ops {
		svgOp(&b, o)
	}
	b.WriteString("</svg>")
	return b.String()
}

func svgOp(b *strings.Builder, o Op) {
	class := ` class="gb-` + o.Role.String()
	if o.Stroke > 0 {
		class += ` gb-stroke" stroke-width="` + strconv.FormatFloat(math.Round(o.Stroke*100)/100, 'f', -1, 64)
	}
	class += `"`
	switch o.Kind {
	case OpText:
		b.WriteString(`<text` + class + ` x="` + num(o.X) + `" y="` + num(o.Y) + `" font-size="` + num(o.Size) + `">` +
			html.EscapeString(o.Text) + `</text>`)
	case OpLine:
		b.WriteString(`<line` + class + ` x1="` + num(o.X) + `" y1="` + num(o.Y) + `" x2="` + num(o.X2) + `" y2="` + num(o.Y2) + `"/>`)
	case OpRect:
		b.WriteString(`<rect` + class + ` x="` + num(o.X) + `" y="` + num(o.Y) + `" width="` + num(o.W) + `" height="` + num(o.H) + `"/>`)
	case OpPath:
		b.WriteString(`<path` + class + ` d="`)
		var at Seg
		for _, s := range o.Path {
			svgSeg(b, at, s)
			at = s
		}
		b.WriteString(`"/>`)
	}
}

// svgSeg writes a step of a path; lines are written relative to the point
// before, which keeps hatching short.
func svgSeg(b *strings.Builder, at, s Seg) {
	switch s.Cmd {
	case 'Z':
		b.WriteByte('Z')
	case 'L':
		b.WriteString("l" + num(s.X-at.X) + " " + num(s.Y-at.Y))
	default:
		b.WriteString("M" + num(s.X) + " " + num(s.Y))
	}
}

// num writes a length to a tenth of a pixel, which is finer than a screen
// shows; what is no length is zero.
func num(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "0"
	}
	return strconv.FormatFloat(math.Round(v*10)/10, 'f', -1, 64)
}
