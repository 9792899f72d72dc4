package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// checkRuns is a notebook of n claims of five values each: that what a regulator
// turns into heat stays under its rating.
func checkRuns(n int) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "# %d checks\n\n```design\ntitle: %d checks\nrevision: A\n```\n", n, n)
	for i := range n {
		fmt.Fprintf(&b, "\nCheck %d: what the regulator turns into heat stays under its rating, with a tenth to spare.\n\n```values\n", i)
		fmt.Fprintf(&b, "vin_%d = %g V ± 0.05 V\nvout_%[1]d = %[3]d mV ± 33 mV\niout_%[1]d = %[4]d mA ± 2 mA\n", i, 5+
			float64(i%7)*0.01, 3300+i%11, 100+i%150)
		fmt.Fprintf(&b, "iq_%d = %d uA ± 5 uA\npmax_%[1]d = 400 mW\n```\n\n", i, 15+i%9)
		fmt.Fprintf(&b, "```claim loss-%d\nstatement: loss %[1]d under the rating\ncriterion: (vin_%[1]d - vout_%[1]d) * iout_%[1]d + vin_%[1]d * iq_%[1]d <= 0.9 * pmax_%[1]d\n```\n", i)
	}
	return b.Bytes()
}

// script is what an engineer would write for the same checks: Python with the
// units library pint, the worst corner by hand, one check below the other.
func script(n int) []byte {
	var b bytes.Buffer
	fmt.Fprint(&b, "import pint\nureg = pint.UnitRegistry()\nQ = ureg.Quantity\nfailed = 0\n")
	for i := range n {
		vin := fmt.Sprintf("Q(%g + 0.05, 'V')", 5+float64(i%7)*0.01)
		fmt.Fprintf(&b, "if not (%s - Q(%d - 33, 'mV')) * Q(%d + 2, 'mA') + %s * Q(%d + 5, 'uA') <= 0.9 * Q(400, 'mW'):\n    failed += 1\n",
			vin, 3300+i%11, 100+i%150, vin, 15+i%9)
	}
	fmt.Fprintf(&b, "print(%d, 'checks', failed, 'failed')\n", n)
	return b.Bytes()
}

// python is an interpreter that has pint: of GUARDBAND_PYTHON, or python3.
func python(b *testing.B) string {
	program := os.Getenv("GUARDBAND_PYTHON")
	if program == "" {
		program = "python3"
	}
	if err := exec.Command(program, "-c", "import pint").Run(); err != nil {
		b.Skip("no Python with pint; GUARDBAND_PYTHON names one")
	}
	return program
}

// built is a program of this module, as built for use.
func built(b *testing.B, folder string) string {
	program := filepath.Join(b.TempDir(), filepath.Base(folder)+".exe") // the name serves every system
	out, err := exec.Command("go", "build", "-o", program, folder).CombinedOutput()
	require.NoError(b, err, string(out))
	return program
}

// process runs a program b.N times and reports its processor time beside the
// time on the clock, which on a busy machine says little.
func process(b *testing.B, n int, program string, args ...string) {
	var cpu time.Duration
	for b.Loop() {
		c := exec.Command(program, args...)
		out, err := c.CombinedOutput()
		if c.ProcessState == nil || c.ProcessState.ExitCode() > exitClaims {
			b.Fatal(err, string(out[:min(len(out), 400)]))
		}
		cpu += c.ProcessState.UserTime() + c.ProcessState.SystemTime()
	}
	b.ReportMetric(float64(cpu.Microseconds())/1000/float64(b.N), "cpu-ms/op")
	b.ReportMetric(float64(cpu.Microseconds())/float64(b.N)/float64(n), "cpu-µs/claim")
}

// BenchmarkCheck is `guardband check` as a whole process, as built for use,
// against its floor in the same run, a small program that converts the same
// file from Markdown (GFM), and against a script with the same checks.
func BenchmarkCheck(b *testing.B) {
	dir := b.TempDir()
	program, floor := built(b, "../guardband"), built(b, "./testdata/floor")
	for _, n := range []int{1, 100, 1000, 10000} {
		file := filepath.Join(dir, fmt.Sprintf("checks%d.md", n))
		require.NoError(b, os.WriteFile(file, checkRuns(n), 0o644))
		b.Run(fmt.Sprintf("claims=%d", n), func(b *testing.B) { process(b, n, program, "check", file) })
		b.Run(fmt.Sprintf("floor=%d", n), func(b *testing.B) { process(b, n, floor, file) })
	}
	const n = 10000
	file := filepath.Join(dir, "checks.py")
	require.NoError(b, os.WriteFile(file, script(n), 0o644))
	b.Run(fmt.Sprintf("script=%d", n), func(b *testing.B) { process(b, n, python(b), file) })
}
