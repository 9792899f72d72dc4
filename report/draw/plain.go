package draw

// PlainWidth measures text of a common sans serif face without font data, for
// backends that do not know the reader's fonts. Widths are classes of advance
// widths in parts of the size, a little wide rather than narrow (common
// practice, from memory of grotesque faces).
func PlainWidth(size float64, s string) float64 {
	w := 0.0
	for _, r := range s {
		w += plainWidth(r)
	}
	return w * size
}

func plainWidth(r rune) float64 {
	switch {
	case r == '\u0300' || r > 0x300 && r < 0x370: // combining marks
		return 0
	case r >= 0x1100 && (r <= 0x115f || r >= 0x2e80 && r <= 0xffe6) || r > 0x1f000:
		return 1 // ideographs and pictographs fill their square
	}
	switch r {
	case 'i', 'j', 'l', '\'', '|', '.', ',', ':', ';', '!', ' ', '\u00a0', 'I', '/', '\\':
		return 0.29
	case 'f', 't', 'r', '(', ')', '[', ']', '-', '{', '}', '"', '°':
		return 0.37
	case 'm', 'M', 'W', '%', '@', '…', '—':
		return 0.92
	case 'w', 'C', 'D', 'G', 'H', 'N', 'O', 'Q', 'R', 'U', 'Ω', '&':
		return 0.75
	case 'A', 'B', 'E', 'K', 'P', 'S', 'V', 'X', 'Y':
		return 0.67
	}
	return 0.58
}
