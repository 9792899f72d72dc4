package network

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/bound"
)

// board is one invented circuit under test.
type board struct {
	*sheet
	n   *Network
	gnd Node
}

func newBoard() *board {
	s := newSheet()
	b := &board{sheet: s, n: New(s.b, s, Limits{})}
	b.gnd = b.n.Given("GND", s.con("0"))
	return b
}

// rail is a net with a stated voltage.
func (b *board) rail(name, lo, hi string) Node { return b.n.Given(name, b.span(name, lo, hi)) }

// r is a resistor with a tolerance of 1 %.
func (b *board) r(name string, x, y Node, ohms string) *Element {
	return b.n.Resistor(name, x, y, b.tol(name, ohms, 1))
}

// leaks is an input with a stated leakage either way.
func (b *board) leaks(name string, at Node, most string) *Element {
	in := bound.Input{Lo: neg(rat(most)), Hi: rat(most)}
	in.SureLo, in.SureHi = in.Lo, in.Hi
	return b.n.Load(name, at, b.gnd, b.New(name, name, Ampere, in))
}

// led is one with V_F 1.8 V to 2.2 V at 20 mA.
func (b *board) led(name string, anode, cathode Node) *Element {
	return b.n.Junction(name, anode, cathode, Diode{
		Forward: []Point{{Min: b.con("1.8"), Max: b.con("2.2"), At: b.con("20m")}},
		Leak:    b.atMost(name+".I_R", "1u"),
	})
}

// out is a push-pull output between a supply and ground: V_OL at most 0.4 V
// and V_OH at least the supply less 0.4 V, each at 4 mA.
func (b *board) out(name string, pin, supply Node) (d *Driver, low, high *Element) {
	d = b.n.Driver(name, "low", "high", "off")
	row := []Point{{Max: b.con("0.4"), At: b.con("4m")}}
	low = d.In("low", b.n.Pull(name+" low", pin, b.gnd, row))
	high = d.In("high", b.n.Pull(name+" high", supply, pin, row))
	d.Release("off")
	return d, low, high
}

// drain is an open-drain output.
func (b *board) drain(name string, pin Node) (d *Driver, low *Element) {
	d = b.n.Driver(name, "low", "off")
	low = d.In("low", b.n.Pull(name+" low", pin, b.gnd, []Point{{Max: b.con("0.4"), At: b.con("4m")}}))
	d.Release("off")
	return d, low
}

func only(d *Driver, state string) Scope { return Scope{Only: []Pick{{d, state}}} }

// TestBoardDivider is a measuring divider with a leaky input.
func TestBoardDivider(t *testing.T) {
	b := newBoard()
	v33, ntc := b.rail("V3V3", "3.2", "3.4"), b.n.Node("NTC")
	up := b.r("R8", v33, ntc, "10k")
	b.r("TH1", ntc, b.gnd, "10k")
	b.leaks("U1.P3", ntc, "100n")
	v := b.n.Voltage(ntc)
	// 3.4 V · 10.1 / 20 + 100 nA · (9.9 k || 10.1 k) = 1.7175 V, by hand
	requireVerdict(t, b.n, Passed, b.le(v, "1.7176"), Scope{})
	requireVerdict(t, b.n, Failed, b.le(v, "1.7174"), Scope{})
	requireVerdict(t, b.n, Passed, b.ge(v, "1.583"), Scope{})
	requireVerdict(t, b.n, Passed, b.le(b.n.Current(up), "172u"), Scope{})
	requireVerdict(t, b.n, Passed, b.le(b.n.Power(up), "295u"), Scope{})
	x := b.n.Range(v, Scope{})
	require.InDelta(t, 1.7175, x.Hi, 1e-4)
}

// TestBoardLeakage: nobody noted the leakage; the claim says up to which it
// holds.
func TestBoardLeakage(t *testing.T) {
	b := newBoard()
	v33, rst := b.rail("V3V3", "3.2", "3.4"), b.n.Node("RESET")
	b.r("R1", v33, rst, "10k")
	in := b.n.Load("U1.RESET", rst, b.gnd, 0)
	j := requireVerdict(t, b.n, Undecided, b.ge(b.n.Voltage(rst), "2.31"), Scope{})
	require.NotNil(t, j.Turns)
	require.Equal(t, b.b.Vars(in.Pieces[0].Value)[0], j.Turns.Input)
	require.Equal(t, "11/125000", j.Turns.AtMost.RatString()) // (3.2 V - 2.31 V) / 10.1 kΩ = 88.1 µA
}

// TestBoardTwoPullUps is an open-drain net with pull-ups to two rails, one of
// which may be off.
func TestBoardTwoPullUps(t *testing.T) {
	b := newBoard()
	net, v33, v18 := b.n.Node("INT"), b.rail("V3V3", "3.2", "3.4"), b.n.Node("V1V8")
	b.r("R1", v33, net, "10k")
	b.r("R2", v18, net, "10k")
	d, _ := b.drain("U1.INT", net)
	u := b.n.Driver("U9", "on", "off")
	u.Give("on", v18, b.span("V1V8", "1.75", "1.85"))
	u.Off("off", v18)
	v := b.n.Voltage(net)
	on := Scope{Only: []Pick{{d, "off"}, {u, "on"}}}
	requireVerdict(t, b.n, Passed, b.ge(v, "2.4"), on)
	requireVerdict(t, b.n, Passed, b.le(v, "2.7"), on)
	requireVerdict(t, b.n, Failed, b.ge(v, "2.7"), on)
	requireVerdict(t, b.n, Passed, b.le(v, "0.4"), only(d, "low"))
	// With the second rail off the level is anywhere from half of the first up:
	// what is not known may open, not break.
	off := Scope{Only: []Pick{{d, "off"}, {u, "off"}}}
	requireVerdict(t, b.n, Undecided, b.ge(v, "2.3"), off)
	requireVerdict(t, b.n, Failed, b.ge(v, "3.41"), off)
	requireVerdict(t, b.n, Passed, b.ge(v, "1.55"), off)
}

// TestBoardWiredAnd: three open drains on one pull-up; any of them low is low.
func TestBoardWiredAnd(t *testing.T) {
	b := newBoard()
	net, v := b.n.Node("BUS"), b.rail("V3V3", "3.2", "3.4")
	b.r("R1", v, net, "4.7k")
	var ds []*Driver
	for _, name := range []string{"U1", "U2", "U3"} {
		d, _ := b.drain(name, net)
		ds = append(ds, d)
	}
	level := b.n.Voltage(net)
	requireVerdict(t, b.n, Passed, b.le(level, "0.4"), only(ds[1], "low"))
	requireVerdict(t, b.n, Passed, b.ge(level, "3.2"), Scope{Only: []Pick{{ds[0], "off"}, {ds[1], "off"}, {ds[2], "off"}}})
	requireVerdict(t, b.n, Failed, b.ge(level, "2"), Scope{})
}

// TestBoardLED is an LED from a pin to ground or from a rail to the pin, also
// from a higher rail; and a resistor that is too small.
func TestBoardLED(t *testing.T) {
	for _, c := range []struct {
		name, ohms, rail string
		up               bool
		most             string
		want             Verdict
	}{
		{"to ground", "470", "3.4", false, "4m", Passed},
		{"from the rail", "470", "3.4", true, "4m", Passed},
		{"too small", "47", "3.4", true, "4m", Failed},
		{"from a higher rail", "1k", "5.25", true, "5.4m", Passed},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := newBoard()
			v33, pin, mid := b.rail("V3V3", "3.2", "3.4"), b.n.Node("P4"), b.n.Node("D1_A")
			top := v33
			if c.rail != "3.4" {
				top = b.rail("V5", "4.75", c.rail)
			}
			d, low, high := b.out("U1.P4", pin, v33)
			on, path := only(d, "high"), high
			if c.up {
				b.r("R1", top, mid, c.ohms)
				b.led("D1", mid, pin)
				on, path = only(d, "low"), low
			} else {
				b.r("R1", pin, mid, c.ohms)
				b.led("D1", mid, b.gnd)
			}
			claim := b.le(b.n.Current(path), c.most)
			if c.name == "to ground" || c.name == "from the rail" {
				// 3.4 V with nothing known of V_F below 20 mA: up to 7.3 mA
				requireVerdict(t, b.n, Undecided, claim, on)
				claim = b.le(b.n.Current(path), "7.4m")
			}
			requireVerdict(t, b.n, c.want, claim, on)
			if c.name == "from a higher rail" {
				// The pin is off and nothing but the LED joins it to anything.
				requireVerdict(t, b.n, Undecided, b.le(b.n.Voltage(pin), "5.25"), only(d, "off"))
			}
		})
	}
}

// TestBoardLEDCurrent: V_F counts as stated only from the current of its row.
func TestBoardLEDCurrent(t *testing.T) {
	b := newBoard()
	v5, mid := b.rail("V5", "4.75", "5.25"), b.n.Node("M")
	b.r("R1", v5, mid, "180")
	d := b.led("D1", mid, b.gnd)
	i := b.n.Current(d)
	requireVerdict(t, b.n, Passed, b.le(i, "20m"), Scope{}) // beyond it V_F is at least 1.8 V
	requireVerdict(t, b.n, Passed, b.ge(i, "14m"), Scope{}) // (4.75 - 2.2) / 181.8
	requireVerdict(t, b.n, Undecided, b.ge(i, "15m"), Scope{})
	requireVerdict(t, b.n, Failed, b.le(i, "10m"), Scope{})
}

// TestBoardLEDBeyond: beyond the current of a row only its minimum counts, and
// with two rows the voltage lies between them.
func TestBoardLEDBeyond(t *testing.T) {
	b := newBoard()
	v5, mid := b.rail("V5", "4.75", "5.25"), b.n.Node("M")
	b.r("R1", v5, mid, "68")
	b.n.Junction("D1", mid, b.gnd, Diode{Forward: []Point{
		{Min: b.con("1.8"), Max: b.con("2.2"), At: b.con("20m")},
		{Min: b.con("2"), Max: b.con("2.6"), At: b.con("50m")},
	}, NoLeak: true})
	v := b.n.Voltage(mid)
	requireVerdict(t, b.n, Passed, b.ge(v, "1.8"), Scope{}) // at least 31 mA flow
	requireVerdict(t, b.n, Passed, b.le(v, "2.6"), Scope{})
	requireVerdict(t, b.n, Undecided, b.ge(v, "1.9"), Scope{})
	requireVerdict(t, b.n, Undecided, b.le(v, "2.5"), Scope{})
}

// TestBoardString is three LEDs in series.
func TestBoardString(t *testing.T) {
	b := newBoard()
	v, x, y, z := b.rail("V12", "11.4", "12.6"), b.n.Node("X"), b.n.Node("Y"), b.n.Node("Z")
	b.r("R1", v, x, "330")
	b.led("D1", x, y)
	b.led("D2", y, z)
	d := b.led("D3", z, b.gnd)
	requireVerdict(t, b.n, Passed, b.le(b.n.Current(d), "22.1m"), Scope{}) // (12.6 - 3 · 1.8) / 326.7
	requireVerdict(t, b.n, Passed, b.ge(b.n.Current(d), "14m"), Scope{})
	requireVerdict(t, b.n, Failed, b.ge(b.n.Current(d), "24m"), Scope{})
}

// TestBoardStrap is a boot strap pulled down with an LED to the rail on it.
func TestBoardStrap(t *testing.T) {
	for _, c := range []struct {
		led  bool
		want Verdict
	}{{false, Passed}, {true, Failed}} {
		b := newBoard()
		v33, boot, mid := b.rail("V3V3", "3.2", "3.4"), b.n.Node("BOOT"), b.n.Node("D1_K")
		b.r("R1", boot, b.gnd, "10k")
		b.leaks("U1.BOOT", boot, "1u")
		if c.led {
			b.r("R2", mid, boot, "470")
			b.led("D1", v33, mid)
		}
		low := b.le(b.n.Voltage(boot), "0.9")
		requireVerdict(t, b.n, c.want, low, Scope{})
		if c.led { // with at most 2.2 V across the LED it is never low
			requireVerdict(t, b.n, Passed, b.ge(b.n.Voltage(boot), "0.92"), Scope{})
			requireVerdict(t, b.n, Failed, b.le(b.n.Voltage(boot), "0.8"), Scope{})
		}
	}
}

// channel is an n-channel low-side switch: 0.1 Ω at 2.5 V, off below 0.6 V, a
// body diode.
func (b *board) channel(name string, drain, gate, source Node) *Element {
	n := b.n
	body := []Point{{Max: b.con("1.2"), At: b.con("1")}}
	n.Junction(name+" body", source, drain, Diode{Forward: body, Leak: b.atMost("I_DSS", "1u")})
	return n.Channel(name, drain, source, gate, source, b.con("0.6"), []Turn{{At: b.con("2.5"), Max: b.con("0.1")}}, 0)
}

// relay is a coil on 12 V with a low-side transistor driven by a pin.
func relay(diode string) (b *board, coil, fly *Element, d *Driver) {
	b = newBoard()
	v33, v12 := b.rail("V3V3", "3.2", "3.4"), b.rail("V12", "11.4", "12.6")
	pin, gate, low := b.n.Node("P1"), b.n.Node("G"), b.n.Node("COIL")
	d, _, _ = b.out("U1.P1", pin, v33)
	b.r("R1", pin, gate, "100")
	b.r("R2", gate, b.gnd, "100k")
	b.channel("Q1", low, gate, b.gnd)
	coil = b.r("K1", v12, low, "360")
	row := Diode{Forward: []Point{{Max: b.con("1"), At: b.con("1")}}, Leak: b.atMost("I_R", "5u")}
	switch diode {
	case "right":
		fly = b.n.Junction("D1", low, v12, row)
	case "reversed":
		fly = b.n.Junction("D1", v12, low, row)
	}
	return b, coil, fly, d
}

// TestBoardRelay is the relay on and off, with its diode and with one turned round.
func TestBoardRelay(t *testing.T) {
	b, coil, _, d := relay("right")
	i := b.n.Current(coil)
	requireVerdict(t, b.n, Passed, b.ge(i, "31m"), only(d, "high"))
	requireVerdict(t, b.n, Passed, b.le(i, "36m"), only(d, "high"))
	requireVerdict(t, b.n, Passed, b.le(i, "10u"), only(d, "low"))
	requireVerdict(t, b.n, Passed, b.le(i, "10u"), only(d, "off")) // held by R2
	b, _, fly, d := relay("reversed")
	requireVerdict(t, b.n, Failed, b.le(b.n.Current(fly), "1"), only(d, "high"))
}

// TestBoardReverse is reverse protection by a p-channel transistor in the
// positive lead, its gate to ground through a resistor, a Zener to its source.
func TestBoardReverse(t *testing.T) {
	for _, c := range []struct {
		name      string
		exchanged bool
		zener     bool
		want      Verdict // no current backwards with the battery reversed
	}{{"right", false, true, Passed}, {"drain and source exchanged", true, true, Failed}} {
		t.Run(c.name, func(t *testing.T) {
			b := newBoard()
			n := b.n
			bat := n.Node("V_BAT")
			cell := n.Driver("BT1", "right", "reversed")
			cell.Give("right", bat, b.span("V_BAT", "9", "16"))
			cell.Give("reversed", bat, b.span("V_BAT reversed", "-16", "-9"))
			load, gate := n.Node("VP"), n.Node("G")
			src, drn := load, bat // right: body diode from battery to load
			if c.exchanged {
				src, drn = bat, load
			}
			b.r("R1", gate, b.gnd, "10k")
			b.r("R2", load, b.gnd, "100")
			n.Junction("Q1 body", drn, src, Diode{Forward: []Point{{Max: b.con("1.2"), At: b.con("1")}}, NoLeak: true})
			n.Channel("Q1", src, drn, src, gate, b.con("1"), []Turn{{At: b.con("4.5"), Max: b.con("0.05")}}, 0)
			n.Junction("D1", gate, src, Diode{
				Forward:   []Point{{Max: b.con("1.2"), At: b.con("100m")}},
				Breakdown: []Point{{Min: b.con("9.5"), Max: b.con("10.5"), At: b.con("5m")}}, NoLeak: true,
			})
			requireVerdict(t, n, Passed, b.ge(n.Voltage(load), "7.7"), only(cell, "right"))
			requireVerdict(t, n, Passed, b.le(n.Between(src, gate), "10.6"), only(cell, "right"))
			if c.exchanged {
				requireVerdict(t, n, Failed, b.ge(n.Voltage(load), "-0.5"), only(cell, "reversed"))
				return
			}
			requireVerdict(t, n, Passed, b.ge(n.Voltage(load), "-0.5"), only(cell, "reversed"))
		})
	}
}

// TestBoardBackPowering is a signal from a powered part into the clamp of one
// whose supply is off, through a resistor.
func TestBoardBackPowering(t *testing.T) {
	for _, c := range []struct {
		ohms string
		want Verdict
	}{{"1k", Passed}, {"100", Undecided}} {
		b := newBoard()
		n := b.n
		v33, v18 := b.rail("V3V3", "3.2", "3.4"), n.Node("V1V8")
		tx, rx := n.Node("TX"), n.Node("RX")
		d, _, _ := b.out("U1.TX", tx, v33)
		b.r("R1", tx, rx, c.ohms)
		up := n.Clamp("U2.RX to V1V8", rx, v18, 0, 0)
		n.Clamp("U2.RX to GND", b.gnd, rx, 0, 0)
		s := n.Driver("U9", "on", "off")
		s.Give("on", v18, b.span("V1V8", "1.75", "1.85"))
		s.Off("off", v18)
		off := Scope{Only: []Pick{{d, "high"}, {s, "off"}}}
		requireVerdict(t, n, c.want, b.le(n.Current(up), "5m"), off)
		requireVerdict(t, n, Passed, b.le(n.Current(up), "35m"), off)
	}
	// With its rail stated as 0 V while asleep, 3.2 V through 100 Ω breaks it.
	b := newBoard()
	n := b.n
	v33, v18 := b.rail("V3V3", "3.2", "3.4"), n.Node("V1V8")
	rx := n.Node("RX")
	b.r("R1", v33, rx, "100")
	up := n.Clamp("U2.RX to V1V8", rx, v18, b.con("0.3"), b.con("0.8"))
	s := n.Driver("U9", "on", "asleep")
	s.Give("on", v18, b.span("V1V8", "1.75", "1.85"))
	s.Give("asleep", v18, b.con("0"))
	requireVerdict(t, n, Undecided, b.le(n.Current(up), "25m"), only(s, "asleep")) // V_CLAMP is no maximum
	requireVerdict(t, n, Passed, b.le(n.Current(up), "32m"), only(s, "asleep"))
}

// TestBoardReset is a reset net with a capacitor, which is open at rest, and
// an input with a stated leakage.
func TestBoardReset(t *testing.T) {
	b := newBoard()
	v33, rst, pin := b.rail("V3V3", "3.2", "3.4"), b.n.Node("RST"), b.n.Node("U1.RST")
	b.r("R1", v33, rst, "10k")
	b.r("R2", rst, pin, "1k")
	b.leaks("U1.RST", pin, "1u")
	requireVerdict(t, b.n, Passed, b.ge(b.n.Voltage(pin), "3.18"), Scope{})
	requireVerdict(t, b.n, Passed, b.le(b.n.Voltage(pin), "3.412"), Scope{})
	requireVerdict(t, b.n, Failed, b.ge(b.n.Voltage(pin), "3.2"), Scope{})
}

// TestBoardR2R is a ladder of four bits: exact resistors give exact sixteenths.
func TestBoardR2R(t *testing.T) {
	for code := range 16 {
		b := newBoard()
		high := b.n.Given("V", b.con("3.2"))
		below := b.gnd
		var last Node
		for bit := range 4 {
			at := b.n.Node("B")
			ohms := "10k"
			if bit == 0 {
				ohms = "20k"
			}
			b.n.Resistor("R", below, at, b.con(ohms))
			to := b.gnd
			if code>>bit&1 == 1 {
				to = high
			}
			b.n.Resistor("2R", at, to, b.con("20k"))
			below, last = at, at
		}
		want := b.b.Const(big.NewRat(int64(code), 5)) // sixteenths of 3.2 V
		j := b.n.Judge(b.b.Binary(bound.OpEqual, b.n.Voltage(last), want), Scope{})
		require.Equal(t, Passed, j.Verdict, "code %d: %s", code, j.Why)
	}
}

// TestBoardBridge is a bridge of 350 Ω into the inputs of an instrumentation
// amplifier: its difference, and that it turns round.
func TestBoardBridge(t *testing.T) {
	b := newBoard()
	v, p, m := b.rail("V5", "4.9", "5.1"), b.n.Node("INP"), b.n.Node("INN")
	b.r("R1", v, p, "350")
	b.r("R2", p, b.gnd, "350")
	b.r("R3", v, m, "350")
	b.r("R4", m, b.gnd, "350")
	b.n.Resistor("R5", p, m, b.span("R5", "50", "500"))
	b.leaks("U1.INP", p, "10n")
	b.leaks("U1.INN", m, "10n")
	diff := b.n.Between(p, m)
	requireVerdict(t, b.n, Passed, b.le(diff, "60m"), Scope{})
	requireVerdict(t, b.n, Passed, b.ge(diff, "-60m"), Scope{})
	requireVerdict(t, b.n, Failed, b.le(diff, "10m"), Scope{})
	requireVerdict(t, b.n, Passed, b.le(b.n.Voltage(p), "2.61"), Scope{})
}

// TestBoardLadder is ten sections, near the limit of what is exact.
func TestBoardLadder(t *testing.T) {
	b := newBoard()
	at := b.rail("V", "9.9", "10.1")
	for range 10 {
		next := b.n.Node("L")
		b.r("R", at, next, "1k")
		b.r("S", next, b.gnd, "10k")
		at = next
	}
	// by hand from the far end: all series resistors high, the others and the
	// source low, and the other way round
	x := b.n.Range(b.n.Voltage(at), Scope{})
	require.InDelta(t, 0.709887132301253, x.Lo, 1e-12)
	require.InDelta(t, 0.7728144919262233, x.Hi, 1e-12)
	requireVerdict(t, b.n, Passed, b.le(b.n.Voltage(at), "0.773"), Scope{})
	requireVerdict(t, b.n, Failed, b.le(b.n.Voltage(at), "0.7"), Scope{})
}

// TestBoardPassive: a thing without a value lies between what it joins.
func TestBoardPassive(t *testing.T) {
	b := newBoard()
	v33, x := b.rail("V3V3", "3.2", "3.4"), b.n.Node("X")
	b.n.Resistor("FB1", v33, x, 0)
	b.r("R1", x, b.gnd, "10k")
	v := b.n.Voltage(x)
	requireVerdict(t, b.n, Passed, b.le(v, "3.4"), Scope{})
	requireVerdict(t, b.n, Passed, b.ge(v, "0"), Scope{})
	requireVerdict(t, b.n, Undecided, b.ge(v, "3"), Scope{})
	requireVerdict(t, b.n, Failed, b.ge(v, "3.41"), Scope{})
}

// TestBoardFloats: a net that nothing joins to a known one is never 0 V.
func TestBoardFloats(t *testing.T) {
	b := newBoard()
	x, y := b.n.Node("X"), b.n.Node("Y")
	b.r("R1", x, y, "10k")
	requireVerdict(t, b.n, Undecided, b.le(b.n.Voltage(x), "0.5"), Scope{})
	require.True(t, b.n.Judge(b.le(b.n.Voltage(y), "1"), Scope{}).Case.floats[y])
}

// TestBoardUnknown: an active pin without a model opens its own net and what
// hangs on it, and no more.
func TestBoardUnknown(t *testing.T) {
	b := newBoard()
	v, x, y, z := b.rail("V", "3.2", "3.4"), b.n.Node("X"), b.n.Node("Y"), b.n.Node("Z")
	b.n.Anything(x, "J1.3")
	b.r("R1", x, y, "1k")
	b.r("R2", y, b.gnd, "1k")
	b.r("R3", v, z, "1k")
	b.r("R4", z, b.gnd, "1k")
	requireVerdict(t, b.n, Undecided, b.le(b.n.Voltage(y), "5"), Scope{})
	requireVerdict(t, b.n, Passed, b.le(b.n.Voltage(z), "1.8"), Scope{})
}

// TestBoardEmptyCases: a state that cannot be is no pass either.
func TestBoardEmptyCases(t *testing.T) {
	b := newBoard()
	v := b.rail("V5", "4.9", "5.1")
	d := ideal(b.n, "D1", v, b.gnd, b.span("V_F", "0.5", "0.7"))
	requireVerdict(t, b.n, Undecided, b.le(b.n.Current(d), "1"), Scope{})
}

// TestBoardContention is two outputs on one net: either alone is within its
// limits, together one of them is beyond.
func TestBoardContention(t *testing.T) {
	b := newBoard()
	v33, net := b.rail("V3V3", "3.2", "3.4"), b.n.Node("TX")
	d1, low, _ := b.out("U1.TX", net, v33)
	d2, _, _ := b.out("U2.TX", net, v33)
	i := b.n.Current(low)
	requireVerdict(t, b.n, Passed, b.le(i, "0"), Scope{Only: []Pick{{d1, "low"}, {d2, "off"}}})
	both := Scope{Only: []Pick{{d1, "low"}, {d2, "high"}}}
	requireVerdict(t, b.n, Failed, b.le(i, "4m"), both)
	// What another does at the same time is not sure.
	requireVerdict(t, b.n, Undecided, b.le(i, "4m"), Scope{})
}

// TestBoardBus is a bus of six parts with clamps to either rail.
func TestBoardBus(t *testing.T) {
	b := newBoard()
	n := b.n
	v33, net := b.rail("V3V3", "3.2", "3.4"), n.Node("SDA")
	b.r("R1", v33, net, "4.7k")
	var off []Pick
	var ds []*Driver
	for k := range 6 {
		name := string(rune('1' + k))
		pin := n.Node("U" + name)
		b.r("RS"+name, net, pin, "33")
		d, _ := b.drain("U"+name, pin)
		b.leaks("U"+name, pin, "1u")
		n.Clamp("U"+name+" up", pin, v33, 0, 0)
		n.Clamp("U"+name+" down", b.gnd, pin, 0, 0)
		ds, off = append(ds, d), append(off, Pick{d, "off"})
	}
	v := n.Voltage(net)
	requireVerdict(t, n, Passed, b.ge(v, "3.16"), Scope{Only: off})
	low := append([]Pick{{ds[3], "low"}}, off[:3]...)
	requireVerdict(t, n, Passed, b.le(v, "0.45"), Scope{Only: append(low, off[4:]...)})
	requireVerdict(t, n, Failed, b.ge(v, "3.3"), Scope{Only: off})
}

// TestBoardBipolar is a relay coil on an npn transistor: driven well, driven
// too little, and with its base at 0 V.
func TestBoardBipolar(t *testing.T) {
	for _, c := range []struct {
		ohms string
		want Verdict
	}{{"1k", Passed}, {"20k", Undecided}, {"100k", Failed}} {
		b := newBoard()
		n := b.n
		v33, v12 := b.rail("V3V3", "3.2", "3.4"), b.rail("V12", "11.4", "12.6")
		pin, base, low := n.Node("P1"), n.Node("B"), n.Node("COIL")
		d, _, _ := b.out("U1.P1", pin, v33)
		b.r("R1", pin, base, c.ohms)
		b.r("R2", base, b.gnd, "10k")
		be := n.Junction("Q1 base", base, b.gnd, Diode{
			Forward: []Point{{Min: b.con("0.45"), At: b.con("10u")}, {Max: b.con("0.95"), At: b.con("5m")}}, NoLeak: true,
		})
		n.Bipolar("Q1", low, b.gnd, be, be, base, b.gnd, b.con("0.45"), b.con("50"), Point{Max: b.con("0.3"), At: b.con("50m")})
		coil := b.r("K1", v12, low, "360")
		requireVerdict(t, n, c.want, b.ge(n.Current(coil), "30m"), only(d, "high"))
		requireVerdict(t, n, Passed, b.le(n.Current(coil), "36m"), only(d, "high"))
		requireVerdict(t, n, Passed, b.le(n.Current(coil), "1u"), only(d, "low"))
	}
}

// TestBoardLevelShifter is an n-channel transistor between 1.8 V and 3.3 V, its
// gate on the lower rail, and by mistake on the higher one.
func TestBoardLevelShifter(t *testing.T) {
	for _, c := range []struct {
		wrong bool
		want  Verdict // the lower side stays within 2 V
	}{{false, Passed}, {true, Failed}} {
		b := newBoard()
		n := b.n
		v18, v33 := b.rail("V1V8", "1.75", "1.85"), b.rail("V3V3", "3.2", "3.4")
		low, high, gate := n.Node("SDA_1V8"), n.Node("SDA_3V3"), v18
		if c.wrong {
			gate = v33
		}
		b.r("R1", v18, low, "10k")
		b.r("R2", v33, high, "10k")
		b.leaks("U1.SDA", low, "100n")
		b.leaks("U2.SDA", high, "100n")
		n.Junction("Q1 body", low, high, Diode{
			Forward: []Point{{Max: b.con("0.5"), At: b.con("1m")}}, Leak: b.atMost("I_DSS", "100n"),
		})
		n.Channel("Q1", high, low, gate, low, b.con("0.4"), []Turn{{At: b.con("0.8"), Max: b.con("5")}}, 0)
		d1, _ := b.drain("U1.SDA", low)
		d2, _ := b.drain("U2.SDA", high)
		off := Scope{Only: []Pick{{d1, "off"}, {d2, "off"}}}
		requireVerdict(t, n, c.want, b.le(n.Voltage(low), "2"), off)
		if c.wrong {
			continue
		}
		requireVerdict(t, n, Passed, b.ge(n.Voltage(high), "3.19"), off)
		requireVerdict(t, n, Passed, b.ge(n.Voltage(low), "1.74"), off)
		requireVerdict(t, n, Passed, b.le(n.Voltage(high), "0.5"), Scope{Only: []Pick{{d1, "low"}, {d2, "off"}}})
		requireVerdict(t, n, Passed, b.le(n.Voltage(low), "0.5"), Scope{Only: []Pick{{d1, "off"}, {d2, "low"}}})
	}
}
