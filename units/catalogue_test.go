package units

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestCatalogueIsComplete(t *testing.T) {
	infos := Catalogue()
	require.GreaterOrEqual(t, len(infos), 250)
	seen := map[string]string{}
	for _, u := range infos {
		require.NotEmpty(t, u.Name)
		require.NotEmpty(t, u.Source, u.Symbol)
		require.NotEmpty(t, u.Quantity, u.Symbol)
		require.Positive(t, u.Unit.Factor.Sign(), u.Symbol)
		for _, s := range append([]string{u.Symbol}, u.Spellings...) {
			other, twice := seen[s]
			require.False(t, twice, "%s is both %s and %s", s, other, u.Name)
			seen[s] = u.Name
		}
	}
}

// Every spelling of the table parses, as a unit and after a number, to the
// factor and type of its row: tabled compounds agree with their parts.
func TestEverySpellingParses(t *testing.T) {
	for _, u := range Catalogue() {
		for _, s := range append([]string{u.Symbol}, u.Spellings...) {
			got, err := ParseUnit(s)
			require.Nil(t, err, s)
			require.Equal(t, u.Unit.Type, got.Type, s)
			require.Zero(t, u.Unit.Factor.Cmp(got.Factor), s)
			q, err := ParseLiteral("1 " + s)
			require.Nil(t, err, s)
			require.Equal(t, u.Unit.Type, q.Type, s)
			ascii, err := ParseUnit(asciiUnit(got.Symbol))
			require.Nil(t, err, "%s in ASCII", s)
			require.Equal(t, got.Type, ascii.Type, s)
			require.Zero(t, got.Factor.Cmp(ascii.Factor), s)
		}
	}
}

// shadowed are multiples whose spelling belongs to another unit. The list is
// whole: a new collision fails here and has to be judged.
var shadowed = map[string]string{
	"Gs": "gauss, not gigasecond", "PS": "metric horsepower, not petasiemens",
}

func TestMultiplesDoNotCollide(t *testing.T) {
	names := map[string]string{}
	for _, r := range rows() {
		for _, s := range strings.Fields(r.spellings) {
			names[s] = r.name
		}
	}
	made := map[string]string{}
	for _, r := range rows() {
		if r.prefixes == noPrefix {
			continue
		}
		for _, p := range prefixes {
			if r.prefixes == siPrefix && p.binary || r.prefixes == infoPrefix && !p.binary && p.exp < 3 {
				continue
			}
			for _, s := range strings.Fields(r.spellings) {
				spelling := p.symbol + s
				if owner, taken := names[spelling]; taken {
					require.Contains(t, shadowed, spelling, "%s: %s%s or %s", spelling, p.name, r.name, owner)
				}
				if other, taken := made[spelling]; taken {
					require.Failf(t, "two multiples", "%s: %s or %s", spelling, p.name+r.name, other)
				}
				made[spelling] = p.name + r.name
			}
		}
	}
}

func TestPrefixAloneIsNoUnit(t *testing.T) {
	allowed := "m T d h" // metre, tesla, day, hour
	for _, p := range prefixes {
		_, err := ParseUnit(p.symbol)
		if strings.Contains(allowed, p.symbol) {
			require.Nil(t, err, p.symbol)
			continue
		}
		require.NotNil(t, err, p.symbol)
		require.Equal(t, CodeUnitPrefix, err.Code, p.symbol)
	}
}

func TestSearch(t *testing.T) {
	require.Equal(t, "V", Search("V")[0].Symbol)
	require.Equal(t, "Ω", Search("ohm")[0].Symbol)
	require.Len(t, Search(""), len(Catalogue()))
	require.Empty(t, Search("furlong per fortnight"))
	found := false
	for _, u := range Search("torque") {
		found = found || u.Symbol == "N·m"
	}
	require.True(t, found)
}

func TestExactnessIsStated(t *testing.T) {
	for _, u := range Catalogue() {
		irrational := u.Symbol == "cmil" || u.Symbol == "kcmil" || u.Symbol == "Ω·cmil/ft" || u.Symbol == "gilbert" || u.Symbol == "Oe" ||
			u.Symbol == "Np" || u.Symbol == "°" || u.Symbol == "°/s" || strings.HasPrefix(u.Symbol, "arc") || u.Symbol == "gon"
		require.Equal(t, !irrational, u.Exact, u.Symbol)
	}
}

func TestLevelReferences(t *testing.T) {
	for _, l := range levelRows() {
		r, ok := LevelReference(l.ref)
		require.True(t, ok)
		require.Contains(t, []int{10, 20}, r.Step)
		require.Equal(t, slices.Contains([]string{"c", "c/Hz", "i", "d", "FS", "r"}, l.ref), r.Value == nil)
	}
	u, _ := LevelReference("u")
	require.InDelta(t, 0.7745966692, Float(u.Value), 1e-9) // ITU-R V.574: 0.775 V, 1 mW in 600 Ω
	_, ok := LevelReference("nothing")
	require.False(t, ok)
}

// A unit whose symbol is itself a product keeps its typed spelling inside a
// compound, so that the compound's symbol reads back.
func TestNestedSymbols(t *testing.T) {
	for text, want := range map[string]string{"F/Vs": "F/Vs", "Nm/A": "Nm/A", "Vs²": "Vs²", "kbps/Hz": "kbps/Hz", "Vs": "V·s", "A/V·s": ""} {
		u, err := ParseUnit(text)
		if want == "" {
			require.NotNil(t, err, text)
			continue
		}
		require.Nil(t, err, text)
		require.Equal(t, want, u.Symbol)
		again, err := ParseUnit(u.Symbol)
		require.Nil(t, err, text)
		require.Equal(t, u.Type, again.Type)
		require.Zero(t, u.Factor.Cmp(again.Factor))
	}
}
