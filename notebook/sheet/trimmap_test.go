package sheet

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/experimental"
)

// lightSize is the length in bytes up to which the light engine keeps a
// function that reading text could reach.
const lightSize = 8000

// TestMakeEngineMap makes engine.map from the sheets of the project and the PDFs
// in the folders that GUARDBAND_LIGHT_MAP lists; without it, it does nothing.
// Take documents of many makers: what they enter is kept. A map of the same
// module is added to.
func TestMakeEngineMap(t *testing.T) {
	folders := os.Getenv("GUARDBAND_LIGHT_MAP")
	if folders == "" {
		return
	}
	m := parseModule(pdfiumModule)
	paths := projectSheets(t)
	for _, dir := range filepath.SplitList(folders) {
		more, err := filepath.Glob(filepath.Join(dir, "*.pdf"))
		require.NoError(t, err)
		paths = append(paths, more...)
	}
	seen := map[int]bool{}
	if trimmed(true) != nil {
		kept := mapOf(t, true)
		for f := range m.bodies {
			if kept[f/8]>>(f%8)&1 == 1 {
				seen[f] = true
			}
		}
	}
	for len(paths) > 0 {
		n := min(len(paths), 60)
		if len(seen) == 0 {
			n = 4 // everything is listened to: slow
		}
		m.profile(t, seen, paths[:n])
		paths = paths[n:]
		m.write(t, m.kept(seen))
		t.Logf("%d documents left, %d functions seen, %d kept", len(paths), len(seen), len(m.kept(seen)))
	}
}

func (m *wasmModule) bits(kept map[int]bool) []byte {
	bits := make([]byte, (len(m.bodies)+7)/8)
	for f := range kept {
		bits[f/8] |= 1 << (f % 8)
	}
	return bits
}

// write writes engine.map.
func (m *wasmModule) write(t *testing.T, kept map[int]bool) {
	var b strings.Builder
	fmt.Fprintf(&b, "%x\n", sha256.Sum256(pdfiumModule))
	for line := range slices.Chunk(slices.Concat(m.bits(kept), m.bits(m.reached())), 50) {
		fmt.Fprintf(&b, "%x\n", line)
	}
	require.NoError(t, os.WriteFile("engine.map", []byte(b.String()), 0o644))
}

// projectSheets are the sheets of the examples and of testdata.
func projectSheets(t testing.TB) []string {
	var out []string
	for _, pattern := range []string{"../../examples/*/sheets/*.pdf", "../../testdata/sheets/*.pdf"} {
		paths, err := filepath.Glob(pattern)
		require.NoError(t, err)
		require.NotEmpty(t, paths)
		out = append(out, paths...)
	}
	return out
}

// profile reads documents in the whole engine and adds the functions entered.
// It listens to those alone that would be left out so far, and to exports.
func (m *wasmModule) profile(t *testing.T, seen map[int]bool, paths []string) {
	kept := m.kept(seen)
	entered := make([]bool, len(m.bodies))
	listen := experimental.FunctionListenerFactoryFunc(func(def api.FunctionDefinition) experimental.FunctionListener {
		f := int(def.Index()) - m.imported
		if f < 0 || def.GoFunction() != nil || seen[f] || kept[f] && len(def.ExportNames()) == 0 {
			return nil
		}
		return experimental.FunctionListenerFunc(
			func(context.Context, api.Module, api.FunctionDefinition, []uint64, experimental.StackIterator) {
				entered[f] = true
			})
	})
	l := Open("")
	l.eng.light = false
	l.eng.pageLimit, l.eng.openLimit = l.eng.pageLimit*20, l.eng.openLimit*20
	l.eng.parent = experimental.WithFunctionListenerFactory(context.Background(), listen)
	for _, path := range paths {
		in, err := l.Inspect(context.Background(), path)
		for page := 1; err == nil && page <= in.Pages; page += 1 + in.Pages/12 {
			p, err := l.PageText(context.Background(), path, page)
			if err == nil && page < 4 {
				_, _ = l.look(context.Background(), file{path, in.SHA256}, &p, p.places())
				_, _, _, _ = l.Crop(context.Background(), path, page, nil, nil, 72)
			}
		}
	}
	for f, yes := range entered {
		if yes {
			seen[f] = true
		}
	}
	require.NoError(t, l.Close())
}

// kept gives the functions that the light engine keeps: those seen, and short
// ones that these can reach by calls and by references that they hold.
func (m *wasmModule) kept(seen map[int]bool) map[int]bool {
	out := maps.Clone(seen)
	queue := slices.Collect(maps.Keys(seen))
	for len(queue) > 0 {
		f := queue[0]
		queue = queue[1:]
		for _, g := range m.calls(f) {
			if g -= m.imported; g >= 0 && !out[g] && len(m.bodies[g]) <= lightSize {
				out[g] = true
				queue = append(queue, g)
			}
		}
	}
	return out
}

// reached gives the functions that can be entered where no document is saved:
// those that the other exports and any reference lead to.
func (m *wasmModule) reached() map[int]bool {
	out := map[int]bool{}
	var queue []int
	add := func(f int) {
		if f >= 0 && !out[f] {
			out[f], queue = true, append(queue, f)
		}
	}
	for name, f := range m.exports {
		if name != "FPDF_SaveAsCopy" && name != "FPDF_SaveWithVersion" {
			add(f)
		}
	}
	for _, f := range m.table {
		add(f - m.imported)
	}
	for len(queue) > 0 {
		f := queue[0]
		queue = queue[1:]
		for _, g := range m.calls(f) {
			add(g - m.imported)
		}
	}
	return out
}

// wasmModule is what is asked of a module: WebAssembly Core Specification 2.0,
// 5.4 and 5.5, with the exceptions of 3.0.
type wasmModule struct {
	imported int      // functions
	types    []uint64 // of the functions of the code section
	bodies   [][]byte
	table    []int  // functions that can be called by reference
	first    uint64 // place of the first in the table
	exports  map[string]int
}

func parseModule(module []byte) *wasmModule {
	m := &wasmModule{exports: map[string]int{}}
	for r := (wasmReader{module[8:]}); len(r.b) > 0; {
		id := r.take(1)[0]
		s := wasmReader{r.take(int(r.uint()))}
		switch id {
		case 2:
			probe := wasmReader{s.b}
			for range int(s.uint()) {
				s.take(int(s.uint()))
				s.take(int(s.uint()))
				if s.take(1)[0] != 0 {
					panic("an import that is not a function")
				}
				s.uint()
				m.imported++
			}
			if probe.importOf("proc_exit") < 0 {
				panic("no proc_exit")
			}
		case 3:
			for range int(s.uint()) {
				m.types = append(m.types, s.uint())
			}
		case 8:
			panic("a function that runs at the start")
		case 7:
			for range int(s.uint()) {
				name := string(s.take(int(s.uint())))
				if kind, f := s.take(1)[0], int(s.uint()); kind == 0 {
					m.exports[name] = f - m.imported
				}
			}
		case 9:
			for range int(s.uint()) {
				if s.uint() != 0 {
					panic("an element segment that is not active")
				}
				s.take(1) // i32.const
				m.first = s.uint()
				s.take(1) // end
				for range int(s.uint()) {
					m.table = append(m.table, int(s.uint()))
				}
			}
		case 10:
			for range int(s.uint()) {
				m.bodies = append(m.bodies, s.take(int(s.uint())))
			}
		}
	}
	return m
}

// calls gives the functions that a function calls by number, and those whose
// place in the table it has as a constant: it may be a reference.
func (m *wasmModule) calls(f int) (numbers []int) {
	r := wasmReader{m.bodies[f]}
	for range int(r.uint()) { // locals
		r.uint()
		r.take(1)
	}
	skip := func(n int) { // numbers, signed ones too
		for ; n > 0; n-- {
			for r.take(1)[0]&0x80 != 0 {
			}
		}
	}
	for len(r.b) > 0 {
		switch op := r.take(1)[0]; {
		case op == 0x10 || op == 0x12 || op == 0xd2:
			numbers = append(numbers, int(r.uint()))
		case op == 0x11 || op == 0x13:
			skip(2)
		case op == 0x0e: // br_table
			skip(int(r.uint()) + 1)
		case op == 0x1c:
			skip(int(r.uint()))
		case op == 0x1f: // try_table
			skip(1)
			for range int(r.uint()) {
				skip(int(2 - r.take(1)[0]/2))
			}
		case op == 0x41: // a negative number may read as a place: no harm
			if at, n := binary.Uvarint(r.b); n > 0 && at-m.first < uint64(len(m.table)) {
				numbers = append(numbers, m.table[at-m.first])
			}
			skip(1)
		case op == 0x43:
			r.take(4)
		case op == 0x44:
			r.take(8)
		case op >= 0x28 && op <= 0x3e:
			skip(2)
		case op == 0xfc:
			sub := r.uint()
			skip([...]int{8: 2, 9: 1, 10: 2, 11: 1, 12: 2, 13: 1, 14: 2, 15: 1, 16: 1, 17: 1}[max(sub, 0)])
		case op >= 2 && op <= 4, op == 6, op == 7, op == 8, op == 9, op == 0x0c, op == 0x0d, op == 0x18,
			op >= 0x20 && op <= 0x26, op == 0x3f, op == 0x40, op == 0x42, op == 0xd0:
			skip(1)
		case op == 0xfd:
			switch sub := r.uint(); {
			case sub <= 11 || sub == 92 || sub == 93:
				skip(2)
			case sub == 12 || sub == 13:
				r.take(16)
			case sub >= 21 && sub <= 34:
				r.take(1)
			case sub >= 84 && sub <= 91:
				skip(2)
				r.take(1)
			}
		}
	}
	if len(m.bodies[f]) == 0 || m.bodies[f][len(m.bodies[f])-1] != 0x0b {
		panic("a body without end")
	}
	return numbers
}
