package sheet

import (
	"encoding/binary"
	"errors"
	"hash/crc32"
	"math"
)

// Entries of the store are written compactly and guarded by a checksum: what
// does not decode to the last byte is ignored and built again.

var errEntry = errors.New("unreadable cache entry")

type encoder struct{ b []byte }

func (e *encoder) uint(n uint64)   { e.b = binary.AppendUvarint(e.b, n) }
func (e *encoder) int(n int)       { e.b = binary.AppendVarint(e.b, int64(n)) }
func (e *encoder) fixed(x float64) { e.b = binary.AppendVarint(e.b, int64(math.Round(x*100))) }
func (e *encoder) string(s string) { e.uint(uint64(len(s))); e.b = append(e.b, s...) }
func (e *encoder) rect(r, from rect) { // relative to another, which keeps numbers short
	e.fixed(r.x0 - from.x0)
	e.fixed(r.y0 - from.y0)
	e.fixed(r.x1 - r.x0)
	e.fixed(r.y1 - r.y0)
}

// seal adds the checksum over key and body.
func (e *encoder) seal(key string) []byte {
	return binary.LittleEndian.AppendUint32(e.b, checksum(key, e.b))
}

func checksum(key string, body []byte) uint32 {
	table := crc32.MakeTable(crc32.Castagnoli)
	return crc32.Update(crc32.Checksum([]byte(key), table), table, body)
}

type decoder struct {
	b    []byte
	fail bool
}

// unseal checks the checksum and gives a decoder of the body.
func unseal(key string, data []byte) (*decoder, error) {
	if len(data) < 4 {
		return nil, errEntry
	}
	body := data[:len(data)-4]
	if binary.LittleEndian.Uint32(data[len(body):]) != checksum(key, body) {
		return nil, errEntry
	}
	return &decoder{b: body}, nil
}

func (d *decoder) uint() uint64 {
	n, k := binary.Uvarint(d.b)
	if k <= 0 {
		d.fail, d.b = true, nil
		return 0
	}
	d.b = d.b[k:]
	return n
}

func (d *decoder) int() int {
	n, k := binary.Varint(d.b)
	if k <= 0 {
		d.fail, d.b = true, nil
		return 0
	}
	d.b = d.b[k:]
	return int(n)
}

func (d *decoder) fixed() float64 { return float64(d.int()) / 100 }

func (d *decoder) string() string {
	n := d.uint()
	if n > uint64(len(d.b)) {
		d.fail, d.b = true, nil
		return ""
	}
	s := string(d.b[:n])
	d.b = d.b[n:]
	return s
}

// count reads a number of items, none of which is shorter than one byte.
func (d *decoder) count() int {
	n := d.uint()
	if n > uint64(len(d.b)) {
		d.fail, d.b = true, nil
		return 0
	}
	return int(n)
}

func (d *decoder) rect(from rect) rect {
	var r rect
	r.x0 = round(from.x0 + d.fixed())
	r.y0 = round(from.y0 + d.fixed())
	r.x1 = round(r.x0 + d.fixed())
	r.y1 = round(r.y0 + d.fixed())
	return r
}

func (d *decoder) done() error {
	if d.fail || len(d.b) > 0 {
		return errEntry
	}
	return nil
}

func encodePage(p Page) *encoder {
	e := &encoder{}
	e.int(p.Number)
	e.string(p.Label)
	e.fixed(p.Width)
	e.fixed(p.Height)
	e.uint(uint64(len(p.Lines)))
	for _, l := range p.Lines {
		e.uint(uint64(len(l.Words)))
		from := rect{}
		for _, w := range l.Words {
			e.string(w.Text)
			e.fixed(w.Size)
			e.uint(uint64(w.Turn))
			e.uint(uint64(w.char))
			e.uint(uint64(w.chars))
			e.rect(w.Box.rect(), from)
			from = w.Box.rect()
		}
	}
	for _, list := range [][]rect{p.rules, p.marks} {
		e.uint(uint64(len(list)))
		for _, r := range list {
			e.rect(r, rect{})
		}
	}
	return e
}

func decodePage(d *decoder) (Page, error) {
	p := Page{Number: d.int(), Label: d.string(), Width: d.fixed(), Height: d.fixed()}
	for range d.count() {
		var l Line
		n := d.count()
		l.Words = make([]Word, 0, n)
		from := rect{}
		for range n {
			w := Word{Text: d.string(), Size: d.fixed(), Turn: uint8(d.uint()), char: int(d.uint()), chars: int(d.uint())}
			from = d.rect(from)
			w.Box = from.box(p.Number)
			l.Words = append(l.Words, w)
		}
		p.Lines = append(p.Lines, l.sum(p.Number))
	}
	for _, list := range []*[]rect{&p.rules, &p.marks} {
		for range d.count() {
			*list = append(*list, d.rect(rect{}))
		}
	}
	return p, d.done()
}

func encodeHeader(h header) *encoder {
	e := &encoder{}
	e.int(h.Pages)
	e.string(h.Title)
	e.uint(uint64(len(h.Labels)))
	for _, l := range h.Labels {
		e.string(l)
	}
	e.uint(uint64(len(h.Outline)))
	for _, o := range h.Outline {
		e.string(o.Title)
		e.int(o.Depth)
		e.int(o.Page)
	}
	return e
}

func decodeHeader(d *decoder) (header, error) {
	h := header{Pages: d.int(), Title: d.string()}
	for range d.count() {
		h.Labels = append(h.Labels, d.string())
	}
	for range d.count() {
		h.Outline = append(h.Outline, outlineItem{Title: d.string(), Depth: d.int(), Page: d.int()})
	}
	return h, d.done()
}
