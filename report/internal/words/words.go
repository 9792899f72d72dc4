// Package words says in text what a Record holds, in one wording for all
// report forms.
package words

import (
	"fmt"
	"slices"
	"strings"

	"golang.org/x/text/unicode/bidi"

	"guardband/eval/record"
)

// Verdicts in the order of attention.
var Verdicts = [...]record.Verdict{record.Failed, record.Open, record.Waived, record.Passed, record.Skipped}

// Count is the number of claims with verdict v.
func Count(s record.Summary, v record.Verdict) int {
	if n := s.Of(v); n != nil {
		return *n
	}
	return 0
}

// Total is the number of claims.
func Total(s record.Summary) int { return s.Failed + s.Open + s.Waived + s.Passed + s.Skipped }

// Counts is the summary in words: "2 failed, 1 open, 5 passed".
func Counts(s record.Summary) string {
	var out []string
	for _, v := range Verdicts {
		if n := Count(s, v); n > 0 {
			out = append(out, fmt.Sprintf("%d %s", n, v))
		}
	}
	if len(out) == 0 {
		return "no claims"
	}
	return strings.Join(out, ", ")
}

// Totals is the line that ends a report: the claims by verdict, then errors
// and warnings of the notebook where there are any.
func Totals(s record.Summary) string {
	if Total(s) == 0 && s.Errors+s.Warnings == 0 {
		return "no claims"
	}
	line := Plural(Total(s), "claim", "claims") + ": " + Counts(s)
	if Total(s) == 0 {
		line = "no claims"
	}
	if s.Errors+s.Warnings > 0 {
		line += "; " + Plural(s.Errors, "error", "errors") + ", " + Plural(s.Warnings, "warning", "warnings")
	}
	return line
}

// Plural is n with the noun in the right number.
func Plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// Join joins the texts that are not empty.
func Join(sep string, texts ...string) string {
	return strings.Join(slices.DeleteFunc(texts, func(s string) bool { return s == "" }), sep)
}

// Sides is a test with its value left and its limit right, the sign turned
// where the limit was typed left.
func Sides(t *record.Test) (value, limit record.Span, sign string) {
	if t.LimitRight {
		return named(t.Left, t), t.Right, t.Op
	}
	return named(t.Right, t), t.Left, strings.NewReplacer("<", ">", ">", "<").Replace(t.Op)
}

// named is s with the text of the whole comparison where its own was not kept.
func named(s record.Span, t *record.Test) record.Span {
	if s.Text == "" {
		s.Text = t.Text
	}
	return s
}

// Reach is the range of a side, with the words "at most" where the bounds are
// not known to be attained.
func Reach(s record.Span) string {
	if s.Exact || s.Min == nil || s.Max == nil {
		return s.Shown
	}
	return s.Shown + " at most"
}

// Prefixed is s after a word, "" where s is.
func Prefixed(word, s string) string {
	if s == "" {
		return ""
	}
	return word + s
}

// CornerName says what a criterion's corner is.
func CornerName(k *record.Criterion) string {
	switch {
	case k.Failure == "short":
		return "worst corner, margin too small"
	case k.Verdict == record.Failed:
		return "breaking corner"
	}
	return "worst corner"
}

// OpenPoints lists why a claim is open, its own reasons first, each once. A
// skipped claim is not open.
func OpenPoints(c *record.Claim) []record.OpenPoint {
	var out []record.OpenPoint
	if c.Verdict == record.Skipped {
		return nil
	}
	add := func(points []record.OpenPoint) {
		for _, o := range points {
			if !slices.Contains(out, o) {
				out = append(out, o)
			}
		}
	}
	add(c.Open)
	for i := range c.Criteria {
		add(c.Criteria[i].Open)
	}
	return out
}

// Thinnest is the test that decides a claim: among those with the worst
// verdict the one with the least margin; nil without tests.
func Thinnest(c *record.Claim) *record.Test {
	var best *record.Test
	for i := range c.Criteria {
		for k := range c.Criteria[i].Tests {
			if t := &c.Criteria[i].Tests[k]; best == nil || worse(t, best) {
				best = t
			}
		}
	}
	return best
}

func worse(a, b *record.Test) bool {
	rank := func(v record.Verdict) int {
		return slices.Index([]record.Verdict{record.Passed, record.Open, record.Failed}, v)
	}
	if rank(a.Verdict) != rank(b.Verdict) {
		return rank(a.Verdict) > rank(b.Verdict)
	}
	if a.Margin == nil || a.Margin.Absolute == nil && a.Margin.Percent == nil {
		return false
	}
	return b.Margin == nil || b.Margin.Absolute == nil && b.Margin.Percent == nil || a.Margin.Key() < b.Margin.Key()
}

// Place is file and line of a position: "board.md:64".
func Place(at *record.Position) string {
	switch {
	case at == nil:
		return ""
	case at.Line == 0:
		return at.File
	}
	return fmt.Sprintf("%s:%d", at.File, at.Line)
}

// Hidden says that r is a control or direction character that no report may
// pass on as it is: it could hide or reorder what a reader sees.
func Hidden(r rune) bool {
	return r < ' ' && r != '\n' && r != '\t' || r >= 0x7f && r < 0xa0 || r == 0x2028 || r == 0x2029 ||
		r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 || r == 0xfeff || r >= 0xe0000 && r <= 0xe007f
}

// RightToLeft says that r is a letter that is written from the right.
func RightToLeft(r rune) bool {
	if r < 0x590 {
		return false
	}
	p, _ := bidi.LookupRune(r)
	return p.Class() == bidi.R || p.Class() == bidi.AL
}

// Visible replaces hidden characters by U+FFFD and line breaks by blanks.
func Visible(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t':
			return ' '
		case Hidden(r):
			return 0xfffd
		}
		return r
	}, s)
}

// Claims finds claims by ID.
func Claims(r *record.Record) map[string]*record.Claim {
	out := make(map[string]*record.Claim, len(r.Claims))
	for i := range r.Claims {
		out[r.Claims[i].ID] = &r.Claims[i]
	}
	return out
}

// ByAttention lists all claims: those the Record puts first in its order,
// then the rest by verdict in the order of the notes.
func ByAttention(r *record.Record) []*record.Claim {
	index, seen := Claims(r), map[string]bool{}
	groups := map[record.Verdict][]*record.Claim{}
	for _, id := range r.Attention {
		if c := index[id]; c != nil && !seen[id] {
			seen[id] = true
			groups[c.Verdict] = append(groups[c.Verdict], c)
		}
	}
	for i := range r.Claims {
		if c := &r.Claims[i]; !seen[c.ID] {
			groups[c.Verdict] = append(groups[c.Verdict], c)
		}
	}
	out := make([]*record.Claim, 0, len(r.Claims))
	for _, v := range Verdicts {
		out = append(out, groups[v]...)
	}
	return out
}

// Sentence is the verdict of the whole in one sentence. It never says that
// anything is harmless.
func Sentence(s record.Summary) string {
	n := Total(s)
	if n == 0 {
		return "This design has no claims yet: nothing was checked." + unjudged(s)
	}
	rest := ""
	for _, v := range []record.Verdict{record.Failed, record.Open, record.Waived, record.Skipped} {
		if c := Count(s, v); c > 0 {
			rest = Join(", ", rest, fmt.Sprintf("%d %s", c, v))
		}
	}
	switch {
	case s.Failed > 0:
		return fmt.Sprintf("Do not release: of %d claims %s, %d passed.", n, rest, s.Passed) + unjudged(s)
	case s.Open > 0:
		return fmt.Sprintf("Not decided: of %d claims %s, %d passed; none failed.", n, rest, s.Passed) + unjudged(s)
	case rest == "":
		return Plural(n, "claim", "claims") + ": all passed." + unjudged(s)
	}
	return fmt.Sprintf("No claim failed or is open: of %d claims %d passed, %s.", n, s.Passed, rest) + unjudged(s)
}

func unjudged(s record.Summary) string {
	if s.Errors == 0 {
		return ""
	}
	return " The notebook has " + Plural(s.Errors, "error", "errors") + ": what rests on them was not judged."
}

// AsAsked says that a claim is met by identity: what is placed or stated is
// what was asked for, so that its margin of zero says nothing.
func AsAsked(c *record.Claim, t *record.Test) bool {
	if t.Margin == nil || t.Margin.Absolute == nil || *t.Margin.Absolute != 0 || t.Margin.Required != "" || c.Verdict != record.Passed {
		return false
	}
	value, limit, _ := Sides(t)
	if c.Check == "use" || value.Shown == limit.Shown {
		return true
	}
	low, high := false, false // both ends of the value are the limits themselves
	for i := range c.Criteria {
		for k := range c.Criteria[i].Tests {
			x := &c.Criteria[i].Tests[k]
			v, _, op := Sides(x)
			if v.Shown == value.Shown && x.Margin != nil && x.Margin.Absolute != nil && *x.Margin.Absolute == 0 {
				low, high = low || op == ">=", high || op == "<="
			}
		}
	}
	return low && high
}
