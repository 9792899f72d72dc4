package units

import (
	"fmt"
	"testing"
	"time"
)

func TestZZ(t *testing.T) {
	s0 := time.Now()
	buildTable()
	fmt.Println(time.Since(s0))
	for _, s := range []string{"3.3 V", "3.3V", "4.7 kΩ", "4.7 kohm", "2.2 µF", "2.2 μF", "2.2 uF", "-40 °C", "-40 degC", "−40 ℃", "4k7 ohm", "4µ7 F", "0R ohm", "100n F", "5m", "5m ohm", "10 K", "10 KΩ", "47K ohm", "230 V rms", "650 V pp", "230 Vrms", "65 °C/W", "10 %", "50 ppm/K", "3 dB", "5 nV/√Hz", "5 nV/rtHz", "1e-6 A", "1.5×10^-3 A", "1.5 × 10⁻³ A", "10\u202f000 V", "10 000 V", "3,3 V", "1,000 V", "0x1F", "0xG", "1.2.3", "3V3", "2 R1", "2πf", "5e V", "5eV", "5 eV", "2 A^2", "2 A²", "2 A ^ 2", "5 V/R1", "5 V/(R1+R2)", "1 A /V", "1 A/ V", "1 A/V", "m", "5 m/s/s", "5 W/m·K", "5 W/(m·K)", "17 % 5", "10 % to 5", "5 k", "5 KHZ", "5 mhz", "5 khz", "4k7", "4k7x", "2R", "R47", "10 min", "5 V min", "1 dBm", "-10 dBµV/m", "5 dBuV/m", "3 dB/m", "1 oz/ft²", "25 C", "5 m2", "5 in", "5 inch", "1e400 V", "5 Vdc", "5 Kelvin", "1 Ah", "2.5 mAh", "5 N·m", "5 V*s", "2 A*R", "2 A^x", "1/2 V", "1_000", "5 GHz^2", "√2", "3 √Hz", "1 √kHz", "5 °", "45°", "3.3 V rms", "3 dBm rms", "5 V²/Hz", "1 Mohm", "5 mil", "1 kB", "1 KiB", "8 Mibit/s", "5 Ω/sq", "5 kg·m/s^2", "1 lbf·ft", "100 K/W", "5 ppm/°C", "20 mV/°F", "1 mV/K", "5 V5", "9 Mhz", "4.7 Kohm", "3 Watts"} {
		q, e := ParseLiteral(s)
		if e != nil {
			fmt.Printf("%-16s ERR %d-%d %s: %s  || %s\n", s, e.Off, e.End, e.Code, e.Msg, e.Hint)
			if q, end, ok, e := ScanLiteral(s, 0, true); ok && e == nil {
				fmt.Printf("      scan %v rest %q\n", q, s[end:])
			}
			continue
		}
		fmt.Printf("%-16s = %s | %s | %s | %s | %s typed=%q\n", s, q, q.SI.RatString(), q.Type.Words(), Format(q.SI, q.Type, Style{}), Format(q.SI, q.Type, Style{ASCII: true}), q.Unit.Typed)
	}
	for _, s := range []string{"1.9 V to 5.6 V", "-40 to 125 °C", "(1.9 to 5.6) V", "3.3 V ± 2 %", "3.3 V +- 50 mV", "3.3 V+/-50mV", "± 2 mV", "± 2 %", "± 2 °C", "25 °C ± 2 °C", "3.3 V +5 % -3 %", "3.3 V + 5 % - 3 %", "min 2.7 V, typ 3.3 V, max 3.6 V", "1.9 V min", "1.9 V min, 3 V max", "10 min", "41.2 mA ± (1.2 % + 3 µA)", "max ± 2 mV", "50 % ± 2 %", "10 V -1 V", "1.9V-5.6V", "1.9 V–5.6 V", "1.9 V .. 5.6 V", "6 V to 2.7 V", "min 3 V, max 2 V", "1 mA to 150", "min 1 V, max 2 A", "3.3 V ± 0.1", "10 dBm ± 1 dB", "25 °C ± 2 %", "A + B ± 2 %", "X ± 2 %", "typ 1 µA, max 5 µA", "min(2 V, 3 V)", "min 2 V, 3 V", "3.3 V ± 2 % + 1", "3 V ±", "a(± 2 V)", "min", "", "typ 10 min", "-325 to 325 V pk", "230 V rms ± 10 V"} {
		v, e := ParseValue(s)
		if e != nil {
			fmt.Printf("%-30s ERR %d-%d %s: %s  || %s\n", s, e.Off, e.End, e.Code, e.Msg, e.Hint)
			continue
		}
		fmt.Printf("%-30s %d %v %v %v\n", s, v.Shape, v.Min, v.Typ, v.Max)
	}
}
