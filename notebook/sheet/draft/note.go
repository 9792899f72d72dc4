package draft

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"guardband/notebook/sheet"
)

// noteWriter writes the lines of a drafted part block. What cannot be written
// as an entry of the language is kept as a remark below the block, never lost.
type noteWriter struct {
	w      io.Writer
	source string          // ID of the source block
	known  map[string]bool // names of the facts drafted, for formulas
	left   []string        // lines that could not be written as entries
	wrote  Wrote
}

// Wrote counts what was written as entries of the language.
type Wrote struct{ Facts, Pins int }

// Mark ends every drafted line until a person has confirmed it.
const Mark = "unconfirmed"

func (n *noteWriter) remark(format string, args ...any) {
	n.left = append(n.left, fmt.Sprintf(format, args...))
}

// cite writes a citation of a page with words that stand there.
func cite(q sheet.Quoted) string {
	page := fmt.Sprintf("pdf.%d", q.Page)
	if q.Quote == "" {
		return "[" + page + "]"
	}
	quote := `"` + q.Quote + `"`
	if strings.Contains(q.Quote, `"`) {
		quote = "“" + strings.NewReplacer("“", "", "”", "").Replace(q.Quote) + "”"
	}
	return "[" + page + " " + quote + "]"
}

// label writes one attribute of the part with its citations.
func (n *noteWriter) label(label, value string, from ...sheet.Quoted) {
	var cites []string
	for _, q := range from {
		if c := cite(q); len(cites) == 0 || cites[len(cites)-1] != c {
			cites = append(cites, c)
		}
	}
	fmt.Fprintf(n.w, "%-9s %s  %s %s\n", label+":", value, strings.Join(cites, " "), Mark)
}

// Write writes the note of a sheet to be kept in the file note: a source block and
// a part block. What goes wrong with w shows at its end.
func Write(w io.Writer, pdf, note string, d sheet.Draft) Wrote {
	id := identifier(strings.TrimSuffix(filepath.Base(pdf), filepath.Ext(pdf)))
	rel := pdf
	if a, err := filepath.Abs(pdf); err == nil {
		if b, err := filepath.Abs(filepath.Dir(note)); err == nil {
			if r, err := filepath.Rel(b, a); err == nil {
				rel = r
			}
		}
	}
	head, title := titles(d, id)
	n := &noteWriter{w: w, source: strings.ToLower(id) + "-sheet", known: factNames(d)}
	fmt.Fprintf(w, "# %s\n\nDrafted from the data sheet. Compare each line with its page, then delete the word `%s`.\n\n", head, Mark)
	fmt.Fprintf(w, "```source %s\ntitle:    %s\n", n.source, strings.TrimSpace(head+", data sheet"))
	if d.Revision.Text != "" {
		fmt.Fprintf(w, "revision: %s\n", d.Revision.Text)
	}
	fmt.Fprintf(w, "file:     %s\nsha256:   %s\n```\n\n", filepath.ToSlash(rel), d.Survey.Info.SHA256)
	fmt.Fprintf(w, "```part %s\ntitle:    %s\nsource:   %s\n", id, title, n.source)
	if len(d.Orders) > 0 {
		n.label("order", d.Orders[0].Code, d.Orders[0].Quoted)
	}
	n.packages(d)
	fmt.Fprintln(w)
	n.facts(d)
	n.pins(d)
	n.drawn(d)
	fmt.Fprint(w, "```\n")
	n.candidates(d)
	n.rest(d)
	return n.wrote
}

// titles gives the heading of the note and the title of the part.
func titles(d sheet.Draft, id string) (head, title string) {
	head, title = id, id
	for i, t := range d.Title {
		switch text := strings.NewReplacer("[", "(", "]", ")").Replace(t.Text); i {
		case 0:
			head, title = text, text
		case 1:
			if t.Text != d.Title[0].Text {
				return head, text
			}
		}
	}
	return head, title
}

// packages writes the package of the order code; the other packages follow as further lines.
func (n *noteWriter) packages(d sheet.Draft) {
	for _, p := range d.Packages {
		if strings.ContainsAny(p.Name, "[]#") {
			n.remark("package %s %s", p.Name, cite(p.Quoted))
			continue
		}
		n.label("package", p.Name, p.Quoted)
		if len(p.More) > 0 {
			n.remark("%s: %s %s", p.Name, joined(p.More), cite(p.Quoted))
		}
	}
}

// joined writes cells with the titles of their columns.
func joined(cells []sheet.Titled) string {
	var out []string
	for _, m := range cells {
		out = append(out, m.Title+" "+m.Text)
	}
	return strings.Join(out, ", ")
}

// candidates lists the order codes, each with its page, where there are several.
func (n *noteWriter) candidates(d sheet.Draft) {
	if len(d.Orders) < 2 {
		return
	}
	fmt.Fprint(n.w, "\nCandidate order codes; move the one you buy to `order:`.\n\n")
	for _, o := range d.Orders {
		var more []string
		if o.Package != "" {
			more = append(more, o.Package)
		}
		for _, m := range o.More {
			more = append(more, strings.ToLower(m.Title)+" "+m.Text)
		}
		fmt.Fprintf(n.w, "- `%s`  %s [%s %s\n", o.Code, strings.Join(more, ", "), n.source, strings.TrimPrefix(cite(o.Quoted), "["))
	}
}

// rest lists what was read but not written as facts, and what was not found.
func (n *noteWriter) rest(d sheet.Draft) {
	block := func(title string, lines []string) {
		if len(lines) == 0 {
			return
		}
		fmt.Fprintf(n.w, "\n%s\n\n", title)
		for _, l := range lines {
			fmt.Fprintf(n.w, "    %s\n", l)
		}
	}
	block("Read on the sheet, to be written by hand:", n.left)
	var circuit []string
	for _, q := range d.Circuit {
		circuit = append(circuit, fmt.Sprintf("%s  (page %d)", q.Text, q.Page))
	}
	block("Lines of the application circuit:", circuit)
	for _, b := range d.Survey.Bad {
		fmt.Fprintf(n.w, "\nNot read: %s.\n", b)
	}
	if len(d.NotFound) > 0 {
		fmt.Fprint(n.w, "\nNot found:\n\n")
		for _, f := range d.NotFound {
			fmt.Fprintf(n.w, "- %s\n", f)
		}
	}
}

// identifier makes a name of the language from any text.
func identifier(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r == '_', r >= '0' && r <= '9' && b.Len() > 0:
			b.WriteRune(r)
		}
	}
	if b.Len() == 0 {
		return "PART"
	}
	return strings.ToUpper(b.String())
}
