package notebook

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// one reads a block of one kind without complaints and gives its entries.
func one(t *testing.T, head, lines string) []*Entry {
	t.Helper()
	n, d := Read(NewSource("g.md", "", []byte("```"+head+"\n"+lines+"\n```\n")))
	require.Empty(t, d.Sorted())
	require.Len(t, n.Blocks, 1)
	return n.Blocks[0].Entries
}

// TestAmbiguities holds the rows of the grammar's table of ambiguities that
// are settled line by line.
func TestAmbiguities(t *testing.T) {
	t.Run("attribute or definition", func(t *testing.T) {
		e := one(t, "values", "V = hot ? 3 V : 2 V")[0]
		require.Equal(t, Definition, e.Kind)
		require.Equal(t, "hot ? 3 V : 2 V", e.RHS.S)
		e = one(t, "claim c", "reason: I = 5 mA")[0]
		require.Equal(t, Attribute, e.Kind)
		require.Equal(t, "I = 5 mA", e.Value.S)
	})
	t.Run("comments", func(t *testing.T) {
		require.Equal(t, "KV#PBF", one(t, "part P", "order: KV#PBF")[0].Value.S)
		require.Equal(t, "ticket #12", one(t, "claim c", "statement: ticket #12")[0].Value.S)
		require.Equal(t, "a #b.pdf", one(t, "source s", "file: a #b.pdf")[0].Value.S)
		require.Equal(t, "3 V", one(t, "values", "V = 3 V # x")[0].RHS.S)
		require.Equal(t, "3 V", one(t, "values", "V = 3 V #")[0].RHS.S)
		require.Equal(t, "A\n", one(t, "values", "V = A\n# x\n")[0].RHS.S+"\n")
		e := one(t, "values", "V = 1 V [reg p.6 \"a # b\"] # \"x")[0]
		require.Equal(t, "a # b", e.Cites[0].Quote)
		e = one(t, "claim c", "statement: see\n  #12 and\n  # gone\n  more")[0]
		require.Equal(t, "see #12 and more", e.Value.S)
	})
	t.Run("condition or text", func(t *testing.T) {
		e := one(t, "values", "V = 3 V at I = 1 mA")[0]
		require.Equal(t, "3 V", e.RHS.S)
		require.Equal(t, []string{"I", "=", "1 mA"}, []string{e.Conds[0].Name, e.Conds[0].Op, e.Conds[0].Value.S})
		e = one(t, "values", `V = 3 V at "no load; at rest"; I ≥ 1 mA`)[0]
		require.Equal(t, "no load; at rest", e.Conds[0].Flag)
		require.Equal(t, ">=", e.Conds[1].Op)
		require.Equal(t, "look at it", one(t, "claim c", "statement: look at it")[0].Value.S)
		require.Equal(t, "net(\"a at b\")", one(t, "values", "V = net(\"a at b\")")[0].RHS.S)
	})
	t.Run("list or citation", func(t *testing.T) {
		e := one(t, "values", "V = max([A, B]) [reg p.6]")[0]
		require.Equal(t, "max([A, B])", e.RHS.S)
		require.Len(t, e.Cites, 1)
		e = one(t, "values", "V = x [reg]")[0]
		require.Equal(t, "x", e.RHS.S)
		require.Equal(t, "reg", e.Cites[0].Source)
		require.Equal(t, "x[0]", one(t, "values", "V = x[0]")[0].RHS.S)
		require.Equal(t, "[A, B] == [C]", one(t, "claim c", "criterion: [A, B] == [C]")[0].Value.S)
		require.Equal(t, "x inside [1 V, 2 V]", one(t, "claim c", "criterion: x inside [1 V, 2 V] [reg p.1]")[0].Value.S)
	})
	t.Run("quotes", func(t *testing.T) {
		e := one(t, "values", "X = 1 V [reg p.6 “0.5\" pitch”]")[0]
		require.Len(t, e.Cites, 1)
		require.Equal(t, "0.5\" pitch", e.Cites[0].Quote)
	})
	t.Run("pages", func(t *testing.T) {
		page := func(s string) []string {
			c := one(t, "values", "V = 1 V [reg "+s+"]")[0].Cites[0]
			return []string{c.From, c.To, c.Page}
		}
		require.Equal(t, []string{"6", "", "6"}, page("p.6"))
		require.Equal(t, []string{"6", "7", "6-7"}, page("p. 6-7"))
		require.Equal(t, []string{"6", "7", ""}, page("p.6–7"))
		require.Equal(t, []string{"A", "12", "A-12"}, page("p.A-12"))
		require.Equal(t, []string{"A-1", "A-3", "A-1-A-3"}, page("p.A-1-A-3"))
		require.Equal(t, []string{"iv", "", "iv"}, page("p.iv"))
		c := one(t, "values", "V = 1 V [reg pdf.6 §7.4 2026-11-02]")[0].Cites[0]
		require.True(t, c.Counted)
		require.Equal(t, []string{"7.4", "2026-11-02"}, []string{c.Section, c.Date})
	})
	t.Run("more than one part after the value", func(t *testing.T) {
		e := one(t, "values", "C = 2.6 A ref T = 20 °C at I = 1 mA [r p.6] [assumed: age] unconfirmed")[0]
		require.Equal(t, []string{"2.6 A", "T", "20 °C"}, []string{e.RHS.S, e.RefName, e.RefValue.S})
		require.Len(t, e.Conds, 1)
		require.Len(t, e.Cites, 2)
		require.Equal(t, "age", e.Cites[1].Assumed)
		require.True(t, e.Unconfirmed)
		e = one(t, "values", "C = 2.6 A at I = 1 mA ref T = 20 °C unconfirmed")[0]
		require.Equal(t, []string{"2.6 A", "1 mA", "20 °C"}, []string{e.RHS.S, e.Conds[0].Value.S, e.RefValue.S})
		require.True(t, e.Unconfirmed)
		require.Equal(t, "ref * 2", one(t, "values", "C = ref * 2")[0].RHS.S)
	})
	t.Run("reserved and folded names", func(t *testing.T) {
		require.Equal(t, "IN", one(t, "values", "IN = 3 V")[0].Name)
		require.Equal(t, "R_μ", one(t, "values", "R_µ = 3 V")[0].Name)
		require.Equal(t, "Ω", one(t, "values", "\u2126 = 3 V")[0].Name)
		require.Equal(t, "é", one(t, "values", "e\u0301 = 3 V")[0].Name)
	})
	t.Run("pin groups", func(t *testing.T) {
		e := one(t, "part P", `spec V_OH(PA*, 1-4, "D-", PB3) = 3 V`)[0]
		require.Equal(t, []string{"PA*", "1-4", "D-", "PB3"}, e.Selectors)
	})
	t.Run("options and columns", func(t *testing.T) {
		e := one(t, "part P", "application:\n  A B  capacitor min 1 µF, typ 2 µF, max 3 µF, ESR max 0.5 Ω, 10 V")[0].Rows[0]
		require.Equal(t, []string{"min 1 µF, typ 2 µF, max 3 µF", "max 0.5 Ω", "10 V"},
			[]string{e.Need.Needs[0].Value.S, e.Need.Needs[1].Value.S, e.Need.Needs[2].Value.S})
		p := one(t, "circuit", "C1  capacitor 1 µF ± 10 %, 10 V, 0603  A B")[0].Placement
		require.Equal(t, "1 µF ± 10 %", p.Value.S)
		require.Equal(t, []string{"10 V", "0603"}, []string{p.Options[0].S, p.Options[1].S})
	})
	t.Run("designators", func(t *testing.T) {
		p := one(t, "circuit", "C4-C9, C12  capacitor 1 µF  A B")[0].Placement
		require.Equal(t, []string{"C4", "C5", "C6", "C7", "C8", "C9", "C12"}, p.Refs)
		p = one(t, "circuit", "Y1-Y4  VALVE  P=V24P N=OUT1..OUT4")[0].Placement
		require.Equal(t, []string{"OUT1", "OUT2", "OUT3", "OUT4"}, p.Conns[1].Nets)
		require.Nil(t, p.Conns[0].Nets)
	})
	t.Run("nets and pins spelled anyhow", func(t *testing.T) {
		p := one(t, "circuit", "U1  L  D+=3V0 \"A B\"=\"#net\" 1=/x")[0].Placement
		require.Equal(t, []string{"D+", "3V0", "A B", "#net", "1", "/x"},
			[]string{p.Conns[0].Pin, p.Conns[0].Net, p.Conns[1].Pin, p.Conns[1].Net, p.Conns[2].Pin, p.Conns[2].Net})
	})
	t.Run("gaps", func(t *testing.T) {
		p := one(t, "circuit", "U1\tL, DNP\tA=B\n  C=D\n  in use: I = 1 A;\n    T = 2 K")[0].Placement
		require.Equal(t, "L", p.Part)
		require.Equal(t, "DNP", p.Options[0].S)
		require.Len(t, p.Conns, 2)
		require.Len(t, p.InUse, 2)
		p = one(t, "circuit", "C1  capacitor 1 µF,\n    10 V\n    A B")[0].Placement
		require.Equal(t, "10 V", p.Options[0].S)
		require.Len(t, p.Conns, 2)
	})
	t.Run("pins", func(t *testing.T) {
		rows := one(t, "part P", "pins:\n  4-6  OUT  supply output open drain, 5 V tolerant\n  5, 7  VDDA  supply V_DD\n  EP  EP  earth")[0].Rows
		require.Equal(t, &PinRow{Numbers: []string{"4", "5", "6"}, Name: "OUT", NameText: rows[0].Pin.NameText,
			Type: "supply output", Flags: []string{"open drain"}, More: rows[0].Pin.More}, rows[0].Pin)
		require.Equal(t, "5 V tolerant", rows[0].Pin.More[0].S)
		require.Equal(t, []string{"5", "7"}, rows[1].Pin.Numbers)
		require.Equal(t, "V_DD", rows[1].Pin.Facts)
		require.Equal(t, "ground", rows[2].Pin.Type)
	})
	t.Run("budget", func(t *testing.T) {
		e := one(t, "budget 3V0", "U1  deep sleep  6.2 mA  for 40 ms every 10 min [mcu p.9]\nU2 from V3V3\nU4  2 µA")
		l := e[0].Load
		require.Equal(t, []string{"U1", "deep sleep", "6.2 mA", "40 ms", "10 min"}, []string{l.Ref, l.State, l.Value.S, l.For.S, l.Every.S})
		require.Equal(t, "V3V3", e[1].Load.From)
		require.Equal(t, []string{"", "2 µA"}, []string{e[2].Load.State, e[2].Load.Value.S})
	})
	t.Run("settles follows its reading", func(t *testing.T) {
		e := one(t, "readings", "A = 1 V ± 1 %\n  at T = 3 K\n  settles: c-1\nB = 2 V ± 1 %")
		require.Equal(t, []string{"A", "", "B"}, []string{e[0].Name, e[1].Name, e[2].Name})
		require.Equal(t, []string{"settles", "c-1"}, []string{e[1].Label, e[1].Value.S})
		require.Len(t, e[0].Conds, 1)
	})
	t.Run("citations in a sentence", func(t *testing.T) {
		e := one(t, "claim c", "statement: As [reg p.6] says, [this] holds. [reg p.7] [reg p.8]")[0]
		require.Equal(t, "As [reg p.6] says, [this] holds.", e.Value.S)
		require.Len(t, e.Cites, 3)
		e = one(t, "claim c", "statement: As [reg p.6] says.")[0]
		require.Equal(t, "As [reg p.6] says.", e.Value.S)
		require.Len(t, e.Cites, 1)
	})
	t.Run("states", func(t *testing.T) {
		e := one(t, "design", "states:\n  transmit: U1 awake,\n    U8 on\n  asleep:   U1 stop")[0]
		require.Equal(t, []string{"transmit", "U1 awake, U8 on"}, []string{e.Rows[0].Arg, e.Rows[0].Value.S})
		require.Equal(t, "awake, asleep", one(t, "design", "states: awake, asleep")[0].Value.S)
	})
}

// TestTables holds the tables to their own rules.
func TestTables(t *testing.T) {
	require.Equal(t, []string{"design", "source", "part", "values", "claim", "circuit", "budget", "shortlist", "readings", "review"}, Kinds())
	for _, s := range blockSpecs {
		seen := map[string]bool{}
		for _, l := range s.labels {
			require.False(t, seen[l.name], "%s: %s twice", s.kind, l.name)
			seen[l.name] = true
		}
		for _, f := range s.follows {
			require.NotNil(t, s.label(f))
		}
		require.True(t, IsName(s.kind) || reserved[s.kind] != "")
	}
	for w := range pinFlags {
		require.LessOrEqual(t, len(w), 16)
	}
	require.Contains(t, Labels("claim"), "criterion")
	require.Nil(t, Labels("none"))
}
