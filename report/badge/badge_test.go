package badge

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"io"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
	"guardband/report/internal/fixture"
)

var update = flag.Bool("update", false, "write the golden file")

func TestGolden(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, Write(&b, fixture.Small()))
	fixture.Golden(t, "../..", "small.golden.svg", b.Bytes(), *update)
}

func TestText(t *testing.T) {
	for want, s := range map[string]record.Summary{
		"none": {}, "3 passed": {Passed: 3}, "1 waived": {Passed: 3, Waived: 1}, "2 open": {Passed: 1, Open: 2, Waived: 1},
		"4 failed": {Failed: 4, Open: 2}, "1 error": {Failed: 4, Errors: 1}, "2 errors": {Passed: 1, Errors: 2},
	} {
		_, got := Text(s)
		require.Equal(t, want, got)
	}
}

func TestIsXML(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, Write(&b, fixture.Hostile()))
	d := xml.NewDecoder(&b)
	for {
		_, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
	}
}
