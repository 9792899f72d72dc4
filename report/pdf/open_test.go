package pdf

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/klippa-app/go-pdfium"
	"github.com/klippa-app/go-pdfium/references"
	"github.com/klippa-app/go-pdfium/requests"
	"github.com/klippa-app/go-pdfium/webassembly"
	"github.com/stretchr/testify/require"
	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/experimental"

	"guardband/eval/record"
	"guardband/report/internal/fixture"
)

// qpdf finds nothing to complain about, and neither does poppler when it
// renders every page.
func TestPDFIsSound(t *testing.T) {
	for name, r := range map[string]*record.Record{"small": fixture.Small(), "hostile": fixture.Hostile(), "empty": fixture.Empty()} {
		path := file(t, write(t, r, false))
		require.Contains(t, run(t, "qpdf", "--check", path), "No syntax or stream encoding errors", name)
		run(t, "pdftoppm", "-r", "20", "-gray", path, path)
	}
}

type bookmark struct {
	Title string     `json:"title"`
	Page  int        `json:"destpageposfrom1"`
	Kids  []bookmark `json:"kids"`
}

// The bookmarks are those of the record, in its words, and lead to the pages
// where the things stand.
func TestBookmarks(t *testing.T) {
	r := fixture.Small()
	r.Content[0].Nodes[3].Children = []record.Node{{Kind: "text", Text: "Supply ≥ 2.7 V, θ and Ω"}} // fpdf writes raw bytes without a UTF-8 font
	d, _, b := composed(t, r, false)
	var q struct {
		Outlines []bookmark `json:"outlines"`
	}
	require.NoError(t, json.Unmarshal([]byte(run(t, "qpdf", "--json", "--json-key=outlines", file(t, b))), &q))
	titles := map[string]int{}
	var collect func(list []bookmark, depth int)
	collect = func(list []bookmark, depth int) {
		for _, o := range list {
			titles[fmt.Sprintf("%d %s", depth, o.Title)] = o.Page
			collect(o.Kids, depth+1)
		}
	}
	collect(q.Outlines, 0)
	require.NotEmpty(t, d.o.Chapters)
	for _, c := range d.o.Chapters {
		require.Equal(t, d.places["chapter:"+c.Anchor].page, titles["0 "+c.Title], c.Title)
	}
	require.Equal(t, d.places["claim:dropout"].page, titles["3 dropout: failed"])
	require.Equal(t, d.places["note:1-4"].page, titles["2 Supply ≥ 2.7 V, θ and Ω"])
}

// PDFium opens the record, reads its description and the text of a page, and
// finds as many pages as were written.
func TestPDFiumOpensIt(t *testing.T) {
	// The compiled engine is kept between runs: compiling it takes seconds.
	cache, err := wazero.NewCompilationCacheWithDir(filepath.Join(os.TempDir(), "guardband-pdf-test"))
	require.NoError(t, err)
	features := api.CoreFeaturesV2 | experimental.CoreFeaturesExceptionHandling
	pool, err := webassembly.Init(webassembly.Config{
		MinIdle: 1, MaxIdle: 1, MaxTotal: 1, FSConfig: wazero.NewFSConfig(),
		Context:       experimental.WithCompilationWorkers(context.Background(), 2),
		RuntimeConfig: wazero.NewRuntimeConfig().WithCoreFeatures(features).WithCompilationCache(cache),
	})
	require.NoError(t, err)
	defer func() { require.NoError(t, pool.Close()) }()
	instance, err := pool.GetInstance(time.Minute)
	require.NoError(t, err)
	for name, r := range map[string]*record.Record{"small": fixture.Small(), "hostile": fixture.Hostile()} {
		d, _, b := composed(t, r, false)
		doc, err := instance.OpenDocument(&requests.OpenDocument{File: &b})
		require.NoError(t, err, name)
		count, err := instance.FPDF_GetPageCount(&requests.FPDF_GetPageCount{Document: doc.Document})
		require.NoError(t, err)
		require.Equal(t, d.f.PageCount(), count.PageCount, name)
		require.Contains(t, pdfiumText(t, instance, doc.Document), folded("Design review record"), name)
		_, err = instance.FPDF_CloseDocument(&requests.FPDF_CloseDocument{Document: doc.Document})
		require.NoError(t, err)
	}
}

func pdfiumText(t *testing.T, instance pdfium.Pdfium, doc references.FPDF_DOCUMENT) string {
	t.Helper()
	text, err := instance.GetPageText(&requests.GetPageText{Page: requests.Page{ByIndex: &requests.PageByIndex{Document: doc, Index: 0}}})
	require.NoError(t, err)
	return folded(strings.TrimSpace(text.Text))
}
