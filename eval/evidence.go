package eval

import (
	"cmp"
	"context"
	"encoding/base64"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"

	"guardband/eval/circuit"
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

// readDocuments looks at what is cited, several documents at a time, before
// values are worked out: what a page gives as typical is no promise.
func (c proof) readDocuments() {
	c.each(len(c.sources.List), func(i int) {
		s := c.sources.List[i]
		if s.abs == "" || s.file == "" {
			if s.gone {
				c.replay(s)
			}
			return
		}
		if fault := isolate(func() { c.readDocument(s) }); fault != "" {
			for _, k := range s.cites {
				k.asked = true
				k.found = sheet.Finding{Grade: sheet.GradeNoText, Unread: true, Fault: true, Problem: fault}
			}
		}
	})
	c.sumPages()
}

func (c proof) readDocument(s *source) {
	if _, err := os.Stat(s.abs); err != nil {
		s.gone, s.err = true, err
		c.replay(s)
		return
	}
	s.onFile = true
	if c.opt.Evidence == nil {
		return
	}
	qs := make([]sheet.Query, len(s.cites))
	for i, k := range s.cites {
		qs[i] = k.query()
	}
	var found []sheet.Finding
	if s.info, found, s.err = c.opt.Evidence.Check(c.ctx, s.abs, qs); s.err != nil {
		return
	}
	for i, k := range s.cites {
		k.asked, k.found = true, found[i]
	}
	c.compareCommitted(s)
}

// query is what the document is asked about a citation.
func (k *citation) query() sheet.Query {
	return sheet.Query{From: k.cite.From, To: k.cite.To, Counted: k.cite.Counted, Quote: k.cite.Quote,
		Numbers: k.numbers, Aside: k.aside, FirstPage: k.source.firstPage, Name: k.name}
}

// checkEvidence opens each document once and asks it about all its citations.
func (c proof) checkEvidence() {
	for _, s := range c.sources.List {
		switch {
		case s.gone && s.replayed:
			c.diagnose(notebook.Warn, "file-missing", s.fileText, "the file of source `"+s.id+
				"` is not here: its citations are as the committed evidence says",
				"nobody looked at a page in this run")
			c.tellCites(s)
		case s.gone:
			c.diagnose(notebook.Err, "file-missing", s.fileText, "the file of source `"+s.id+"` is not there: "+s.file, c.missingHint(s))
		case s.file == "" || s.abs == "":
		case s.err != nil:
			c.diagnose(notebook.Err, "document-unreadable", s.fileText, "the file of source `"+s.id+"` cannot be read: "+
				s.err.Error(), documentHint(s.err))
		case c.opt.Evidence != nil:
			c.tellCites(s)
		}
	}
	c.tellCommitted()
	for _, s := range c.sources.List {
		if s.corrects != "" {
			c.checkErratum(s)
		}
	}
}

// missingHint says what to do about a document that is not there.
func (c proof) missingHint(s *source) string {
	switch {
	case c.committed == nil:
		return "correct the path, or drop `file:` if the document is missing"
	case s.digest == "":
		return "note its `sha256`: committed evidence answers for a document of known bytes"
	}
	return "the committed evidence has no document of the noted sha256; write it again where the document is present"
}

// checkErratum asks a document that corrects others whether it speaks of the
// words they are cited for. A fact it speaks of gets a note: only a person can
// tell whether the fact still stands.
func (c proof) checkErratum(e *source) {
	for _, id := range notebook.SplitList(e.corrects) {
		s, ok := c.sources.Get(id)
		if !ok {
			c.diagnose(notebook.Err, "source-unknown", e.correctsText, "there is no source named `"+id+"`", notebook.HintNear(id, c.sources.Names()))
			continue
		}
		if len(s.cites) == 0 || c.opt.Evidence == nil {
			continue
		}
		if e.file == "" {
			c.unreadErratum(e, s, "is missing")
			continue
		}
		if e.replayed {
			c.unreadErratum(e, s, "is not here")
		}
		if !e.onFile || e.err != nil {
			continue // told when the document itself was looked for
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
		info, found, err := c.opt.Evidence.Check(c.ctx, e.abs, qs)
		if err != nil {
			continue // told when the document itself was opened
		}
		if found[0].Grade == sheet.GradeNoText || info.TextPages >= 0 && info.TextPages < info.Pages {
			c.unreadErratum(e, s, "has pages without text, which cannot be searched")
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
			c.diagnose(notebook.Warn, "erratum", k.cite.Text, k.erratum, "read it, and correct the fact if it changed")
		}
	}
}

// unreadErratum tells that nobody looked whether a document speaks of what
// another is cited for.
func (c proof) unreadErratum(e, s *source, why string) {
	c.diagnose(notebook.Warn, "erratum-unread", e.correctsText, e.id+", which corrects "+s.id+", "+why+
		": whether it speaks of what "+s.id+" is cited for is not known", "read it, and keep a copy with text beside the notes")
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

// sumPages asks of each entry what none of the pages it cites shows: one may
// give the minimum and another the maximum. Nothing is missed where one of them
// could not be read by the program, or was read by a person.
func (c proof) sumPages() {
	for _, k := range c.cites {
		if k.entry == nil || len(k.entry.Cites) == 0 || c.byCite[&k.entry.Cites[0]] != k {
			continue
		}
		all := c.citesOf(k.entry)
		missing, absent, whole := k.found.Missing, k.found.Absent, len(all) == len(k.entry.Cites)
		nowhere := k.nowhere()
		for _, o := range all {
			whole = whole && o.looked()
			if o != k {
				missing, absent, nowhere = common(missing, o.found.Missing), common(absent, o.found.Absent), common(nowhere, o.nowhere())
			}
		}
		for _, o := range all {
			o.missing, o.head = common(o.found.Missing, missing), c.headless(o)
		}
		if !whole {
			continue
		}
		k.absent = absent
		for _, o := range all {
			for _, u := range o.found.Unlike {
				if k.unlike == "" && slices.Contains(nowhere, u.Number) {
					k.unlike = u.Number + " is not on " + o.page() + " of " + o.source.id + ": " + u.Text
				}
			}
		}
	}
}

// nowhere lists the numbers that the page does not show: no digit of them, or
// with another unit.
func (k *citation) nowhere() []string {
	out := slices.Clip(k.found.Absent)
	for _, u := range k.found.Unlike {
		out = append(out, u.Number)
	}
	return out
}

// shownTypical says which number of an entry its page gives as typical, "" if
// none: a bare number, or a tolerance.
func (c proof) shownTypical(e *notebook.Entry) (*citation, string) {
	for _, k := range c.citesOf(e) {
		if len(k.found.Typical) == 0 || !k.looked() {
			continue
		}
		numbers, tolerances := statedNumbers(e.RHS.S)
		if len(tolerances) > 0 {
			numbers = tolerances
		}
		for _, n := range numbers {
			if s := numberText(n); slices.Contains(k.found.Typical, s) {
				return k, s
			}
		}
	}
	return nil, ""
}

// asShown takes a bare number or a tolerance that its page gives as typical for
// a typical value.
func (c proof) asShown(e *notebook.Entry, cols columns) columns {
	if cols.shape != units.Single && cols.shape != units.Deviated || cols.typ == nil {
		return cols
	}
	k, number := c.shownTypical(e)
	if k == nil {
		return cols
	}
	c.diagnose(notebook.Warn, "typical-value", k.cite.Text, number+" is on "+k.page()+" of "+k.source.id+" as a typical value alone: it counts as typ",
		"write `typ`, and `max` or `min` if the sheet states one")
	cols.shape, cols.lo, cols.hi = units.Columns, nil, nil
	return cols
}

// headless lists the conditions in the head of the table that the note of a
// fact lacks. A range that is the part's noted operating range is judged there.
func (c proof) headless(k *citation) (out []string) {
	if k.entry == nil || k.entry.Section == "" || !k.looked() {
		return nil
	}
	for _, h := range k.found.Head {
		noted := circuit.SameSymbol(h.Symbol, k.entry.Name) || circuit.SameSymbol(h.Symbol, k.entry.RefName)
		for i := range k.entry.Conds {
			noted = noted || circuit.SameSymbol(k.entry.Conds[i].Name, h.Symbol) || strings.Contains(k.entry.Conds[i].Flag, h.Symbol)
		}
		if !noted && !c.operatingRange(k, h) && !slices.Contains(out, h.Text) {
			out = append(out, h.Text)
		}
	}
	return out
}

// operatingRange says whether a condition is an operating range that the same
// source is cited for: the same two numbers.
func (c proof) operatingRange(k *citation, h sheet.HeadCondition) bool {
	want, _ := statedNumbers(h.Value)
	for _, o := range k.source.cites {
		if o.entry == nil || o.entry.Section != "operating" || !circuit.SameSymbol(o.entry.Name, h.Symbol) || len(o.entry.Conds) > 0 {
			continue
		}
		if got, _ := statedNumbers(o.entry.RHS.S); slices.EqualFunc(want, got, func(a, b sheet.Number) bool { return a.Value == b.Value }) {
			return len(want) > 0
		}
	}
	return false
}

// looked says that the program has read the cited page to the end, and nobody
// has taken that upon himself.
func (k *citation) looked() bool {
	switch k.found.Grade {
	case sheet.GradeWords, sheet.GradeNumbers, sheet.GradePage:
		return k.asked && k.cite.ReadBy == "" && k.cite.From+k.cite.Quote != ""
	}
	return false
}

// common gives what stands in both lists.
func common(a, b []string) (out []string) {
	for _, s := range a {
		if slices.Contains(b, s) {
			out = append(out, s)
		}
	}
	return out
}

// tellCites turns citations that fail into diagnostics at their place.
func (c proof) tellCites(s *source) {
	if s.changed() {
		c.diagnose(notebook.Warn, "digest-changed", s.fileText, "the file of source `"+s.id+
			"` is not the one recorded: what rests on it rests on another revision",
			"check the citations against the new file, then record its digest "+s.info.SHA256)
	}
	for _, k := range s.cites {
		f := k.found
		if k.byPerson() || k.cite.From+k.cite.Quote == "" { // a section or a day alone is not looked up
			continue
		}
		if f.Fault {
			c.tellFault(k.cite.Text, k.page()+" of "+s.id, f.Problem)
		} else if f.Unread {
			c.diagnose(notebook.Warn, "page-unread", k.cite.Text, k.page()+" of "+s.id+" cannot be read: "+f.Problem,
				"read it yourself: "+k.readHint())
		}
		switch f.Grade {
		case sheet.GradeNotFound:
			msg := fmt.Sprintf("the words “%s” are not on %s of %s%s", k.cite.Quote, k.page(), s.id, k.hiddenText())
			hint := "quote the words as the page prints them"
			if len(f.Elsewhere) > 0 {
				hint = "they are on " + countedList(f.Elsewhere)
			}
			c.diagnose(notebook.Warn, "quote-not-found", k.cite.Text, msg, hint)
		case sheet.GradeNoPage:
			c.diagnose(notebook.Warn, "page-missing", k.cite.Text, fmt.Sprintf("%s has no %s", s.id, k.page()),
				fmt.Sprintf("it has %d pages", s.info.Pages))
		case sheet.GradeWords, sheet.GradeNumbers, sheet.GradePage:
			if f.Slip != "" {
				c.diagnose(notebook.Warn, "number-slip", k.cite.Text, f.Slip, "compare the row and the column on the page")
			} else if len(k.absent) > 0 || k.unlike != "" {
				c.diagnose(notebook.Warn, "number-not-found", k.cite.Text, k.absentText()+": what would pass on it is open", k.readHint())
			} else if len(k.head) > 0 {
				c.diagnose(notebook.Warn, "head-condition", k.cite.Text, k.headText(), k.headHint())
			} else if len(k.missing) > 0 {
				c.diagnose(notebook.Warn, "number-not-found", k.cite.Text, strings.Join(k.missing, ", ")+
					": whether it is on "+k.page()+" of "+s.id+" in this row and unit cannot be decided", k.readHint())
			}
		}
	}
}

// renderExcerpts crops the cited lines for the record.
func (c proof) renderExcerpts() {
	if c.opt.Evidence == nil || c.opt.Pictures == "" || c.opt.Pictures == "off" {
		return
	}
	judge(c).markEvidence()
	bySource := func(a, b *citation) int { return cmp.Compare(a.source.id, b.source.id) }
	for _, k := range slices.SortedStableFunc(slices.Values(c.cites), bySource) {
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
