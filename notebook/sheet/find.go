package sheet

import (
	"context"
	"sort"
	"strings"
)

// Hit is a line that answers a search.
type Hit struct {
	Page  int
	Label string
	Line  string
	Boxes []Box
	Whole bool // the words stand there one after the other, as asked
}

// Find looks for words and numbers in a document. A number with a unit finds
// the same quantity in any prefix: 250 mV finds 0.25 V. Lines that hold all
// that is asked come first, those with the words in order before the others,
// then by page; at most limit are given. Errors: those of Inspect.
func (l *Reader) Find(ctx context.Context, path, words string, limit int) ([]Hit, error) {
	f, err := l.identify(path)
	if err != nil {
		return nil, err
	}
	c := l.content(f.sha)
	c.mu.Lock()
	defer c.mu.Unlock()
	if _, err := l.header(ctx, f, c); err != nil {
		return nil, err
	}
	x, err := l.indexed(ctx, f, c)
	if err != nil {
		return nil, err
	}
	ask := parseSearch(words)
	var hits []Hit
	for _, n := range x.pages(ask) {
		p, err := l.page(ctx, f, c, n)
		if err != nil {
			if !lasting(err) {
				return nil, err
			}
			continue
		}
		err = onPage(n, func() error {
			for _, h := range newView(p).hits(ask) {
				h.Label = c.head.label(n)
				hits = append(hits, h)
			}
			return nil
		})
		if err != nil {
			return nil, err
		}
		if len(hits) >= 20*max(limit, 1) {
			break
		}
	}
	sort.SliceStable(hits, func(i, j int) bool { return hits[i].Whole && !hits[j].Whole })
	return hits[:min(len(hits), max(limit, 0))], nil
}

// search is what is asked: words, and numbers with their units.
type search struct {
	phrase folded
	words  []string
	nums   []wanted
}

// parseSearch reads the words as if they stood on a page, so that numbers are
// understood the same way.
func parseSearch(s string) search {
	a := search{phrase: foldQuote(s)}
	var cells []cellWord
	x := 0.0
	for _, w := range strings.Fields(s) {
		width := 5 * float64(len(w))
		cells = append(cells, cellWord{text: w, size: 10, r: rect{x, 0, x + width, 8}})
		x += width + 3
	}
	g := &grid{rows: []row{{words: cells}}}
	taken := map[int]bool{}
	for _, t := range g.rowTokens(0) {
		a.nums = append(a.nums, wanted{Number: Number{Value: t.value}, m: measureOrBare(t), known: true})
		for i := t.first; i <= t.last; i++ {
			taken[i] = true
		}
	}
	for i, w := range cells {
		if !taken[i] {
			a.words = append(a.words, wordTerms(w.text)...)
		}
	}
	return a
}

func measureOrBare(t token) measure {
	if t.sure {
		return t.unit
	}
	return measure{factor: 1}
}

// pages gives the pages that hold everything asked.
func (x *wordIndex) pages(a search) []int {
	var lists [][]int32
	for _, w := range a.words {
		lists = append(lists, x.terms[w])
	}
	for _, n := range a.nums {
		lists = append(lists, x.terms[numberTerm(n.Value*n.m.factor, n.m.kind)])
	}
	if len(lists) == 0 {
		return nil
	}
	count := map[int32]int{}
	for _, list := range lists {
		for _, p := range list {
			count[p]++
		}
	}
	var out []int
	for p, n := range count {
		if n == len(lists) {
			out = append(out, int(p))
		}
	}
	sort.Ints(out)
	return out
}

// hits gives the rows of a page that hold everything asked.
func (v *view) hits(a search) []Hit {
	whole := map[int]bool{}
	for _, s := range findQuote(v.page, v.text(), &a.phrase) {
		whole[v.grid().rowOf(s.words[0])] = true
	}
	var out []Hit
	for i := range v.grid().rows {
		if boxes, ok := v.rowHolds(i, a); ok || whole[i] {
			out = append(out, Hit{Page: v.page.Number, Line: v.grid().rows[i].text(), Boxes: boxes, Whole: whole[i]})
		}
	}
	return out
}

// rowHolds says whether a row holds all words and numbers, and where.
func (v *view) rowHolds(i int, a search) ([]Box, bool) {
	var boxes []Box
	ok := true
	words := v.grid().rows[i].words
	for _, want := range a.words {
		found := false
		for _, w := range words {
			for _, t := range wordTerms(w.text) {
				if t == want {
					boxes = append(boxes, v.page.Lines[w.at.line].Words[w.at.word].Box)
					found = true
					break
				}
			}
		}
		ok = ok && found
	}
	for _, n := range a.nums {
		found := false
		for _, t := range v.find(n) {
			if t.row == i {
				boxes, found = append(boxes, v.tokenBox(t)), true
			}
		}
		ok = ok && found
	}
	return boxes, ok
}
