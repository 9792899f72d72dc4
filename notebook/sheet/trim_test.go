package sheet

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The map belongs to the module that go-pdfium carries. After an upgrade, make
// it anew as TestMakeEngineMap says; until then the module as it is reads.
func TestEngineMap(t *testing.T) {
	require.NotNil(t, trimmed(true), "engine.map is of another module: see TestMakeEngineMap")
	require.Less(t, len(trimmed(true)), 3*len(pdfiumModule)/4)
	was := engineMap
	defer func() { engineMap = was }()
	for _, other := range []string{"", "no", strings.Repeat("00", 900), was[2:]} {
		engineMap = other
		require.Nil(t, trimmed(true))
		require.Nil(t, trimmed(false))
	}
	l := library(t)
	_, err := l.PageText(context.Background(), projectSheets(t)[0], 1)
	require.NoError(t, err)
	require.False(t, l.eng.light, "a map of another module is not used")
}

// The whole engine lacks nothing that any call but those that save can reach,
// and none of the functions whose compiling takes hundreds of megabytes.
func TestWholeEngineIsWhole(t *testing.T) {
	m := parseModule(pdfiumModule)
	kept, reached := mapOf(t, false), m.reached()
	require.Equal(t, m.bits(reached), kept)
	light := mapOf(t, true)
	for f, body := range m.bodies {
		require.Zero(t, light[f/8]&^kept[f/8], "the light engine has more")
		require.False(t, reached[f] && len(body) > 90_000, "function %d of %d bytes", f, len(body))
	}
}

// Both engines give the same text, boxes and pictures of the project's sheets.
func TestLightReadsAlike(t *testing.T) {
	light, whole := library(t), library(t)
	whole.eng.light = false
	ctx := context.Background()
	for i, path := range projectSheets(t) {
		want, err := whole.Inspect(ctx, path)
		require.NoError(t, err)
		got, err := light.Inspect(ctx, path)
		require.NoError(t, err)
		require.Equal(t, want, got)
		for page := 1; page <= want.Pages; page++ {
			want, err := whole.PageText(ctx, path, page)
			require.NoError(t, err)
			got, err := light.PageText(ctx, path, page)
			require.NoError(t, err)
			require.Equal(t, want, got, "%s page %d", path, page)
			if page == 1+i%3 {
				want, _, _, err := whole.Crop(ctx, path, page, nil, nil, 72)
				require.NoError(t, err)
				got, _, _, err := light.Crop(ctx, path, page, nil, nil, 72)
				require.NoError(t, err)
				require.True(t, bytes.Equal(want, got), "%s page %d", path, page)
			}
		}
		require.False(t, light.needsWhole(want.SHA256), path)
	}
	require.True(t, light.eng.light)
	require.Nil(t, light.eng.behind)
	require.False(t, whole.eng.light)
}

// bareLight gives a library in dir whose light engine keeps only what plainPage
// enters.
func bareLight(t *testing.T, dir string) *Reader {
	m := parseModule(pdfiumModule)
	seen := map[int]bool{}
	m.profile(t, seen, []string{put(t, "plain.pdf", plainPage())})
	l := Open(dir)
	t.Cleanup(func() { require.NoError(t, l.Close()) })
	l.eng.whole().cacheDir = engineCache()
	pool, err := l.eng.startWith(blanked(pdfiumModule, m.bits(seen)), nil)
	require.NoError(t, err)
	l.eng.pool = pool
	return l
}

func plainPage() []byte { return onePage(stream("", "BT /F 12 Tf 50 200 Td (plain words) Tj ET")) }

// A document that needs a function left out is read by the whole engine, to
// the same end, and goes there at once the next time.
func TestLightGivesWay(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	l := bareLight(t, dir)
	first := func(data []byte) string {
		p, err := l.PageText(ctx, put(t, "one.pdf", data), 1)
		require.NoError(t, err)
		require.Len(t, p.Lines, 1)
		return p.Lines[0].Text
	}
	require.Equal(t, "plain words", first(plainPage()))
	require.Zero(t, l.eng.whole().starts, "the light engine does")

	packed := onePage(stream("/Filter /FlateDecode", deflate(t, "BT /F 12 Tf 50 200 Td (packed words) Tj ET", 1)))
	require.Equal(t, "packed words", first(packed))
	require.Equal(t, 1, l.eng.whole().starts)
	in, err := l.Inspect(ctx, put(t, "packed.pdf", packed))
	require.NoError(t, err)
	later := Open(dir)
	require.True(t, later.needsWhole(in.SHA256))
	require.False(t, later.needsWhole(strings.Repeat("0", 64)))
	require.NoError(t, later.Close())
}

// Page labels are read by calls whose errors are dropped; that the instance
// ended among them still shows.
func TestLightEndShows(t *testing.T) {
	data := bytes.Replace(plainPage(), []byte("/Pages 2 0 R>>"),
		[]byte("/Pages 2 0 R /PageLabels <</Nums [0 <</S /r /St 4>>]>>>>"), 1)
	l := library(t)
	l.eng.whole().cacheDir = engineCache()
	m := parseModule(pdfiumModule)
	keep := slices.Clone(mapOf(t, true))
	label, ok := m.exports["FPDF_GetPageLabel"]
	require.True(t, ok)
	keep[label/8] &^= 1 << (label % 8)
	pool, err := l.eng.startWith(blanked(pdfiumModule, keep), nil)
	require.NoError(t, err)
	l.eng.pool = pool
	d, err := openDocument(context.Background(), l.eng, data)
	require.NoError(t, err)
	require.Nil(t, d.labels(), "the error is dropped here")
	_, err = d.header()
	require.ErrorIs(t, err, errBlanked)
	d.close()
	in, err := l.Inspect(context.Background(), put(t, "labels.pdf", data))
	require.NoError(t, err)
	require.True(t, in.HasLabels)
}

// mapOf gives the bits of an engine in engine.map.
func mapOf(t *testing.T, light bool) []byte {
	require.NotNil(t, trimmed(light))
	data, err := hex.DecodeString(strings.Join(strings.Fields(engineMap), ""))
	require.NoError(t, err)
	data = data[sha256.Size:]
	if light {
		return data[:len(data)/2]
	}
	return data[len(data)/2:]
}

// Compiled code that was altered on disk is not run.
func TestAlteredEngine(t *testing.T) {
	dir := t.TempDir()
	code := filepath.Join(dir, "wazero-0", strings.Repeat("0a", 32))
	write := func(path, text string) { require.NoError(t, os.WriteFile(path, []byte(text), 0o600)) }
	require.NoError(t, dropAltered(filepath.Join(dir, "missing")))
	require.NoError(t, os.Mkdir(filepath.Dir(code), 0o700))
	write(code, "code")
	keepSums(dir)
	require.NoError(t, dropAltered(dir))
	require.FileExists(t, code)
	write(code, "cod3")
	require.NoError(t, dropAltered(dir))
	require.NoFileExists(t, code)
	write(code, "code")
	require.NoError(t, os.Remove(code+sumEnding))
	require.NoError(t, dropAltered(dir))
	require.NoFileExists(t, code, "without a digest")

	// The table of functions, which the file's own checksum leaves out.
	cache := t.TempDir()
	kept := func() (path string) {
		read := func(p, _ string) error { path = p; return nil }
		require.NoError(t, eachCompiled(filepath.Join(cache, "engine-light"), read))
		return path
	}
	e := newEngine(cache)
	_, err := e.start()
	require.NoError(t, err)
	good, err := os.ReadFile(kept())
	require.NoError(t, err)
	bad := bytes.Clone(good)
	bad[100] ^= 1
	write(kept(), string(bad))
	e = newEngine(cache)
	_, err = e.start()
	require.NoError(t, err)
	again, err := os.ReadFile(kept())
	require.NoError(t, err)
	require.NotEqual(t, bad, again)
}
