package sheet

import (
	"strings"
)

// packageName matches a name of a package as JEDEC and IEC 60191 form them:
// letters of the family, then the count of terminals or the outline's number.
var packageName = pattern(`^[A-Z]{0,3}(SO|SOIC|SOP|SON|SSOP|SOJ|MSOP|QFN|DFN|QFP|BGA|LGA|CSP|DIP|DIL|SIP|SOT|SC|SOD|TO|DO|PAK|PLCC|MELF)-?[0-9]+(-[0-9]+)?[A-Z]?$`)

// packageCode matches the letters that stand for a package: "(code D5)", "(D5)".
var packageCode = pattern(`\((?i:(?:package |case |suffix |option )?code |suffix |package )?([A-Z][A-Z0-9]{0,4})\)`)

// drawingWords mark a piece of a caption that is not part of the package's name.
var drawingWords = pattern(`(?i)\b(view|views|drawing|dimension|dimensions|millimetres|millimeters|in mm|inches|scale|continued|table|figure)\b`)

// packageOver finds the line above a table that names the package.
func (s *pageSignals) packageOver(t *Table) (name, code string, q Quoted) {
	rows := s.view.grid().rows
	for i := t.headRow; i >= 0; i-- {
		if rows[i].y1 > t.top {
			continue
		}
		text := rows[i].text()
		n, c, ok := namesPackage(text)
		if !ok {
			continue
		}
		if name == "" {
			name, q = n, Quoted{Text: text, Page: s.page, Label: s.view.page.Label, Quote: text}
		}
		if c != "" && sameName(n, name) {
			return name, c, q
		}
	}
	return name, "", q
}

// namesPackage reads a caption or heading such as "Package dimensions, SC70-5",
// "Outline drawing, SO8, top view", "SC70-5 (code D5)".
func namesPackage(text string) (name, code string, ok bool) {
	t := strings.Join(strings.Fields(foldString(text)), " ")
	low := strings.ToLower(t)
	if m := captionHead().FindString(low); m != "" {
		t, low = t[len(m):], low[len(m):]
	}
	if m := numbering().FindString(low); m != "" {
		t, low = t[len(m):], low[len(m):]
	}
	if m := packageCode().FindStringSubmatch(t); m != nil {
		code = m[1]
	}
	if i := strings.IndexByte(t, '('); i > 0 {
		t, low = strings.TrimSpace(t[:i]), strings.TrimSpace(low[:i])
	}
	if first, _, _ := strings.Cut(t, " "); packageName().MatchString(first) && len(t) < 40 {
		return trimCaption(t), code, true
	}
	rest := ""
	for _, term := range append(headingTerms[SectionPackage], "package") {
		if strings.HasPrefix(low, term) && len(t)-len(term) > 2 && (rest == "" || len(t)-len(term) < len(rest)) {
			rest = t[len(term):]
		}
	}
	sep := strings.TrimLeft(rest, " ")
	if sep == "" || !strings.ContainsAny(sep[:1], ",:-") && !strings.HasPrefix(sep, "of ") && !strings.HasPrefix(sep, "for ") {
		first, _, _ := strings.Cut(sep, " ")
		if !packageName().MatchString(strings.Trim(first, ",")) {
			return "", "", false
		}
	}
	name = trimCaption(strings.TrimLeft(strings.TrimPrefix(strings.TrimPrefix(sep, "of "), "for "), " ,:-"))
	if name == "" || len(name) > 48 || strings.HasSuffix(name, ".") {
		return "", "", false
	}
	return name, code, true
}

// trimCaption cuts off pieces behind a comma that speak of the drawing.
func trimCaption(s string) string {
	pieces := strings.Split(s, ",")
	for len(pieces) > 0 && drawingWords().MatchString(pieces[len(pieces)-1]) {
		pieces = pieces[:len(pieces)-1]
	}
	return strings.TrimSpace(strings.Join(pieces, ","))
}

// sameName compares names of packages without blanks, hyphens and case; what
// follows a comma or bracket is a remark.
func sameName(a, b string) bool {
	return nameKey(a) == nameKey(b) && a != ""
}

func nameKey(s string) string {
	s = foldString(s)
	if i := strings.IndexAny(s, ",("); i >= 0 {
		s = s[:i]
	}
	return strings.ToUpper(strings.NewReplacer(" ", "", "-", "", "_", "").Replace(s))
}
