package sheets

// Notice stands on every page of every sheet.
const Notice = "Invented for demonstration. No such part exists."

// Sheet is one invented data sheet. Page numbers are the index plus one; the
// notebooks cite them, so a page is never inserted in the middle.
type Sheet struct {
	File     string // "weirkeeper/sheets/ozd-l2.pdf", under examples
	Code     string // family name as printed in the page head
	Title    string
	Issuer   string
	Revision string
	Date     string // ISO 8601, as printed
	Style    Style
	Pages    []Page
}

// Page is one page: a heading and what stands under it.
type Page struct {
	Title string
	Items []Item
}

// Item is one thing on a page, drawn from the pen's place downwards.
type Item interface{ draw(p *pen) }

// Style makes the sheets of different issuers look different.
type Style struct {
	Letter bool   // US letter instead of A4
	Serif  bool   // serif text
	Grid   Grid   // how tables are ruled
	Accent [3]int // colour of rules and table heads
	Right  bool   // page number and revision at the right of the head, not in the foot
	Number bool   // headings carry the page's section number
}

// Grid is how a table is ruled.
type Grid uint8

const (
	Boxed   Grid = iota // all cells boxed
	Ruled               // horizontal rules only
	Striped             // shaded every other row, no rules
)

// Text is a paragraph.
type Text string

// Bullets is a list.
type Bullets []string

// Sub is a small heading within a page.
type Sub string

// Table is a ruled table. A cell is text between bars; an empty cell repeats
// nothing and stays empty.
type Table struct {
	Caption string
	Head    string
	Widths  []float64 // shares of the text width
	Rows    []string
}

// Outline is a package drawing with its dimensions as vectors.
type Outline struct {
	Name          string
	Kind          string // "quad", "dual", "chip", "cylinder", "block"
	Length, Width float64
	Height        float64
	Pins          int
	Pitch         float64
	Span          float64 // over the leads; 0 when the leads end with the body
	Pad           [2]float64
}

// Circuit is a typical application: a block with wired pins.
type Circuit struct {
	Block string
	Left  []Wire
	Right []Wire
	Note  string
}

// Wire runs from a pin to a net, perhaps past one part to ground.
type Wire struct {
	Pin, Net string
	Kind     string // part from the wire to ground: "C", "R", "X" (crystal) or ""
	Part     string // its value
}
