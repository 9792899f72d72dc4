package eval

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// An index answers as a map does, and keeps the order things were entered in.
func TestIndexAnswersAsAMap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var x index[int]
		if rapid.Bool().Draw(t, "room") {
			x.grow(rapid.IntRange(0, 100).Draw(t, "for"))
		}
		by, order := map[string]int{}, []int{}
		name := rapid.Map(rapid.IntRange(0, 60), func(i int) string { return fmt.Sprint("V", i) })
		for i := range rapid.IntRange(0, 200).Draw(t, "steps") {
			n := name.Draw(t, "name")
			old, taken := by[n]
			switch rapid.IntRange(0, 3).Draw(t, "step") {
			case 0:
				got, ok := x.get(n)
				require.Equal(t, taken, ok)
				require.Equal(t, old, got)
			case 1:
				if taken {
					x.rename(n, i)
					by[n] = i
				}
			default:
				got, isNew := x.enter(n, i)
				require.Equal(t, !taken, isNew)
				require.Equal(t, old, got)
				if isNew {
					by[n] = i
					order = append(order, i)
				}
			}
		}
		require.Equal(t, order, append([]int{}, x.list...))
		require.Len(t, x.names(), len(by))
		for _, n := range x.names() {
			got, ok := x.get(n)
			require.True(t, ok)
			require.Equal(t, by[n], got)
		}
	})
}
