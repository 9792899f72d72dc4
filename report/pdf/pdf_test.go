package pdf

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval"
	"guardband/report/internal/fixture"
)

// records are the fixtures that every test of the whole writer runs over.
func records() map[string]*eval.Record {
	return map[string]*eval.Record{
		"small": fixture.Small(), "large": fixture.Large(), "empty": fixture.Empty(),
		"failures": fixture.Failures(), "hostile": fixture.Hostile(), "many": fixture.Many(2000),
	}
}

func write(t testing.TB, r *eval.Record, opt Options) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Write(&b, r, opt))
	if dir := os.Getenv("GUARDBAND_PDF_DIR"); dir != "" { // to look at the pages
		require.NoError(t, os.WriteFile(filepath.Join(dir, r.Design.Revision+t.Name()[len("Test"):]+".pdf"), b.Bytes(), 0o644))
	}
	return b.Bytes()
}

func TestWriteAll(t *testing.T) {
	for name, r := range records() {
		b := write(t, r, Options{})
		if dir := os.Getenv("GUARDBAND_PDF_DIR"); dir != "" {
			require.NoError(t, os.WriteFile(filepath.Join(dir, name+".pdf"), b, 0o644))
			require.NoError(t, os.WriteFile(filepath.Join(dir, name+"-meeting.pdf"), write(t, r, Options{Only: "attention"}), 0o644))
		}
	}
}
