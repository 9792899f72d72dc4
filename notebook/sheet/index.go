package sheet

import (
	"context"
	"math"
	"sort"
	"strconv"
	"strings"
	"unicode"
)

// wordIndex says on which pages of a document the words and numbers stand.
type wordIndex struct {
	textPages int
	terms     map[string][]int32 // counted pages, ascending
}

const indexEntry = "index"

// knownIndex gives the index if it is in memory or in the store. The caller
// holds c.mu.
func (l *Reader) knownIndex(f file, c *content) *wordIndex {
	if c.index == nil {
		if d, ok := l.store.load(f.sha, indexEntry); ok {
			if x, err := decodeIndex(d); err == nil {
				c.index = x
			}
		}
	}
	return c.index
}

// Index reads every page of a document and keeps where its words and numbers
// stand. It is quick when that was done before. Errors: those of Inspect.
func (l *Reader) Index(ctx context.Context, path string) (Info, error) {
	f, err := l.identify(path)
	if err != nil {
		return Info{TextPages: -1}, err
	}
	c := l.content(f.sha)
	c.mu.Lock()
	defer c.mu.Unlock()
	if _, err := l.header(ctx, f, c); err != nil {
		return Info{SHA256: f.sha, TextPages: -1}, err
	}
	if _, err := l.indexed(ctx, f, c); err != nil {
		return Info{SHA256: f.sha, Pages: c.head.Pages, TextPages: -1}, err
	}
	return l.info(f, c), nil
}

// indexed gives the index, made if need be. The caller holds c.mu and has read
// the header.
func (l *Reader) indexed(ctx context.Context, f file, c *content) (*wordIndex, error) {
	if x := l.knownIndex(f, c); x != nil {
		return x, nil
	}
	b := newIndexer()
	err := l.each(ctx, f, c, func(p *Page, err error) error {
		if err == nil { // a page with a fault is found no more than one that is damaged
			_ = onPage(p.Number, func() error { b.add(newView(p)); return nil })
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	l.keepIndex(f, c, b)
	return c.index, nil
}

func (l *Reader) keepIndex(f file, c *content, b *indexer) {
	if c.index == nil {
		c.index = b.x
		l.store.save(f.sha, indexEntry, encodeIndex(b.x))
	}
}

// indexer collects the terms of pages given in ascending order.
type indexer struct{ x *wordIndex }

func newIndexer() *indexer { return &indexer{&wordIndex{terms: map[string][]int32{}}} }

func (b *indexer) add(v *view) {
	p := v.page
	if len(p.Lines) == 0 {
		return
	}
	b.x.textPages++
	page := int32(p.Number)
	put := func(term string) {
		list := b.x.terms[term]
		if n := len(list); n == 0 || list[n-1] != page {
			b.x.terms[term] = append(list, page)
		}
	}
	for _, l := range p.Lines {
		for _, w := range l.Words {
			for _, t := range wordTerms(w.Text) {
				put(t)
			}
		}
	}
	for _, t := range v.tokens() {
		for _, m := range v.measures(t) {
			put(numberTerm(t.value*m.factor, m.kind))
		}
	}
}

// measures gives the units that a number on the page may have; a bare number
// counts as bare.
func (v *view) measures(t token) []measure {
	if t.sure {
		return []measure{t.unit}
	}
	out := []measure{{factor: 1}}
	seen := map[measure]bool{}
	for _, u := range v.units {
		if !seen[u.m] && v.mayMean(t, u) {
			seen[u.m] = true
			out = append(out, u.m)
		}
	}
	return out
}

// wordTerms cuts a word into what it is searched by: runs of letters and
// digits, in small letters.
func wordTerms(s string) []string {
	return strings.FieldsFunc(strings.ToLower(foldString(s)), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// numberTerm spells a number and what it measures, to nine digits, without sign.
func numberTerm(v float64, kind string) string {
	return "#" + strconv.FormatFloat(math.Abs(v), 'e', 8, 64) + "|" + kind
}

func encodeIndex(x *wordIndex) *encoder {
	terms := make([]string, 0, len(x.terms))
	for t := range x.terms {
		terms = append(terms, t)
	}
	sort.Strings(terms)
	e := &encoder{}
	e.int(x.textPages)
	e.uint(uint64(len(terms)))
	for _, t := range terms {
		e.string(t)
		e.uint(uint64(len(x.terms[t])))
		last := int32(0)
		for _, p := range x.terms[t] {
			e.uint(uint64(p - last))
			last = p
		}
	}
	return e
}

func decodeIndex(d *decoder) (*wordIndex, error) {
	x := &wordIndex{textPages: d.int()}
	n := d.count()
	x.terms = make(map[string][]int32, n)
	for range n {
		t := d.string()
		pages := make([]int32, 0, 1)
		last := int32(0)
		for range d.count() {
			last += int32(d.uint())
			pages = append(pages, last)
		}
		x.terms[t] = pages
	}
	return x, d.done()
}
