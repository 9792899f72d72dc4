// Package outline makes of a Record the document that its readers get:
// headings, paragraphs, tables, plots, pictures and links in one order and
// under one set of names. HTML and PDF draw it; they decide how it looks and
// nothing of what it says. It computes nothing: every number is the Record's.
package outline

import (
	"strings"

	"guardband/eval/record"
	"guardband/report/draw"
	"guardband/report/internal/words"
)

// Document is a record as its readers get it.
type Document struct {
	Front    []Block // page one: identity and verdict, before any chapter
	Chapters []Chapter
	Anchors  map[string]bool // every place that a link may lead to
}

// Chapter is a numbered section with an entry in the contents.
type Chapter struct {
	Anchor, Title string
	Blocks        []Block
	Entries       []Entry // headings inside that the contents list
}

// Entry is a line of the contents below a chapter.
type Entry struct{ Anchor, Title string }

// Style is how a span is set; the styles add up.
type Style uint16

// Styles of a span.
const (
	Strong Style = 1 << iota
	Emphasis
	Struck
	Code
	Name   // a name of the language, set as formulas set it where that is possible
	Quiet  // small print
	Notice // something a reader must not pass over
	Raised
	Turn // on paper the page that it leads to is named

	// Of formulas alone.
	Over     // a fraction begins: what is above its rule
	Under    // its rule, as it is set on one line
	Whole    // the fraction ends
	Flat     // only where fractions are set on one line
	Up       // an exponent begins; the sign is only for a copy of the text
	Down     // the exponent ends
	Exponent // part of one
)

// Span is a stretch of text. Text "\n" ends the line.
type Span struct {
	Text    string
	Style   Style
	Verdict record.Verdict // the text is a verdict's word
	To      string         // anchor that it leads to
	URL     string         // address outside, as typed: the form decides whether it is live
	File    string         // file of the notes that it names
}

// Text is a paragraph's spans.
type Text []Span

// Plain is a text without its dress.
func Plain(t Text) string {
	var out strings.Builder
	for i := range t {
		out.WriteString(t[i].Text)
	}
	return out.String()
}

// Line is a block of one line without its dress: its label and its text. Places
// in the notes are left out.
func (b *Block) Line() string {
	var t Text
	for _, s := range b.Text {
		if s.File == "" {
			t = append(t, s)
		}
	}
	return words.Join(": ", b.Label, strings.TrimSpace(Plain(t)))
}

// Lines are the lines of the group of each claim, by ID.
func Lines(r *record.Record) map[string][]string {
	out := map[string][]string{}
	for _, g := range Claims(r, true) {
		for i := range g.Blocks {
			out[g.Claim.ID] = append(out[g.Claim.ID], g.Blocks[i].Line())
		}
	}
	return out
}

// Kind says what a block is.
type Kind uint8

// Kinds of blocks.
const (
	Paragraph  Kind = iota // Text
	Heading                // Text, Level from 1, Anchor
	Labelled               // Label and Text beside it
	Group                  // Head, Blocks behind a bar of the colour of Verdict or Word
	List                   // Blocks of kind Item
	Item                   // Label (marker), Blocks
	Quote                  // Blocks
	CodeBlock              // Text[0].Text as it is
	TableBlock             // Table
	Formula                // Math, Numbers, Text where there is neither; Tests drawn as plots
	Value                  // Label (name), Math, Numbers, Text (what it comes to)
	Evidence               // Cites with the pictures of their lines
	Rule
	Footnote // Anchor, Label, Blocks
	Fold     // Label, Blocks: on a screen alone, closed
	Fields   // Pairs, two abreast
	Tally    // the counts of Summary as a bar to scale
)

// Block is a piece of the document.
type Block struct {
	Kind          Kind
	Level         int
	Small         bool // small print; of a Labelled, a line for a second look
	Lead          bool // the sentence that says most
	Anchor        string
	Label         string
	Word          string // signal word of a caution
	Verdict       record.Verdict
	Claim         *record.Claim // that a group is about
	Once          bool          // the one place where a claim is set in full or as a row
	Head, Text    Text
	Blocks        []Block
	Table         *Table
	Math, Numbers Text
	Tests         []record.Test
	Cites         []record.Cite
	Pairs         [][2]string
	Summary       record.Summary
}

// Table is a grid with a head. Every table has a caption.
type Table struct {
	Caption string
	Columns []Column
	Rows    []Row
	Ruled   bool // to be filled in by hand
	Halves  bool // on paper in two halves side by side
	Named   bool // the line above names it: on paper the caption is left out
}

// Column of a table.
type Column struct {
	Head  string
	Right bool
	Most  float64 // widest natural width to ask for on paper, points; 0 for no limit
	Width float64 // width on paper that is kept, points; without a cell it is room to write in
	Gauge bool    // holds the rows' gauges
}

// Row of a table. A row with a title is a line over the whole width.
type Row struct {
	Title   Text
	Cells   []Text
	Anchor  string
	Verdict record.Verdict
	Shade   bool
	Gauge   *draw.Gauge
	Fold    []Block // more about the row, on a screen alone
}

// Make makes the document, or its short version for a meeting: page one, what
// needs attention, the cautions and the limits. The Record is left as it is.
func Make(r *record.Record, short bool) *Document {
	b := newBuilder(r)
	attention := b.attention() // first, so that page one leads to what it has
	b.doc.Front = b.front()
	b.chapter("attention", "What needs attention", attention)
	b.chapter("cautions", "Cautions", b.cautions())
	if !short {
		notes, parts := b.split()
		b.chapter("notes", "The notes", b.books(notes))
		b.chapter("checks", "Built-in checks", b.checks())
		b.chapter("stress", "Ratings and derating", b.stresses())
		b.chapter("loads", "Budgets, shortlists and values outside the notes", b.unset())
		b.chapter("requirements", "Requirements", b.requirements())
		b.chapter("bring-up", "Bring-up", b.bringUp())
		b.chapter("assumptions", "Taken as given", b.assumptions())
		b.chapter("actions", "Review and actions", b.review())
		b.chapter("sign-off", "Sign-off", b.signOff())
		b.chapter("parts", "Part notes", b.partNotes(parts))
		b.chapter("parts-list", "Parts list", b.partsList())
		b.chapter("pages", "From page to claim", b.pages())
		b.chapter("sources", "Documents and files", b.register())
	}
	b.chapter("limits", "Limits of this record", b.limits())
	b.collect(b.doc.Front)
	for i := range b.doc.Chapters {
		c := &b.doc.Chapters[i]
		b.doc.Anchors[c.Anchor] = true
		b.collect(c.Blocks)
	}
	return b.doc
}

// chapter adds a chapter that has something to show.
func (b *builder) chapter(anchor, title string, blocks []Block) {
	if len(blocks) > 0 {
		b.doc.Chapters = append(b.doc.Chapters, Chapter{anchor, title, blocks, b.entries})
	}
	b.entries = nil
}

// collect notes every anchor of the blocks; of a name met twice the first
// place counts and the others lose theirs.
func (b *builder) collect(blocks []Block) {
	once := func(a *string) {
		if *a == "" {
			return
		}
		if b.doc.Anchors[*a] {
			*a = ""
			return
		}
		b.doc.Anchors[*a] = true
	}
	for i := range blocks {
		once(&blocks[i].Anchor)
		if t := blocks[i].Table; t != nil {
			for j := range t.Rows {
				once(&t.Rows[j].Anchor)
				b.collect(t.Rows[j].Fold)
			}
		}
		b.collect(blocks[i].Blocks)
	}
}
