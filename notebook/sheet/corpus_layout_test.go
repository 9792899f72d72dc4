package sheet

// corpusColumn names a column of a printed table.
type corpusColumn string

// Columns of the tables of ratings and characteristics.
const (
	corpusName      corpusColumn = "name"
	corpusSymbol    corpusColumn = "symbol"
	corpusCondition corpusColumn = "condition"
	corpusMin       corpusColumn = "min"
	corpusTyp       corpusColumn = "typ"
	corpusMax       corpusColumn = "max"
	corpusUnit      corpusColumn = "unit"
)

// corpusLayout says how a sheet is set.
type corpusLayout struct {
	Name      string
	Landscape bool
	Font      string // "sans", "condensed", "serif", "core"
	Size      float64
	Columns   []corpusColumn
	Titles    map[corpusColumn]string
	Widths    map[corpusColumn]float64 // shares of the width
	Headings  map[string]string        // by section
	Numbered  bool                     // headings carry numbers
	Outline   bool                     // bookmarks
	Contents  bool                     // a table of contents
	Rules     bool                     // lines around cells
	Padding   float64                  // points above and below the text of a cell
	Merge     string                   // "", "top" or "middle": one cell for equal names
	Groups    bool                     // headings inside the tables
	Blank     string                   // printed where nothing is stated
	UnitHead  bool                     // one table per unit, the unit in the titles of min, typ, max
	TwoLine   bool                     // "Limits" printed above min, typ, max
	Ranges    bool                     // min and max of a rating in one cell, "to" between
	SplitTo   bool                     // the range is split over two lines
	TwoColumn bool                     // tables stand in the right half, prose in the left
	Turned    bool                     // tables stand turned by 90 degrees on the page
	Rotate    int                      // /Rotate entry of the pages, content turned to match
	Footnotes bool
	Greek     bool // µ and Ω set from the Symbol face of PDF
	Centre    bool // numbers and titles of numbers centred
	Right     bool // numbers and their titles flush right
	Lowered   bool // symbols with lowered type after the first letter
	HeadSize  float64
	Beside    string // characteristics in two tables side by side: "level", or "low" where the right one begins further down
	Lists     bool   // ratings as a list with leader dots, operating conditions as "name: value"
}

var corpusPlainTitles = map[corpusColumn]string{corpusName: "Parameter", corpusSymbol: "Symbol",
	corpusCondition: "Conditions", corpusMin: "Min", corpusTyp: "Typ", corpusMax: "Max", corpusUnit: "Unit"}

var corpusPlainWidths = map[corpusColumn]float64{corpusName: 0.26, corpusSymbol: 0.1, corpusCondition: 0.28,
	corpusMin: 0.09, corpusTyp: 0.09, corpusMax: 0.09, corpusUnit: 0.09}

var corpusUsual = []corpusColumn{corpusName, corpusSymbol, corpusCondition, corpusMin, corpusTyp, corpusMax, corpusUnit}

// Sections of a sheet.
const (
	corpusOrdering    = "ordering"
	corpusPackaging   = "package"
	corpusPinning     = "pins"
	corpusAbsolute    = "absolute"
	corpusRecommended = "operating"
	corpusElectrical  = "electrical"
	corpusApplication = "application"
)

func corpusHeadings(ordering, packaging, pinning, absolute, recommended, electrical, application string) map[string]string {
	return map[string]string{corpusOrdering: ordering, corpusPackaging: packaging, corpusPinning: pinning,
		corpusAbsolute: absolute, corpusRecommended: recommended, corpusElectrical: electrical,
		corpusApplication: application}
}

// corpusLayouts gives the ways in which sheets are set. Headings and titles are terms
// of the trade as common practice has them.
func corpusLayouts() []corpusLayout {
	usualHeads := corpusHeadings("Ordering Information", "Package Outline", "Pin Configuration and Functions", "Absolute Maximum Ratings", "Recommended Operating Conditions", "Electrical Characteristics", "Typical Application Circuit")
	upper := corpusHeadings("ORDERING INFORMATION", "PACKAGE DIMENSIONS", "PIN DESCRIPTION", "ABSOLUTE MAXIMUM RATINGS", "OPERATING CONDITIONS", "ELECTRICAL SPECIFICATIONS", "TYPICAL APPLICATION")
	iec := corpusHeadings("Order codes", "Mechanical data", "Pinning information", "Limiting values", "Operating ratings", "Static and dynamic characteristics", "Application information")
	short := corpusHeadings("Device options", "Package information", "Pin functions", "Maximum ratings", "Recommended operating conditions", "DC characteristics", "Application circuit")
	titled := func(name, cond, unit string) map[corpusColumn]string {
		return map[corpusColumn]string{corpusName: name, corpusSymbol: "Symbol", corpusCondition: cond,
			corpusMin: "Min.", corpusTyp: "Typ.", corpusMax: "Max.", corpusUnit: unit}
	}
	upTitles := map[corpusColumn]string{corpusName: "PARAMETER", corpusSymbol: "SYMBOL",
		corpusCondition: "TEST CONDITIONS", corpusMin: "MIN", corpusTyp: "TYP", corpusMax: "MAX", corpusUnit: "UNITS"}
	return []corpusLayout{
		{Name: "ruled", Font: "sans", Size: 8, Columns: corpusUsual, Titles: corpusPlainTitles, Widths: corpusPlainWidths, Headings: usualHeads, Rules: true, Padding: 2.5, Groups: true},
		{Name: "outline", Font: "condensed", Size: 8.5, Columns: corpusUsual, Titles: upTitles, Widths: corpusPlainWidths, Headings: usualHeads, Numbered: true, Outline: true, Contents: true, Rules: true, Padding: 2, Merge: "middle", Centre: true},
		{Name: "bare", Font: "serif", Size: 9, Columns: []corpusColumn{corpusSymbol, corpusName, corpusCondition, corpusMin, corpusTyp, corpusMax, corpusUnit}, Titles: titled("Characteristic", "Test condition", "Unit"), Widths: map[corpusColumn]float64{corpusName: 0.26, corpusSymbol: 0.13, corpusCondition: 0.25, corpusMin: 0.09, corpusTyp: 0.09, corpusMax: 0.09, corpusUnit: 0.09}, Headings: iec, Padding: 1.2, Blank: "—", Contents: true},
		{Name: "two-column", Font: "condensed", Size: 6.5, Columns: []corpusColumn{corpusName, corpusCondition, corpusMin, corpusTyp, corpusMax, corpusUnit}, Titles: titled("Parameter", "Conditions", "Units"), Widths: map[corpusColumn]float64{corpusName: 0.3, corpusCondition: 0.28, corpusMin: 0.105, corpusTyp: 0.105, corpusMax: 0.105, corpusUnit: 0.105}, Headings: upper, Padding: 2, Rules: true, TwoColumn: true},
		{Name: "landscape", Landscape: true, Font: "sans", Size: 9, Columns: []corpusColumn{corpusName, corpusSymbol, corpusMin, corpusTyp, corpusMax, corpusUnit, corpusCondition}, Titles: titled("Parameter", "Conditions / comments", "Unit"), Widths: corpusPlainWidths, Headings: short, Padding: 2, Groups: true, Blank: "–", Outline: true},
		{Name: "reversed", Font: "sans", Size: 7.5, Columns: []corpusColumn{corpusName, corpusSymbol, corpusCondition, corpusUnit, corpusMax, corpusTyp, corpusMin}, Titles: corpusPlainTitles, Widths: corpusPlainWidths, Headings: usualHeads, Rules: true, Padding: 2.5, Footnotes: true, Centre: true},
		{Name: "unit-heads", Font: "condensed", Size: 8.5, Columns: []corpusColumn{corpusName, corpusSymbol, corpusCondition, corpusMin, corpusTyp, corpusMax}, Titles: corpusPlainTitles, Widths: map[corpusColumn]float64{corpusName: 0.3, corpusSymbol: 0.12, corpusCondition: 0.25, corpusMin: 0.11, corpusTyp: 0.11, corpusMax: 0.11}, Headings: upper, Rules: true, Padding: 2, UnitHead: true},
		{Name: "merged", Font: "sans", Size: 8, Columns: corpusUsual, Titles: titled("Parameter", "Conditions", "Unit"), Widths: corpusPlainWidths, Headings: iec, Rules: true, Padding: 3, Merge: "top", TwoLine: true, Groups: true},
		{Name: "greek", Font: "core", Size: 8.5, Columns: corpusUsual, Titles: corpusPlainTitles, Widths: corpusPlainWidths, Headings: short, Padding: 2, Greek: true, Rules: true},
		{Name: "turned", Font: "condensed", Size: 8, Columns: corpusUsual, Titles: upTitles, Widths: corpusPlainWidths, Headings: usualHeads, Padding: 2, Turned: true, Rules: true},
		{Name: "rotated", Font: "sans", Size: 8.5, Columns: corpusUsual, Titles: corpusPlainTitles, Widths: corpusPlainWidths, Headings: iec, Padding: 2, Rotate: 90, Numbered: true},
		{Name: "lowered", Font: "sans", Size: 8.5, Columns: []corpusColumn{corpusSymbol, corpusName, corpusCondition, corpusMin, corpusTyp, corpusMax, corpusUnit}, Titles: titled("Parameter", "Test conditions", "Unit"), Widths: map[corpusColumn]float64{corpusName: 0.26, corpusSymbol: 0.13, corpusCondition: 0.25, corpusMin: 0.09, corpusTyp: 0.09, corpusMax: 0.09, corpusUnit: 0.09}, Headings: iec, Rules: true, Padding: 2, Lowered: true, Merge: "middle"},
		{Name: "dense", Font: "serif", Size: 8, Columns: corpusUsual, Titles: upTitles, Widths: corpusPlainWidths, Headings: upper, Padding: 0, Right: true, Blank: "-", Groups: true},
		{Name: "quiet", Font: "condensed", Size: 9, Columns: []corpusColumn{corpusSymbol, corpusName, corpusCondition, corpusMin, corpusTyp, corpusMax, corpusUnit}, Titles: titled("Item", "Condition", "Unit"), Widths: map[corpusColumn]float64{corpusName: 0.24, corpusSymbol: 0.12, corpusCondition: 0.3, corpusMin: 0.07, corpusTyp: 0.07, corpusMax: 0.07, corpusUnit: 0.09}, Headings: usualHeads, Padding: 1, HeadSize: 9, Right: true, Merge: "top"},
		{Name: "beside", Landscape: true, Font: "condensed", Size: 7.5, Columns: []corpusColumn{corpusName, corpusSymbol, corpusCondition, corpusMin, corpusTyp, corpusMax, corpusUnit}, Titles: corpusPlainTitles, Widths: map[corpusColumn]float64{corpusName: 0.25, corpusSymbol: 0.13, corpusCondition: 0.26, corpusMin: 0.09, corpusTyp: 0.09, corpusMax: 0.09, corpusUnit: 0.09}, Headings: usualHeads, Rules: true, Padding: 2, Beside: "level"},
		{Name: "beside-low", Landscape: true, Font: "sans", Size: 6.5, Columns: []corpusColumn{corpusName, corpusCondition, corpusMin, corpusTyp, corpusMax, corpusUnit}, Titles: upTitles, Widths: map[corpusColumn]float64{corpusName: 0.28, corpusCondition: 0.3, corpusMin: 0.105, corpusTyp: 0.105, corpusMax: 0.105, corpusUnit: 0.105}, Headings: iec, Padding: 1.5, Groups: true, Blank: "—", Beside: "low"},
		{Name: "lists", Font: "serif", Size: 8.5, Columns: corpusUsual, Titles: corpusPlainTitles, Widths: corpusPlainWidths, Headings: short, Padding: 2, Ranges: true, Lists: true},
		{Name: "ranges", Font: "condensed", Size: 8.5, Columns: corpusUsual, Titles: corpusPlainTitles, Widths: corpusPlainWidths, Headings: usualHeads, Padding: 2.5, Ranges: true, SplitTo: true, Rules: true, Footnotes: true},
	}
}
