package units

import "testing"

func BenchmarkBuild(b *testing.B) {
	for b.Loop() {
		buildTable()
	}
}
