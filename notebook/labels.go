package notebook

import (
	_ "embed"
	"slices"
	"strings"
)

// This file reads the closed table of the language: which fences there are,
// which labels each takes, and what a label's value may be. A new fence or
// label is one row of labels.txt.

// idRule says whether a fence word is followed by an ID.
type idRule uint8

const (
	noID    idRule = iota
	nameID         // a name: letters, digits, "_"
	dashID         // a name that may also hold "-"
	anyWord        // any run without blanks, such as a net
)

// argRule says whether a word stands between a label and its colon.
type argRule uint8

const (
	noArg argRule = iota
	maybeArg
	needArg
)

// rowRule says how the rows of a label or block are read.
type rowRule uint8

const (
	noRows rowRule = iota
	pinRows
	needRows
	stateRows
	pathRows
	circuitRows
	budgetRows
)

// label is one row of a block's table.
type label struct {
	name    string
	repeat  bool    // may stand more than once
	prose   bool    // only whole-line comments are cut
	arg     argRule // word before the colon
	noCites bool    // square brackets are text
	rows    rowRule // indented lines below are rows
	conds   bool    // the value is a list of conditions
	formula bool    // a "[" after an operator opens a list
	dates   dateRule
}

// blockSpec is one kind of block.
type blockSpec struct {
	kind     string
	id       idRule
	defs     bool     // takes definitions
	sections bool     // its definitions carry a section word
	paths    bool     // its definitions may name a path: U1.V_OUT
	rows     rowRule  // takes rows of its own
	follows  []string // labels that may stand indented under an entry
	labels   []label
}

// Labels that others than the reader of their block ask for by name.
const (
	InUse       = "in use"
	AtLeastZero = "at least zero"
	Waiver      = "waiver"
	Hazard      = "hazard"
)

//go:embed labels.txt
var labelTable string

// blockSpecs are the kinds of labels.txt in its order.
var blockSpecs = readLabels(labelTable)

var rowRules = map[string]rowRule{"rows-pins": pinRows, "rows-needs": needRows, "rows-states": stateRows, "rows-paths": pathRows,
	"rows-circuit": circuitRows, "rows-budget": budgetRows}

// readLabels reads lines of a name, two spaces and words: of a kind at the left
// edge, of its labels below it.
func readLabels(text string) (out []blockSpec) {
	for line := range strings.Lines(text) {
		name, after, _ := strings.Cut(strings.TrimSpace(line), "  ")
		if name == "" || name[0] == '#' {
			continue
		}
		words := strings.Fields(after)
		has := func(word string) bool { return slices.Contains(words, word) }
		rows := noRows
		for _, w := range words {
			rows = max(rows, rowRules[w])
		}
		if !isBlank(line[0]) {
			s := blockSpec{kind: name, defs: has("definitions"), sections: has("sections"), paths: has("paths"), rows: rows}
			for rule, word := range []string{nameID: "name", dashID: "dashed-name", anyWord: "any-word"} {
				if word != "" && has(word) {
					s.id = idRule(rule)
				}
			}
			out = append(out, s)
			continue
		}
		l := label{name: name, repeat: has("repeats"), prose: has("prose"), noCites: has("no-cites"), rows: rows,
			conds: has("conditions"), formula: has("formula")}
		switch {
		case has("word"):
			l.arg = needArg
		case has("may-word"):
			l.arg = maybeArg
		}
		switch {
		case has("date"):
			l.dates = oneDate
		case has("dates"):
			l.dates = someDates
		}
		s := &out[len(out)-1]
		s.labels = append(s.labels, l)
		if has("follows") {
			s.follows = append(s.follows, name)
		}
	}
	return out
}

// specOf finds a kind of block by its fence word; nil where there is none.
func specOf(word string) *blockSpec {
	if i := slices.IndexFunc(blockSpecs, func(s blockSpec) bool { return s.kind == word }); i >= 0 {
		return &blockSpecs[i]
	}
	return nil
}

// label finds a label of the kind; nil where there is none.
func (s *blockSpec) label(name string) *label {
	if i := slices.IndexFunc(s.labels, func(l label) bool { return l.name == name }); i >= 0 {
		return &s.labels[i]
	}
	return nil
}

// labelNames are the labels of the kind in the table's order.
func (s *blockSpec) labelNames() []string {
	out := make([]string, len(s.labels))
	for i, l := range s.labels {
		out[i] = l.name
	}
	return out
}

// Kinds are the fence words, in the order of the language guide.
func Kinds() []string {
	out := make([]string, len(blockSpecs))
	for i, s := range blockSpecs {
		out[i] = s.kind
	}
	return out
}

// Labels are the labels that a kind of block takes.
func Labels(kind string) []string {
	if s := specOf(kind); s != nil {
		return s.labelNames()
	}
	return nil
}
