package eval

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"guardband/notebook"
)

// roleNames are the headings that a role of a column is known by, in any case,
// the plainest first: terms of the trade. All others are named by `columns:`.
var roleNames = map[string][]string{
	"designator": {"designator", "designators", "reference designator", "reference designators", "refdes",
		"reference", "references", "ref", "refs"},
	"pin":        {"pin", "pin number", "pin no", "pad"},
	"net":        {"net", "net name", "signal", "signal name"},
	"name":       {"name", "pin name"},
	"order code": {"order code", "mpn", "manufacturer part number", "manufacturer part no"},
	"value":      {"value", "val"},
	"package":    {"package", "footprint"},
	"quantity":   {"quantity", "qty", "count"},
	"not fitted": {"not fitted", "do not fit", "do not populate", "do not place", "do not install", "do not mount",
		"do not load", "not populated", "not placed", "not mounted", "dnp", "dnf", "dni", "dnm"},
	"fitted": {"fitted", "populated", "populate", "mounted", "assembled"},
}

// foldHeading is a heading without case, spaces and marks between words.
func foldHeading(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || strings.ContainsRune("_-./#", r) {
			return -1
		}
		return unicode.ToLower(r)
	}, s)
}

// namedColumn is one item of `columns:`: "value = Value", `value = "Val, rated"`,
// `value = "Value" 2` for the second of equal headings.
type namedColumn struct {
	role, heading string
	nth           int // 0 where it is not said
}

// namedColumns reads the items of a `columns:` line.
func (c reader) namedColumns(f exportedFile, wanted []string) (out []namedColumn, ok bool) {
	ok = true
	if f.columns == nil {
		return nil, true
	}
	for _, item := range splitOutside(f.columns.Trimmed()) {
		role, heading, has := strings.Cut(item, "=")
		x := namedColumn{role: strings.TrimSpace(role), heading: strings.TrimSpace(heading)}
		if q, ok := strings.CutPrefix(x.heading, "\""); ok {
			text, nth, _ := strings.Cut(q, "\"")
			x.heading = text
			x.nth, _ = strconv.Atoi(strings.TrimSpace(nth))
		}
		if !has || !slices.Contains(wanted, x.role) {
			c.diagnose(notebook.Err, "exported-columns", f.columns.Value,
				"`"+item+"` does not name a column: "+strings.Join(wanted,
					", "), "write `"+wanted[0]+" = its heading in the file`")
			ok = false
			continue
		}
		out = append(out, x)
	}
	return out, ok
}

// splitOutside splits a list at commas outside quotation marks.
func splitOutside(s string) []string {
	var out []string
	quoted, from := false, 0
	for i, r := range s + "," {
		switch {
		case r == '"':
			quoted = !quoted
		case r == ',' && (!quoted || i == len(s)):
			if x := strings.TrimSpace(s[from:i]); x != "" {
				out = append(out, x)
			}
			from = i + 1
		}
	}
	return out
}

// headingOf finds the cell of a heading line that a heading names: the one
// spelled so, else the only one spelled so but for case. several says that more
// than one fits.
func headingOf(head []string, x namedColumn) (at int, several bool) {
	for _, same := range []func(a, b string) bool{
		func(a, b string) bool { return a == b },
		strings.EqualFold,
		func(a, b string) bool { return foldHeading(a) == foldHeading(b) && foldHeading(a) != "" },
	} {
		var fit []int
		for i, h := range head {
			if same(strings.TrimSpace(h), x.heading) {
				fit = append(fit, i)
			}
		}
		switch {
		case len(fit) >= x.nth && x.nth > 0:
			return fit[x.nth-1], false
		case len(fit) > 1:
			return fit[0], true
		case len(fit) == 1 && x.nth == 0:
			return fit[0], false
		}
	}
	return -1, false
}

// rolesIn finds the columns of a heading line: those that `columns:` names, and
// others by the headings they are known by. missing are those named that it
// does not have, twice the headings that fit more than one.
func rolesIn(head []string, named []namedColumn, wanted []string) (at map[string]int, missing, twice []namedColumn) {
	at = map[string]int{}
	said := map[string]bool{}
	look := func(x namedColumn) bool {
		i, several := headingOf(head, x)
		if several {
			twice = append(twice, x)
		}
		if i >= 0 {
			at[x.role] = i
		}
		return i >= 0
	}
	for _, x := range named {
		said[x.role] = true
		if !look(x) {
			missing = append(missing, x)
		}
	}
	for _, role := range wanted {
		for _, name := range roleNames[role] {
			x := namedColumn{role: role, heading: name}
			if said[role] {
				break
			}
			if i, several := knownHeading(head, x); i >= 0 {
				if several {
					x.heading = strings.TrimSpace(head[i])
					twice = append(twice, x)
				}
				at[role] = i
				break
			}
		}
	}
	return at, missing, twice
}

// knownHeading finds a heading by a name it is known by, in any case.
func knownHeading(head []string, x namedColumn) (at int, several bool) {
	at = -1
	for i, h := range head {
		if foldHeading(h) == foldHeading(x.heading) {
			if at >= 0 {
				return i, true
			}
			at = i
		}
	}
	return at, false
}

// mayHead says that a line holds the words of every heading that a list needs.
func mayHead(line string, named []namedColumn, needed []string) bool {
	folded := foldHeading(line)
	said := map[string]bool{}
	for _, x := range named {
		said[x.role] = true
		if !strings.Contains(folded, foldHeading(x.heading)) {
			return false
		}
	}
	for _, role := range needed {
		has := said[role]
		for _, name := range roleNames[role] {
			has = has || strings.Contains(folded, foldHeading(name))
		}
		if !has {
			return false
		}
	}
	return true
}
