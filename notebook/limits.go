package notebook

// Limits that keep reading bounded in time and memory whatever is written.
// Each has its own diagnostic.
const (
	// MaxBytes is the largest notebook that is read, in bytes (16 MiB).
	MaxBytes = 16 << 20
	// MaxLines is how many lines a design may have, all its notebooks together.
	// What a reader keeps grows with lines more than with bytes.
	MaxLines = 250_000
	// MaxFiles is how many notebooks one design may include.
	MaxFiles = 4096
	// MaxNesting is how deep lists and quotes may stand in one another.
	MaxNesting = 64
	// MaxColumns is how many columns a table of the prose may have.
	MaxColumns = 128
	// MaxFootnotes is how many footnotes one notebook may have.
	MaxFootnotes = 2000
	// MaxMarks is how many marks of emphasis, code, links and tags one
	// paragraph may hold; Markdown's reading of them is quadratic.
	MaxMarks = 4000
	// maxMarkWork bounds the sum of the squares of those counts in one file.
	maxMarkWork = 400_000_000
	// maxPieces bounds the marks, links and cells of all prose in one notebook:
	// each becomes a piece of the record.
	maxPieces = 400_000
	// MaxEntry is the longest entry, in bytes, its continuation lines joined.
	MaxEntry = 16 << 10
	// MaxRefs is how many designators one row may open to.
	MaxRefs = 4096
	// MaxDiagnostics is how many complaints one file may raise; the rest are
	// counted.
	MaxDiagnostics = 1000
)
