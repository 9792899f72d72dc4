package network

import (
	"fmt"
	"testing"
)

// BenchmarkBoard enters and judges 100 nets with a pull-up, an open drain, a
// series resistor into an input with clamps and a stated leakage, and an LED on
// a push-pull output beside each: 700 parts, 500 claims.
func BenchmarkBoard(b *testing.B) {
	for b.Loop() {
		x := newBoard()
		n := x.n
		v33 := x.rail("V3V3", "3.2", "3.4")
		for k := range 100 {
			name := fmt.Sprint(k)
			net, pin, led, mid := n.Node("N"+name), n.Node("P"+name), n.Node("L"+name), n.Node("M"+name)
			x.r("R"+name, v33, net, "10k")
			x.r("S"+name, net, pin, "100")
			x.leaks("U"+name, pin, "1u")
			n.Clamp("U"+name+" up", pin, v33, 0, 0)
			n.Clamp("U"+name+" down", x.gnd, pin, 0, 0)
			d, low := x.drain("U"+name, net)
			o, _, high := x.out("V"+name, led, v33)
			x.r("T"+name, led, mid, "470")
			x.led("D"+name, mid, x.gnd)
			requireVerdict(b, n, Passed, x.ge(n.Voltage(pin), "3.1"), only(d, "off"))
			requireVerdict(b, n, Passed, x.le(n.Voltage(pin), "0.5"), only(d, "low"))
			requireVerdict(b, n, Passed, x.le(n.Current(low), "1m"), only(d, "low"))
			requireVerdict(b, n, Passed, x.le(n.Current(high), "8m"), only(o, "high"))
			requireVerdict(b, n, Failed, x.ge(n.Voltage(pin), "3.6"), only(d, "off"))
		}
	}
}
