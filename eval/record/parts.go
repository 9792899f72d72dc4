package record

// This file holds what the record says of parts and documents.

// Part is one part type as noted.
type Part struct {
	ID      string   `json:"id"`
	Title   string   `json:"title"`
	Order   []string `json:"order"`
	Package string   `json:"package"`
	Maker   string   `json:"maker,omitempty"`
	Status  string   `json:"status,omitempty"`  // lifecycle with its date
	Checked string   `json:"checked,omitempty"` // second person, date
	// keys: "order code", "package", "pins", "characteristics", "maximum ratings", "application circuit"
	Sections map[string]Section `json:"sections"`
	Decoded  []Field            `json:"decoded,omitempty"`
	Facts    []Fact             `json:"facts"`
	Pins     []Pin              `json:"pins"`
	Needs    []Need             `json:"needs"`
	Placed   []string           `json:"placed"`
	Notes    []Field            `json:"notes,omitempty"` // moisture, marking, temperature grade...
	Position *Position          `json:"position,omitempty"`
}

// Section says whether one of the six sections of a first look is noted, and where.
type Section struct {
	Noted bool   `json:"noted"`
	Pages string `json:"pages,omitempty"`
}

// Field is a named text.
type Field struct {
	Name  string `json:"name"`
	Value string `json:"value"`
	Means string `json:"means,omitempty"`
	Type  string `json:"type,omitempty"` // electrical type of a pin, as an exported file has it
	Cites []Cite `json:"cites,omitempty"`
}

// Fact is one row of a part's characteristics or limits.
type Fact struct {
	Section     string    `json:"section"` // "operating", "absmax", "spec"
	Name        string    `json:"name"`
	Pins        []string  `json:"pins,omitempty"`
	Text        string    `json:"text"` // as typed
	Min         *float64  `json:"min"`
	Typ         *float64  `json:"typ"`
	Max         *float64  `json:"max"`
	MinText     string    `json:"min_text,omitempty"`
	TypText     string    `json:"typ_text,omitempty"`
	MaxText     string    `json:"max_text,omitempty"`
	Unit        string    `json:"unit"`
	At          string    `json:"at,omitempty"`
	Unconfirmed bool      `json:"unconfirmed,omitempty"`
	Cites       []Cite    `json:"cites"`
	UsedBy      []string  `json:"used_by,omitempty"`
	Position    *Position `json:"position,omitempty"`
}

// Pin is a pin row.
type Pin struct {
	Numbers []string `json:"numbers"`
	Name    string   `json:"name"`
	Type    string   `json:"type"`
	Flags   []string `json:"flags,omitempty"`
	Cites   []Cite   `json:"cites,omitempty"`
}

// Need is an application-circuit row.
type Need struct {
	Text  string `json:"text"`
	MetBy string `json:"met_by,omitempty"`
	Cites []Cite `json:"cites,omitempty"`
}

// Placement is what stands on the board.
type Placement struct {
	Ref      string    `json:"ref"`
	Part     string    `json:"part"` // part ID or kind
	Text     string    `json:"text"` // value and options as typed
	Nets     []Field   `json:"nets"` // pin, net
	InUse    string    `json:"in_use,omitempty"`
	From     string    `json:"from,omitempty"` // exported file and line that place it, or add to its row
	Position *Position `json:"position,omitempty"`
}

// PartsLine is one line of the parts list.
type PartsLine struct {
	Quantity int      `json:"quantity"`
	Refs     []string `json:"refs"`
	Part     string   `json:"part"`
	Order    string   `json:"order"`
	Package  string   `json:"package"`
	Title    string   `json:"title"`
	Maker    string   `json:"maker,omitempty"`
	Status   string   `json:"status,omitempty"`
	Boards   int      `json:"boards,omitempty"`   // how many boards it is for; 0 where the design does not say
	Pack     int      `json:"pack,omitempty"`     // pieces in a pack
	ToOrder  int      `json:"to_order,omitempty"` // pieces to order: attrition and whole packs counted
}

// Source is one document.
type Source struct {
	ID        string         `json:"id"`
	Title     string         `json:"title"`
	Issuer    string         `json:"issuer,omitempty"`
	Revision  string         `json:"revision,omitempty"`
	Date      string         `json:"date,omitempty"`
	File      string         `json:"file,omitempty"`
	SHA256    string         `json:"sha256,omitempty"`   // of the file found
	Recorded  string         `json:"recorded,omitempty"` // digest in the notes
	OnFile    bool           `json:"on_file"`
	Changed   bool           `json:"changed"` // found digest differs from the recorded one
	Pages     int            `json:"pages"`
	Cited     int            `json:"cited"`             // citations from it
	Checked   map[string]int `json:"checked,omitempty"` // citations by grade
	Untold    int            `json:"untold,omitempty"`  // citations of a page that shows a number of theirs, in which unit or row the program cannot tell
	Corrects  string         `json:"corrects,omitempty"`
	State     string         `json:"state"`               // sentence: "at hand, digest agrees"
	Age       string         `json:"age,omitempty"`       // how long ago the document was fetched, where the notes say so
	Citations []Citation     `json:"citations,omitempty"` // every citation from it, in the order of the notes
	Position  *Position      `json:"position,omitempty"`
}

// Citation is one citation of a document, for the list that says what still
// stands in a new revision.
type Citation struct {
	Name     string    `json:"name,omitempty"` // fact it was cited for
	Page     string    `json:"page"`
	Quote    string    `json:"quote,omitempty"`
	Checked  string    `json:"checked"`           // as in Cite; of a changed file what the new one says
	Now      []int     `json:"now,omitempty"`     // counted pages where the words stand now, where not on the cited one
	Missing  []string  `json:"missing,omitempty"` // numbers of the fact that are not on the page
	Slip     string    `json:"slip,omitempty"`
	Erratum  string    `json:"erratum,omitempty"` // what a correcting document says of the same words
	Position *Position `json:"position,omitempty"`
}

// SheetSections are the keys of Part.Sections: what a first look at a data sheet notes, in its order.
var SheetSections = []string{
	"order code", "package", "pins", "characteristics", "maximum ratings", "application circuit",
}
