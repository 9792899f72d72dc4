package eval

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"guardband/eval/record"
)

// uglyForms are criteria over A, B (spread) and Q, V (surroundings) that no
// single look settles: what cancels only in part, limits with spread, ties along
// lines, curves with their worst point inside, and functions with kinks.
var uglyForms = []string{
	"(Q + Q) / Q <= %d %%", "(Q + A) / (Q + B) <= 1.%d", "A <= B * 1.%d", "A - B <= 0.%d V", "Q * (4 V - Q) <= 4.%d V^2",
	"abs(Q - V) <= 2.%d V", "max(A, B) <= 1.1%d V", "Q^2 - 2 V * Q + 1 V^2 >= -0.%d V^2", "sqrt(Q * V) <= (Q + V) / 2 + 0.%d V",
	"Q / V + V / Q >= 1.%d", "A / (A + B) <= 0.5%d", "exp(-Q / V) <= 0.9%d", "(A - B)^2 <= 0.05%d V^2", "(Q > V ? Q - V : V - Q) <= 2.%d V",
	"A * B / (A + B) <= 0.5%d V", "Q - Q * Q / (Q + 1 V) <= 0.8%d V", "(Q - V)^2 + (Q - 2 V)^2 >= -0.%d V^2", "ln(Q / V) <= 1.1%d",
	"(Q + V - A) / (Q + V) <= 0.9%d", "A <= Q * 2.%d",
}

// BenchmarkUgly compiles 200 claims, each with its whole record, and reports the
// dearest against the median of those that took subdividing.
func BenchmarkUgly(b *testing.B) {
	for range b.N {
		var subdivided []time.Duration
		dearest, which := time.Duration(0), ""
		for i := range 200 {
			criterion := fmt.Sprintf(uglyForms[i%len(uglyForms)], 1+i/len(uglyForms))
			text := "```values\nA = 1 V ± 10 %\nB = 1 V ± 5 %\nQ = 1 V to 3 V\nV = 1 V to 3 V\n```\n```claim c\nstatement: s\ncriterion: " +
				criterion + "\n```\n"
			var r *record.Record
			took := time.Hour
			for range 3 { // the least of three: the machine has other work
				start := time.Now()
				r = compileText(b, text)
				took = min(took, time.Since(start))
			}
			if len(r.Claims) == 1 && r.Claims[0].Criteria[0].Boxes > 3 {
				subdivided = append(subdivided, took)
			}
			if took > dearest {
				dearest, which = took, criterion
			}
		}
		slices.Sort(subdivided)
		median := subdivided[len(subdivided)/2]
		b.ReportMetric(float64(median.Microseconds()), "µs/median")
		b.ReportMetric(float64(dearest)/float64(median), "dearest/median")
		b.Log(len(subdivided), "subdivided; dearest", dearest, which)
	}
}
