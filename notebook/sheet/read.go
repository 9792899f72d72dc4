package sheet

import (
	"context"
	"errors"
	"fmt"
)

// memoPages is how many pages stay in memory, about 60 kB each.
const memoPages = 400

// pageMemo keeps the pages read last.
type pageMemo struct {
	limit int
	pages map[pageKey]*Page
	order []pageKey
}

type pageKey struct {
	sha  string
	page int
}

func newPageMemo(limit int) pageMemo {
	return pageMemo{limit: limit, pages: map[pageKey]*Page{}}
}

func (m *pageMemo) put(k pageKey, p *Page) {
	if _, ok := m.pages[k]; !ok {
		if len(m.order) >= m.limit {
			delete(m.pages, m.order[0])
			m.order = m.order[1:]
		}
		m.order = append(m.order, k)
	}
	m.pages[k] = p
}

func (l *Reader) remembered(sha string, n int) *Page {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.memo.pages[pageKey{sha, n}]
}

func (l *Reader) remember(sha string, p *Page) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.memo.put(pageKey{sha, p.Number}, p)
}

// lasting says whether an error tells something about the document, and not
// about this call or this moment.
func lasting(err error) bool {
	return errors.Is(err, ErrNotPDF) || errors.Is(err, ErrEncrypted) || errors.Is(err, ErrDamaged) ||
		errors.Is(err, ErrTooLarge) || errors.Is(err, ErrTimeout) || errors.Is(err, ErrFault)
}

// header gives labels, title and outline. The caller holds c.mu.
func (l *Reader) header(ctx context.Context, f file, c *content) (*header, error) {
	if c.head != nil || c.failed != nil {
		return c.head, c.failed
	}
	if h, ok := l.store.loadHeader(f.sha); ok {
		c.head = &h
		return c.head, nil
	}
	var h header
	err := l.use(ctx, f, func(d *document) (err error) {
		h, err = d.header()
		return err
	})
	if err != nil {
		if lasting(err) {
			c.failed = err
		}
		return nil, err
	}
	l.store.saveHeader(f.sha, h)
	c.head = &h
	return c.head, nil
}

// page gives one counted page. The caller holds c.mu and has checked that the
// document has the page.
func (l *Reader) page(ctx context.Context, f file, c *content, n int) (*Page, error) {
	if p := l.remembered(f.sha, n); p != nil {
		return p, nil
	}
	if err := c.bad[n]; err != nil {
		return nil, err
	}
	p, err := l.fetch(ctx, f, c, n)
	if err != nil {
		return nil, err
	}
	l.remember(f.sha, p)
	return p, nil
}

// fetch takes a page from the store or the document, past the memory.
func (l *Reader) fetch(ctx context.Context, f file, c *content, n int) (*Page, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if p, ok := l.store.loadPage(f.sha, n); ok {
		return &p, nil
	}
	var p Page
	err := l.use(ctx, f, func(d *document) (err error) {
		p, err = d.page(n)
		return err
	})
	if err != nil {
		if lasting(err) {
			c.bad[n] = err
		}
		return nil, fmt.Errorf("page %d: %w", n, err)
	}
	if c.head != nil {
		p.Label = c.head.label(n)
	}
	l.store.savePage(f.sha, p)
	return &p, nil
}

// label gives the printed label of a counted page, "" if there is none.
func (h *header) label(n int) string {
	if n < 1 || n > len(h.Labels) {
		return ""
	}
	return h.Labels[n-1]
}

func (l *Reader) info(f file, c *content) Info {
	in := Info{SHA256: f.sha, Pages: c.head.Pages, HasLabels: c.head.Labels != nil, Title: c.head.Title, TextPages: -1}
	if x := l.knownIndex(f, c); x != nil {
		in.TextPages = x.textPages
	}
	return in
}

// Inspect takes the digest of a document and opens it. Errors: ErrNotPDF,
// ErrEncrypted, ErrDamaged, ErrTooLarge, ErrTimeout, or that of the operating
// system, wrapped. The digest is given even when the document does not open.
func (l *Reader) Inspect(ctx context.Context, path string) (Info, error) {
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
	return l.info(f, c), nil
}

// PageText gives the text of a counted page. Errors: those of Inspect, and
// ErrNoPage.
func (l *Reader) PageText(ctx context.Context, path string, page int) (Page, error) {
	f, err := l.identify(path)
	if err != nil {
		return Page{}, err
	}
	c := l.content(f.sha)
	c.mu.Lock()
	defer c.mu.Unlock()
	h, err := l.header(ctx, f, c)
	if err != nil {
		return Page{}, err
	}
	if page < 1 || page > h.Pages {
		return Page{}, fmt.Errorf("%w: page %d of %d", ErrNoPage, page, h.Pages)
	}
	p, err := l.page(ctx, f, c, page)
	if err != nil {
		return Page{}, err
	}
	return p.clone(), nil
}

// clone copies a page, so that a caller may change what it was given.
func (p *Page) clone() Page {
	q := *p
	q.Lines = make([]Line, len(p.Lines))
	for i, l := range p.Lines {
		q.Lines[i] = l
		q.Lines[i].Words = append([]Word(nil), l.Words...)
	}
	return q
}
