package eval

import (
	"errors"
	"io/fs"
	"strings"

	"guardband/notebook"
	"guardband/units"
)

func (c reader) readSource(b *notebook.Block) {
	if old, ok := c.sources.Get(b.ID); ok {
		c.diagnose(notebook.Err, "source-twice", b.IDText, "source `"+b.ID+"` is noted twice", "",
			notebook.Related{Pos: old.block.Pos, Message: "first noted here"})
		return
	}
	s := &source{id: b.ID, block: b, at: b.IDText}
	c.sources.Enter(b.ID, s)
	for _, e := range b.Entries {
		v := e.Trimmed()
		if at := map[string]*string{"title": &s.title, "issuer": &s.issuer, "revision": &s.revision, "date": &s.date,
			"retrieved": &s.retrieved}[e.Label]; at != nil {
			*at = v
		}
		switch e.Label {
		case "corrects":
			if s.corrects != "" {
				v = s.corrects + ", " + v
			}
			s.corrects, s.correctsText = v, e.Value
		case "sha256":
			s.digest = strings.ToLower(v)
			if !isDigest(s.digest) {
				c.diagnose(notebook.Err, "digest-form", e.Value, "a SHA-256 digest is 64 hexadecimal digits",
					"`guardband sources --write-digests` writes it for you")
				s.digest = ""
			}
		case "first page":
			if q, err := units.ParseLiteral(v); err == nil && q.SI.IsInt() && q.SI.Sign() > 0 {
				s.firstPage = int(q.SI.Num().Int64())
			} else {
				c.diagnose(notebook.Err, "first-page", e.Value, "`first page` is the count of the page printed 1", "`first page: 3`")
			}
		case "file":
			s.file, s.fileText = v, e.Value
			abs, err := c.book.Document(b.Src, v)
			switch {
			case errors.Is(err, fs.ErrNotExist):
				s.gone = true // told in checkEvidence
				continue
			case err != nil:
				c.diagnose(notebook.Err, "path-outside", e.Value, "this file is not opened: "+err.Error(),
					"keep documents inside the folder of the design, or widen it with --root")
				continue
			}
			s.abs = abs
		}
	}
	c.readCommon(b, "source "+b.ID)
}

func isDigest(s string) bool { return len(s) == 64 && strings.Trim(s, "0123456789abcdef") == "" }

// readCites enters the citations of a block's entries.
func (c reader) readCites(b *notebook.Block, entries []*notebook.Entry) {
	own := ""
	for _, e := range b.Entries {
		if e.Label == "source" && e.Kind == notebook.Attribute {
			own = e.Trimmed()
			if _, ok := c.sources.Get(own); !ok {
				c.diagnose(notebook.Err, "source-unknown", e.Value, "there is no source named `"+own+"`", notebook.HintNear(own, c.sources.Names()))
			}
		}
	}
	c.enterCites(entries, own)
}

func (c reader) enterCites(entries []*notebook.Entry, own string) {
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
					c.diagnose(notebook.Err, "source-missing", k.Text, "this citation names no source",
						"write `[ID p.6]`, or give the block a `source:`")
					continue
				}
			}
			s, ok := c.sources.Get(id)
			if !ok {
				if k.Source != "" {
					c.diagnose(notebook.Err, "source-unknown", k.Text, "there is no source named `"+id+"`", notebook.HintNear(id, c.sources.Names()))
				}
				continue
			}
			c.enterCite(k, s, e)
		}
		c.enterCites(e.Rows, own)
	}
}

func (c reader) enterCite(k *notebook.Cite, s *source, e *notebook.Entry) *citation {
	x := &citation{cite: k, source: s, entry: e}
	if on, err := notebook.ParseDate(k.ReadOn); err == nil && c.notYet(on) {
		c.diagnose(notebook.Warn, "date-ahead", k.Text, "this page is said to be read after the day of this run, "+
			c.today.String()+": nobody can have read it yet", "correct the date")
		unread := *k
		unread.ReadBy, unread.ReadOn = "", ""
		x.cite = &unread
	}
	if e != nil {
		x.name = e.Name
		x.numbers, x.aside = notedNumbers(e)
	}
	c.byCite[k] = x
	c.cites = append(c.cites, x)
	s.cites = append(s.cites, x)
	return x
}

// readProse enters the citations in prose and notes where it prints values and
// verdicts.
func (c reader) readProse(nodes []*notebook.Node) {
	for _, n := range nodes {
		switch {
		case n.Kind == notebook.PrintValue || n.Kind == notebook.PrintVerdict:
			c.prints = append(c.prints, n)
		case n.Kind == notebook.CiteNode && n.Cite != nil:
			if s, ok := c.sources.Get(n.Cite.Source); ok {
				c.enterCite(n.Cite, s, nil)
			} else {
				c.diagnose(notebook.Warn, "source-unknown", n.Src, "there is no source named `"+n.Cite.Source+"`",
					notebook.HintNear(n.Cite.Source, c.sources.Names()))
			}
		}
		c.readProse(n.Children)
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

func (s *source) changed() bool {
	return s.digest != "" && s.info.SHA256 != "" && s.digest != s.info.SHA256
}
