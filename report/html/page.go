package html

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html/template"
	"image/png"
	"slices"
	"strings"
	"unicode/utf8"

	"guardband/eval/record"
	"guardband/report/draw"
	"guardband/report/internal/words"
	"guardband/report/outline"
)

//go:embed page.css
var css string

//go:embed page.js
var script string

//go:embed watch.js
var watching string

// Size of a margin plot in CSS pixels. It fits a phone's width.
const (
	plotWidth = 336
	plotText  = 11
)

// page is one page being written: what page.tmpl asks for.
type page struct {
	r        *record.Record
	o        *outline.Document
	opt      Options
	b        bytes.Buffer // of the text being set
	pictures []picture
	level    int // heading level written last
}

var kinds = [...]string{
	outline.Paragraph: "paragraph", outline.Heading: "heading", outline.Labelled: "labelled", outline.Group: "group", outline.List: "list",
	outline.Quote: "quote", outline.CodeBlock: "code", outline.TableBlock: "table", outline.Formula: "formula", outline.Value: "value",
	outline.Evidence: "evidence", outline.Rule: "rule", outline.Footnote: "footnote", outline.Fold: "fold", outline.Fields: "fields",
	outline.Tally: "tally",
}

type tallied struct {
	Verdict record.Verdict
	Count   int
}

// functions are what page.tmpl calls. Texts of the record pass through text,
// spans or attr, which show what a reader could be misled by; whatever passed
// none of them the template escapes.
func (p *page) functions() template.FuncMap {
	return template.FuncMap{
		"css":    func() template.CSS { return template.CSS(css) },
		"script": func() template.JS { return template.JS(script) },
		"reload": func() template.JS { return template.JS(reload(p.opt.Events)) },
		"events": func() bool { return p.opt.Events != "" },
		"policy": p.policy,
		"counts": words.Counts,
		"join":   func(a, b string) string { return words.Join(" ", a, b) },
		"shown":  shown,
		"clip":   clip,
		"number": func(i int) int { return i + 1 },
		"filtered": func(chapter string) bool {
			return chapter == "notes" || chapter == "checks" || chapter == "attention"
		},
		"tallied": func(s record.Summary) (out []tallied) {
			for _, v := range words.Verdicts {
				if n := words.Count(s, v); n > 0 {
					out = append(out, tallied{v, n})
				}
			}
			return out
		},
		"kind":  func(b outline.Block) string { return kinds[b.Kind] },
		"reset": func() string { p.level = 2; return "" },
		"level": func() int { return p.level },
		"setLevel": func(l int) string {
			p.level = l
			return ""
		},
		"heading": func(level, more int) int { // never skips a level below the one before
			p.level = max(3, min(6, level+more, p.level+1))
			return p.level
		},
		"open": func(level int, place string) template.HTML {
			return template.HTML(fmt.Sprintf("<h%d%s>", level, id(place)))
		},
		"close": func(level int) template.HTML { return template.HTML(fmt.Sprintf("</h%d>", level)) },
		"start": start,
		"id":    id,
		"attr":  func(name, s string) template.HTMLAttr { return attr(name, s) },
		"text":  func(s string) template.HTML { return p.set(func() { p.text(s) }) },
		"spans": func(t outline.Text) template.HTML { return p.set(func() { p.spans(t) }) },
		"link":  func(place, text string) template.HTML { return p.set(func() { p.link(place, text) }) },
		"name":  func(s string) template.HTML { return p.set(func() { p.name(s) }) },
		"plots": func(tests []record.Test) (out []template.HTML) {
			for _, x := range draw.Bars(tests) {
				out = append(out, template.HTML(draw.SVG(draw.MarginBar(x, draw.PlainWidth, plotWidth, plotText))))
			}
			return out
		},
		"gauge": func(g *draw.Gauge) template.HTML { return template.HTML(draw.SVG(g.Picture(96, 11))) },
		"heads": func(i int, r outline.Row) bool { return i == 0 && len(r.Cells) > 0 && outline.Plain(r.Cells[0]) != "" },
		"cell": func(i int, r outline.Row) template.HTML {
			if i >= len(r.Cells) {
				return ""
			}
			return p.set(func() { p.spans(r.Cells[i]) })
		},
		"pageAnchor": outline.PageAnchor,
		"bad": func(grade string) bool {
			return grade == "not found" || grade == "no page" || grade == "other revision"
		},
		"file":     p.file,
		"picture":  p.picture,
		"pictures": func() []picture { return p.pictures },
	}
}

// start is the number of an ordered list's first item, "" of another list.
func start(b outline.Block) string {
	if len(b.Blocks) == 0 {
		return ""
	}
	first := strings.TrimSuffix(b.Blocks[0].Label, ".")
	if strings.Trim(first, "0123456789") != "" {
		return ""
	}
	return first
}

// set is what do writes.
func (p *page) set(do func()) template.HTML {
	p.b.Reset()
	do()
	return template.HTML(p.b.String())
}

// reload is the script of a page that is watched.
func reload(path string) string {
	quoted, _ := json.Marshal(path) // a string is marshalled, with no < in it
	return "(" + strings.TrimSpace(watching) + ")(" + string(quoted) + ");"
}

const versionMark = ` data-version="%010d"`

// OfVersion is a page that is watched, as its version.
func OfVersion(page []byte, version int) []byte {
	return bytes.Replace(page, fmt.Appendf(nil, versionMark, 0), fmt.Appendf(nil, versionMark, version), 1)
}

func (p *page) policy() string {
	hash := func(s string) string {
		sum := sha256.Sum256([]byte(s))
		return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
	}
	out := "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'; script-src " + hash(script)
	if p.opt.Events != "" {
		out += " " + hash(reload(p.opt.Events)) + "; connect-src 'self'"
	}
	return out
}

// clip is a running line of the printed page.
func clip(parts ...string) string {
	const most = 90
	r := []rune(words.Visible(words.Join(", ", parts...)))
	if len(r) > most {
		r = append(r[:most], '…')
	}
	return string(r)
}

// shown is text where no elements may be, control and direction characters replaced.
func shown(s string) string {
	return strings.Map(func(r rune) rune {
		if words.Hidden(r) {
			return utf8.RuneError
		}
		return r
	}, s)
}

// file is the address of a cited page, where the page has links to files.
func (p *page) file(c record.Cite) string {
	href, ok := fileURL(p.opt.Base, c.File)
	if ok && c.Counted > 0 {
		href += fmt.Sprintf("#page=%d", c.Counted)
	}
	return href
}

// picture is a picture of cited lines; the page keeps each once and refers to
// it wherever it shows.
type picture struct {
	URI, Label string
	N, W, H    int
}

const (
	pngURI       = "data:image/png;base64,"
	base64Digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/="
)

// picture is that of a citation. Only PNG data is taken, so that a record
// cannot bring in an address or a scripted drawing.
func (p *page) picture(c record.Cite) *picture {
	data, ok := strings.CutPrefix(c.Picture, pngURI)
	if !ok {
		return nil
	}
	q := picture{URI: c.Picture, N: slices.IndexFunc(p.pictures, func(q picture) bool { return q.URI == c.Picture })}
	if q.N >= 0 {
		q = p.pictures[q.N]
	} else {
		head, err := png.DecodeConfig(base64.NewDecoder(base64.StdEncoding, strings.NewReader(data)))
		if err != nil || strings.Trim(data, base64Digits) != "" {
			return nil
		}
		q.N, q.W, q.H = len(p.pictures), head.Width, head.Height
		p.pictures = append(p.pictures, q)
	}
	q.Label = "Cited lines of " + words.Join(" ", c.Source, c.Page) + ": " + cmp.Or(c.Line, c.Quote)
	return &q
}
