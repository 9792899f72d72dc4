package eval

import (
	"cmp"
	_ "embed"
	"maps"
	"math"
	"slices"
	"strings"
	"sync"

	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// closing is what every caution ends with.
const closing = "The applicable standard, the local wiring code and the judgement of a licensed or qualified person come before this record. Passing claims are not an approval to energise."

// cautionText is one safety message of the trade.
type cautionText struct {
	hazard string // the name a block may carry
	word   string
	text   []string
	source string
}

//go:embed cautions.txt
var cautionTable string

// cautionTexts are the usual cautions.
var cautionTexts = sync.OnceValue(func() []cautionText {
	var out []cautionText
	for line := range strings.Lines(cautionTable) {
		text, inner := strings.CutPrefix(strings.TrimRight(line, "\n"), "  ")
		switch source, last := strings.CutPrefix(text, "source: "); {
		case text == "" || strings.HasPrefix(text, "//"):
		case !inner:
			hazard, word, _ := strings.Cut(text, ": ")
			out = append(out, cautionText{hazard: hazard, word: word})
		case last:
			out[len(out)-1].source = source
		default:
			out[len(out)-1].text = append(out[len(out)-1].text, text)
		}
	}
	return out
})

// wetUse is the hazard of a design that says that it is used wet or outdoors.
const wetUse = "wet or outdoor use"

// caution is one message while its reasons are gathered.
type caution struct {
	text cautionText
	why  []string
	at   *record.Position
	from map[string]bool // claims that carry the hazard
}

// cautions gathers the safety messages: those named by `hazard:` and those
// that values and parts call for.
func (c warden) cautions() []record.Caution {
	found := map[string]*caution{}
	told := map[[2]string]bool{} // a board may have thousands of voltages
	add := func(name, why string, at *record.Position, claim string) {
		x := found[name]
		if x == nil {
			x = &caution{text: textOf(name), at: at, from: map[string]bool{}}
			found[name] = x
		}
		if k := [2]string{name, why}; why != "" && !told[k] {
			told[k] = true
			x.why = append(x.why, why)
		}
		if claim != "" {
			x.from[claim] = true
		}
	}
	for _, h := range c.design.hazards {
		name := hazardName(h.name)
		if c.excluded(h, name) {
			continue
		}
		claim, _ := strings.CutPrefix(h.from, "claim ")
		if claim == h.from {
			claim = ""
		}
		add(name, h.from+" carries hazard: "+h.name, position(h.at.Pos(0)), claim)
	}
	c.inferVoltages(add)
	c.inferCells(add)
	c.inferEnergy(add)
	c.inferRails(add)
	c.inferPower(add)
	c.inferHot(add)
	return c.finish(found)
}

func textOf(name string) cautionText {
	if i := slices.IndexFunc(cautionTexts(), func(t cautionText) bool { return t.hazard == name }); i >= 0 {
		return cautionTexts()[i]
	}
	return cautionText{name, "WARNING", []string{"This design carries the hazard “" + name +
		"”. Know it and guard against it before power is applied."}, "named by the notes"}
}

// hazardName folds the ways a hazard is written.
func hazardName(s string) string {
	s = strings.ToLower(strings.TrimSpace(s))
	switch s {
	case "ac line", "line voltage", "mains voltage":
		return "mains"
	case "wet", "outdoor", "outdoors", "wet use", "outdoor use", "wet location", "wet locations":
		return wetUse
	case "coin cell", "button cell":
		return "coin or button cell"
	case "battery", "cell":
		return circuit.PrimaryCell // not said whether it may be charged
	}
	if h, _, _ := circuit.BatteryOf(s + " battery"); h != circuit.PrimaryCell &&
		(strings.HasPrefix(s, "lithium") || strings.HasPrefix(s, "li-") || strings.HasPrefix(s, "primary lithium")) {
		return h
	}
	return s
}

// limits of voltage, untagged values being d.c. or instantaneous. Sources:
// IEC 62368-1 as generally published; where it may be wet, IEC 61010-1.
var voltageLimits = []struct {
	wave              units.Wave
	wet, guard, death int64 // tenths of a volt
	unit              string
}{
	{units.NoWave, 350, 600, 1200, "d.c."}, {units.RMS, 160, 300, 500, "rms"},
	{units.Peak, 226, 424, 707, "peak"}, {units.PeakToPeak, 452, 848, 1414, "peak to peak"},
}

// inferVoltages looks at every value and fact of a voltage. A voltage that a
// part merely withstands is no hazard of the board, so ratings are left out.
func (c warden) inferVoltages(add func(name, why string, at *record.Position, claim string)) {
	look := func(y *symbol, most float64) {
		for _, l := range voltageLimits {
			if y.val.Type.Wave != l.wave {
				continue
			}
			why := y.name + " reaches " + units.FormatFloat(most, y.val.Type, units.Style{Digits: 4})
			var at *record.Position
			if y.entry != nil {
				at = position(y.entry.Text.Pos(0))
			}
			switch {
			case most > float64(l.death)/10:
				add("hazardous voltage", why, at, "")
			case most > float64(l.guard)/10:
				add("voltage that needs a safeguard", why, at, "")
			}
			if c.usedWet() {
				add(wetUse, why, at, "")
			}
			if l.wave == units.RMS && most > 50 {
				add("mains", why, at, "")
			} else if l.wave == units.NoWave {
				if n := c.nearMains(y); n != "" {
					add("mains", y.name+" is near "+n+" of IEC 60038, and rms or pk is not stated", at, "")
				}
			}
		}
	}
	list := slices.Clone(c.values.List)
	for _, n := range c.Nets.List {
		list = append(list, c.netSymbols[n])
	}
	most := c.overLimits(list)
	for i, y := range list {
		if most[i] > 0 {
			look(y, most[i])
		}
	}
}

// usedWet says that the notes speak of wet or outdoor use.
func (c warden) usedWet() bool {
	return slices.ContainsFunc(c.design.hazards, func(h hazard) bool { return hazardName(h.name) == wetUse })
}

// overLimits is the largest magnitude of each voltage of the board that needs a
// safeguard, 0 for everything else. It looks at them side by side.
func (c warden) overLimits(list []*symbol) []float64 {
	most, wet := make([]float64, len(list)), c.usedWet()
	c.each(len(list), func(i int) {
		y := list[i]
		if y == nil || y.state != done || y.limit || !y.isVoltage() {
			return
		}
		if m := c.maxMagnitude(y); m > guardLimit(y.val.Type.Wave, wet) {
			most[i] = m
		}
	})
	return most
}

func (y *symbol) isVoltage() bool {
	return y.val.Class == formula.Number && y.val.Type.Dim == circuit.Volt.Dim && y.val.Type.Kind == units.Plain
}

// guardLimit is the voltage above which a safeguard is needed, dry or wet.
func guardLimit(w units.Wave, wet bool) float64 {
	for _, l := range voltageLimits {
		switch {
		case l.wave == w && wet:
			return float64(l.wet) / 10
		case l.wave == w:
			return float64(l.guard) / 10
		}
	}
	return math.Inf(1)
}

// maxMagnitude is the largest magnitude of a quantity over its stated columns, 0
// where nothing is known of it.
func (c warden) maxMagnitude(y *symbol) float64 {
	lo, hi := c.sureEnds(y.val.Reg)
	return max(math.Abs(lo), math.Abs(hi))
}

func (c *compiler) netVoltage(n *circuit.Net) *symbol {
	if n == nil {
		return nil
	}
	y := c.netSymbol(n)
	if y == nil {
		return nil
	}
	if c.lower(y); y.val.Class != formula.Number || y.val.Type.Dim != circuit.Volt.Dim {
		return nil
	}
	return y
}

// finish orders the cautions, worst first, and ties them to the claims they
// touch.
func (c warden) finish(found map[string]*caution) []record.Caution {
	rank := map[string]int{"DANGER": 0, "WARNING": 1, "CAUTION": 2, "NOTICE": 3}
	out := []record.Caution{}
	for _, n := range slices.SortedFunc(maps.Keys(found), func(a, b string) int {
		return cmp.Or(cmp.Compare(rank[found[a].text.word], rank[found[b].text.word]), cmp.Compare(a, b))
	}) {
		x := found[n]
		k := record.Caution{ID: "caution-" + strings.ReplaceAll(n, " ", "-"), Hazard: n, Word: x.text.word,
			Text: append(append([]string(nil), x.text.text...), closing),
			Why:  strings.Join(x.why, "; "), Source: x.text.source, Claims: []string{}, Position: x.at, Acknowledged: c.acknowledged(n)}
		for _, cl := range c.claims {
			if x.from[cl.id] || c.touches(cl, n) {
				k.Claims = append(k.Claims, cl.id)
				cl.Out.Safety = append(cl.Out.Safety, k.ID)
			}
		}
		out = append(out, k)
	}
	for name := range c.design.acknowledged {
		if found[hazardName(name)] == nil {
			c.diags.Add(notebook.Diagnostic{Code: "hazard-unknown", Severity: notebook.Warn,
				Message: "nothing here carries the hazard `" + name + "` that the design acknowledges"})
		}
	}
	return out
}

func (c warden) acknowledged(name string) string {
	for n, who := range c.design.acknowledged {
		if hazardName(n) == name {
			return who
		}
	}
	return ""
}

// touches says whether a claim rests on something that carries the hazard.
func (c warden) touches(cl *Claim, hazard string) bool {
	for _, y := range closure(cl.uses) {
		if y.block == nil {
			continue
		}
		for _, e := range y.block.Entries {
			if e.Label == notebook.Hazard && slices.Contains(notebook.SplitList(strings.ToLower(e.Trimmed())), hazard) {
				return true
			}
		}
		if slices.Contains(circuit.BatteryHazards, hazard) && y.comp != nil && y.comp.Part != nil &&
			c.batteries[y.comp.Part] == hazard {
			return true
		}
		if (hazard == "mains" || hazard == "hazardous voltage") && y.val.Type.Wave == units.RMS && y.val.Type.Dim == circuit.Volt.Dim {
			return true
		}
	}
	return false
}
