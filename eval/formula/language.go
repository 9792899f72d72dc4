package formula

import (
	"slices"
	"sync"

	"guardband/eval/bound"
	"guardband/units"
)

// Language is the set of functions that formulas may call. It does not change
// once built and may be shared.
type Language struct {
	trade   map[string]*tradeFunction
	builtin map[string]builtin
	list    []Function
	names   []string // every name that can be called, sorted
}

// tradeFunction is a Function with its parsed texts.
type tradeFunction struct {
	Function
	number int // its place in the list, from 1
	parsed func() parsedFunction
}

type parsedFunction struct {
	body     *Expr
	valid    []*Expr
	defaults []*Expr // nil entries for required parameters
	errs     []*Error
}

// NewLanguage makes a language of the built-in functions and fns. A later
// function of the same name takes the place of an earlier one.
func NewLanguage(fns []Function) *Language {
	l := &Language{trade: make(map[string]*tradeFunction, len(fns)), list: slices.Clone(fns)}
	for i, f := range fns {
		l.trade[f.Name] = &tradeFunction{Function: f, number: i + 1,
			parsed: sync.OnceValue(func() parsedFunction { return parseFunction(f) })}
		l.names = append(l.names, f.Name)
	}
	l.builtin = map[string]builtin{}
	for _, b := range builtins() {
		l.builtin[b.Name] = b
		l.names = append(l.names, b.Name)
		l.list = append(l.list, b.Function)
	}
	slices.Sort(l.names)
	l.names = slices.Compact(l.names)
	return l
}

// Functions lists the functions of the trade and then the built-in ones, for
// help. Built-in functions have no Body.
func (l *Language) Functions() []Function { return slices.Clone(l.list) }

// Trade is a function of the trade by its name.
func (l *Language) Trade(name string) (Function, bool) {
	if f := l.trade[name]; f != nil {
		return f.Function, true
	}
	return Function{}, false
}

// parseFunction parses the texts of a trade function once.
func parseFunction(f Function) parsedFunction {
	var p parsedFunction
	var errs []*Error
	p.body, errs = Parse(f.Body)
	p.errs = append(p.errs, errs...)
	for _, v := range f.Valid {
		e, errs := Parse(v)
		p.valid = append(p.valid, e)
		p.errs = append(p.errs, errs...)
	}
	p.defaults = make([]*Expr, len(f.Params))
	for i, a := range f.Params {
		if a.Default != "" {
			p.defaults[i], errs = Parse(a.Default)
			p.errs = append(p.errs, errs...)
		}
	}
	return p
}

// Check is Checker.Check for one formula.
func (l *Language) Check(e *Expr, s Scope, b *bound.Builder) (Value, []*Error) {
	return l.Checker(b).Check(e, s)
}

// Criterion is Checker.Criterion for one condition.
func (l *Language) Criterion(e *Expr, s Scope, b *bound.Builder, m *Margin) (Compiled, []*Error) {
	return l.Checker(b).Criterion(e, s, m)
}

// nearest is the known name closest to name, "" if none is close.
func nearest(name string, known []string) string {
	best, least := "", 1+len(name)/3
	for _, k := range known {
		if d := units.Edits([]rune(name), []rune(k), least); d <= least && (best == "" || d < least) {
			best, least = k, d
		}
	}
	return best
}
