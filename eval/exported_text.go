package eval

import (
	"bytes"
	"encoding/binary"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// listText is the text of an exported list in UTF-8 with "\n" at the ends of
// lines. It reads UTF-8, UTF-16 with or without a byte order mark, and else
// takes the bytes for ISO 8859-1. what names a file that is no text.
func listText(data []byte) (text, what string) {
	switch {
	case bytes.HasPrefix(data, []byte("PK\x03\x04")):
		return "", "a workbook or archive"
	case bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0")):
		return "", "a workbook of an older form"
	case bytes.HasPrefix(data, []byte("%PDF")):
		return "", "a PDF document"
	}
	if s, ok := bytes.CutPrefix(data, []byte("\xef\xbb\xbf")); ok {
		data = s
	} else if order := utf16Order(data); order != nil {
		units := make([]uint16, len(data)/2)
		for i := range units {
			units[i] = order.Uint16(data[2*i:])
		}
		data = []byte(strings.TrimPrefix(string(utf16.Decode(units)), "\ufeff"))
	}
	if bytes.IndexByte(data, 0) >= 0 {
		return "", "no text: it has zero bytes"
	}
	text = string(data)
	if !utf8.ValidString(text) {
		runes := make([]rune, len(data))
		for i, b := range data {
			runes[i] = rune(b)
		}
		text = string(runes)
	}
	return strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text), ""
}

// utf16Order is the byte order of UTF-16, by its mark or by where the zero
// bytes of plain letters are; nil for any other text.
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
