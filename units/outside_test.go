package units

import (
	"bufio"
	"encoding/json"
	"math"
	"math/big"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// check is one outside value; its source stands beside it in the file.
type check struct {
	ID, Topic, Title, Source string
	Inputs                   map[string]any
	Expected                 map[string]struct {
		Value, Tol float64
		Unit       string
	}
	List []int
}

func checks(t *testing.T, topic string) []check {
	data, err := os.ReadFile("../testdata/units/check-values.json")
	require.NoError(t, err)
	var all, out []check
	require.NoError(t, json.Unmarshal(data, &all))
	for _, c := range all {
		if c.Topic == topic {
			out = append(out, c)
		}
	}
	require.NotEmpty(t, out)
	return out
}

// nistUnits rewrites the unit codes of the check values with our spellings.
var nistUnits = strings.NewReplacer("oz/yd2", "oz/yd²", "ozf*in", "ozf·inch", "kW*h", "kWh", "ohm*cmil/ft", "Ω·cmil/ft",
	"Btu*ft/(h*ft2*degF)", "Btu·ft/(h·ft²·degF)", "W/(m*K)", "W/(m·K)", "N*m", "N·m", "m2", "m²", "m3", "m³", "kg/m2", "kg/m²",
	"ohm*m", "Ω·m", "delta_degF", "degR")

func TestFactorsAgainstNIST(t *testing.T) {
	for _, c := range checks(t, "nist-sp811") {
		from, to := c.Inputs["from"].(string), c.Inputs["to"].(string)
		switch from { // prefixes alone are no units here
		case "G":
			from = "Gs"
		case "Gi":
			from = "gilbert"
		}
		f, err := ParseUnit(nistUnits.Replace(from))
		require.Nil(t, err, c.ID)
		u, err := ParseUnit(nistUnits.Replace(to))
		require.Nil(t, err, c.ID)
		require.Equal(t, u.Type.Dim, f.Type.Dim, c.ID)
		want := c.Expected["factor"]
		got := Float(new(big.Rat).Quo(f.Factor, u.Factor))
		if from == "rpm" {
			// rpm counts turns, as 1/60 Hz; the table gives the angular velocity
			got *= 2 * math.Pi
		}
		require.InDelta(t, want.Value, got, want.Tol*1.0001+math.Abs(want.Value)*1e-15, "%s %s (%s)", c.ID, c.Title, c.Source)
	}
}

func TestPrefixesAgainstSI(t *testing.T) {
	for _, c := range checks(t, "si-prefix") {
		name, symbol, _ := strings.Cut(strings.TrimSuffix(c.Title, ")"), " (")
		u, err := ParseUnit(symbol + "V")
		require.Nil(t, err, c.ID)
		require.Zero(t, u.Factor.Cmp(pow10(int(c.Expected["exp"].Value))), c.Title)
		if symbol == "u" {
			symbol = "µ"
		}
		require.True(t, slices.ContainsFunc(prefixes, func(p prefix) bool {
			return p.name == name && p.symbol == symbol && p.factor().Cmp(u.Factor) == 0
		}), c.Title)
	}
}

func TestConstantsAgainstCODATA(t *testing.T) {
	for _, c := range checks(t, "codata") {
		want := c.Expected["v"]
		var got float64
		switch c.Title {
		case "speed of light":
			got = constant(t, "c")
		case "thermal voltage kT/q at 300 K (V)":
			got = constant(t, "k_B") * 300 / constant(t, "e")
		default:
			got = constant(t, c.Title)
		}
		require.InDelta(t, want.Value, got, want.Tol*1.0001+want.Value*1e-15, "%s (%s)", c.Title, c.Source)
	}
}

func constant(t *testing.T, name string) float64 {
	c, ok := ConstantNamed(name)
	require.True(t, ok, name)
	return Float(c.Value)
}

// The relations that the SI and CODATA lay down between the constants: ε0 =
// 1/(µ0 c²), Z0 = µ0 c, α = e²Z0/(2h), each within the stated uncertainties.
func TestConstantsAgree(t *testing.T) {
	c, mu, eps := constant(t, "c"), constant(t, "mu_0"), constant(t, "eps_0")
	require.InEpsilon(t, 1/(mu*c*c), eps, 3e-10)
	require.InEpsilon(t, mu*c, constant(t, "Z_0"), 3e-10)
	e, h := constant(t, "e"), constant(t, "h")
	require.InEpsilon(t, e*e*constant(t, "Z_0")/2/h, constant(t, "α"), 3e-10)
	for _, k := range Constants() {
		require.Equal(t, k.Source == "CODATA 2022", k.Uncertainty != nil, k.Name)
		u := Unit{}
		if k.Unit != "" {
			var err *Error
			u, err = ParseUnit(k.Unit)
			require.Nil(t, err, k.Name)
		}
		require.Equal(t, k.Type.Dim, u.Type.Dim, k.Name)
	}
}

func TestTemperatureScalesAgainstNIST(t *testing.T) {
	unit := map[string]string{"F": "°F", "Cc": "°C", "Rk": "°R", "C": "°C", "K": "K"}
	for _, c := range checks(t, "temperature-scale") {
		for name, v := range c.Inputs {
			q, err := ParseLiteral(strconv.FormatFloat(v.(float64), 'f', -1, 64) + " " + unit[name])
			require.Nil(t, err)
			for out, want := range c.Expected {
				u, err := ParseUnit(unit[out])
				require.Nil(t, err)
				x := new(big.Rat).Set(q.SI)
				if u.Offset != nil {
					x.Sub(x, u.Offset)
				}
				exact, _ := new(big.Rat).SetString(strconv.FormatFloat(want.Value, 'f', -1, 64))
				require.Zero(t, x.Cmp(exact), "%s to %s: exact", c.Title, out)
			}
		}
	}
}

// outsideRow is what two programs say of one unit; see testdata/units/outside.py.
type outsideRow struct {
	symbol, unitsExpr, unitsValue, pintExpr, pintValue, why string
}

func outsideRows(t *testing.T) []outsideRow {
	f, err := os.Open("../testdata/units/outside.tsv")
	require.NoError(t, err)
	defer f.Close()
	var rows []outsideRow
	for sc := bufio.NewScanner(f); sc.Scan(); {
		if strings.HasPrefix(sc.Text(), "#") {
			continue
		}
		c := strings.Split(sc.Text(), "\t")
		require.Len(t, c, 6)
		rows = append(rows, outsideRow{c[0], c[1], c[2], c[3], c[4], c[5]})
	}
	return rows
}

func TestCatalogueAgainstOutsideTable(t *testing.T) {
	infos := Catalogue()
	bySymbol := map[string]UnitInfo{}
	for _, u := range infos {
		bySymbol[u.Symbol] = u
	}
	seen := map[string]bool{}
	known := 0
	for _, r := range outsideRows(t) {
		u, ok := bySymbol[r.symbol]
		require.True(t, ok, r.symbol)
		seen[r.symbol] = true
		agree := 0
		for _, v := range []string{r.unitsValue, r.pintValue} {
			if v == "-" {
				continue
			}
			want, err := strconv.ParseFloat(v, 64)
			require.NoError(t, err)
			off := math.Abs(Float(u.Unit.Factor)/want - 1)
			if off < 1e-13 {
				agree++
				continue
			}
			require.NotEmpty(t, r.why, "%s: %g here, %g outside", r.symbol, Float(u.Unit.Factor), want)
			require.Less(t, off, 1e-6, r.symbol)
		}
		require.True(t, agree > 0 || r.why != "", "%s: nobody knows it", r.symbol)
		known++
	}
	for _, u := range infos {
		require.True(t, seen[u.Symbol] || logarithmic(u.Unit.Type),
			"%s has not been compared: from the root, with the Debian packages units and python3-pint, "+
				"go run ./testdata/units/dump.go | testdata/units/outside.py > testdata/units/outside.tsv", u.Symbol)
	}
	require.GreaterOrEqual(t, known, 300)
}

// The same against the program itself, where it is installed.
func TestCatalogueAgainstUnitsProgram(t *testing.T) {
	if _, err := exec.LookPath("units"); err != nil {
		require.Empty(t, os.Getenv("GUARDBAND_NO_SKIP"), "the program units is missing")
		t.Skip("the program units is not installed")
	}
	rows := outsideRows(t)
	var in strings.Builder
	var asked []outsideRow
	for _, r := range rows {
		if r.unitsValue == "-" || r.why != "" || strings.Contains(r.symbol, "√") {
			continue
		}
		u, err := ParseUnit(r.symbol)
		require.Nil(t, err, r.symbol)
		to := gnuDim(u.Type.Dim)
		if strings.Contains(r.unitsExpr, "bit") || strings.Contains(r.unitsExpr, "byte") {
			to = "bit " + to
		}
		in.WriteString(r.unitsExpr + "\n" + strings.TrimSpace(to) + "\n")
		asked = append(asked, r)
	}
	cmd := exec.Command("units", "-t", "-1", "-q", "-d", "16")
	cmd.Stdin = strings.NewReader(in.String())
	out, err := cmd.Output()
	require.NoError(t, err)
	lines := strings.Fields(string(out))
	require.Len(t, lines, len(asked))
	for i, r := range asked {
		want, err := strconv.ParseFloat(lines[i], 64)
		require.NoError(t, err, r.symbol)
		u, _ := ParseUnit(r.symbol)
		require.InEpsilon(t, want, Float(u.Factor), 1e-12, r.symbol)
	}
}

func gnuDim(d Dim) string {
	out := ""
	for i, b := range baseSymbols {
		if d[i] != 0 {
			out += b + "^" + strconv.Itoa(int(d[i])/2) + " "
		}
	}
	if out == "" {
		return "1"
	}
	return out
}

// The irrational numbers in factor.go, computed anew: π by Machin's formula,
// ln 10 from the series of artanh, √0.6 by squaring.
func TestIrrationalFactors(t *testing.T) {
	close := func(digits string, want *big.Float) {
		got, _, err := big.ParseFloat(digits, 10, 300, big.ToNearestEven)
		require.NoError(t, err)
		diff := new(big.Float).Sub(got, want)
		require.Less(t, diff.MantExp(nil), -195, digits) // 2^-195 < 1e-58
	}
	pi := new(big.Float).SetPrec(300)
	pi.Sub(scaled(series(5, -1), 16), scaled(series(239, -1), 4))
	close(piDigits, pi)
	// ln 10 = 3 ln 2 + ln 1.25 = 6 artanh(1/3) + 2 artanh(1/9)
	ln := new(big.Float).SetPrec(300)
	ln.Add(scaled(series(3, 1), 6), scaled(series(9, 1), 2))
	close(ln10Digits, ln)
	root, _ := new(big.Rat).SetString(sqrt06Digits)
	close("0.6", new(big.Float).SetPrec(300).SetRat(root.Mul(root, root)))
}

// series sums artanh(1/x) (sign 1) or arctan(1/x) (sign -1).
func series(x int64, sign int64) *big.Float {
	sum := new(big.Float).SetPrec(300)
	p := new(big.Float).SetPrec(300).Quo(big.NewFloat(1).SetPrec(300), new(big.Float).SetInt64(x))
	sq := new(big.Float).SetPrec(300).SetInt64(x * x * sign)
	for n := int64(1); n < 700; n += 2 {
		sum.Add(sum, new(big.Float).SetPrec(300).Quo(p, new(big.Float).SetInt64(n)))
		p.Quo(p, sq)
	}
	return sum
}

func scaled(f *big.Float, n int64) *big.Float {
	return f.Mul(f, new(big.Float).SetPrec(300).SetInt64(n))
}
