package lists

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"guardband/eval/circuit"
	"guardband/notebook"
)

// Lines are the lines of a parts list by designator.
type Lines struct {
	At      map[string]Row
	Order   []string // designators in the order of the list
	Bad     []string // what is wrong in the list itself
	Foreign []string // designators that no row of the notes can have
}

// Lines puts the lines of a parts list under their designators but those left out. placed says that the notes place one.
func (t Table) Lines(left map[string]bool, placed func(ref string) bool) Lines {
	x := Lines{At: map[string]Row{}}
	below := false // the list says that what follows is left off
	for _, r := range t.Rows {
		refs, isText := designatorsIn(r.Cells["designator"], placed)
		if isText {
			below = leftOff(r.Cells["designator"])
			continue
		}
		r.below = below
		for _, ref := range refs {
			switch _, twice := x.At[ref]; {
			case left[ref]:
				continue
			case !notebook.IsName(ref):
				x.Foreign = circuit.AddTo(x.Foreign, ref)
			case twice:
				x.Bad = append(x.Bad, ref+" appears twice in the file")
			default:
				x.Order = append(x.Order, ref)
			}
			x.At[ref] = r
		}
		off, _ := r.LeftOff()
		if n, ok := circuit.FirstNumber(r.Cells["quantity"]); ok && len(refs) > 0 && n != len(refs) && !off {
			x.Bad = append(x.Bad, fmt.Sprintf("line %d: the quantity is %d, but there are %d designators", r.Line, n, len(refs)))
		}
	}
	return x
}

// InOhms says that the list writes some resistor with k, M or R, so that three bare digits are ohms and no code.
func (x Lines) InOhms() bool {
	for ref, r := range x.At {
		if letters, _ := circuit.SplitNumber(ref); letters == "R" {
			if v := ReadValue(r.Cells["value"], "resistor"); v.Nominal != nil && !v.Bare {
				return true
			}
		}
	}
	return false
}

// designatorsIn opens the designator cell of a line. isText says that it holds a sentence, as above a group of lines.
func designatorsIn(cell string, placed func(string) bool) (refs []string, isText bool) {
	for _, item := range strings.FieldsFunc(cell, func(r rune) bool { return strings.ContainsRune(",;\n、，", r) }) {
		words, plain := strings.Fields(item), 0
		for _, w := range words {
			if !placed(w) && !strings.ContainsAny(w, "0123456789*") {
				plain++
			}
		}
		if len(words) > 1 && 2*plain >= len(words) {
			return nil, true
		}
	}
	return Designators(cell), false
}

// Designators opens a cell such as "R1, R2; C4-C9"; spaces separate them too.
func Designators(cell string) []string {
	var out []string
	cell = strings.NewReplacer("–", "-", "，", ",", "、", ",").Replace(cell)
	for _, s := range strings.FieldsFunc(cell, func(r rune) bool { return r == ',' || r == ';' || unicode.IsSpace(r) }) {
		a, b, ok := strings.Cut(s, "-")
		pa, na := circuit.SplitNumber(a)
		pb, nb := circuit.SplitNumber(b)
		if !ok || na < 0 || nb < na || pb != "" && pb != pa || nb-na > 10000 {
			out = append(out, s)
			continue
		}
		for k := na; k <= nb; k++ {
			out = append(out, fmt.Sprintf("%s%d", pa, k))
		}
	}
	return out
}

// The words by which a cell says that a part is left off the board, alone or as a stem after "not", and what it says
// in a column of its own.
var (
	offWords   = []string{"dnp", "dnf", "dni", "dnm", "no pop", "no populate", "no fit", "no load"}
	fitStems   = []string{"populat", "fit", "plac", "install", "mount", "load", "assembl", "solder", "stuff", "used"}
	yesWords   = []string{"y", "yes", "x", "true", "1"}
	noWords    = []string{"n", "no", "false", "0", "-"}
	fitWords   = []string{"fit", "fitted", "place", "placed", "populate", "populated", "mount", "mounted", "install", "installed"}
	maybeWords = []string{"na", "n/a", "nc", "nf", "np"}
)

// wordsOf are the words of letters and digits in a cell.
func wordsOf(s string) []string {
	return strings.FieldsFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// leftOff says that a text says that a part is left off.
func leftOff(text string) bool {
	words := wordsOf(strings.ToLower(text))
	s := " " + strings.Join(words, " ") + " "
	for i, w := range words[:max(0, len(words)-1)] {
		if w == "not" && slices.ContainsFunc(fitStems, func(stem string) bool { return strings.HasPrefix(words[i+1], stem) }) {
			return true
		}
	}
	return slices.ContainsFunc(offWords, func(w string) bool { return strings.Contains(s, " "+w+" ") }) ||
		strings.HasPrefix(strings.ToLower(strings.TrimSpace(text)), "na(")
}

// LeftOff says that a line of a parts list is of a part that is not on the board; unsure names the cell that may say
// so, or not.
func (r Row) LeftOff() (off bool, unsure string) {
	is := func(cell string, words ...[]string) bool {
		return slices.ContainsFunc(words, func(l []string) bool { return slices.Contains(l, strings.ToLower(cell)) })
	}
	if cell := r.Cells["not fitted"]; leftOff(cell) || is(cell, yesWords) {
		return true, ""
	} else if cell != "" && !is(cell, noWords, fitWords) {
		return false, "`" + cell + "`"
	}
	if cell, has := r.Cells["fitted"]; leftOff(cell) || is(cell, noWords) {
		return true, ""
	} else if has && !is(cell, yesWords, fitWords) {
		return false, "`" + cell + "` under fitted"
	}
	switch v := r.Cells["value"]; {
	case r.below, leftOff(v):
		return true, ""
	case is(v, maybeWords):
		return false, "the value `" + v + "`"
	}
	return false, ""
}

// OffText is how a line says that its part is left off.
func (r Row) OffText() string {
	if v := r.Cells["value"]; leftOff(v) {
		return v
	}
	return "not fitted"
}
