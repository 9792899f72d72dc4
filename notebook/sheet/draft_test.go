package sheet

import (
	"context"
	"fmt"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

// draftRows brings drafted rows to the form of the score.
func draftRows(rows []DraftRow) []map[Kind]string {
	var out []map[Kind]string
	for _, r := range rows {
		m := map[Kind]string{KindName: r.Name, KindSymbol: r.Symbol, KindCondition: r.Condition, KindMin: r.Min,
			KindTyp: r.Typ, KindMax: r.Max, KindValue: r.Value, KindUnit: r.Unit}
		for k, v := range m {
			m[k] = plainForm(v)
		}
		out = append(out, m)
	}
	return out
}

func truthRows(rows []corpusRow, l corpusLayout, ranges bool) []map[Kind]string {
	var out []map[Kind]string
	for _, r := range rows {
		m := truthRow(r, l, false)
		if ranges {
			delete(m, KindCondition)
			m[KindSymbol] = plainForm(r.Symbol)
			if r.Min == "" {
				m[KindValue], m[KindMax] = m[KindMax], ""
			}
		}
		out = append(out, m)
	}
	return out
}

// TestDrafts drafts a part from every sheet and compares it with what was printed.
func TestDrafts(t *testing.T) {
	parts := []string{"ratings", "operating", "spec", "pins", "orders", "packages"}
	score := map[string]*tally{}
	for _, p := range parts {
		score[p] = &tally{}
	}
	for _, s := range corpusSheets(t) {
		d, err := shared.Draft(context.Background(), pathOf(t, s))
		require.NoError(t, err)
		lay, dev := s.Layout, s.Device
		spec := dev.Electric
		if !lay.TwoColumn {
			spec = append(append([]corpusRow(nil), dev.Thermal...), spec...)
		}
		check := func(part string, read, truth []map[Kind]string) {
			n, wrong := compare(read, truth)
			score[part].add(n)
			if os.Getenv("GUARDBAND_SHOW_WRONG") != "" && (len(wrong) > 0 || n.right < n.wanted) {
				fmt.Println(s.Name, part, n, wrong, d.PassedOver, d.NotFound)
			}
		}
		check("ratings", draftRows(d.Ratings), truthRows(dev.AbsMax, lay, lay.Ranges))
		check("operating", draftRows(d.Operating), truthRows(dev.Operating, lay, false))
		check("spec", draftRows(d.Spec), truthRows(spec, lay, false))
		check("pins", pinRows(d.Pins), truthPins(dev.Pins))
		check("orders", orderRows(d.Orders), truthOrders(dev.Orders))
		check("packages", packageRows(d.Packages), truthPackages(dev.Packages))
		require.NotEmpty(t, d.Title)
		require.Len(t, d.Circuit, 1+boolToInt(dev.Name == "TV707" || dev.Name == "NK204" ||
			dev.Name == "WR8105")-boolToInt(dev.Name == "WR8105"), "%v", d.Circuit)
	}
	for _, p := range parts {
		n := score[p]
		t.Logf("%-10s cells printed %4d  offered %4d  right %4d  precision %.3f  recall %.3f", p, n.wanted, n.offered,
			n.right, n.precision(), n.recall())
		require.GreaterOrEqual(t, n.precision(), 0.95, p)
		require.GreaterOrEqual(t, n.recall(), 0.95, p)
	}
}

func boolToInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

func pinRows(pins []DraftPin) (out []map[Kind]string) {
	for _, p := range pins {
		out = append(out, map[Kind]string{KindPin: plainForm(p.Number), KindPinName: plainForm(p.Name),
			KindType: plainForm(p.Type), KindFunction: plainForm(p.Function)})
	}
	return out
}

func truthPins(pins []corpusPin) (out []map[Kind]string) {
	for _, p := range pins {
		out = append(out, map[Kind]string{KindPin: plainForm(p.Number), KindPinName: plainForm(p.Name),
			KindType: plainForm(p.Type), KindFunction: plainForm(p.Function)})
	}
	return out
}

func orderRows(orders []DraftOrder) (out []map[Kind]string) {
	for _, o := range orders {
		m := map[Kind]string{KindOrder: plainForm(o.Code), KindPackage: plainForm(o.Package)}
		for _, c := range o.More {
			m[Kind(c.Title)] = plainForm(c.Text)
		}
		out = append(out, m)
	}
	return out
}

func truthOrders(orders []corpusOrder) (out []map[Kind]string) {
	for _, o := range orders {
		out = append(out, map[Kind]string{KindOrder: plainForm(o.Code), KindPackage: plainForm(o.Package),
			"Option": plainForm(o.Option), "Temperature range": plainForm(o.Temperature)})
	}
	return out
}

func packageRows(packages []DraftPackage) (out []map[Kind]string) {
	for _, p := range packages {
		m := map[Kind]string{KindPackage: plainForm(p.Name)}
		for _, c := range p.More {
			m[Kind(c.Title)] = plainForm(c.Text)
		}
		out = append(out, m)
	}
	return out
}

func truthPackages(packages []corpusPackage) (out []map[Kind]string) {
	for _, p := range packages {
		out = append(out, map[Kind]string{KindPackage: plainForm(p.Name), "Pins": plainForm(p.Pins),
			"Body size": plainForm(p.Body), "Pitch": plainForm(p.Pitch)})
	}
	return out
}
