package lists

import (
	_ "embed"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"

	"guardband/notebook"
)

//go:embed headings.txt
var headingTable string

// knownHeadings are the headings that each role of a column is known by.
var knownHeadings = sync.OnceValue(func() map[string][]string {
	out := map[string][]string{}
	for line := range strings.Lines(headingTable) {
		if role, names, ok := strings.Cut(line, ": "); ok && !strings.HasPrefix(line, "//") {
			out[role] = notebook.SplitList(names)
		}
	}
	return out
})

// foldHeading is a heading without case, spaces and marks between words.
func foldHeading(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || strings.ContainsRune("_-./#", r) {
			return -1
		}
		return unicode.ToLower(r)
	}, s)
}

// column is a column that is looked for.
type column struct {
	role     string
	needed   bool
	named    bool     // by an item of `columns:`: "value = Value", `value = "Val, rated"`
	headings []string // that it is known by
	nth      int      // `value = "Value" 2`: which of equal headings; 0 where it is not said
}

// columns are the columns of a form: those that the text of a `columns:` line names, and the others by the headings
// they are known by.
func (f *Form) columns(text string) (out []column, faults []Fault) {
	named := map[string]bool{}
	needed := func(role string) bool { return slices.Contains(f.Columns[:f.Needed], role) }
	for _, item := range SplitOutside(text) {
		role, heading, has := strings.Cut(item, "=")
		role, heading = strings.TrimSpace(role), strings.TrimSpace(heading)
		if !has || !slices.Contains(f.Columns, role) {
			faults = append(faults, Fault{Code: "exported-columns", Msg: "`" + item + "` does not name a column: " +
				strings.Join(f.Columns, ", "), Hint: "write `" + f.Columns[0] + " = its heading in the file`", InColumns: true})
			continue
		}
		x := column{role: role, needed: needed(role), named: true}
		if q, ok := strings.CutPrefix(heading, "\""); ok {
			nth := ""
			heading, nth, _ = strings.Cut(q, "\"")
			x.nth, _ = strconv.Atoi(strings.TrimSpace(nth))
		}
		x.headings = []string{heading}
		out, named[role] = append(out, x), true
	}
	for _, role := range f.Columns {
		if !named[role] {
			out = append(out, column{role: role, needed: needed(role), headings: knownHeadings()[role]})
		}
	}
	return out, faults
}

// SplitOutside splits a list at commas outside quotation marks.
func SplitOutside(s string) (out []string) {
	quoted, from := false, 0
	for i, r := range s + "," {
		if quoted = quoted != (r == '"'); r != ',' || quoted && i < len(s) {
			continue
		}
		if x := strings.TrimSpace(s[from:i]); x != "" {
			out = append(out, x)
		}
		from = i + 1
	}
	return out
}

// in finds the column in a heading line, -1 where it has none: one that is named first as it is spelled, then but for
// case, then but for spaces and marks. several says that more than one fits.
func (x column) in(head []string) (at int, several bool) {
	folded := func(a, b string) bool { return foldHeading(a) == foldHeading(b) && foldHeading(a) != "" }
	rules := []func(a, b string) bool{folded}
	if x.named {
		rules = []func(a, b string) bool{func(a, b string) bool { return a == b }, strings.EqualFold, folded}
	}
	for _, name := range x.headings {
		for _, same := range rules {
			var fit []int
			for i, h := range head {
				if same(strings.TrimSpace(h), name) {
					fit = append(fit, i)
				}
			}
			switch {
			case x.nth > 0 && len(fit) >= x.nth:
				return fit[x.nth-1], false
			case len(fit) > 1:
				return fit[1], true
			case x.nth == 0 && len(fit) > 0:
				return fit[0], false
			}
		}
	}
	return -1, false
}

// mayHead says that a line holds the words of every heading that a list needs.
func mayHead(line string, cols []column) bool {
	line = foldHeading(line)
	return !slices.ContainsFunc(cols, func(x column) bool {
		has := func(h string) bool { return strings.Contains(line, foldHeading(h)) }
		return (x.needed || x.named) && !slices.ContainsFunc(x.headings, has)
	})
}

// headingLines is how many lines are looked at for the heading of a list: titles and comments may be above it.
const headingLines = 60

// heading is the heading line of a list.
type heading struct {
	line           int
	sep            rune       // 0 for columns kept by spaces
	rows           []cellLine // those
	cells          []string
	at             map[string]int // the cell of a role
	missing, twice []column       // named and not there; of which two are there
	lacking        []string       // needed and not there
}

// findHeading looks for the line that has the columns named and needed, for each separator: comma, semicolon, tab, bar,
// or spaces; the first line where none has them.
func findHeading(text string, cols []column) (first heading) {
	lines := strings.SplitN(text, "\n", headingLines+1)
	lines = lines[:min(len(lines), headingLines)]
	seps := []rune{',', ';', '\t', '|'}
	if mark, ok := strings.CutPrefix(strings.ToLower(strings.TrimSpace(lines[0])), "sep="); ok && mark != "" {
		seps = []rune(mark)[:1]
		lines[0] = ""
	}
	for i, line := range lines {
		for _, sep := range append(seps, 0, -1) {
			h := heading{line: i + 1, sep: max(sep, 0)}
			if sep > 0 {
				h.rows, _ = readCellsBy(line, sep, true)
			} else if mayHead(line, cols) {
				h.rows = fixedCells(text, i+1, sep == 0)
			}
			if len(h.rows) == 0 {
				continue
			}
			h.cells = h.rows[0].cells
			if h.find(cols); len(h.missing)+len(h.lacking) == 0 {
				return h
			}
			if first.line == 0 || first.line == h.line && len(h.cells) > len(first.cells) {
				first = h
			}
		}
	}
	return first
}

// find finds the columns among the cells of a heading.
func (h *heading) find(cols []column) {
	h.at = map[string]int{}
	for _, x := range cols {
		i, several := x.in(h.cells)
		if i >= 0 {
			h.at[x.role] = i
		} else if x.named {
			h.missing = append(h.missing, x)
		} else if x.needed {
			h.lacking = append(h.lacking, x.role)
		}
		if several {
			x.headings = []string{strings.TrimSpace(h.cells[i])}
			h.twice = append(h.twice, x)
		}
	}
}

// faults are the columns that a list lacks or has twice.
func (h heading) faults(name string) (out []Fault) {
	if h.line == 0 {
		return []Fault{{Code: "exported-form", Msg: "`" + name + "` has no heading line",
			Hint: "a line names the columns, above the first part or pin"}}
	}
	add := func(in bool, msg, hint string) {
		out = append(out, Fault{Code: "exported-columns", Msg: "`" + name + "` has " + msg, Hint: hint, InColumns: in})
	}
	columns := strings.Join(h.cells, ", ")
	for _, x := range h.missing {
		add(true, "no column `"+x.headings[0]+"`", "its columns are "+columns)
	}
	for _, x := range h.twice {
		add(false, "two columns `"+x.headings[0]+"`", "name the one to use: `columns: "+x.role+" = \""+x.headings[0]+"\" 2` is the second")
	}
	for _, role := range h.lacking {
		if len(out) == 0 {
			add(false, "no column `"+role+"`", "add `columns: "+role+" = ...`; its columns are "+columns)
		}
	}
	return out
}
