// Package badge writes the state of a Record as a small SVG picture.
package badge

import (
	"fmt"
	"html"
	"io"

	"guardband/eval/record"
	"guardband/report/draw"
	"guardband/report/internal/words"
)

// Text is the two words of the badge: what was judged and how it stands. The
// worst verdict is named with its count.
func Text(s record.Summary) (subject, state string) {
	switch {
	case s.Errors > 0:
		return "claims", words.Plural(s.Errors, "error", "errors")
	case s.Failed > 0:
		return "claims", fmt.Sprintf("%d failed", s.Failed)
	case s.Open > 0:
		return "claims", fmt.Sprintf("%d open", s.Open)
	case s.Waived > 0:
		return "claims", fmt.Sprintf("%d waived", s.Waived)
	case s.Passed > 0:
		return "claims", fmt.Sprintf("%d passed", s.Passed)
	}
	return "claims", "none"
}

// ink of the rule under the state. The words say it; the rule only repeats it.
func ink(s record.Summary) string {
	switch {
	case s.Errors > 0 || s.Failed > 0:
		return "#961b1b"
	case s.Open > 0:
		return "#734700"
	case s.Waived > 0:
		return "#563a86"
	case s.Passed > 0:
		return "#1c5b36"
	}
	return "#555b63"
}

// Write writes the badge: two words in a frame, the state underlined. It
// fails where w fails.
func Write(w io.Writer, r *record.Record) error {
	subject, state := Text(r.Summary)
	const size, pad, high = 12.0, 9.0, 24.0
	a := draw.PlainWidth(size, subject)
	b := 1.06 * draw.PlainWidth(size, state) // bold
	split := a + 2*pad
	whole := split + b + 2*pad
	_, err := fmt.Fprintf(w, `<svg xmlns="http://www.w3.org/2000/svg" width="%.0f" height="%.0f" viewBox="0 0 %.0f %.0f" role="img" aria-label="%s: %s">`+
		`<title>%[5]s: %[6]s</title>`+
		`<rect x=".5" y=".5" width="%.0f" height="%.0f" fill="#fff" stroke="#17191c"/>`+
		`<path d="M%.1f 1V%.0f" stroke="#c6cbd1"/>`+
		`<path d="M%.1f %.1fH%.1f" stroke="%s" stroke-width="2"/>`+
		`<g font-family="Helvetica,Arial,sans-serif" font-size="%.0f" fill="#17191c"><text x="%.1f" y="16">%s</text><text x="%.1f" y="16" font-weight="bold">%s</text></g></svg>`+"\n",
		whole, high, whole, high, html.EscapeString(subject), html.EscapeString(state),
		whole-1, high-1,
		split, high-1,
		split+pad, high-4, whole-pad, ink(r.Summary),
		size, pad, html.EscapeString(subject), split+pad, html.EscapeString(state))
	if err != nil {
		return fmt.Errorf("writing the badge: %w", err)
	}
	return nil
}
