package sheet

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
)

var (
	corpusObjectStart = regexp.MustCompile(`(?m)^(\d+) 0 obj`)
	corpusRootEntry   = regexp.MustCompile(`/Root (\d+) 0 R`)
	corpusInfoEntry   = regexp.MustCompile(`/Info (\d+) 0 R`)
)

// corpusRelink writes the cross-reference table of a PDF anew after its objects were
// edited (ISO 32000-1, 7.5.4).
func corpusRelink(pdf []byte) []byte {
	end := bytes.LastIndex(pdf, []byte("\nxref\n"))
	if end < 0 {
		return pdf
	}
	trailer := pdf[end:]
	body := pdf[:end+1]
	offsets := map[int]int{}
	last := 0
	for _, m := range corpusObjectStart.FindAllSubmatchIndex(body, -1) {
		n, err := strconv.Atoi(string(body[m[2]:m[3]]))
		if err != nil {
			continue
		}
		offsets[n] = m[0]
		last = max(last, n)
	}
	out := bytes.NewBuffer(append([]byte(nil), body...))
	at := out.Len()
	fmt.Fprintf(out, "xref\n0 %d\n0000000000 65535 f \n", last+1)
	for n := 1; n <= last; n++ {
		fmt.Fprintf(out, "%010d 00000 n \n", offsets[n])
	}
	fmt.Fprintf(out, "trailer\n<<\n/Size %d\n%s\n%s\n>>\nstartxref\n%d\n%%%%EOF\n", last+1,
		corpusRootEntry.Find(trailer), corpusInfoEntry.Find(trailer), at)
	return out.Bytes()
}
