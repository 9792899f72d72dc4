// Package lists reads what drawing programs export: tables of pins, parts lists and test netlists in text files, and
// the words in their cells. It knows no notebook but for its names, and judges nothing.
package lists

import (
	"bytes"
	"encoding/binary"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// The most that is read of a file: lines, and cells at any separator.
const (
	MaxRows  = 100_000
	MaxCells = 1_000_000
)

// Bounded says that a file is within MaxRows and MaxCells.
func Bounded(data []byte) bool {
	cells := 0
	for _, sep := range []string{",", ";", "\t", "|"} {
		cells += bytes.Count(data, []byte(sep))
	}
	return bytes.Count(data, []byte("\n")) <= MaxRows && cells <= MaxCells
}

// textOf is the text of a file in UTF-8 with "\n" at the ends of lines. It reads UTF-8, UTF-16 with or without a byte
// order mark, and else takes the bytes for ISO 8859-1. what names a file that is no text.
func textOf(data []byte) (text, what string) {
	for _, x := range [][2]string{{"PK\x03\x04", "a workbook or archive"}, {"\xd0\xcf\x11\xe0", "a workbook of an older form"},
		{"%PDF", "a PDF document"}} {
		if bytes.HasPrefix(data, []byte(x[0])) {
			return "", x[1]
		}
	}
	text = string(data)
	if order := utf16Order(data); order != nil {
		units := make([]uint16, len(data)/2)
		for i := range units {
			units[i] = order.Uint16(data[2*i:])
		}
		text = string(utf16.Decode(units))
	} else if !utf8.Valid(data) {
		runes := make([]rune, len(data))
		for i, b := range data {
			runes[i] = rune(b)
		}
		text = string(runes)
	}
	if strings.IndexByte(text, 0) >= 0 {
		return "", "no text: it has zero bytes"
	}
	return strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(strings.TrimPrefix(text, "\ufeff")), ""
}

// utf16Order is the byte order of UTF-16, by its mark or by where the zero bytes of plain letters are; nil for any
// other text.
func utf16Order(data []byte) binary.ByteOrder {
	head := data[:min(len(data), 200)]
	var zeros [2]int
	for i, b := range head {
		if b == 0 {
			zeros[i%2]++
		}
	}
	switch {
	case bytes.HasPrefix(data, []byte("\xff\xfe")), zeros[1] > len(head)/4 && zeros[0] == 0:
		return binary.LittleEndian
	case bytes.HasPrefix(data, []byte("\xfe\xff")), zeros[0] > len(head)/4 && zeros[1] == 0:
		return binary.BigEndian
	}
	return nil
}
