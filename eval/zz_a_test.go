package eval
import ("testing";"context";"fmt";"time";"guardband/notebook";"guardband/eval/formula";"strings")
func TestZZA(t *testing.T){
 book,_:=notebook.Load("-",notebook.Options{Stdin:[]byte(signalBoard(400))})
 t0:=time.Now()
 r:=Compile(context.Background(),book,Options{On:"2026-11-24",Language:formula.NewLanguage(nil),Detail:20})
 fmt.Println("detail20",time.Since(t0),len(r.Claims))
 n:=map[string]int{}; bx:=map[string]int{}
 for _,c:=range r.Claims{ k,_,_:=strings.Cut(c.ID,"."); n[k+" "+string(c.Verdict)]++; for _,x:=range c.Criteria{bx[k]+=x.Boxes}}
 fmt.Println(n,bx)
 for _,c:=range r.Claims{ if c.Verdict!=Passed && n["shown "+c.ID[:6]]<2 {n["shown "+c.ID[:6]]++; fmt.Println(c.ID,c.Headline)}; if c.ID=="pull-up.SDA3" {for _,x:=range c.Criteria{fmt.Println(x.Text,x.Boxes)}}}
}
