package sheet

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sort"
)

// Bounds on the search for words that do not stand where they are cited.
const (
	maxElsewhere = 12   // pages named
	wholeSearch  = 2000 // documents up to so many pages are searched whole
	nearSearch   = 250  // pages to either side in longer ones
)

// Check answers every query about one document. A document that cannot be
// opened is an error (see Inspect); a page that cannot be read is a Finding.
func (l *Reader) Check(ctx context.Context, path string, qs []Query) (Info, []Finding, error) {
	f, err := l.identify(path)
	if err != nil {
		return Info{TextPages: -1}, nil, err
	}
	c := l.content(f.sha)
	c.mu.Lock()
	defer c.mu.Unlock()
	h, err := l.header(ctx, f, c)
	if err != nil {
		return Info{SHA256: f.sha, TextPages: -1}, nil, err
	}
	k := checker{lib: l, ctx: ctx, file: f, content: c, head: h, views: map[int]*view{}, unread: map[int]error{}}
	findings := make([]Finding, len(qs))
	if err := k.lookAt(qs); err != nil {
		return l.info(f, c), nil, err
	}
	for i, q := range qs {
		err := onPage(0, func() (err error) { findings[i], err = k.check(q); return err })
		var fault *pageFault
		if errors.As(err, &fault) {
			findings[i], err = Finding{Grade: GradeNoText, Unread: true, Fault: true, Problem: fault.text}, nil
		}
		if err != nil {
			return l.info(f, c), nil, err
		}
	}
	return l.info(f, c), findings, nil
}

// checker answers the queries of one call.
type checker struct {
	lib     *Reader
	ctx     context.Context
	file    file
	content *content
	head    *header
	views   map[int]*view // cited pages
	symbols int           // whether the document names its symbols: 1, -1, 0 not looked yet
	unread  map[int]error // those of which it cannot be told what is seen on them
}

func (k *checker) view(n int) (*view, error) {
	if v := k.views[n]; v != nil || k.unread[n] != nil {
		return v, k.unread[n]
	}
	p, err := k.lib.page(k.ctx, k.file, k.content, n)
	if err != nil {
		return nil, err
	}
	v := newView(p)
	k.views[n] = v
	return v, nil
}

// check answers one query. Its error is that of the context or of the machine.
func (k *checker) check(q Query) (Finding, error) {
	pages := cited(q, k.head)
	if q.From == "" && q.Quote != "" { // no page: wherever the words stand
		f, err := k.elsewhere(q, Finding{Grade: GradeNotFound}, nil)
		if pages = f.Elsewhere; err != nil || len(pages) == 0 {
			return f, err
		}
	}
	if len(pages) == 0 {
		return k.elsewhere(q, Finding{Grade: GradeNoPage}, nil)
	}
	f := Finding{Page: pages[0], Label: k.head.label(pages[0])}
	if q.From == "" {
		f.Elsewhere = pages
	}
	var views []*view
	blind := false // some cited page may show what cannot be read
	for _, n := range pages {
		v, err := k.view(n)
		switch {
		case err != nil && !lasting(err):
			return f, err
		case err != nil:
			f.Problem, f.Unread, blind = err.Error(), true, true
		case len(v.page.Lines) > 0 || v.hidden:
			views = append(views, v)
		default:
			blind = true
		}
	}
	if len(views) == 0 {
		f.Grade = GradeNoText
		return f, nil
	}
	f, err := k.judge(q, f, views, blind)
	for _, v := range views {
		f.Hidden = f.Hidden || v.hidden
		f.Layer = f.Layer || len(v.layer) > 0 && slices.ContainsFunc(v.bearing(q), func(at place) bool { return v.layer[at] })
	}
	return f, err
}

// judge grades a query on the readable pages it cites.
func (k *checker) judge(q Query, f Finding, views []*view, blind bool) (Finding, error) {
	want := make([]wanted, len(q.Numbers))
	for i, n := range q.Numbers {
		want[i] = newWanted(n)
	}
	aside := make([]wanted, len(q.Aside))
	for i, n := range q.Aside {
		aside[i] = newWanted(n)
	}
	unread := f.Problem // of a cited page that cannot be read
	k.missing(&f, want, views, blind)
	for _, w := range aside {
		if !blind && w.Value != 0 && absent(w, views) && !anyHides(w, views) {
			f.Absent = append(f.Absent, w.String())
		}
	}
	quote := foldQuote(q.Quote)
	if quote.text == "" {
		f.Grade = GradeNumbers
		if len(want) == 0 || len(f.Missing) > 0 {
			f.Grade = GradePage
		}
		if f.Problem != unread {
			f.Grade = GradeNoText
		}
		k.locate(&f, views, want, nil)
		k.place(&f, rowsMeant(q, views, nil), views, want, aside, blind)
		return f, nil
	}
	var found []sighting
	for _, v := range views {
		for _, s := range findQuote(v.page, v.text(), &quote) {
			found = append(found, sighting{v, s})
		}
	}
	if len(found) == 0 {
		f.Grade = GradeNotFound
		for _, v := range views {
			if f.Problem == "" && v.mayHideWords(q.Quote) {
				f.Problem = fmt.Sprintf("page %d does not say which characters some of its type shows: the words may be on it", v.page.Number)
			}
		}
		if f.Problem != "" {
			f.Grade = GradeNoText // the words may stand on the page that cannot be read
		}
		pages := make([]int, len(views))
		for i, v := range views {
			pages[i] = v.page.Number
		}
		return k.elsewhere(q, f, pages)
	}
	f.Grade = GradeWords
	if f.Problem != unread { // a number may be hidden: that the words stand there is not enough
		f.Grade = GradeNoText
	}
	k.locate(&f, views, want, found)
	k.place(&f, rowsMeant(q, views, found), views, want, aside, blind)
	return f, nil
}

// place says of the numbers whether they stand where the note puts them.
func (k *checker) place(f *Finding, rows []tableRow, views []*view, want, aside []wanted, blind bool) {
	f.Slip = slip(views, want, rows)
	if len(want) > 0 {
		f.Head = headsOf(settled(statingRows(rows, want)))
	}
	all := append(want[:len(want):len(want)], aside...)
	if !blind {
		f.Unlike = k.unlike(rows, views, all)
	}
	for _, w := range all {
		if typical(w, rows, views) {
			f.Typical = append(f.Typical, w.String())
		}
	}
}

// missing lists the numbers that do not stand on the pages. A number that a
// glyph without a name may hide is not missed but a problem.
func (k *checker) missing(f *Finding, want []wanted, views []*view, blind bool) {
	for _, w := range want {
		found, hidden := false, 0
		for _, v := range views {
			found = found || len(v.find(w)) > 0
			if hidden == 0 && v.mayHide(w) {
				hidden = v.page.Number
			}
		}
		switch {
		case found:
		case hidden > 0:
			f.Problem = fmt.Sprintf("page %d does not say which characters some of its type shows: whether %s is on it cannot be decided", hidden, w)
		default:
			f.Missing = append(f.Missing, w.String())
			if !blind && absent(w, views) {
				f.Absent = append(f.Absent, w.String())
			}
		}
	}
}

func anyHides(w wanted, views []*view) bool {
	return slices.ContainsFunc(views, func(v *view) bool { return v.mayHide(w) })
}

// elsewhere looks for the quoted words on other pages than the cited ones.
func (k *checker) elsewhere(q Query, f Finding, pages []int) (Finding, error) {
	quote := foldQuote(q.Quote)
	if quote.text == "" {
		return f, nil
	}
	skip := map[int]bool{}
	for _, n := range pages {
		skip[n] = true
	}
	near := f.Page
	for _, n := range k.order(near) {
		if skip[n] {
			continue
		}
		p, err := k.lib.fetch(k.ctx, k.file, k.content, n)
		if err != nil {
			if !lasting(err) {
				return f, err
			}
			continue
		}
		text := foldPage(p)
		if len(findQuote(p, &text, &quote)) > 0 {
			if f.Elsewhere = append(f.Elsewhere, n); len(f.Elsewhere) == maxElsewhere {
				break
			}
		}
	}
	return f, nil
}

// order lists the pages to search, nearest first.
func (k *checker) order(near int) []int {
	lo, hi := 1, k.head.Pages
	if hi > wholeSearch {
		lo, hi = max(1, near-nearSearch), min(hi, max(near, 1)+nearSearch)
	}
	var pages []int
	for n := lo; n <= hi; n++ {
		pages = append(pages, n)
	}
	distance := func(n int) int {
		if n < near {
			return near - n
		}
		return n - near
	}
	if near > 0 {
		sort.SliceStable(pages, func(i, j int) bool { return distance(pages[i]) < distance(pages[j]) })
	}
	return pages
}
