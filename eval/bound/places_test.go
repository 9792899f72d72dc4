package bound

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Places answer as a map made anew for each round does.
func TestPlacesAnswerAsAMap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var p places
		for range rapid.IntRange(1, 4).Draw(t, "rounds") {
			p.next()
			slots := map[Reg]int32{}
			for i, r := range rapid.SliceOfN(rapid.Int32Range(1, 400), 0, 300).Draw(t, "registers") {
				_, had := slots[Reg(r)]
				require.Equal(t, !had, p.enter(Reg(r)))
				p.find(Reg(r)).slot = int32(i)
				slots[Reg(r)] = int32(i)
			}
			for r, slot := range slots {
				require.Equal(t, slot, p.find(r).slot)
			}
		}
	})
}
