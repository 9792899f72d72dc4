package notebook

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// marked takes the one "@" out of a notebook and gives where it stood.
func marked(t *testing.T, s string) (*Source, int) {
	t.Helper()
	at := strings.IndexByte(s, '@')
	require.Equal(t, 1, strings.Count(s, "@"), "one marker")
	return NewSource("m.md", "", []byte(s[:at]+s[at+1:])), at
}

func firstEntry(n *Notebook) *Entry { return n.Blocks[0].Entries[0] }

// TestPositions holds every kind of text to its place in the file.
func TestPositions(t *testing.T) {
	cases := map[string]struct {
		src string
		get func(*Notebook) Pos
	}{
		"block":         {"x\n\n```@values\nV = 3 V\n```\n", func(n *Notebook) Pos { return n.Blocks[0].Pos }},
		"block in list": {"- x\n\n  ```@values\n  V = 3 V\n  ```\n", func(n *Notebook) Pos { return n.Content[0].Children[0].Children[1].Pos }},
		"ID":            {"```part  @L\ntitle: x\n```\n", func(n *Notebook) Pos { return n.Blocks[0].IDText.Pos(0) }},
		"no ID":         {"```@values\nV = 1 V\n```\n", func(n *Notebook) Pos { return n.Blocks[0].IDText.Pos(0) }},
		"value":         {"> ```design\n> title:  @µ-board\n> ```\n", func(n *Notebook) Pos { return firstEntry(n).Value.Pos(0) }},
		"argument":      {"```part P\nfield  @volts: 1 = 2\n```\n", func(n *Notebook) Pos { return firstEntry(n).ArgText.Pos(0) }},
		"name":          {"```part P\nspec\t @R_θ = 1 K/W\n```\n", func(n *Notebook) Pos { return firstEntry(n).NameText.Pos(0) }},
		"rhs":           {"```values\nθ_µ =  @1 V\n```\n", func(n *Notebook) Pos { return firstEntry(n).RHS.Pos(0) }},
		"rhs continued": {"```values\nV = A +\n   # no\n  @B\n```\n",
			func(n *Notebook) Pos { r := firstEntry(n).RHS; return r.Pos(strings.Index(r.S, "B")) }},
		"end of rhs": {"```values\nV = A +\n  B@ # c\n```\n", func(n *Notebook) Pos { r := firstEntry(n).RHS; return r.Pos(len(r.S)) }},
		"cond":       {"```values\nV = 1 V at  @I = 1 A\n```\n", func(n *Notebook) Pos { return firstEntry(n).Conds[0].NameText.Pos(0) }},
		"cond value": {"```values\nV = 1 V at I = 1 A;\n  T <= @2 K\n```\n",
			func(n *Notebook) Pos { return firstEntry(n).Conds[1].Value.Pos(0) }},
		"ref":         {"```values\nV = 1 V ref T = @20 °C\n```\n", func(n *Notebook) Pos { return firstEntry(n).RefValue.Pos(0) }},
		"cite":        {"```values\nV = 1 V\n\t@[r p.6]\n```\n", func(n *Notebook) Pos { return firstEntry(n).Cites[0].Text.Pos(0) }},
		"second cite": {"```values\r\nV = 1 V [r p.6]  @[r p.7]\r\n```\r\n", func(n *Notebook) Pos { return firstEntry(n).Cites[1].Text.Pos(0) }},
		"pin":         {"```part P\npins:\n  1  @VIN  supply\n```\n", func(n *Notebook) Pos { return firstEntry(n).Rows[0].Pin.NameText.Pos(0) }},
		"pin option": {"```part P\npins:\n  1  VIN  input,\n     @far\n```\n",
			func(n *Notebook) Pos { return firstEntry(n).Rows[0].Pin.More[0].Pos(0) }},
		"need": {"```part P\napplication:\n  A B  capacitor 1 µF, ESR @max 1 Ω\n```\n",
			func(n *Notebook) Pos { return firstEntry(n).Rows[0].Need.Needs[1].Value.Pos(0) }},
		"part": {"```circuit\nU1\t@L  A=B\n```\n", func(n *Notebook) Pos { return firstEntry(n).Placement.PartText.Pos(0) }},
		"net": {"```circuit\nU1  L  A=B\n  C=@D\n```\n",
			func(n *Notebook) Pos { return firstEntry(n).Placement.Conns[1].NetText.Pos(0) }},
		"in use": {"```circuit\nU1  L  A=B  in use: @I = 1 A\n```\n",
			func(n *Notebook) Pos { return firstEntry(n).Placement.InUse[0].Text.Pos(0) }},
		"option": {"```circuit\nC1  capacitor min 1 µF, max 2 µF, @10 V  A B\n```\n",
			func(n *Notebook) Pos { return firstEntry(n).Placement.Options[0].Pos(0) }},
		"load":            {"```budget N\nU1  on  1 A for @2 s every 3 s\n```\n", func(n *Notebook) Pos { return firstEntry(n).Load.For.Pos(0) }},
		"default in use":  {"```circuit\nin use: T = @1 K\n```\n", func(n *Notebook) Pos { return firstEntry(n).Conds[0].Value.Pos(0) }},
		"padding of tabs": {"- x\n\n\t```values\n\tV = @3 V\n\t```\n", func(n *Notebook) Pos { return firstEntry(n).RHS.Pos(0) }},
		"quote after tab": {"- x\n\t@> y\n", func(n *Notebook) Pos { return n.Content[0].Children[0].Children[1].Pos }},
		"fence after tab": {"- x\n\n \t@```text\n\ty\n\t```\n", func(n *Notebook) Pos { return n.Content[0].Children[0].Children[1].Pos }},
		"prose cite":      {"Ωµ *@[r p.6]* x\n", func(n *Notebook) Pos { return n.Content[0].Children[1].Children[0].Cite.Text.Pos(0) }},
		"prose value":     {"> a\n> b @[value\n> X in mV]\n", func(n *Notebook) Pos { return n.Content[0].Children[0].Children[1].Pos }},
		"cell": {"| a | b |\n|---|---|\n| c | @[verdict x] |\n",
			func(n *Notebook) Pos { return n.Content[0].Children[1].Children[1].Children[0].Src.Pos(0) }},
		"heading": {"para\n\n## @Title\n", func(n *Notebook) Pos { return n.Content[1].Children[0].Pos }},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			src, at := marked(t, c.src)
			n, d := Read(src)
			require.Empty(t, d.Sorted())
			require.Equal(t, src.Pos(at), c.get(n))
		})
	}
}

// TestTexts checks that every byte of every text of a block maps to a byte of
// the file that is the same, joints and unescaped quotes aside.
func TestTexts(t *testing.T) {
	for name, chunk := range cases(t) {
		src, _ := parseCase(chunk)
		n, _ := Read(NewSource(name, "", []byte(src)))
		eachText(n, func(x Text) { checkText(t, x) })
	}
}

func checkText(t testing.TB, x Text) {
	if x.Src == nil {
		require.Empty(t, x.S)
		return
	}
	joints := map[int]bool{}
	for _, j := range x.more {
		joints[j.at-1] = true
	}
	for i := range len(x.S) {
		off := x.Offset(i)
		require.GreaterOrEqual(t, off, 0)
		require.LessOrEqual(t, off, len(x.Src.Data))
		if !joints[i] {
			require.Equal(t, x.S[i], x.Src.Data[off], "byte %d of %q", i, x.S)
		}
	}
	p := x.Pos(len(x.S))
	require.Positive(t, p.Line)
	require.Positive(t, p.Col)
}

// eachText calls f with every text of the entries and of the prose.
func eachText(n *Notebook, f func(Text)) {
	conds := func(cs []Cond) {
		for _, c := range cs {
			f(c.Text)
			f(c.NameText)
			f(c.Value)
		}
	}
	var entry func(*Entry)
	entry = func(e *Entry) {
		for _, x := range []Text{e.Text, e.ArgText, e.Value, e.NameText, e.RHS, e.RefValue} {
			f(x)
		}
		conds(e.Conds)
		for _, c := range e.Cites {
			f(c.Text)
		}
		if p := e.Pin; p != nil {
			f(p.NameText)
			for _, x := range p.More {
				f(x)
			}
		}
		if p := e.Need; p != nil {
			f(p.AText)
			f(p.BText)
			for _, x := range p.Needs {
				f(x.Value)
			}
		}
		if p := e.Placement; p != nil {
			f(p.RefText)
			f(p.PartText)
			f(p.Value)
			for _, x := range p.Options {
				f(x)
			}
			for _, x := range p.Conns {
				f(x.NetText)
				f(x.PinText)
			}
			conds(p.InUse)
		}
		if l := e.Load; l != nil {
			for _, x := range []Text{l.RefText, l.StateText, l.Value, l.For, l.Every, l.FromText} {
				f(x)
			}
		}
		for _, r := range e.Rows {
			entry(r)
		}
	}
	for _, b := range n.Blocks {
		f(b.IDText)
		for _, e := range b.Entries {
			entry(e)
		}
	}
	eachNode(n.Content, func(m *Node) { f(m.Src) })
}

func eachNode(nodes []*Node, f func(*Node)) {
	for _, m := range nodes {
		f(m)
		eachNode(m.Children, f)
	}
}
