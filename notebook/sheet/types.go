// Package sheet opens the user's own documents (PDF) and answers whether
// quoted words and numbers stand on a cited page, where they stand, and what a
// data sheet says in its usual sections. It imports nothing of the project.
package sheet

// Number is a number as a fact states it, to be found on the page.
type Number struct {
	Text   string  `json:"text"`             // as typed: "0.25", "−40"
	Value  float64 `json:"value"`            // in the typed unit
	Unit   string  `json:"unit,omitempty"`   // as typed: "V", "mV", "°C", "" for a bare number
	Column string  `json:"column,omitempty"` // "min", "typ", "max" or "" when the fact names no column
}

// Query is one citation to check.
type Query struct {
	From      string   `json:"from,omitempty"`      // page, or first of a range, as cited
	To        string   `json:"to,omitempty"`        // last page of a range, "" for one page
	Counted   bool     `json:"counted,omitempty"`   // cited by count (pdf.6) and not by printed label (p.6)
	Quote     string   `json:"quote,omitempty"`     // words that must stand on the page, "" if none are quoted
	Numbers   []Number `json:"numbers,omitempty"`   // numbers of the fact
	Aside     []Number `json:"aside,omitempty"`     // numbers noted with it that may stand in another row: conditions, tolerances
	FirstPage int      `json:"firstPage,omitempty"` // counted page that carries printed page 1, for files without labels; 0 if unknown
	Name      string   `json:"name,omitempty"`      // symbol of the fact ("V_DROP"), helps to find its row
}

// Grade says how far a citation was checked.
type Grade string

// Grades from best to worst.
const (
	GradeWords    Grade = "words"     // the quoted words stand on the cited page
	GradeNumbers  Grade = "numbers"   // no words quoted; every number stands on the page
	GradePage     Grade = "page"      // the page exists; see Missing for numbers not on it
	GradeNoText   Grade = "no text"   // the page has no text layer, or one that does not say what it shows: it cannot be checked
	GradeNoFile   Grade = "no file"   // the document is not there (set by callers)
	GradeNotFound Grade = "not found" // the quoted words do not stand on the page
	GradeNoPage   Grade = "no page"   // the document has no such page
)

// Finding answers one Query.
type Finding struct {
	Grade     Grade    `json:"grade"`
	Page      int      `json:"page,omitempty"`      // counted page, from 1: where the words or numbers stand, else the first page cited; 0 if there is none
	Label     string   `json:"label,omitempty"`     // printed label of Page, "" if the file has none
	Elsewhere []int    `json:"elsewhere,omitempty"` // counted pages where the quoted words stand instead, neighbours first; all of them where no page is cited
	Missing   []string `json:"missing,omitempty"`   // numbers not found on the cited pages, as typed with their unit
	Absent    []string `json:"absent,omitempty"`    // those of Missing whose digits no cited page shows in any unit; none where a page cannot be read
	Unlike    []Unlike `json:"unlike,omitempty"`    // numbers whose digits the cited pages show with other units alone; none where a page cannot be read
	// numbers noted without a column that stand in a column of typical values, or beside the word, and nowhere else
	Typical []string        `json:"typical,omitempty"`
	Head    []HeadCondition `json:"head,omitempty"`   // conditions of the row meant and of the head of its table
	Slip    string          `json:"slip,omitempty"`   // "" or a sentence: the number stands in another column or another row
	Line    string          `json:"-"`                // text line in which the words or the first number were found
	Boxes   []Box           `json:"-"`                // what was found: the words line by line, then the numbers
	Unread  bool            `json:"unread,omitempty"` // a cited page cannot be read: Problem says why, and nothing may rest on it
	Fault   bool            `json:"fault,omitempty"`  // because of a fault of this program
	Hidden  bool            `json:"hidden,omitempty"` // a cited page holds words that nobody sees; they do not count
	// what was found is a text layer over a picture, as of a scan: the picture may show something else
	Layer   bool   `json:"layer,omitempty"`
	Problem string `json:"problem,omitempty"` // "" or why a cited page could not be read, or not to the end
}

// Box is a rectangle on a page in points (1/72 inch); the origin is the top
// left corner of the page as it is shown, rotation applied; Y grows downwards.
type Box struct {
	Page           int // counted, from 1
	X0, Y0, X1, Y1 float64
}

// Info describes a document.
type Info struct {
	SHA256    string // of the file's bytes, lower-case hexadecimal
	Pages     int
	HasLabels bool   // the file carries printed page labels
	TextPages int    // pages known to have a text layer; -1 until all pages were read
	Title     string // from the document information, "" if none
}

// Page is the text of one page, in reading order of its lines.
type Page struct {
	Number        int     // counted, from 1
	Label         string  // printed label, "" if none
	Width, Height float64 // points, rotation applied
	Lines         []Line

	rules []rect // ruled lines, on pages whose text has the head of a table
	marks []rect // shapes of the size of a character, on such pages
}

// Line is one line of text.
type Line struct {
	Text  string // words joined by one blank
	Words []Word
	Box   Box
}

// Word is a run of characters without a blank.
type Word struct {
	Text string
	Size float64 // estimated size of the type in points, 0 if unknown
	Turn uint8   // quarter turns clockwise of the text against the page as shown; 4 if oblique
	Box  Box

	char, chars int // its characters in the engine's count, from the first to the last
}
