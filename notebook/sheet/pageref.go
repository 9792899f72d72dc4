package sheet

import (
	"strconv"
	"strings"
)

// maxRange bounds the pages of one citation.
const maxRange = 200

// cited gives the counted pages that a query names, in order; none if the
// document has no such page.
func cited(q Query, h *header) []int {
	from := resolve(q.From, q, h)
	if q.To == "" || len(from) == 0 {
		return from
	}
	to := resolve(q.To, q, h)
	first, last := from[0], 0
	for _, n := range to { // labels may repeat: the nearest end not before the start
		if n >= first && (last == 0 || n < last) {
			last = n
		}
	}
	if last == 0 { // the range ends before it starts, or beyond the document
		return nil
	}
	var pages []int
	for n := first; n <= last && len(pages) < maxRange; n++ {
		pages = append(pages, n)
	}
	return pages
}

// resolve gives the counted pages that one page reference may mean. A printed
// label may stand on several pages.
func resolve(ref string, q Query, h *header) []int {
	ref = strings.TrimSpace(ref)
	if !q.Counted && h.Labels != nil {
		var pages []int
		for i, l := range h.Labels {
			if l != "" && strings.EqualFold(strings.TrimSpace(l), ref) {
				pages = append(pages, i+1)
			}
		}
		return pages
	}
	n, err := strconv.Atoi(ref)
	if err != nil {
		return nil
	}
	if !q.Counted && q.FirstPage > 0 {
		n += q.FirstPage - 1
	}
	if n < 1 || n > h.Pages {
		return nil
	}
	return []int{n}
}
