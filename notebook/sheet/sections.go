package sheet

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"
)

// SectionPage is a page that may hold a section, and why.
type SectionPage struct {
	Page  int
	Label string
	Sure  float64  // 0 to 1, to rank by; not a probability
	Lines []string // lines that say so: of the page, of the contents, of the outline
}

// SectionFind is what was found of one section, best page first; no page means
// it was not found.
type SectionFind struct {
	Section Section
	Pages   []SectionPage
}

// Survey is a first look through a document.
type Survey struct {
	Info     Info
	Sections []SectionFind // in the order of SectionList
	NoText   []int         // counted pages without a text layer
	Bad      []string      // pages that could not be read, and why
}

// maxSectionPages is how many pages are named per section.
const maxSectionPages = 5

// Survey finds the six sections by headings, outline, contents and layout.
// Errors: those of Inspect.
func (l *Reader) Survey(ctx context.Context, path string) (Survey, error) {
	return l.survey(ctx, path, nil)
}

// survey also hands what was seen on each page to take, while the page is at hand.
func (l *Reader) survey(ctx context.Context, path string, take func(*pageSignals)) (Survey, error) {
	f, err := l.identify(path)
	if err != nil {
		return Survey{}, err
	}
	c := l.content(f.sha)
	c.mu.Lock()
	defer c.mu.Unlock()
	if _, err := l.header(ctx, f, c); err != nil {
		return Survey{Info: Info{SHA256: f.sha, TextPages: -1}}, err
	}
	var s Survey
	var pages []pageSignals
	b := newIndexer()
	err = l.each(ctx, f, c, func(p *Page, err error) error {
		if err != nil {
			s.Bad = append(s.Bad, err.Error())
			return nil
		}
		err = onPage(p.Number, func() error {
			v := newView(p)
			if len(p.Lines) == 0 {
				s.NoText = append(s.NoText, p.Number)
				return nil
			}
			b.add(v)
			if take != nil {
				var err error
				if v, err = l.visible(ctx, f, v, v.rowWords()); err != nil {
					return err
				}
			}
			if v.garbled() {
				s.Bad = append(s.Bad, fmt.Sprintf("page %d: its fonts do not say which characters they show; what is printed there was not read", p.Number))
			}
			seen := readSignals(v)
			if take != nil {
				take(&seen)
			}
			seen.view, seen.tables = nil, nil
			pages = append(pages, seen)
			return nil
		})
		if err != nil {
			s.Bad = append(s.Bad, err.Error())
		}
		return nil
	})
	if err != nil {
		return s, err
	}
	l.keepIndex(f, c, b)
	s.Info = l.info(f, c)
	s.Sections = rank(pages, c.head)
	return s, nil
}

// each gives every page in order, or the lasting error of a page.
func (l *Reader) each(ctx context.Context, f file, c *content, fn func(*Page, error) error) error {
	for n := 1; n <= c.head.Pages; n++ {
		p, err := l.fetch(ctx, f, c, n)
		if err != nil && !lasting(err) {
			return err
		}
		if err := fn(p, err); err != nil {
			return err
		}
	}
	return nil
}

// rank adds up the signals of all pages and of the outline.
func rank(pages []pageSignals, h *header) []SectionFind {
	var all []signal
	for _, p := range pages {
		all = append(all, p.signals...)
	}
	all = append(all, outlineSignals(h)...)
	all = thinRunning(all)
	var out []SectionFind
	for _, sec := range SectionList() {
		out = append(out, SectionFind{Section: sec, Pages: best(sec, all, h)})
	}
	return out
}

// best ranks the pages of one section.
func best(sec Section, all []signal, h *header) []SectionPage {
	type scored struct {
		SectionPage
		score float64
		kinds map[signalKind]float64
	}
	by := map[int]*scored{}
	for _, s := range all {
		if s.section != sec {
			continue
		}
		p := by[s.page]
		if p == nil {
			p = &scored{SectionPage: SectionPage{Page: s.page, Label: h.label(s.page)}, kinds: map[signalKind]float64{}}
			by[s.page] = p
		}
		p.kinds[s.kind] = math.Max(p.kinds[s.kind], s.weight) // many signals of a kind count once
		if len(p.Lines) < 4 && !slices.Contains(p.Lines, s.line) {
			p.Lines = append(p.Lines, s.line)
		}
	}
	var list []*scored
	for _, p := range by {
		for k := byHeading; k <= byCaption; k++ {
			p.score += p.kinds[k]
		}
		p.Sure = math.Round(100*(1-math.Exp(-p.score/5))) / 100
		list = append(list, p)
	}
	sort.Slice(list, func(i, j int) bool {
		if list[i].score != list[j].score {
			return list[i].score > list[j].score
		}
		return list[i].Page < list[j].Page
	})
	var out []SectionPage
	for _, p := range list[:min(len(list), maxSectionPages)] {
		out = append(out, p.SectionPage)
	}
	return out
}

func outlineSignals(h *header) []signal {
	var out []signal
	for _, o := range h.Outline {
		if sec, exact, ok := sectionHeading(o.Title); ok && o.Page > 0 {
			w := weightOutline
			if !exact {
				w *= 0.8
			}
			out = append(out, signal{section: sec, page: o.Page, weight: w, line: o.Title, kind: byOutline})
		}
	}
	return out
}

// thinRunning takes the weight from headings that stand on many pages: they are
// running heads, wherever they are set.
func thinRunning(all []signal) []signal {
	pages := map[string]map[int]bool{}
	for _, s := range all {
		if s.kind == byHeading {
			k := string(s.section) + headingText(s.line)
			if pages[k] == nil {
				pages[k] = map[int]bool{}
			}
			pages[k][s.page] = true
		}
	}
	out := make([]signal, 0, len(all))
	for _, s := range all {
		if s.kind == byHeading && len(pages[string(s.section)+headingText(s.line)]) > 6 {
			s.weight = math.Min(s.weight, weightRunning)
		}
		out = append(out, s)
	}
	return out
}

// sectionTitle says whether a line can only be a heading: the term alone, in
// capitals or with capitals.
func sectionTitle(s string) bool {
	_, exact, ok := sectionHeading(s)
	return ok && exact && strings.TrimSpace(s) != "" && s[:1] != strings.ToLower(s[:1])
}
