package units

import (
	"math/big"
	"slices"
	"strings"
	"sync"
)

// UnitInfo is one line of the catalogue, for the user's list.
type UnitInfo struct {
	Symbol    string
	Spellings []string // what is read besides Symbol
	Name      string
	Quantity  string // "a power"
	Unit      Unit
	Exact     bool   // false where Factor is an irrational number to 60 digits
	Prefixes  string // "SI", "from kilo up and binary", ""
	Source    string // of the factor
}

// known is a spelling that the scanner accepts.
type known struct {
	unit  Unit
	exact bool
}

// table holds every spelling, prefixed ones included.
type table struct {
	spelled map[string]*known
	bases   []*known // of the rows, in their order
	one     *known
}

// lookupTable is built on first use and never changed afterwards.
var lookupTable = sync.OnceValue(buildTable)

func buildTable() *table {
	all := rows()
	t := &table{spelled: map[string]*known{}, bases: make([]*known, len(all))}
	t.one = &known{unit: Unit{Factor: big.NewRat(1, 1)}, exact: true}
	factors := make([]*big.Rat, len(prefixes))
	for i, p := range prefixes {
		factors[i] = p.factor()
	}
	for i := range all {
		t.bases[i] = baseUnit(&all[i])
		for _, s := range strings.Fields(all[i].spellings) {
			if _, taken := t.spelled[s]; !taken {
				t.spelled[s] = t.bases[i]
			}
		}
	}
	for i := range all {
		t.addPrefixed(&all[i], t.bases[i], factors)
	}
	return t
}

func baseUnit(r *row) *known {
	symbol, _, _ := strings.Cut(r.spellings, " ")
	k := &known{unit: Unit{
		Symbol: symbol,
		Type:   Type{Dim: mustDim(r.dim), Kind: r.kind, Sense: r.sense, Ref: r.ref},
	}}
	k.unit.Factor, k.exact = mustFactor(r.factor)
	if r.offset != "" {
		k.unit.Offset, _ = mustFactor(r.offset)
	}
	return k
}

// addPrefixed adds the multiples of one row. Where a spelling is taken, the
// unit without a prefix keeps it ("Gs" is the gauss), and that multiple of the
// row is left out.
func (t *table) addPrefixed(r *row, base *known, factors []*big.Rat) {
	if r.prefixes == noPrefix {
		return
	}
	spellings := strings.Fields(r.spellings)
	for i, p := range prefixes {
		if r.prefixes == siPrefix && p.binary || r.prefixes == infoPrefix && !p.binary && p.exp < 3 {
			continue
		}
		k := &known{unit: base.unit, exact: base.exact}
		k.unit.Symbol = p.symbol + base.unit.Symbol
		if _, taken := t.spelled[k.unit.Symbol]; taken {
			continue // no multiple without a spelling of its own
		}
		k.unit.Factor = new(big.Rat).Mul(base.unit.Factor, factors[i])
		for _, s := range spellings {
			t.add(p.symbol+s, k)
			if p.symbol == "k" {
				t.add("K"+s, k) // read, and noted by Doubt
			}
			if p.symbol == "µ" {
				t.add("u"+s, k)
				t.add("μ"+s, k)
			}
		}
	}
}

func (t *table) add(spelling string, k *known) {
	if _, taken := t.spelled[spelling]; !taken {
		t.spelled[spelling] = k
	}
}

func info(r *row, k *known) UnitInfo {
	u := UnitInfo{
		Symbol: k.unit.Symbol, Spellings: strings.Fields(r.spellings)[1:], Name: r.name,
		Quantity: r.word, Unit: k.unit, Exact: k.exact, Source: r.source,
	}
	if u.Quantity == "" {
		u.Quantity = k.unit.Type.Words()
	}
	switch r.prefixes {
	case siPrefix:
		u.Prefixes = "SI"
	case infoPrefix:
		u.Prefixes = "from kilo up and binary"
	}
	return u
}

// infos are the lines of the catalogue, which only help asks for.
var infos = sync.OnceValue(func() []UnitInfo {
	all, bases := rows(), lookupTable().bases
	out := make([]UnitInfo, len(all))
	for i := range all {
		out[i] = info(&all[i], bases[i])
	}
	return out
})

// Catalogue lists every unit of the table once, without its multiples, in a
// fixed order. The caller may change the slice, not the numbers in it.
func Catalogue() []UnitInfo { return slices.Clone(infos()) }

// Search lists the units whose symbol, spellings, name or quantity hold the
// word, whatever its case; exact symbols come first. An empty word finds all.
func Search(word string) []UnitInfo {
	w := strings.ToLower(strings.TrimSpace(word))
	var exact, rest []UnitInfo
	for _, u := range infos() {
		switch {
		case u.Symbol == strings.TrimSpace(word) || slices.Contains(u.Spellings, strings.TrimSpace(word)):
			exact = append(exact, u)
		case contains(u, w):
			rest = append(rest, u)
		}
	}
	return append(exact, rest...)
}

func contains(u UnitInfo, w string) bool {
	for _, s := range append([]string{u.Symbol, u.Name, u.Quantity}, u.Spellings...) {
		if strings.Contains(strings.ToLower(s), w) {
			return true
		}
	}
	return false
}
