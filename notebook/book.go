// Package notebook reads design notebooks: Markdown in, a Book of prose,
// blocks and entries out, each with its place in a file. It never evaluates.
package notebook

import "strings"

// Book is a root notebook and all it includes.
type Book struct {
	Root      string      // absolute folder that every path must stay in
	Notebooks []*Notebook // the root notebook first, then included ones in the order met
	Diags     *Diagnostics

	image, twin string // see Options
}

// Notebook is one file.
type Notebook struct {
	Src     *Source
	Content []*Node  // prose and blocks in the order written
	Blocks  []*Block // the same blocks
}

// Block is one fenced block of ours.
type Block struct {
	Kind    string // "design", "source", "part", "values", "claim", "circuit", "budget", "shortlist", "readings", "review"
	ID      string // folded; "" for kinds that take none: design, values, circuit, readings, review
	IDText  Text   // the ID with its place; the fence word where there is none
	Entries []*Entry
	Src     *Source
	Pos     Pos    // of the fence word
	Lines   string // the lines as written, for the record
}

// EntryKind tells the three kinds of entry apart.
type EntryKind uint8

const (
	Attribute  EntryKind = iota
	Definition           // a fact, a value, or a reading
	RowGroup             // a label with rows: pins, application, states, include
	Row                  // one row: of a RowGroup (in its Rows), or of a circuit or budget block
)

// Entry is one logical line.
type Entry struct {
	Kind  EntryKind
	first int32    // offset of its first character in the file
	Lines [2]int32 // first and last line in the file
	Text  Text     // the whole entry, comments cut

	// Attribute
	Label string // canonical, from the block's table: "criterion"
	Value Text   // without citations

	// Definition
	Section  string // "operating", "absmax", "spec" or ""
	Name     string
	NameText Text
	RHS      Text

	Cites []Cite

	// Arg is, of an attribute, the word between label and colon: "volts" in "field volts:", "A3" in "action A3:",
	// the ID in "skip supply-range.U1.VDD:".
	Arg     string
	ArgText Text

	// of a definition, pin groups in parentheses after the name: "PA*", "1-4"; quotes taken off, so a pin of that
	// very name goes before a range
	Selectors   []string
	Conds       []Cond
	RefName     string // "ref T = 20 °C" after a value
	RefValue    Text
	Unconfirmed bool // the word "unconfirmed" stands at the end

	// Rows: exactly one of these is set for an entry that is a row.
	Pin       *PinRow
	Need      *NeedRow
	Placement *Placement
	Load      *LoadRow

	Rows []*Entry // of a RowGroup label
}

// Trimmed is the text of a label without the spaces round it.
func (e *Entry) Trimmed() string { return strings.TrimSpace(e.Value.S) }

// Cond is one condition after "at": a name with a range or value, or a flag in quotes.
type Cond struct {
	Text     Text
	Name     string
	NameText Text
	Op       string // "=", "<=", ">="
	Value    Text
	Flag     string // quoted condition
}

// Cite is one citation in square brackets.
type Cite struct {
	Text     Text
	Source   string // source ID; "" means the block's own source
	From, To string // page labels or counted pages, To "" for a single page
	Page     string // the page as typed, "6-7": where a page has this label it is one page; "" where it can only be a run
	Counted  bool   // "pdf.6": count of pages; else the printed label
	Section  string // "7.4" of §7.4
	Quote    string
	Date     string // "2026-11-02" of a bench reading
	ReadBy   string // "K. Sedge" of "read by K. Sedge 2026-11-20": the person who compared what is noted with the page
	ReadOn   string // the day of it
	Assumed  string // "[assumed: why]"
}

// PinRow is a row under "pins:".
type PinRow struct {
	Numbers  []string // "1", "A1", "EP"
	Name     string
	NameText Text
	Type     string   // canonical pin type, may be two words: "supply output"
	Flags    []string // further words: open drain, pull-up, strap, NC ...
	Facts    string   // fact name the row points to ("5 VDDA supply V_DD"), or ""
	More     []Text   // options after commas
}

// NeedRow is a row under "application:".
type NeedRow struct {
	A, B  string
	AText Text
	BText Text
	Kind  string // "capacitor", "resistor", ...
	Needs []Need
}

// Need is one quantity asked of the part between two pins.
type Need struct {
	Name  string // "ESR", or "" for the value itself
	Value Text
}

// Placement is a row of a circuit block.
type Placement struct {
	Refs     []string // designators, ranges opened: C4, C5, C6
	RefText  Text
	Part     string // ID of a part, or "" for a kind
	PartText Text
	Kind     string // "resistor", "capacitor", "inductor", "diode", "crystal", ... or ""
	Value    Text   // the kind's value: "4k7 ± 1 %"
	Options  []Text // after commas
	Conns    []Conn
	InUse    []Cond
	Roles    []PinRole // in its `in use:`
}

// PinRole is what the firmware makes of a pin of one name or number.
type PinRole struct {
	Pin, Role     string // "P4"; "output", "analog input", Unused
	PinText, Text Text
}

// Conn joins a pin to a net. Pin is "" for the two nets of a two-terminal part.
type Conn struct {
	Pin     string
	Net     string
	NetText Text
	PinText Text
	Nets    []string // "OUT1..OUT4" opened: one net for each designator of the row; nil for one net
}

// LoadRow is a row of a budget block.
type LoadRow struct {
	Ref, State string
	RefText    Text
	StateText  Text
	Value      Text
	For, Every Text   // may be empty
	From       string // "U2 from V3V3"
	FromText   Text
}

// NodeKind names a piece of prose; the values are the JSON of the record.
type NodeKind string

const (
	Heading      NodeKind = "heading" // Level, ID, Children
	Paragraph    NodeKind = "paragraph"
	ListNode     NodeKind = "list" // Ordered, Start; Children are items
	Item         NodeKind = "item" // Checked: "", "yes", "no"
	Quote        NodeKind = "quote"
	Code         NodeKind = "code" // Text, Info
	Table        NodeKind = "table"
	TableRow     NodeKind = "row"  // Head
	Cell         NodeKind = "cell" // Align
	Rule         NodeKind = "rule"
	BlockNode    NodeKind = "block"    // Block
	Footnote     NodeKind = "footnote" // ID (number) and Children, at the end of the notebook
	Inline       NodeKind = "text"
	Emphasis     NodeKind = "emphasis"
	Strong       NodeKind = "strong"
	Strike       NodeKind = "strike"
	CodeSpan     NodeKind = "codespan"
	Link         NodeKind = "link"  // URL
	Image        NodeKind = "image" // URL, Text is the alternative
	Break        NodeKind = "break"
	FootRef      NodeKind = "footref" // ID
	CiteNode     NodeKind = "cite"    // Cite
	PrintValue   NodeKind = "value"   // Text is the path, Unit
	PrintVerdict NodeKind = "verdict" // Text is the claim's ID
)

// Node is one piece of prose as read, or the place of a block.
type Node struct {
	Kind     NodeKind
	Pos      Pos
	Text     string
	Block    *Block
	Children []*Node

	// of some kinds; NodeKind says of which
	Level   int
	ID      string
	Unit    string
	URL     string
	Info    string
	Ordered bool
	Start   int
	Align   string
	Head    bool
	Checked string
	Src     Text // of cite, value, verdict: the bracketed text with its place
	Cite    *Cite
}
