package sheet

import (
	"bytes"
	"compress/zlib"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/go-pdf/fpdf"
	"github.com/stretchr/testify/require"
)

// rawPDF builds a file of objects (the first is the catalogue) with a correct
// cross-reference table (ISO 32000-1, 7.5).
func rawPDF(objects ...string) []byte {
	var b bytes.Buffer
	b.WriteString("%PDF-1.7\n")
	var at []int
	for i, o := range objects {
		at = append(at, b.Len())
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, o)
	}
	x := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(objects)+1)
	for _, n := range at {
		fmt.Fprintf(&b, "%010d 00000 n \n", n)
	}
	fmt.Fprintf(&b, "trailer\n<</Size %d /Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n", len(objects)+1, x)
	return b.Bytes()
}

func stream(dict, body string) string {
	return fmt.Sprintf("<<%s /Length %d>>\nstream\n%s\nendstream", dict, len(body), body)
}

func deflate(t *testing.T, unit string, times int) string {
	var b bytes.Buffer
	w, err := zlib.NewWriterLevel(&b, zlib.BestSpeed)
	require.NoError(t, err)
	for range times {
		_, err := w.Write([]byte(unit))
		require.NoError(t, err)
	}
	require.NoError(t, w.Close())
	return b.String()
}

const helvetica = "<</Type /Font /Subtype /Type1 /BaseFont /Helvetica>>"

// onePage is a page with a content stream in object 4 and a font in object 5.
func onePage(content string, more ...string) []byte {
	return rawPDF(append([]string{
		"<</Type /Catalog /Pages 2 0 R>>", "<</Type /Pages /Kids [3 0 R] /Count 1>>",
		"<</Type /Page /Parent 2 0 R /MediaBox [0 0 400 400] /Contents 4 0 R /Resources <</Font <</F 5 0 R>> /XObject <</X 6 0 R>>>>>>",
		content, helvetica,
	}, more...)...)
}

func TestNotADocument(t *testing.T) {
	l := library(t)
	ctx := context.Background()
	dir := t.TempDir()
	for name, data := range map[string][]byte{"text.pdf": []byte("just text"), "empty.pdf": {},
		"zip.pdf": []byte("PK\x03\x04"), "late.pdf": append(make([]byte, 5000), "%PDF-1.4"...)} {
		_, err := l.Inspect(ctx, put(t, name, data))
		require.ErrorIs(t, err, ErrNotPDF, name)
	}
	_, err := l.Inspect(ctx, filepath.Join(dir, "missing.pdf"))
	require.ErrorIs(t, err, os.ErrNotExist)
	_, err = l.Inspect(ctx, dir)
	require.Error(t, err)
	big := filepath.Join(dir, "big.pdf")
	require.NoError(t, os.WriteFile(big, []byte("%PDF-1.4"), 0o600))
	require.NoError(t, os.Truncate(big, maxFileSize+1))
	_, err = l.Inspect(ctx, big)
	require.ErrorIs(t, err, ErrTooLarge)
	require.Zero(t, l.eng.starts, "no engine is needed to say so")
}

func TestEncrypted(t *testing.T) {
	l := library(t)
	f := fpdf.New("P", "pt", "A4", "")
	f.SetProtection(fpdf.CnProtectPrint, "user", "owner")
	f.AddPage()
	f.SetFont("Helvetica", "", 12)
	f.Text(50, 50, "secret")
	var b bytes.Buffer
	require.NoError(t, f.Output(&b))
	in, err := l.Inspect(context.Background(), put(t, "rc4.pdf", b.Bytes()))
	require.ErrorIs(t, err, ErrEncrypted)
	require.Len(t, in.SHA256, 64)
}

// need gives the path of an outside program, or leaves the test.
func need(t testing.TB, program string) string {
	path, err := exec.LookPath(program)
	if err != nil {
		if os.Getenv("GUARDBAND_NO_SKIP") != "" {
			require.NoError(t, err)
		}
		t.Skipf("%s is not installed", program)
	}
	return path
}

func TestEncryptedAES256(t *testing.T) {
	qpdf := need(t, "qpdf")
	in := put(t, "plain.pdf", onePage(stream("", "BT /F 12 Tf 50 200 Td (plain words) Tj ET")))
	out := filepath.Join(t.TempDir(), "aes.pdf")
	require.NoError(t, exec.Command(qpdf, "--encrypt", "user", "owner", "256", "--", in, out).Run())
	l := library(t)
	_, err := l.Inspect(context.Background(), out)
	require.ErrorIs(t, err, ErrEncrypted)

	open := filepath.Join(t.TempDir(), "owner.pdf") // only the owner has a password: everybody may read
	require.NoError(t, exec.Command(qpdf, "--encrypt", "", "owner", "256", "--", in, open).Run())
	_, fs, err := l.Check(context.Background(), open, []Query{{From: "1", Quote: "plain words"}})
	require.NoError(t, err)
	require.Equal(t, GradeWords, fs[0].Grade)
}

func TestCircles(t *testing.T) {
	l := library(t)
	ctx := context.Background()
	pages := rawPDF("<</Type /Catalog /Pages 2 0 R>>", "<</Type /Pages /Kids [2 0 R 2 0 R] /Count 4>>")
	_, err := l.Inspect(ctx, put(t, "pages.pdf", pages))
	if err == nil {
		_, err = l.PageText(ctx, put(t, "pages.pdf", pages), 1)
	}
	require.ErrorIs(t, err, ErrDamaged)

	marks := rawPDF("<</Type /Catalog /Pages 2 0 R /Outlines 4 0 R>>", "<</Type /Pages /Kids [3 0 R] /Count 1>>",
		"<</Type /Page /Parent 2 0 R /MediaBox [0 0 100 100]>>",
		"<</Type /Outlines /First 5 0 R /Last 5 0 R>>",
		"<</Title (Electrical characteristics) /Parent 4 0 R /Next 5 0 R /First 5 0 R /Dest [3 0 R /Fit]>>")
	s, err := l.Survey(ctx, put(t, "marks.pdf", marks))
	require.NoError(t, err)
	require.Equal(t, []int{1}, s.NoText)

	form := onePage(stream("", "/X Do BT /F 12 Tf 50 200 Td (after the circle) Tj ET"),
		stream("/Type /XObject /Subtype /Form /BBox [0 0 9 9] /Resources <</XObject <</X 6 0 R>>>>", "/X Do"))
	_, fs, err := l.Check(ctx, put(t, "form.pdf", form), []Query{{From: "1", Quote: "after the circle"}})
	require.NoError(t, err)
	require.Equal(t, GradeWords, fs[0].Grade)
}

// TestBombs opens files that grow without measure; time and memory stay bounded.
func TestBombs(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	l := library(t)
	l.eng.pageLimit = 3 * time.Second
	ctx := context.Background()
	text := put(t, "text.pdf", onePage(stream("/Filter /FlateDecode", deflate(t,
		"BT /F 1 Tf 1 1 Td (aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa) Tj ET\n", 400_000))))
	_, fs, err := l.Check(ctx, text, []Query{{From: "1", Quote: "a"}})
	require.NoError(t, err)
	require.Equal(t, GradeNoText, fs[0].Grade)
	require.NotEmpty(t, fs[0].Problem)

	blanks := put(t, "blanks.pdf", onePage(stream("/Filter /FlateDecode", deflate(t, strings.Repeat(" ", 1<<20), 150))))
	_, fs, err = l.Check(ctx, blanks, []Query{{From: "1", Quote: "a"}})
	require.NoError(t, err)
	require.Equal(t, GradeNoText, fs[0].Grade)

	// Forms that call each other ten times, twelve deep.
	var forms []string
	for i := range 12 {
		forms = append(forms, stream(fmt.Sprintf("/Type /XObject /Subtype /Form /BBox [0 0 9 9] /Resources <</Font <</F 5 0 R>> /XObject <</X %d 0 R>>>>",
			7+min(i, 10)), strings.Repeat("/X Do ", 10)+"BT /F 9 Tf (x) Tj ET"))
	}
	laughs := put(t, "laughs.pdf", onePage(stream("", "/X Do"), forms...))
	_, fs, err = l.Check(ctx, laughs, []Query{{From: "1", Quote: "zzz"}})
	require.NoError(t, err)
	require.NotEqual(t, GradeWords, fs[0].Grade)

	l.eng.pageLimit = 20 * time.Second
	plain := put(t, "plain.pdf", onePage(stream("", "BT /F 12 Tf 50 200 Td (still at work) Tj ET")))
	_, fs, err = l.Check(ctx, plain, []Query{{From: "1", Quote: "still at work"}})
	require.NoError(t, err)
	require.Equal(t, GradeWords, fs[0].Grade)
}

// TestRunaway lets a call overrun its time and checks that the library goes on.
func TestRunaway(t *testing.T) {
	l := library(t)
	slow := put(t, "slow.pdf", onePage(stream("/Filter /FlateDecode", deflate(t,
		"BT /F 1 Tf 1 1 Td (aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa) Tj ET\n", 60_000))))
	plain := put(t, "plain.pdf", onePage(stream("", "BT /F 12 Tf 50 200 Td (still at work) Tj ET")))
	_, err := l.Inspect(context.Background(), slow)
	require.NoError(t, err)
	l.eng.pageLimit = time.Millisecond
	_, err = l.PageText(context.Background(), slow, 1)
	require.ErrorIs(t, err, ErrTimeout)
	l.eng.pageLimit = 20 * time.Second
	require.True(t, l.eng.guarded)
	_, fs, err := l.Check(context.Background(), plain, []Query{{From: "1", Quote: "still at work"}})
	require.NoError(t, err)
	require.Equal(t, GradeWords, fs[0].Grade)
	_, err = l.PageText(context.Background(), slow, 1)
	require.ErrorIs(t, err, ErrTimeout, "a page that ran away is not tried again")
}

func TestHugePagesAndManyPages(t *testing.T) {
	l := library(t)
	ctx := context.Background()
	huge := rawPDF("<</Type /Catalog /Pages 2 0 R>>", "<</Type /Pages /Kids [3 0 R] /Count 1>>",
		"<</Type /Page /Parent 2 0 R /MediaBox [0 0 9e8 9e8] /Contents 4 0 R /Resources <</Font <</F 5 0 R>>>>>>",
		stream("", "BT /F 12 Tf 50 200 Td (tiny words) Tj ET"), helvetica)
	path := put(t, "huge.pdf", huge)
	_, fs, err := l.Check(ctx, path, []Query{{From: "1", Quote: "tiny words"}})
	require.NoError(t, err)
	require.Equal(t, GradeWords, fs[0].Grade)
	if picture, w, h, err := l.Crop(ctx, path, 1, nil, nil, 150); err == nil {
		require.LessOrEqual(t, w*h, 2*maxPixels)
		require.NotEmpty(t, picture)
	}
	_, _, _, err = l.Crop(ctx, path, 1, []Box{{Page: 1, X0: math.NaN(), X1: math.Inf(1)}}, nil, 150)
	if err != nil {
		require.True(t, lasting(err), err)
	}

	kids := &strings.Builder{}
	objects := []string{"<</Type /Catalog /Pages 2 0 R /OpenAction <</S /JavaScript /JS (while(true){})>>>>", ""}
	for i := range 10_000 {
		fmt.Fprintf(kids, "%d 0 R ", len(objects)+1)
		body := fmt.Sprintf("BT /F 12 Tf 50 200 Td (sheet %d) Tj ET", i+1)
		objects = append(objects, fmt.Sprintf("<</Type /Page /Parent 2 0 R /MediaBox [0 0 400 400] /Contents %d 0 R /Resources <</Font <</F 20003 0 R>>>>>>",
			len(objects)+2), stream("", body))
	}
	objects[1] = "<</Type /Pages /Kids [" + kids.String() + "] /Count 10000>>"
	objects = append(objects, helvetica)
	many := put(t, "many.pdf", rawPDF(objects...))
	in, fs, err := l.Check(ctx, many, []Query{{From: "9999", Quote: "sheet 9999"}, {From: "10001"}, {From: "9000", Quote: "sheet 9003"}})
	require.NoError(t, err)
	require.Equal(t, 10_000, in.Pages)
	require.Equal(t, GradeWords, fs[0].Grade)
	require.Equal(t, GradeNoPage, fs[1].Grade)
	require.Equal(t, []int{9003}, fs[2].Elsewhere)
}

// TestMutated damages sheets in many ways: typed errors, no panic, in time.
func TestMutated(t *testing.T) {
	l := library(t)
	rng := rand.New(rand.NewPCG(1, 2))
	seed := sheetOf(t, corpusDevices()[0], corpusLayouts()[0]).PDF
	plain := onePage(stream("", "BT /F 12 Tf 50 200 Td (plain words) Tj ET"))
	for i := range 60 {
		data := append([]byte(nil), seed...)
		if i%2 == 1 {
			data = append([]byte(nil), plain...)
		}
		switch i % 3 {
		case 0:
			data = data[:rng.IntN(len(data))]
		case 1:
			for range 1 + rng.IntN(40) {
				data[rng.IntN(len(data))] = byte(rng.IntN(256))
			}
		case 2:
			a, b := rng.IntN(len(data)), rng.IntN(len(data))
			copy(data[a:], data[b:min(len(data), b+200)])
		}
		path := put(t, "m.pdf", data)
		_, fs, err := l.Check(context.Background(), path, []Query{{From: "1", Quote: "regulator"}, {From: "3", Quote: "Input voltage"}})
		if err != nil {
			require.True(t, lasting(err), "%d: %v", i, err)
			continue
		}
		require.Len(t, fs, 2)
	}
}
