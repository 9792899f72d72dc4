package eval

import (
	"context"
	"encoding/base64"
	"errors"
	"fmt"
	"io/fs"
	"math/big"
	"os"
	"sort"
	"strings"

	"guardband/notebook"
	"guardband/notebook/sheet"
	"guardband/units"
)

// Evidence opens the user's own documents, several at a time if there are
// several workers. *sheet.Reader is one.
type Evidence interface {
	Check(ctx context.Context, path string, qs []sheet.Query) (sheet.Info, []sheet.Finding, error)
	Crop(ctx context.Context, path string, page int, boxes, marks []sheet.Box, dpi int) (png []byte, w, h int, err error)
}

func (c *compiler) readSource(b *notebook.Block) {
	if old, ok := c.sources.get(b.ID); ok {
		c.whole(notebook.Err, "source-twice", b.IDText, "source `"+b.ID+"` is noted twice", "", notebook.Related{Pos: old.block.Pos, Message: "first noted here"})
		return
	}
	s := &source{id: b.ID, block: b, at: b.IDText}
	c.sources.put(b.ID, s)
	for _, e := range b.Entries {
		switch v := value(e); e.Label {
		case "title":
			s.title = v
		case "issuer":
			s.issuer = v
		case "revision":
			s.revision = v
		case "date":
			s.date = v
		case "corrects":
			s.corrects, s.correctsText = v, e.Value
		case "retrieved":
			s.retrieved = v
		case "sha256":
			s.digest = strings.ToLower(v)
			if !isDigest(s.digest) {
				c.whole(notebook.Err, "digest-form", e.Value, "a SHA-256 digest is 64 hexadecimal digits", "`guardband sources --write-digests` writes it for you")
				s.digest = ""
			}
		case "first page":
			if q, err := units.ParseLiteral(v); err == nil && q.SI.IsInt() && q.SI.Sign() > 0 {
				s.firstPage = int(q.SI.Num().Int64())
			} else {
				c.whole(notebook.Err, "first-page", e.Value, "`first page` is the count of the page printed 1", "`first page: 3`")
			}
		case "file":
			s.file, s.fileText = v, e.Value
			abs, err := c.book.Resolve(b.Src, v)
			switch {
			case errors.Is(err, fs.ErrNotExist):
				c.whole(notebook.Err, "file-missing", e.Value, "the file of source `"+s.id+"` is not there: "+v, "correct the path, or drop `file:` if the document is not at hand")
				continue
			case err != nil:
				c.whole(notebook.Err, "path-outside", e.Value, "this file is not opened: "+err.Error(), "keep documents inside the folder of the design, or widen it with --root")
				continue
			}
			s.abs = abs
		}
	}
	c.readCommon(b, "source "+b.ID)
}

func isDigest(s string) bool { return len(s) == 64 && strings.Trim(s, "0123456789abcdef") == "" }

// readCites enters the citations of a block's entries.
func (c *compiler) readCites(b *notebook.Block, entries []*notebook.Entry) {
	own := ""
	for _, e := range b.Entries {
		if e.Label == "source" && e.Kind == notebook.Attribute {
			own = value(e)
			if _, ok := c.sources.get(own); !ok {
				c.whole(notebook.Err, "source-unknown", e.Value, "no source is named `"+own+"`", hintNear(own, c.sources.names()))
			}
		}
	}
	c.enterCites(entries, own)
}

func (c *compiler) enterCites(entries []*notebook.Entry, own string) {
	for _, e := range entries {
		for i := range e.Cites {
			k := &e.Cites[i]
			if k.Assumed != "" {
				c.byCite[k] = &citation{cite: k}
				continue
			}
			id := k.Source
			if id == "" {
				if id = own; id == "" {
					c.whole(notebook.Err, "source-missing", k.Text, "this citation names no source", "write `[ID p.6]`, or give the block a `source:`")
					continue
				}
			}
			s, ok := c.sources.get(id)
			if !ok {
				if k.Source != "" {
					c.whole(notebook.Err, "source-unknown", k.Text, "no source is named `"+id+"`", hintNear(id, c.sources.names()))
				}
				continue
			}
			c.enterCite(k, s, e)
		}
		c.enterCites(e.Rows, own)
	}
}

func (c *compiler) enterCite(k *notebook.Cite, s *source, e *notebook.Entry) *citation {
	x := &citation{cite: k, source: s}
	if e != nil && e.Kind == notebook.Definition {
		x.name = e.Name
		x.numbers = statedNumbers(e.RHS.S)
	}
	c.byCite[k] = x
	c.cites = append(c.cites, x)
	s.cites = append(s.cites, x)
	return x
}

func (c *compiler) readProseCites(nodes []*notebook.Node) {
	for _, n := range nodes {
		if n.Kind == notebook.CiteNode && n.Cite != nil {
			if s, ok := c.sources.get(n.Cite.Source); ok {
				c.enterCite(n.Cite, s, nil)
			} else {
				c.whole(notebook.Warn, "source-unknown", n.Src, "no source is named `"+n.Cite.Source+"`", hintNear(n.Cite.Source, c.sources.names()))
			}
		}
		c.readProseCites(n.Children)
	}
}

// citesOf are the citations of an entry.
func (c *compiler) citesOf(e *notebook.Entry) []*citation {
	if e == nil || len(e.Cites) == 0 {
		return nil
	}
	var out []*citation
	for i := range e.Cites {
		if k := c.byCite[&e.Cites[i]]; k != nil && k.cite.Assumed == "" {
			out = append(out, k)
		}
	}
	return out
}

// statedNumbers are the numbers a right-hand side states, as a page would
// print them, with the column each stands for.
func statedNumbers(rhs string) []sheet.Number {
	parts, err := units.Split(rhs)
	if err != nil {
		return nil
	}
	var out []sheet.Number
	add := func(l units.Leaf, column string) {
		if !l.Present() {
			return
		}
		text := rhs[l.Off:l.End]
		for i := 0; i < len(text); {
			if i > 0 && isNameByte(text[i-1]) {
				i++
				continue
			}
			q, end, ok, err := units.ScanLiteral(text, i, signLeads(text[:i]))
			if !ok || err != nil || end <= i {
				i++
				continue
			}
			out = append(out, numberOf(q, column))
			i = end
		}
	}
	add(parts.Single, "")
	add(parts.Lo, "min")
	add(parts.Hi, "max")
	add(parts.Centre, "")
	add(parts.Min, "min")
	add(parts.Typ, "typ")
	add(parts.Max, "max")
	if parts.Shape == units.Range && len(out) == 2 && out[0].Unit == "" {
		out[0].Unit = out[1].Unit
	}
	return out
}

// signLeads says that a sign after this text belongs to a number: nothing
// stands before it that it could be taken from.
func signLeads(before string) bool {
	before = strings.TrimRight(before, " ")
	return before == "" || strings.ContainsRune(":,(", rune(before[len(before)-1]))
}

func isNameByte(b byte) bool {
	return b == '_' || b >= '0' && b <= '9' || b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z' || b >= 0x80
}

func numberOf(q units.Quantity, column string) sheet.Number {
	u := q.Unit.Typed
	if u == "" {
		u = q.Unit.Symbol
	}
	text := strings.TrimSpace(strings.TrimSuffix(q.Text, u))
	return sheet.Number{Text: text, Value: inUnit(q), Unit: u, Column: column}
}

// inUnit is the number of a quantity in the unit it was typed in.
func inUnit(q units.Quantity) float64 {
	v := new(big.Rat).Set(q.SI)
	if q.Unit.Offset != nil {
		v.Sub(v, q.Unit.Offset)
	}
	if q.Unit.Factor != nil && q.Unit.Factor.Sign() != 0 {
		v.Quo(v, q.Unit.Factor)
	}
	return units.Float(v)
}

// readDocuments begins to look at what is cited, document by document, while
// the values and claims are worked out: c.documentsRead waits for it.
func (c *compiler) readDocuments() {
	c.documentsRead = c.beginBatches(len(c.sources.list), 1, func() func(int) {
		return func(i int) {
			if s := c.sources.list[i]; s.abs != "" && s.file != "" {
				c.readDocument(s)
			}
		}
	})
}

func (c *compiler) readDocument(s *source) {
	if _, err := os.Stat(s.abs); err != nil {
		s.err = err
		return
	}
	s.onFile = true
	if c.opt.Evidence == nil {
		return
	}
	qs := make([]sheet.Query, len(s.cites))
	for i, k := range s.cites {
		qs[i] = sheet.Query{From: k.cite.From, To: k.cite.To, Counted: k.cite.Counted, Quote: k.cite.Quote, Numbers: k.numbers, FirstPage: s.firstPage, Name: k.name}
	}
	var found []sheet.Finding
	if s.info, found, s.err = c.opt.Evidence.Check(c.ctx, s.abs, qs); s.err != nil {
		return
	}
	for i, k := range s.cites {
		k.asked, k.found = true, found[i]
	}
}

// checkEvidence opens each document once and asks it about all its citations.
func (c *compiler) checkEvidence() {
	c.documentsRead()
	for _, s := range c.sources.list {
		switch {
		case s.file == "" || s.abs == "":
		case !s.onFile:
			c.whole(notebook.Err, "file-missing", s.fileText, "the file of source `"+s.id+"` is not there: "+s.file, "correct the path, or drop `file:` if the document is not at hand")
		case s.err != nil:
			c.whole(notebook.Err, "document-unreadable", s.fileText, "the file of source `"+s.id+"` cannot be read: "+s.err.Error(), documentHint(s.err))
		case c.opt.Evidence != nil:
			c.tellCites(s)
		}
	}
	for _, s := range c.sources.list {
		if s.corrects != "" {
			c.checkErratum(s)
		}
	}
}

// checkErratum asks a document that corrects others whether it speaks of the
// words they are cited for. A fact it speaks of gets a note: only a person can
// tell whether the fact still stands.
func (c *compiler) checkErratum(e *source) {
	for _, id := range splitList(e.corrects) {
		s, ok := c.sources.get(id)
		if !ok {
			c.whole(notebook.Err, "source-unknown", e.correctsText, "no source is named `"+id+"`", hintNear(id, c.sources.names()))
			continue
		}
		if !e.onFile || e.err != nil || c.opt.Evidence == nil {
			continue
		}
		var asked []*citation
		var qs []sheet.Query
		for _, k := range s.cites {
			for _, words := range []string{k.cite.Quote, sectionWords(k.cite.Section)} {
				if words != "" {
					asked = append(asked, k)
					qs = append(qs, sheet.Query{From: "1", Counted: true, Quote: words})
				}
			}
		}
		if len(qs) == 0 {
			continue
		}
		_, found, err := c.opt.Evidence.Check(c.ctx, e.abs, qs)
		if err != nil {
			continue // told when the document itself was opened
		}
		for i, k := range asked {
			pages := found[i].Elsewhere
			if found[i].Grade == sheet.GradeWords {
				pages = append([]int{1}, pages...)
			}
			if len(pages) == 0 || k.erratum != "" {
				continue
			}
			k.erratum = fmt.Sprintf("%s, which corrects %s, speaks of “%s” on %s", e.id, s.id, qs[i].Quote, countedList(pages))
			c.whole(notebook.Warn, "erratum", k.cite.Text, k.erratum, "read it, and correct the fact if it changed")
		}
	}
}

// sectionWords is how a document names a section of another.
func sectionWords(section string) string {
	if section == "" {
		return ""
	}
	return "section " + section
}

func documentHint(err error) string {
	switch {
	case errors.Is(err, sheet.ErrEncrypted):
		return "keep an unprotected copy beside the notes"
	case errors.Is(err, sheet.ErrNotPDF):
		return "only PDF documents are opened"
	}
	return "fetch the document again"
}

// tellCites turns citations that fail into diagnostics at their place.
func (c *compiler) tellCites(s *source) {
	if s.changed() {
		c.whole(notebook.Warn, "digest-changed", s.fileText, "the file of source `"+s.id+"` is not the one recorded: what rests on it rests on another revision", "check the citations against the new file, then record its digest "+s.info.SHA256)
	}
	for _, k := range s.cites {
		f := k.found
		switch f.Grade {
		case sheet.GradeNotFound:
			msg := fmt.Sprintf("the words “%s” do not stand on %s of %s", k.cite.Quote, k.page(), s.id)
			hint := "quote the words as the page prints them"
			if len(f.Elsewhere) > 0 {
				hint = "they stand on " + countedList(f.Elsewhere)
			}
			c.whole(notebook.Warn, "quote-not-found", k.cite.Text, msg, hint)
		case sheet.GradeNoPage:
			c.whole(notebook.Warn, "page-missing", k.cite.Text, fmt.Sprintf("%s has no %s", s.id, k.page()), fmt.Sprintf("it has %d pages", s.info.Pages))
		case sheet.GradeWords, sheet.GradeNumbers, sheet.GradePage:
			if f.Slip != "" {
				c.whole(notebook.Warn, "number-slip", k.cite.Text, f.Slip, "compare the row and the column on the page")
			} else if len(f.Missing) > 0 {
				c.whole(notebook.Warn, "number-not-found", k.cite.Text, fmt.Sprintf("%s does not stand on %s of %s", strings.Join(f.Missing, ", "), k.page(), s.id), "compare with the page")
			}
		}
	}
}

func countedList(pages []int) string {
	var out []string
	for _, p := range pages[:min(3, len(pages))] {
		out = append(out, fmt.Sprintf("pdf.%d", p))
	}
	return strings.Join(out, ", ")
}

func (s *source) changed() bool {
	return s.digest != "" && s.info.SHA256 != "" && s.digest != s.info.SHA256
}

func (k *citation) sourceID() string {
	if k.source == nil {
		return ""
	}
	return k.source.id
}

// page is the page as cited.
func (k *citation) page() string {
	if k.cite.From == "" {
		return ""
	}
	p := "p."
	if k.cite.Counted {
		p = "pdf."
	}
	p += k.cite.From
	if k.cite.To != "" {
		p += "-" + k.cite.To
	}
	return p
}

// grade is how far the citation was checked.
func (k *citation) grade() string {
	switch {
	case k.source.changed() && (k.found.Grade == sheet.GradeWords || k.found.Grade == sheet.GradeNumbers || k.found.Grade == sheet.GradePage):
		return "other revision"
	case k.asked && k.cite.From == "" && k.cite.Quote == "":
		return "not checked"
	case k.asked:
		return string(k.found.Grade)
	case !k.source.onFile:
		return "no file"
	}
	return "not checked"
}

// failing is why the citation does not bear a pass; nil when it does.
func (k *citation) failing() *OpenPoint {
	p := &OpenPoint{Reason: "citation", Source: k.source.id, Page: k.page()}
	where := k.source.id + " " + k.page()
	switch k.grade() {
	case "other revision":
		p.Text = where + ": the file is not the one recorded, the citation rests on another revision"
		p.Settle = "compare with the new file, then record its digest"
	case string(sheet.GradeNotFound):
		p.Text = where + ": the words “" + k.cite.Quote + "” do not stand there"
		p.Settle = "find the page they stand on"
		if len(k.found.Elsewhere) > 0 {
			p.Settle = "they stand on " + countedList(k.found.Elsewhere)
		}
	case string(sheet.GradeNoPage):
		p.Text = where + ": there is no such page"
		p.Settle = fmt.Sprintf("the document has %d pages", k.source.info.Pages)
	default:
		if k.found.Slip != "" {
			p.Text, p.Settle = where+": "+k.found.Slip, "compare the row and the column on the page"
			return p
		}
		return nil
	}
	return p
}

// record is the citation as the record shows it.
func (k *citation) record(c *compiler) Cite {
	out := Cite{Source: k.source.id, Page: k.page(), Counted: k.found.Page, Printed: k.found.Label, Section: k.cite.Section, Quote: k.cite.Quote,
		Checked: k.grade(), Line: k.found.Line, Position: position(k.cite.Text.Pos(0)), Picture: k.picture, Width: k.width, Height: k.height}
	if k.source.onFile {
		out.File = c.relative(k.source.abs)
	}
	out.Text = gradeText[out.Checked]
	switch problem := k.found.Problem; {
	case problem != "" && out.Checked == string(sheet.GradeNoText):
		out.Text = problem
	case problem != "":
		out.Text += "; " + problem
	}
	if len(k.found.Missing) > 0 && out.Checked != "not found" {
		out.Text += "; not on it: " + strings.Join(k.found.Missing, ", ")
	}
	if k.erratum != "" {
		out.Text += "; " + k.erratum
	}
	if k.cite.Date != "" {
		out.Page = k.cite.Date
	}
	return out
}

var gradeText = map[string]string{
	"words": "quoted words found", "numbers": "numbers found on the page", "page": "the page exists", "no text": "the page has no text layer",
	"no file": "no file at hand", "not found": "not on the page", "no page": "no such page", "not checked": "not checked",
	"other revision": "the file is of another revision",
}

// takePictures crops the cited lines for the record.
func (c *compiler) takePictures() {
	if c.opt.Evidence == nil || c.opt.Pictures == "" || c.opt.Pictures == "off" {
		return
	}
	list := append([]*citation(nil), c.cites...)
	sort.SliceStable(list, func(i, j int) bool { return list[i].source.id < list[j].source.id })
	for _, k := range list {
		if !k.inUse || len(k.found.Boxes) == 0 {
			continue
		}
		png, w, h, err := c.opt.Evidence.Crop(c.ctx, k.source.abs, k.found.Page, k.found.Boxes, k.found.Boxes, 110)
		if err != nil || len(png) == 0 {
			continue // the words are on file; a picture is a convenience
		}
		k.picture = "data:image/png;base64," + base64.StdEncoding.EncodeToString(png)
		k.width, k.height = w, h
	}
}
