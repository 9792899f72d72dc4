package corpus

// Column names a column of a printed table.
type Column string

// Columns of the tables of ratings and characteristics.
const (
	Name      Column = "name"
	Symbol    Column = "symbol"
	Condition Column = "condition"
	Min       Column = "min"
	Typ       Column = "typ"
	Max       Column = "max"
	Unit      Column = "unit"
)

// Layout says how a sheet is set.
type Layout struct {
	Name      string
	Landscape bool
	Font      string // "sans", "condensed", "serif", "core"
	Size      float64
	Columns   []Column
	Titles    map[Column]string
	Widths    map[Column]float64 // shares of the width
	Headings  map[string]string  // by section
	Numbered  bool               // headings carry numbers
	Outline   bool               // bookmarks
	Contents  bool               // a table of contents
	Rules     bool               // lines around cells
	Padding   float64            // points above and below the text of a cell
	Merge     string             // "", "top" or "middle": one cell for equal names
	Groups    bool               // headings inside the tables
	Blank     string             // printed where nothing is stated
	UnitHead  bool               // one table per unit, the unit in the titles of min, typ, max
	TwoLine   bool               // "Limits" printed above min, typ, max
	Ranges    bool               // min and max of a rating in one cell, "to" between
	SplitTo   bool               // the range is split over two lines
	TwoColumn bool               // tables stand in the right half, prose in the left
	Turned    bool               // tables stand turned by 90 degrees on the page
	Rotate    int                // /Rotate entry of the pages, content turned to match
	Footnotes bool
	Greek     bool // µ and Ω set from the Symbol face of PDF
	Centre    bool // numbers and titles of numbers centred
	Right     bool // numbers and their titles flush right
	Lowered   bool // symbols with lowered type after the first letter
	HeadSize  float64
	Beside    string // characteristics in two tables side by side: "level", or "low" where the right one begins further down
	Lists     bool   // ratings as a list with leader dots, operating conditions as "name: value"
}

var plainTitles = map[Column]string{Name: "Parameter", Symbol: "Symbol", Condition: "Conditions", Min: "Min", Typ: "Typ", Max: "Max", Unit: "Unit"}

var plainWidths = map[Column]float64{Name: 0.26, Symbol: 0.1, Condition: 0.28, Min: 0.09, Typ: 0.09, Max: 0.09, Unit: 0.09}

var usual = []Column{Name, Symbol, Condition, Min, Typ, Max, Unit}

// Sections of a sheet.
const (
	Ordering    = "ordering"
	Packaging   = "package"
	Pinning     = "pins"
	Absolute    = "absolute"
	Recommended = "operating"
	Electrical  = "electrical"
	Application = "application"
)

func headings(ordering, packaging, pinning, absolute, recommended, electrical, application string) map[string]string {
	return map[string]string{Ordering: ordering, Packaging: packaging, Pinning: pinning, Absolute: absolute, Recommended: recommended, Electrical: electrical, Application: application}
}

// Layouts gives the ways in which sheets are set. Headings and titles are terms
// of the trade as common practice has them.
func Layouts() []Layout {
	usualHeads := headings("Ordering Information", "Package Outline", "Pin Configuration and Functions", "Absolute Maximum Ratings", "Recommended Operating Conditions", "Electrical Characteristics", "Typical Application Circuit")
	upper := headings("ORDERING INFORMATION", "PACKAGE DIMENSIONS", "PIN DESCRIPTION", "ABSOLUTE MAXIMUM RATINGS", "OPERATING CONDITIONS", "ELECTRICAL SPECIFICATIONS", "TYPICAL APPLICATION")
	iec := headings("Order codes", "Mechanical data", "Pinning information", "Limiting values", "Operating ratings", "Static and dynamic characteristics", "Application information")
	short := headings("Device options", "Package information", "Pin functions", "Maximum ratings", "Recommended operating conditions", "DC characteristics", "Application circuit")
	titled := func(name, cond, unit string) map[Column]string {
		return map[Column]string{Name: name, Symbol: "Symbol", Condition: cond, Min: "Min.", Typ: "Typ.", Max: "Max.", Unit: unit}
	}
	upTitles := map[Column]string{Name: "PARAMETER", Symbol: "SYMBOL", Condition: "TEST CONDITIONS", Min: "MIN", Typ: "TYP", Max: "MAX", Unit: "UNITS"}
	return []Layout{
		{Name: "ruled", Font: "sans", Size: 8, Columns: usual, Titles: plainTitles, Widths: plainWidths, Headings: usualHeads, Rules: true, Padding: 2.5, Groups: true},
		{Name: "outline", Font: "condensed", Size: 8.5, Columns: usual, Titles: upTitles, Widths: plainWidths, Headings: usualHeads, Numbered: true, Outline: true, Contents: true, Rules: true, Padding: 2, Merge: "middle", Centre: true},
		{Name: "bare", Font: "serif", Size: 9, Columns: []Column{Symbol, Name, Condition, Min, Typ, Max, Unit}, Titles: titled("Characteristic", "Test condition", "Unit"), Widths: map[Column]float64{Name: 0.26, Symbol: 0.13, Condition: 0.25, Min: 0.09, Typ: 0.09, Max: 0.09, Unit: 0.09}, Headings: iec, Padding: 1.2, Blank: "—", Contents: true},
		{Name: "two-column", Font: "condensed", Size: 6.5, Columns: []Column{Name, Condition, Min, Typ, Max, Unit}, Titles: titled("Parameter", "Conditions", "Units"), Widths: map[Column]float64{Name: 0.3, Condition: 0.28, Min: 0.105, Typ: 0.105, Max: 0.105, Unit: 0.105}, Headings: upper, Padding: 2, Rules: true, TwoColumn: true},
		{Name: "landscape", Landscape: true, Font: "sans", Size: 9, Columns: []Column{Name, Symbol, Min, Typ, Max, Unit, Condition}, Titles: titled("Parameter", "Conditions / comments", "Unit"), Widths: plainWidths, Headings: short, Padding: 2, Groups: true, Blank: "–", Outline: true},
		{Name: "reversed", Font: "sans", Size: 7.5, Columns: []Column{Name, Symbol, Condition, Unit, Max, Typ, Min}, Titles: plainTitles, Widths: plainWidths, Headings: usualHeads, Rules: true, Padding: 2.5, Footnotes: true, Centre: true},
		{Name: "unit-heads", Font: "condensed", Size: 8.5, Columns: []Column{Name, Symbol, Condition, Min, Typ, Max}, Titles: plainTitles, Widths: map[Column]float64{Name: 0.3, Symbol: 0.12, Condition: 0.25, Min: 0.11, Typ: 0.11, Max: 0.11}, Headings: upper, Rules: true, Padding: 2, UnitHead: true},
		{Name: "merged", Font: "sans", Size: 8, Columns: usual, Titles: titled("Parameter", "Conditions", "Unit"), Widths: plainWidths, Headings: iec, Rules: true, Padding: 3, Merge: "top", TwoLine: true, Groups: true},
		{Name: "greek", Font: "core", Size: 8.5, Columns: usual, Titles: plainTitles, Widths: plainWidths, Headings: short, Padding: 2, Greek: true, Rules: true},
		{Name: "turned", Font: "condensed", Size: 8, Columns: usual, Titles: upTitles, Widths: plainWidths, Headings: usualHeads, Padding: 2, Turned: true, Rules: true},
		{Name: "rotated", Font: "sans", Size: 8.5, Columns: usual, Titles: plainTitles, Widths: plainWidths, Headings: iec, Padding: 2, Rotate: 90, Numbered: true},
		{Name: "lowered", Font: "sans", Size: 8.5, Columns: []Column{Symbol, Name, Condition, Min, Typ, Max, Unit}, Titles: titled("Parameter", "Test conditions", "Unit"), Widths: map[Column]float64{Name: 0.26, Symbol: 0.13, Condition: 0.25, Min: 0.09, Typ: 0.09, Max: 0.09, Unit: 0.09}, Headings: iec, Rules: true, Padding: 2, Lowered: true, Merge: "middle"},
		{Name: "dense", Font: "serif", Size: 8, Columns: usual, Titles: upTitles, Widths: plainWidths, Headings: upper, Padding: 0, Right: true, Blank: "-", Groups: true},
		{Name: "quiet", Font: "condensed", Size: 9, Columns: []Column{Symbol, Name, Condition, Min, Typ, Max, Unit}, Titles: titled("Item", "Condition", "Unit"), Widths: map[Column]float64{Name: 0.24, Symbol: 0.12, Condition: 0.3, Min: 0.07, Typ: 0.07, Max: 0.07, Unit: 0.09}, Headings: usualHeads, Padding: 1, HeadSize: 9, Right: true, Merge: "top"},
		{Name: "beside", Landscape: true, Font: "condensed", Size: 7.5, Columns: []Column{Name, Symbol, Condition, Min, Typ, Max, Unit}, Titles: plainTitles, Widths: map[Column]float64{Name: 0.25, Symbol: 0.13, Condition: 0.26, Min: 0.09, Typ: 0.09, Max: 0.09, Unit: 0.09}, Headings: usualHeads, Rules: true, Padding: 2, Beside: "level"},
		{Name: "beside-low", Landscape: true, Font: "sans", Size: 6.5, Columns: []Column{Name, Condition, Min, Typ, Max, Unit}, Titles: upTitles, Widths: map[Column]float64{Name: 0.28, Condition: 0.3, Min: 0.105, Typ: 0.105, Max: 0.105, Unit: 0.105}, Headings: iec, Padding: 1.5, Groups: true, Blank: "—", Beside: "low"},
		{Name: "lists", Font: "serif", Size: 8.5, Columns: usual, Titles: plainTitles, Widths: plainWidths, Headings: short, Padding: 2, Ranges: true, Lists: true},
		{Name: "ranges", Font: "condensed", Size: 8.5, Columns: usual, Titles: plainTitles, Widths: plainWidths, Headings: usualHeads, Padding: 2.5, Ranges: true, SplitTo: true, Rules: true, Footnotes: true},
	}
}
