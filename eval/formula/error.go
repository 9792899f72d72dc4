// Package formula turns the text of a formula into a dimension-checked graph.
//
// The text is scanned and masked first: every number, name, path, string and
// literal range becomes one plain identifier, so that no float64 arises and
// nothing barred reaches the parser. What is left, operators and brackets, is
// parsed by expr-lang's parser, reduced to an allow-list of node kinds, then
// checked against the names of a Scope and lowered into a bound.Builder.
package formula

import "guardband/units"

// Limits of one formula. They keep the parser's recursion far from the end of
// the stack, whatever is typed.
const (
	MaxBytes  = 4096 // longest formula in bytes
	MaxDepth  = 64   // deepest nesting of brackets, signs and conditions
	maxErrors = 10   // complaints kept per formula
)

// Error is a complaint about a formula, with the byte range of the formula's
// text it speaks of. Codes of numbers, units and types are those of package
// units; the others begin with
//
//	formula-    the text cannot be read as a formula
//	name-       a name is misspelled, reserved or (from the Scope) unknown
//	designator- a run C4-C9 is none
//	range-      a range right of inside is none
//	limit-, condition-, list-, text-  a thing of that class stands where another must
//	inside-, chain-, power-           the rules of those operators
//	function-   a call has a wrong name, number or kind of argument
//	margin-     the margin of a claim; the range is the margin's own
type Error = units.Error
