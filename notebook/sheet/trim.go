package sheet

import (
	"crypto/sha256"
	_ "embed"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"strings"
	_ "unsafe" // for linkname
)

// pdfiumModule is PDFium in WebAssembly as go-pdfium carries it; that package
// gives it to nobody, and a second copy of 6 MB would not be kept in step.
//
//go:linkname pdfiumModule github.com/klippa-app/go-pdfium/internal/pdfium_wasm.Module
var pdfiumModule []byte

// engineMap says which functions the engines keep: the SHA-256 of the module
// that it was made for, then a bit for each function of the code section, the
// lowest of each byte first, for the light engine and again for the whole one,
// all in hexadecimal. TestMakeEngineMap makes it.
//
//go:embed engine.map
var engineMap string

// exitBlanked is how an instance ends that enters a function left out.
const exitBlanked = 77

// errBlanked says that the light engine lacks what a document needs.
var errBlanked = errors.New("the light PDF engine lacks a function that this document needs")

// trimmed gives the module of an engine; nil when the map was made for another
// one: function numbers mean nothing there. The whole engine lacks what only
// saving a document can reach, which takes half the time and memory of
// compiling.
func trimmed(light bool) []byte {
	data, err := hex.DecodeString(strings.Join(strings.Fields(engineMap), ""))
	if err != nil || len(data) < sha256.Size || sha256.Sum256(pdfiumModule) != [sha256.Size]byte(data) {
		return nil
	}
	keep := data[sha256.Size:]
	if half := len(keep) / 2; light {
		keep = keep[:half]
	} else {
		keep = keep[half:]
	}
	return blanked(pdfiumModule, keep)
}

// blanked gives a module whose functions without a bit in keep end the
// instance (WebAssembly Core Specification 2.0, 5.5). Compiling takes most of a
// cold start, and reading text enters a sixth of the code. A trap alone would
// not do: the instance could be asked again, and half a page pass for a page.
// The module is one that compiles; nil if it cannot end itself.
func blanked(module, keep []byte) []byte {
	const imports, code = 2, 10 // ids of sections
	out := append([]byte(nil), module[:8]...)
	var stub []byte
	for r := (wasmReader{module[8:]}); len(r.b) > 0; {
		id := r.take(1)[0]
		body := wasmReader{r.take(int(r.uint()))}
		content := body.b
		switch id {
		case imports:
			exit := body.importOf("proc_exit")
			if exit < 0 {
				return nil
			}
			stub = append([]byte{0, 0x41, exitBlanked | 0x80, 0, 0x10}, binary.AppendUvarint(nil, uint64(exit))...)
			stub = append(stub, 0x00, 0x0b) // no locals; i32.const, call, unreachable, end
		case code:
			count := body.uint()
			content = binary.AppendUvarint(nil, count)
			for i := range int(count) {
				f := body.take(int(body.uint()))
				if i/8 >= len(keep) || keep[i/8]>>(i%8)&1 == 0 {
					f = stub
				}
				content = append(binary.AppendUvarint(content, uint64(len(f))), f...)
			}
		}
		out = append(binary.AppendUvarint(append(out, id), uint64(len(content))), content...)
	}
	return out
}

// wasmReader takes a module apart.
type wasmReader struct{ b []byte }

func (r *wasmReader) take(n int) []byte {
	t := r.b[:n]
	r.b = r.b[n:]
	return t
}

func (r *wasmReader) uint() uint64 {
	v, n := binary.Uvarint(r.b)
	r.take(n)
	return v
}

// importOf gives the number of an imported function, -1 if there is none. All
// imports before it must be functions.
func (r *wasmReader) importOf(name string) int {
	for i := range int(r.uint()) {
		r.take(int(r.uint())) // the name of its module
		if string(r.take(int(r.uint()))) == name {
			return i
		}
		if kind := r.take(1)[0]; kind != 0 {
			return -1
		}
		r.uint() // its type
	}
	return -1
}
