package notebook
import ("testing";"os";"path/filepath";"fmt";"strings")
func TestZZ(t *testing.T) {
	for _, g := range []string{"../examples/*/board.md","../examples/*/mistakes/*.md","../cmd/guardband/starter/*.md","../cmd/guardband/starter/*/*.md"} {
	fs, _ := filepath.Glob(g)
	for _, f := range fs {
		b, err := Load(f, Options{Root: ".."})
		if err != nil { t.Fatal(err) }
		fmt.Println("#", f, len(b.Notebooks))
		Print(os.Stdout, b.Diags.Sorted(), PrintOptions{Max: -1})
		for _, n := range b.Notebooks {
			once, _ := Format(n.Src.Data)
			m, _ := Read(NewSource("", "", once))
			if meaning(m) != meaning(n) { fmt.Println("MEANING", n.Src.Path) }
			if string(once) != string(n.Src.Data) { 
				a, c := strings.Split(string(n.Src.Data), "\n"), strings.Split(string(once), "\n")
				k := 0
				for i := range a { if a[i] != c[i] { k++; if k < 6 { fmt.Printf("-%s\n+%s\n", a[i], c[i]) } } }
				fmt.Println("differs in", k, n.Src.Path)
			}
		}
	}}
}
