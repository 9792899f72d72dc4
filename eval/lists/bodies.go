package lists

import (
	_ "embed"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"

	"guardband/eval/circuit"
	"guardband/eval/record"
)

// This file compares two names of packages as a list and the notes write them:
// "SOT-23-5" and "Package_X:SOT-23-5_HandSoldering". The body is a word of the
// table of packages, the number of pins one beside it; whatever is not known as
// either leaves it open.

//go:embed bodies.txt
var bodyTable string

// bodyGroups are the groups of names that may mean one body.
var bodyGroups = sync.OnceValue(func() (out [][]string) {
	for line := range strings.Lines(bodyTable) {
		if !strings.HasPrefix(line, "//") {
			out = append(out, strings.Fields(line))
		}
	}
	return out
})

// aBody is a package's name taken apart.
type aBody struct {
	name  string // the word of bodyGroups, "" where it has none, or several
	group int
	pins  int // 0 where it states none
}

// bodyOf takes a name apart.
func bodyOf(text string) aBody {
	if i := strings.LastIndexByte(text, ':'); i >= 0 {
		text = text[i+1:] // the library of a footprint
	}
	words := strings.FieldsFunc(strings.ToUpper(text),
		func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '.' })
	b := aBody{group: -1}
	at := -1
	for i := range words {
		for k := min(2, len(words)-i); k > 0; k-- {
			joined := strings.Join(words[i:i+k], "")
			name, group, count, ok := bodyWord(joined)
			if !ok || k == 2 && (count > 0 || !slices.Contains(bodyGroups()[group], joined)) {
				continue
			}
			if b.group >= 0 && b.group != group {
				return aBody{group: -1} // two bodies in one name
			}
			if b.group < 0 {
				b.name, b.group, b.pins, at = name, group, count, i+k
			}
			break
		}
	}
	if b.group < 0 || b.pins > 0 {
		return b
	}
	if n, ok := plainCount(words, at); ok {
		b.pins = n
	} else if n, ok := plainCount(words, at-2); ok && at >= 2 {
		b.pins = n // 8-SOIC
	} else if at < len(words) && isIPCName(strings.TrimPrefix(words[at-1], b.name)) {
		b.pins, _ = circuit.FirstNumber(words[at]) // SOIC127P600X175-8N of IPC-7351
	}
	return b
}

func plainCount(words []string, i int) (int, bool) {
	if i < 0 || i >= len(words) || strings.Trim(words[i], "0123456789") != "" || len(words[i]) > 4 {
		return 0, false
	}
	return circuit.FirstNumber(words[i])
}

// bodyWord finds a body in a word: SOT23, SOIC8, 32TQFN, SOT235 as SOT-23-5 is
// no word of this table.
func bodyWord(w string) (name string, group, pins int, ok bool) {
	bare := strings.TrimLeft(w, "0123456789")
	before := w[:len(w)-len(bare)]
	for g, names := range bodyGroups() {
		for _, n := range names {
			rest, has := strings.CutPrefix(bare, n)
			if !has || len(n) <= len(name) {
				continue
			}
			endsInDigit := n[len(n)-1] >= '0' && n[len(n)-1] <= '9'
			count := 0
			switch {
			case rest == "" && before == "":
			case rest == "" && !endsInDigit && len(before) < 4:
				count, _ = circuit.FirstNumber(before)
			case !endsInDigit && before == "" && strings.Trim(rest, "0123456789") == "" && len(rest) < 4:
				count, _ = circuit.FirstNumber(rest)
			case !endsInDigit && before == "" && isIPCName(rest):
			default:
				continue
			}
			name, group, pins, ok = n, g, count, true
		}
	}
	return name, group, pins, ok
}

// isIPCName says that what follows a family is a pitch and a span by IPC-7351:
// 127P600X175.
func isIPCName(rest string) bool {
	pitch, span, ok := strings.Cut(rest, "P")
	return ok && pitch != "" && span != "" && strings.Trim(pitch, "0123456789") == "" &&
		strings.Trim(span, "0123456789X") == ""
}

// SameBody compares the package of a list with one of the notes: passed where
// body and number of pins are the same words, failed where both are known and
// one is another, else open. pads is how many the part has by its notes, 0 for
// not known.
func SameBody(cell, noted string, pads int) record.Verdict {
	plain := cell[strings.LastIndexByte(cell, ':')+1:]
	if circuit.SamePackage(cell, noted) || circuit.SamePackage(plain, noted) {
		if circuit.OtherSize(cell, noted) {
			return record.Open
		}
		return record.Passed
	}
	if code, _, _ := strings.Cut(noted, ","); isChip(strings.TrimSpace(code)) {
		return SameChip(cell, strings.TrimSpace(code))
	}
	a, b := bodyOf(cell), bodyOf(noted)
	if a.group < 0 || b.group < 0 {
		return record.Open
	}
	if b.pins == 0 {
		b.pins = pads
	}
	if a.pins == 0 && defaultPins(a.name) == b.pins {
		a.pins = b.pins
	} else if b.pins == 0 && defaultPins(b.name) == a.pins {
		b.pins = a.pins
	}
	counts := a.pins > 0 && b.pins > 0
	switch {
	case a.group != b.group:
		return record.Failed
	case counts && a.pins != b.pins && (a.pins-b.pins == 1 || b.pins-a.pins == 1):
		return record.Open // one of them may count the thermal pad
	case counts && a.pins != b.pins:
		return record.Failed
	case a.name != b.name || !counts || otherFigures(plain, noted):
		return record.Open
	}
	return record.Passed
}

// defaultPins is how many pins a body has whose name states none, 0 where that
// is not settled.
func defaultPins(name string) int {
	for _, f := range circuit.PackageFamilies {
		if f.Name == name {
			return f.Pads
		}
	}
	return 0
}

// otherFigures says that both names give the sides of a body, 3x3 and 4 x 4 mm,
// and not the same ones.
func otherFigures(a, b string) bool {
	x, y := bodySides(a), bodySides(b)
	return len(x) > 0 && len(y) > 0 && !slices.Equal(x, y)
}

var aroundX = regexp.MustCompile(`([\d.]+)x([\d.]+)`)

// bodySides are the figures around an x, smaller first.
func bodySides(s string) []string {
	g := aroundX.FindStringSubmatch(strings.ToLower(strings.NewReplacer(" ", "", "×", "x", "mm", "").Replace(s)))
	if g == nil {
		return nil
	}
	sides := []string{TrimFigure(g[1]), TrimFigure(g[2])}
	slices.Sort(sides)
	return sides
}

// TrimFigure takes the zeros off that end the decimals of a number.
func TrimFigure(s string) string {
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}
