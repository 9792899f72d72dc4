// Package html writes a Record as one HTML page: no request to anywhere, no
// script needed, every text inert. The page follows the order in which a
// design review reads (IEC 61160, IEEE 1028): what it is, cautions, what needs
// attention, the notes as written, parts, budgets, the verification matrix,
// what the record takes for granted, sign-off.
package html

import (
	"bufio"
	"errors"
	"fmt"
	"io"

	"guardband/eval"
)

// Options of a page. The zero value is a full page without links to files.
type Options struct {
	// Only "attention" leaves the two-page version for a meeting: title,
	// cautions, counts, what needs attention and what to look up.
	Only string
	// Base is the path from the page to the folder of the root notebook, with
	// forward slashes ("..", "../board"). With it file names become links;
	// "." is the page's own folder.
	Base string
	// Notes is the path from the page to the folder that the paths of
	// notebooks in the Record start from; "" is Base. Citations' files start
	// from the root notebook's folder, notebooks' paths from where the program
	// was started.
	Notes string
	// Events is the path of an event stream on the page's own origin; with it
	// the page reloads itself on each event. "" allows no connection at all.
	Events string
}

// ErrOnly says that Options.Only names no version of the page.
var ErrOnly = errors.New(`the page has the versions "" and "attention"`)

// Write writes the page in UTF-8. It fails on an unknown version and where w
// fails; the same Record and Options give the same bytes.
func Write(w io.Writer, r *eval.Record, opt Options) error {
	if opt.Only != "" && opt.Only != "attention" {
		return fmt.Errorf("%w, not %q", ErrOnly, opt.Only)
	}
	p := newPage(bufio.NewWriterSize(w, 1<<16), r, opt)
	p.head()
	p.title()
	p.cautions()
	p.summary()
	if opt.Only == "attention" {
		p.attention()
		p.errors()
		p.lookUp()
		p.actions()
		p.limits()
	} else {
		p.contents()
		p.sections()
	}
	p.foot()
	if err := p.w.Flush(); err != nil {
		return fmt.Errorf("writing the HTML record: %w", err)
	}
	return nil
}

// sections writes the body in the order of the contents.
func (p *page) sections() {
	for _, s := range p.plan {
		s.write()
	}
}

// section is one entry of the contents.
type section struct {
	id, name string
	write    func()
}

// planned lists the sections that have something to show, numbered in order.
func (p *page) planned() []section {
	r := p.r
	all := []struct {
		section
		show bool
	}{
		{section{"attention", "Needs attention", p.attention}, true},
		{section{"errors", "Errors and warnings of the notebook", p.errors}, len(r.Diagnostics) > 0},
		{section{"notes", "The notes", p.notes}, len(r.Content)+len(r.Values) > 0},
		{section{"checks", "Built-in checks", p.checks}, p.unplaced() > 0},
		{section{"parts", "Parts", p.parts}, len(r.Parts) > 0 || len(r.PartsList) > 0 || len(r.Placements) > 0},
		{section{"budgets", "Budgets, shortlists, readings", p.budgets}, len(r.Budgets)+len(r.Shortlists)+len(r.Readings) > 0},
		{section{"matrix", "Verification matrix", p.matrix}, len(r.Claims) > 0},
		{section{"requirements", "Requirements", p.requirements}, len(r.Requirements) > 0},
		{section{"evidence", "From page to claim", p.evidence}, len(p.pages()) > 0},
		{section{"look-up", "To look up", p.lookUp}, len(r.LookUp) > 0},
		{section{"assumptions", "Assumptions", p.assumptions}, len(r.Assumptions) > 0},
		{section{"waivers", "Waivers", p.waivers}, p.any(func(c *eval.Claim) bool { return c.Waiver != nil })},
		{section{"actions", "Review and actions", p.actions}, len(r.Review.Actions)+len(r.Review.Participants) > 0},
		{section{"bring-up", "Bring-up table", p.bringUp}, len(p.windows()) > 0},
		{section{"sources", "Documents", p.sources}, len(r.Sources)+len(r.Design.Notebooks) > 0},
		{section{"sign-off", "Sign-off", p.signOff}, true},
		{section{"limits", "Limits of this record", p.limits}, true},
	}
	var out []section
	for _, s := range all {
		if s.show {
			out = append(out, s.section)
		}
	}
	return out
}

func (p *page) any(f func(*eval.Claim) bool) bool {
	for i := range p.r.Claims {
		if f(&p.r.Claims[i]) {
			return true
		}
	}
	return false
}
