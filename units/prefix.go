package units

import "math/big"

// prefix is a decimal or binary multiple.
type prefix struct {
	symbol string // canonical, "µ"
	name   string
	exp    int  // power of ten, or of two for a binary one
	binary bool // IEC 80000-13:2008, clause 4
}

// prefixes are the SI prefixes (SI Brochure, 9th ed. v2.01, table 7; quetta,
// ronna, ronto and quecto: 27th CGPM 2022, resolution 3) and the binary ones.
var prefixes = []prefix{
	{"Q", "quetta", 30, false}, {"R", "ronna", 27, false}, {"Y", "yotta", 24, false}, {"Z", "zetta", 21, false},
	{"E", "exa", 18, false}, {"P", "peta", 15, false}, {"T", "tera", 12, false}, {"G", "giga", 9, false},
	{"M", "mega", 6, false}, {"k", "kilo", 3, false}, {"h", "hecto", 2, false}, {"da", "deca", 1, false},
	{"d", "deci", -1, false}, {"c", "centi", -2, false}, {"m", "milli", -3, false}, {"µ", "micro", -6, false},
	{"n", "nano", -9, false}, {"p", "pico", -12, false}, {"f", "femto", -15, false}, {"a", "atto", -18, false},
	{"z", "zepto", -21, false}, {"y", "yocto", -24, false}, {"r", "ronto", -27, false}, {"q", "quecto", -30, false},
	{"Ki", "kibi", 10, true}, {"Mi", "mebi", 20, true}, {"Gi", "gibi", 30, true}, {"Ti", "tebi", 40, true},
	{"Pi", "pebi", 50, true}, {"Ei", "exbi", 60, true}, {"Zi", "zebi", 70, true}, {"Yi", "yobi", 80, true},
}

func (p prefix) factor() *big.Rat {
	if p.binary {
		return new(big.Rat).SetInt(new(big.Int).Lsh(big.NewInt(1), uint(p.exp)))
	}
	return pow10(p.exp)
}

// pow10 returns 10^e exactly.
func pow10(e int) *big.Rat {
	n := e
	if n < 0 {
		n = -n
	}
	p := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(n)), nil)
	r := new(big.Rat).SetInt(p)
	if e < 0 {
		r.Inv(r)
	}
	return r
}
