package notebook

import (
	"errors"
	"strings"
	"unicode"
	"unicode/utf8"

	"guardband/units"
)

// This file reads citations: [ID p.6-7 §7.4 "words" 2026-11-02],
// [ID p.6 read by K. Sedge 2026-11-20] and [assumed: why].

// citeFault says why a bracket is no citation, and where.
type citeFault struct {
	code, message, hint string
	at, end             int
}

// cite reads the citation that opens at byte i of a text of a block and gives
// the offset behind it. A faulty one is complained of and nil.
func (r *reader) cite(t Text, i int) (*Cite, int) {
	end := closeCite(t.S, i)
	c, got, fault := parseCite(t.S, i)
	if fault != nil {
		r.errorAt(fault.code, t, fault.at, fault.end, fault.message, fault.hint)
		return nil, end
	}
	c.Text = t.Slice(i, got)
	return &c, got
}

// parseCite reads a citation at s[i] and gives the offset behind it.
func parseCite(s string, i int) (Cite, int, *citeFault) {
	var c Cite
	k := skipBlanks(s, i+1)
	if strings.HasPrefix(s[k:], "assumed:") || strings.HasPrefix(s[k:], "assumed]") {
		return assumed(s, i, k)
	}
	if n := dashLen(s[k:]); n > 0 && !startsPage(s[k:]) {
		c.Source = units.FoldName(s[k : k+n])
		k = skipBlanks(s, k+n)
	}
	for {
		if k >= len(s) {
			return c, k, &citeFault{"cite-open", "the citation is not closed", "end it with \"]\"", i, i + 1}
		}
		if s[k] == ']' {
			break
		}
		next, fault := where(&c, s, k)
		if fault != nil {
			return c, next, fault
		}
		k = skipBlanks(s, next)
	}
	if c.Source == "" && c.From == "" && c.Section == "" && c.Quote == "" && c.Date == "" {
		return c, k, &citeFault{"cite-empty", "the citation is empty", "write [ID p.6]", i, k + 1}
	}
	if c.ReadBy != "" && c.From == "" {
		return c, k, &citeFault{"cite-reader", "a reading by a person names the page", "write [ID p.6 read by " +
			c.ReadBy + " " + c.ReadOn + "]", i, k + 1}
	}
	return c, k + 1, nil
}

func assumed(s string, i, k int) (Cite, int, *citeFault) {
	end := closeCite(s, i)
	if end > len(s) || s[end-1] != ']' || end <= k+len("assumed") {
		return Cite{}, end, &citeFault{"cite-open", "the bracket is not closed", "end it with \"]\"", i, i + 1}
	}
	why := strings.TrimSpace(strings.TrimPrefix(s[k+len("assumed"):end-1], ":"))
	if why == "" {
		return Cite{}, end, &citeFault{"cite-empty", "an assumption needs its reason", "write [assumed: why]", i, end}
	}
	return Cite{Assumed: why}, end, nil
}

// startsPage says that s opens with "p." or "pdf.", not with an ID.
func startsPage(s string) bool { return strings.HasPrefix(s, "p.") || strings.HasPrefix(s, "pdf.") }

// where reads one locator at s[k] into c and gives the offset behind it.
func where(c *Cite, s string, k int) (int, *citeFault) {
	rest := s[k:]
	switch {
	case startsPage(rest):
		return page(c, s, k)
	case strings.HasPrefix(rest, "§"):
		from := skipBlanks(s, k+len("§"))
		n := labelLen(s[from:])
		if n == 0 {
			return k, &citeFault{"cite-page", "missing section after \"§\"", "write [ID §7.4 p.12]", k, k + len("§")}
		}
		c.Section = s[from : from+n]
		return from + n, nil
	case rest[0] == '"' || strings.HasPrefix(rest, "“"):
		end := quoteEnd(s, k)
		if end <= k {
			_, w := utf8.DecodeRuneInString(rest)
			return k, &citeFault{"cite-quote", "the quoted words are not closed", "", k, k + w}
		}
		if c.Quote != "" {
			return k, &citeFault{"cite-twice", "a citation quotes one run of words", "put the other in brackets of its own", k, end}
		}
		c.Quote = unquote(s[k:end])
		return end, nil
	case readBy(rest) > 0:
		return readerOf(c, s, k, k+readBy(rest))
	}
	n := labelLen(rest)
	switch _, err := ParseDate(rest[:n]); {
	case err == nil:
		c.Date = rest[:n]
		return k + n, nil
	case errors.Is(err, ErrNoSuchDay):
		return k, &citeFault{"date-impossible", "not a date: " + rest[:n], dateHint(rest[:n]), k, k + n}
	}
	return k, badLocator(s, k, n)
}

// readBy is the length of "read by " at the start of s, 0 if s opens otherwise.
func readBy(s string) int {
	f := strings.Fields(s[:min(len(s), 40)])
	if len(f) < 2 || f[0] != "read" || strings.TrimRight(f[1], "]") != "by" {
		return 0
	}
	return strings.Index(s, "by") + len("by")
}

// readerOf reads who compared the note with the page, and when: what follows "read by".
func readerOf(c *Cite, s string, at, k int) (int, *citeFault) {
	from := skipBlanks(s, k)
	end := from
	for k = from; k < len(s) && s[k] != ']'; k = skipBlanks(s, end) {
		n := max(labelLen(s[k:]), 1)
		if word := s[k:min(k+n, len(s))]; dateShaped(word) {
			if _, err := ParseDate(word); err != nil {
				return k, &citeFault{"date-impossible", "not a date: " + word, dateHint(word), k, k + n}
			}
			c.ReadBy, c.ReadOn = strings.TrimSpace(s[from:k]), word
			end = k + n
			break
		}
		end = min(k+n, len(s))
	}
	if strings.IndexFunc(c.ReadBy, unicode.IsLetter) < 0 {
		return k, &citeFault{"cite-reader", "who read the page, and when, is not said",
			"write [ID p.6 read by K. Sedge 2026-11-20]", at, max(end, at+1)}
	}
	return end, nil
}

func badLocator(s string, k, n int) *citeFault {
	if n == 0 {
		n = len(s) - k
		if e := strings.IndexByte(s[k:], ']'); e >= 0 {
			n = e
		}
	}
	hint := "write [ID p.6], [ID p.6-7], [ID pdf.6], [ID §7.4 p.12] or [ID p.6 \"words\"]"
	word := strings.ToLower(units.Clip(s[k : k+n]))
	for _, w := range []string{"page", "pg", "pp", "s.", "pag"} {
		if strings.HasPrefix(word, w) {
			hint = "pages are written p.6"
		}
	}
	if word == "p" || strings.Trim(word, "0123456789") == "" {
		hint = "pages are written p.6"
	}
	return &citeFault{"cite-page", quote(units.Clip(s[k:k+n])) + " does not name a place in a source", hint, k, k + n}
}

// page reads "p.6", "p. 6-7", "pdf.6".
func page(c *Cite, s string, k int) (int, *citeFault) {
	word := "p."
	if strings.HasPrefix(s[k:], "pdf.") {
		word = "pdf."
	}
	from := skipBlanks(s, k+len(word))
	n := labelLen(s[from:])
	if n == 0 {
		return k, &citeFault{"cite-page", "missing page after " + quote(word), "write [ID " + word + "6]", k, k + len(word)}
	}
	if c.From != "" {
		return k, &citeFault{"cite-twice", "a citation names one page or one run of pages",
			"put the other in brackets of its own: [ID p.6] [ID p.9]", k, from + n}
	}
	c.Counted = word == "pdf."
	c.From, c.To, c.Page = pages(s[from : from+n])
	if strings.ContainsAny(c.From+c.To, ",;") {
		return k, &citeFault{"cite-twice", "a citation names one page or one run of pages",
			"put the other in brackets of its own: [ID p.6] [ID p.9]", from, from + n}
	}
	return from + n, nil
}

// pages parts "6-7" and "6–7". A hyphen may belong to one label ("A-12"), so
// the whole is kept too: a file with a page so labelled has the last word.
func pages(s string) (from, to, whole string) {
	if a, b, ok := strings.Cut(s, "–"); ok && a != "" && b != "" {
		return a, b, ""
	}
	if n := strings.Count(s, "-"); n%2 == 1 && s[0] != '-' && s[len(s)-1] != '-' {
		at := -1
		for range n/2 + 1 {
			at += 1 + strings.IndexByte(s[at+1:], '-')
		}
		return s[:at], s[at+1:], s
	}
	return s, "", s
}

// labelLen is the length of a page or section label at the start of s.
func labelLen(s string) int {
	for i, r := range s {
		if unicode.IsSpace(r) || r == ']' || r == '[' || r == '"' || r == '“' || r == '”' {
			return i
		}
	}
	return len(s)
}

// dateShaped says that s is written as a date, whether or not there is such a day.
func dateShaped(s string) bool {
	_, err := ParseDate(s)
	return !errors.Is(err, ErrDateForm)
}

func skipBlanks(s string, i int) int {
	for i < len(s) {
		r, w := utf8.DecodeRuneInString(s[i:])
		if !unicode.IsSpace(r) {
			break
		}
		i += w
	}
	return i
}

// located says that a citation tells a place, as one in prose must.
func (c *Cite) located() bool { return c.From != "" || c.Section != "" || c.Date != "" }

// tail takes the citations and the mark "unconfirmed" off the end of a text
// and gives what stands before them.
func (r *reader) tail(e *Entry, t Text, formula bool) Text {
	if !strings.Contains(t.S, "[") && !strings.Contains(t.S, "unconfirmed") {
		return t
	}
	value, first := t, true
	for k := 0; k < len(t.S); {
		marks := findMarks(t.S[k:], false)
		for len(marks) > 0 && formula && first && marks[0].at == 0 {
			marks = marks[1:]
		}
		if len(marks) == 0 {
			break
		}
		at := k + marks[0].at
		if first {
			value, first = t.Slice(0, at).Trim(), false
		} else if gap := t.Slice(k, at).Trim(); gap.S != "" {
			r.afterCite(e, gap)
		}
		c, end := r.cite(t, at)
		if c != nil {
			e.Cites = append(e.Cites, *c)
		}
		k = end
		if rest := t.Slice(k, len(t.S)).Trim(); len(findMarks(t.S[k:], false)) == 0 {
			r.afterCite(e, rest)
			break
		}
	}
	if v := strings.TrimSuffix(value.S, " unconfirmed"); v != value.S {
		e.Unconfirmed = true
		value = value.Slice(0, len(v)).Trim()
	}
	return value
}

func (r *reader) afterCite(e *Entry, rest Text) {
	switch rest.S {
	case "":
	case "unconfirmed":
		e.Unconfirmed = true
	default:
		r.errorAt("cite-after", rest, 0, len(rest.S), "unexpected text after the citation", "citations come last")
	}
}

// proseCites finds the citations in a sentence. Those that close it are taken
// off the value; brackets that tell no place are text.
func (r *reader) proseCites(e *Entry) {
	s := e.Value.S
	cut := -1 // where the citations that close the sentence begin
	for at := 0; ; {
		k := strings.IndexByte(s[at:], '[')
		if k < 0 {
			break
		}
		i := at + k
		if strings.Trim(s[at:i], " \t") != "" {
			cut = -1
		}
		c, end, fault := parseCite(s, i)
		if fault != nil || !c.located() && c.Assumed == "" {
			cut, at = -1, i+1
			continue
		}
		c.Text = e.Value.Slice(i, end)
		e.Cites = append(e.Cites, c)
		if cut < 0 {
			cut = i
		}
		at = end
		if strings.IndexByte(s[at:], '[') < 0 && strings.Trim(s[at:], " \t") != "" {
			cut = -1
		}
	}
	if cut >= 0 {
		e.Value = e.Value.Slice(0, cut).Trim()
	}
}
