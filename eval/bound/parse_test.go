package bound

import (
	"strconv"
	"strings"
)

// reader reads the formulas of testdata/bound/ranges.json: sums, products,
// powers with whole exponents, functions, decimal numbers and names.
type reader struct {
	text  string
	b     *Builder
	names map[string]Reg
}

func readFormula(b *Builder, text string, names map[string]Reg) Reg {
	r := &reader{text: text, b: b, names: names}
	out := r.sum()
	if r.text != "" {
		panic("left over: " + r.text)
	}
	return out
}

func (r *reader) take(s string) bool {
	if strings.HasPrefix(r.text, s) {
		r.text = r.text[len(s):]
		return true
	}
	return false
}

func (r *reader) sum() Reg {
	x := r.product()
	for {
		switch {
		case r.take("+"):
			x = r.b.Binary(OpAdd, x, r.product())
		case r.take("-"):
			x = r.b.Binary(OpSub, x, r.product())
		default:
			return x
		}
	}
}

func (r *reader) product() Reg {
	x := r.signed()
	for {
		switch {
		case r.take("*"):
			x = r.b.Binary(OpMul, x, r.signed())
		case r.take("/"):
			x = r.b.Binary(OpDiv, x, r.signed())
		default:
			return x
		}
	}
}

func (r *reader) signed() Reg {
	if r.take("-") {
		return r.b.Unary(OpNeg, r.signed())
	}
	x := r.atom()
	if r.take("^") {
		n, err := strconv.Atoi(r.span("0123456789"))
		if err != nil {
			panic(err)
		}
		x = r.b.PowInt(x, n)
	}
	return x
}

func (r *reader) span(set string) string {
	n := 0
	for n < len(r.text) && (strings.IndexByte(set, r.text[n]) >= 0 || n > 0 && r.text[n] == '-' && r.text[n-1] == 'e' &&
		strings.IndexByte(set, 'e') >= 0) {
		n++
	}
	out := r.text[:n]
	r.text = r.text[n:]
	return out
}

func (r *reader) atom() Reg {
	if r.take("(") {
		x := r.sum()
		r.take(")")
		return x
	}
	if c := r.text[0]; c >= '0' && c <= '9' {
		return r.b.Const(rat(r.span("0123456789.e")))
	}
	name := r.span("abcdefghijklmnopqrstuvwxyz")
	if !r.take("(") {
		if name == "pi" {
			return r.b.Pi()
		}
		return r.names[name]
	}
	args := []Reg{r.sum()}
	for r.take(",") {
		args = append(args, r.sum())
	}
	r.take(")")
	unary := map[string]Op{"sqrt": OpSqrt, "exp": OpExp, "ln": OpLn, "sin": OpSin, "cos": OpCos, "atan": OpAtan, "abs": OpAbs}
	if op, ok := unary[name]; ok {
		return r.b.Unary(op, args[0])
	}
	return r.b.Binary(map[string]Op{"max": OpMax, "min": OpMin}[name], args[0], args[1])
}
