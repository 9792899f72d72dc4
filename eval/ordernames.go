package eval

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/notebook"
	"guardband/units"
)

// orderField is U2.order.volts: what the code says, as a quantity where it is
// one, as text else.
func (c *compiler) orderField(m *circuit.Component, fields []string, p *formula.Path) (*formula.Value, *formula.Error) {
	fail := func(msg, hint string) (*formula.Value, *formula.Error) {
		return nil, &formula.Error{Code: "order-field", Msg: msg, Hint: hint}
	}
	code := circuit.CodeOf(m)
	if code == "" {
		return fail("part `"+m.Part.ID+"` has no order code", "add `order:`")
	}
	if text := c.codesDiffer(m.Part, fields); text != "" {
		return fail(text, "note the one code that is bought, or a part for each")
	}
	if len(fields) == 0 {
		v := formula.TextValue(code)
		return &v, nil
	}
	got, bad := circuit.DecodedOf(m.Part, code)
	if bad != "" {
		return fail(bad, "")
	}
	var names []string
	for _, d := range got {
		names = append(names, d.Field)
		if d.Field != fields[0] {
			continue
		}
		if q, err := units.ParseLiteral(d.Means); err == nil {
			v := c.number(q)
			return &v, nil
		}
		v := formula.TextValue(d.Means)
		return &v, nil
	}
	return fail("the order code of "+m.Ref+" has no field `"+fields[0]+"`", notebook.HintNear(fields[0], names))
}

// orderSymbol is what a claim rests on that speaks of an order code: the row
// that states it.
func (c *compiler) orderSymbol(m *circuit.Component) *symbol {
	key := factKey{comp: m, section: "order"}
	if y, ok := c.facts[key]; ok {
		return y
	}
	y := &symbol{name: m.Ref + ".order", block: m.Part.Block, comp: m, state: done, shown: circuit.CodeOf(m)}
	y.val = formula.TextValue(circuit.CodeOf(m))
	if len(m.Part.Orders) > 0 {
		y.entry = m.Part.Orders[0].Entry
		y.cites = c.citesOf(y.entry)
	}
	c.facts[key] = y
	return y
}

// checkCodes complains about code tables that cannot be used.
func (c *compiler) checkCodes() {
	for _, p := range c.Parts.List {
		if p.Code == nil {
			continue
		}
		pieces, bad := circuit.CodeParts(p.Code.Trimmed())
		if bad != "" {
			c.diagnose(notebook.Err, "code-pattern", p.Code.Value, bad, "fields are in braces: `QX30-{volts}{case}`")
			continue
		}
		opts := circuit.OptionsOf(p)
		known := slices.Collect(maps.Keys(opts))
		for _, x := range pieces {
			if x.Field != "" && opts[x.Field] == nil {
				c.diagnose(notebook.Err, "field-unknown", p.Code.Value, "the pattern names a field `"+x.Field+
					"` without a table", cmp.Or(notebook.HintNear(x.Field, known), "add `field "+x.Field+": code = meaning, ...`"))
			}
		}
		if twice := circuit.Ambiguous(pieces, opts); twice != "" {
			c.diagnose(notebook.Err, "code-ambiguous", p.Code.Value, "the code "+twice+" can be read in two ways",
				"put a fixed character between the fields, or make the codes of one length")
		}
	}
}

// codesDiffer says that the order codes noted for a part, each of which may be
// bought, differ in what is asked of them: the code itself, or a field.
func (c *compiler) codesDiffer(p *circuit.Part, fields []string) string {
	ask := func(code string) string {
		if len(fields) == 0 {
			return code
		}
		got, _ := circuit.DecodedOf(p, code)
		for _, d := range got {
			if d.Field == fields[0] {
				return d.Means
			}
		}
		return ""
	}
	for _, o := range p.Orders[1:] {
		if a, b := ask(p.Orders[0].Code), ask(o.Code); a != b {
			return fmt.Sprintf("the order codes of part %s differ: by %s it is %s, by %s it is %s", p.ID,
				p.Orders[0].Code, cmp.Or(a, "(left out)"), o.Code, cmp.Or(b, "(left out)"))
		}
	}
	return ""
}
