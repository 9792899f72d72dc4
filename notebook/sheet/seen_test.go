package sheet

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// hidingPages are pages that hold "1.71 V" where nobody sees it; %s is the text
// object that shows it.
var hidingPages = map[string]struct {
	content string
	more    []string
}{
	"white on white":       {"1 g BT /F 12 Tf 50 200 Td (1.71 V) Tj ET", nil},
	"nearly white":         {"0.97 g BT /F 12 Tf 50 200 Td (1.71 V) Tj ET", nil},
	"black on black":       {"40 190 80 30 re f BT /F 12 Tf 50 200 Td (1.71 V) Tj ET", nil},
	"without ink":          {"BT 3 Tr /F 12 Tf 50 200 Td (1.71 V) Tj ET", nil},
	"only as a clip":       {"BT 7 Tr /F 12 Tf 50 200 Td (1.71 V) Tj ET", nil},
	"clipped away":         {"q 0 0 40 40 re W n BT /F 12 Tf 50 200 Td (1.71 V) Tj ET Q", nil},
	"off the page":         {"BT /F 12 Tf 395 200 Td (1.71 V) Tj ET", nil},
	"covered by an area":   {"BT /F 12 Tf 50 200 Td (1.71 V) Tj ET 1 g 40 190 80 30 re f", nil},
	"covered by a picture": {"BT /F 12 Tf 50 200 Td (1.71 V) Tj ET q 80 0 0 30 40 190 cm /X Do Q", []string{plainPicture("\xff")}},
	"in a form": {"/X Do", []string{stream("/Type /XObject /Subtype /Form /BBox [0 0 400 400] /Resources <</Font <</F 5 0 R>>>>",
		"1 g BT /F 12 Tf 50 200 Td (1.71 V) Tj ET")}},
	"too small": {"BT /F 0.4 Tf 50 200 Td (1.71 V) Tj ET", nil},
	"switched off": {"/OC /Off BDC BT /F 12 Tf 50 200 Td (1.71 V) Tj ET EMC",
		[]string{"<</Type /OCG /Name (off)>>"}},
	"another text":       {"/Span <</ActualText (1.71 V)>> BDC BT /F 12 Tf 50 200 Td (2.70 V) Tj ET EMC", nil},
	"transparent":        {"/G gs BT /F 12 Tf 50 200 Td (1.71 V) Tj ET", nil},
	"behind other words": {"BT /F 12 Tf 50 200 Td (5.00 V) Tj ET BT 3 Tr /F 12 Tf 51 203 Td (1.71 V) Tj ET", nil},
	"its point":          {"BT /F 12 Tf 50 200 Td (1) Tj 1 g (.) Tj 0 g (71 V) Tj ET", nil},
	"its sign":           {"BT /F 12 Tf 50 200 Td 1 g (-) Tj 0 g (1.71 V) Tj ET", nil},
	"behind quoted words": {"BT /F 12 Tf 50 300 Td (Supply voltage) Tj ET BT 3 Tr /F 12 Tf 50 300 Td (1.71 V) Tj ET",
		nil},
}

// plainPicture is a picture of one sample, given as its byte.
func plainPicture(sample string) string {
	return stream("/Type /XObject /Subtype /Image /Width 1 /Height 1 /BitsPerComponent 8 /ColorSpace /DeviceGray", sample)
}

func hidingPage(content string, more []string) []byte {
	data := rawPDF(append([]string{
		"<</Type /Catalog /Pages 2 0 R /OCProperties <</OCGs [6 0 R] /D <</OFF [6 0 R]>>>>>>",
		"<</Type /Pages /Kids [3 0 R] /Count 1>>",
		"<</Type /Page /Parent 2 0 R /MediaBox [0 0 400 400] /Contents 4 0 R /Resources <</Font <</F 5 0 R>> /XObject <</X 6 0 R>>" +
			" /Properties <</Off 6 0 R>> /ExtGState <</G <</ca 0>>>>>>>>",
		stream("", "BT /F 12 Tf 50 350 Td (Supply voltage of this page) Tj ET\n"+content), helvetica,
	}, more...)...)
	if !strings.Contains(content, "/Off") {
		data = []byte(strings.Replace(string(data), "/OFF [6 0 R]", "/OFF []", 1)) // shifts no object before the catalogue
	}
	return data
}

// What cannot be seen on a page bears no citation, however it is hidden.
func TestHiddenTextBearsNothing(t *testing.T) {
	l := library(t)
	ctx := context.Background()
	for name, p := range hidingPages {
		number := Number{Text: "1.71", Value: 1.71, Unit: "V"}
		if name == "its sign" {
			number = Number{Text: "-1.71", Value: -1.71, Unit: "V"}
		}
		path := put(t, "hides.pdf", hidingPage(p.content, p.more))
		for range 2 { // the second time from the store
			_, fs, err := l.Check(ctx, path, []Query{
				{From: "1", Numbers: []Number{number}}, {From: "1", Quote: number.Text + " V"}, {From: "1",
					Quote: "Supply voltage", Numbers: []Number{number}},
			})
			require.NoError(t, err)
			require.Equal(t, []string{number.Text + " V"}, fs[0].Missing, name)
			require.True(t, fs[0].Hidden, name)
			require.NotEqual(t, GradeWords, fs[1].Grade, name)
			require.Equal(t, GradeWords, fs[2].Grade, name)
			require.NotEmpty(t, fs[2].Missing, name)
		}
	}
}

// The same is seen when it is black, pale, white on dark, turned, in a form, or
// drawn twice for bold type.
func TestShownTextBears(t *testing.T) {
	l := library(t)
	for name, content := range map[string]string{
		"black": "BT /F 12 Tf 50 200 Td (1.71 V) Tj ET", "pale": "0.75 g BT /F 8 Tf 50 200 Td (1.71 V) Tj ET",
		"white on dark": "0 0 200 400 re f 1 g BT /F 12 Tf 50 200 Td (1.71 V) Tj ET",
		"turned":        "BT /F 12 Tf 0 1 -1 0 200 50 Tm (1.71 V) Tj ET", "outline": "BT 1 Tr /F 12 Tf 50 200 Td (1.71 V) Tj ET",
		"marked": "/P <</MCID 0>> BDC BT /F 12 Tf 50 200 Td (1.71 V) Tj ET EMC",
		"small":  "BT /F 4 Tf 50 200 Td (1.71 V) Tj ET", "large": "BT /F 90 Tf 10 200 Td (1.71 V) Tj ET",
		"twice":   "BT /F 12 Tf 50 200 Td (1.71 V) Tj ET BT /F 12 Tf 50.2 200 Td (1.71 V) Tj ET",
		"clipped": "q 0 0 400 400 re W n BT /F 12 Tf 50 200 Td (1.71 V) Tj ET Q",
	} {
		_, fs, err := l.Check(context.Background(), put(t, "shows.pdf", hidingPage(content, nil)),
			[]Query{{From: "1", Quote: "1.71 V"}})
		require.NoError(t, err)
		require.Equal(t, GradeWords, fs[0].Grade, name)
		require.False(t, fs[0].Hidden || fs[0].Layer, name)
	}
}

// Words without ink over or under a picture that shows something, as a scan
// has them, are found, and that they are such is told.
func TestTextLayerIsTold(t *testing.T) {
	l := library(t)
	dots := stream("/Type /XObject /Subtype /Image /Width 2 /Height 2 /BitsPerComponent 8 /ColorSpace /DeviceGray", "\x00\xff\xff\x00")
	words := "BT 3 Tr /F 12 Tf 50 200 Td (1.71 V) Tj ET"
	scan := "q 80 0 0 30 40 190 cm /X Do Q"
	for name, content := range map[string]string{
		"over": scan + " " + words, "under": strings.Replace(words, "3 Tr", "", 1) + " " + scan,
	} {
		_, fs, err := l.Check(context.Background(), put(t, "scan.pdf", hidingPage(content, []string{dots})),
			[]Query{{From: "1", Numbers: []Number{{Text: "1.71", Value: 1.71, Unit: "V"}}}, {From: "1", Quote: "Supply voltage"}})
		require.NoError(t, err)
		require.Equal(t, GradeNumbers, fs[0].Grade, name)
		require.True(t, fs[0].Layer, name)
		require.False(t, fs[1].Layer, "%s: the words have their own ink", name)
	}
}

// A hidden row is not drafted.
func TestHiddenRowIsNotDrafted(t *testing.T) {
	row := func(y int, cells ...string) string {
		var b strings.Builder
		for i, c := range cells {
			fmt.Fprintf(&b, "BT /F 9 Tf %d %d Td (%s) Tj ET\n", 20+60*i, y, c)
		}
		return b.String()
	}
	table := "BT /F 14 Tf 20 340 Td (Electrical characteristics) Tj ET\n" +
		row(310, "Parameter", "Symbol", "Min", "Typ", "Max", "Unit") + row(296, "Supply voltage", "VDD", "2.7", "3.3", "3.6", "V")
	draft := func(more string) []DraftRow {
		d, err := library(t).Draft(context.Background(), put(t, "t.pdf", onePage(stream("", table+more))))
		require.NoError(t, err)
		return d.Spec
	}
	shown := row(282, "Supply current", "IDD", "1", "2", "3", "mA")
	require.Len(t, draft(shown), 2)
	require.Len(t, draft("1 g\n"+shown), 1)
}
