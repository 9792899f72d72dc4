package sheet

import (
	"bytes"
	"context"
	"fmt"
	"image/png"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
)

// labelled is a document whose pages are printed i, ii, 1, 2 (ISO 32000-1, 12.4.2).
func labelled() []byte {
	objects := []string{
		"<</Type /Catalog /Pages 2 0 R /PageLabels <</Nums [0 <</S /r>> 2 <</S /D>>]>>>>",
		"<</Type /Pages /Kids [3 0 R 4 0 R 5 0 R 6 0 R] /Count 4>>",
	}
	for i := range 4 {
		objects = append(objects, fmt.Sprintf("<</Type /Page /Parent 2 0 R /MediaBox [0 0 400 400] /Contents %d 0 R /Resources <</Font <</F 11 0 R>>>>>>", 7+i))
	}
	for i := range 4 {
		objects = append(objects, stream("", fmt.Sprintf("BT /F 12 Tf 50 200 Td (words of leaf %d) Tj ET", i+1)))
	}
	return rawPDF(append(objects, helvetica)...)
}

func TestPrintedAndCountedPages(t *testing.T) {
	l := library(t)
	path := put(t, "l.pdf", labelled())
	in, fs, err := l.Check(context.Background(), path, []Query{
		{From: "ii", Quote: "leaf 2"}, {From: "1", Quote: "leaf 3"}, {From: "1", Counted: true, Quote: "leaf 1"},
		{From: "1", Quote: "leaf 4"}, {From: "3", Quote: "leaf 3"}, {From: "i", To: "2", Quote: "leaf 4"},
	})
	require.NoError(t, err)
	require.True(t, in.HasLabels)
	require.Equal(t, 4, in.Pages)
	type short struct {
		grade Grade
		page  int
		label string
		else_ []int
	}
	want := []short{{GradeWords, 2, "ii", nil}, {GradeWords, 3, "1", nil}, {GradeWords, 1, "i", nil},
		{GradeNotFound, 3, "1", []int{4}}, {GradeNoPage, 0, "", []int{3}}, {GradeWords, 4, "2", nil}}
	for i, f := range fs {
		require.Equal(t, want[i], short{f.Grade, f.Page, f.Label, f.Elsewhere}, i)
	}
}

func TestWordsOnOtherPages(t *testing.T) {
	s := sheetOf(t, corpusDevices()[0], corpusLayouts()[0])
	page := s.Pages[corpusElectrical]
	_, fs, err := shared.Check(context.Background(), pathOf(t, s), []Query{
		{From: fmt.Sprint(page + 2), Quote: "Quiescent current"},
		{From: fmt.Sprint(page - 1), To: fmt.Sprint(page), Quote: "Quiescent current"},
		{From: fmt.Sprint(page), Quote: "Quiescent current of the moon"},
		{From: fmt.Sprint(page), Numbers: []Number{{Text: "25", Value: 25, Unit: "µA", Column: "max"}}, Name: "I_Q"},
		{From: fmt.Sprint(page), Numbers: []Number{{Text: "15", Value: 15, Unit: "µA", Column: "max"}}, Name: "I_Q"},
		{From: fmt.Sprint(page)},
	})
	require.NoError(t, err)
	require.Equal(t, GradeNotFound, fs[0].Grade)
	require.Equal(t, page, fs[0].Elsewhere[0])
	require.Equal(t, GradeWords, fs[1].Grade)
	require.Equal(t, page, fs[1].Page)
	require.Equal(t, "Quiescent current IQ no load 15 25 µA", fs[1].Line)
	require.Equal(t, GradeNotFound, fs[2].Grade)
	require.Empty(t, fs[2].Elsewhere)
	require.Equal(t, GradeNumbers, fs[3].Grade)
	require.Empty(t, fs[3].Slip)
	require.Equal(t, "15 µA is in the typ column of “Quiescent current”, not in the max column", fs[4].Slip)
	require.Equal(t, GradePage, fs[5].Grade)
}

func TestLineOfASpanningCell(t *testing.T) {
	s := sheetOf(t, corpusDevices()[0], layoutNamed(t, "lowered"))
	_, fs, err := shared.Check(context.Background(), pathOf(t, s), []Query{{From: fmt.Sprint(s.Pages[corpusElectrical]), Quote: "Dropout voltage",
		Numbers: []Number{{Text: "0.25", Value: 0.25, Unit: "V", Column: "max"}}}})
	require.NoError(t, err)
	require.Equal(t, "VDROP Dropout voltage IOUT = 150 mA 130 250 mV", fs[0].Line)
	require.Empty(t, fs[0].Slip)
}

// TestCrop draws cited words of upright, turned and rotated pages: what is
// tinted must hold ink, and what lies beside it must not be tinted.
func TestCrop(t *testing.T) {
	for _, name := range []string{"ruled", "turned", "rotated", "landscape"} {
		s := sheetOf(t, corpusDevices()[0], layoutNamed(t, name))
		path := pathOf(t, s)
		_, fs, err := shared.Check(context.Background(), path, []Query{{From: fmt.Sprint(s.Pages[corpusElectrical]), Quote: "Quiescent current"}})
		require.NoError(t, err)
		require.Equal(t, GradeWords, fs[0].Grade, name)
		data, w, h, err := shared.Crop(context.Background(), path, fs[0].Page, fs[0].Boxes, fs[0].Boxes, 150)
		require.NoError(t, err)
		img, err := png.Decode(bytes.NewReader(data))
		require.NoError(t, err)
		require.Equal(t, [2]int{w, h}, [2]int{img.Bounds().Dx(), img.Bounds().Dy()})
		tinted, dark, edge := 0, 0, 0
		for y := range h {
			for x := range w {
				r, g, b, _ := img.At(x, y).RGBA()
				if r > b+b/4 || r > 0 && b == 0 {
					tinted++
					if x < 4 || y < 4 {
						edge++
					}
				}
				if r < 0x5000 && g < 0x5000 && b < 0x5000 {
					dark++
				}
			}
		}
		require.Greater(t, tinted, w*h/8, name)
		require.Greater(t, dark, w*h/60, name)
		require.Zero(t, edge, name)
		again, _, _, err := shared.Crop(context.Background(), path, fs[0].Page, fs[0].Boxes, fs[0].Boxes, 150)
		require.NoError(t, err)
		require.Equal(t, data, again, "the same picture every time")
	}
	_, _, _, err := shared.Crop(context.Background(), pathOf(t, sheetOf(t, corpusDevices()[0], corpusLayouts()[0])), 99, nil, nil, 150)
	require.ErrorIs(t, err, ErrNoPage)
}

func TestConcurrentUse(t *testing.T) {
	l := library(t)
	var wait sync.WaitGroup
	for i := range 12 {
		s := sheetOf(t, corpusDevices()[i%3], corpusLayouts()[i%4])
		path := pathOf(t, s)
		wait.Add(1)
		go func() {
			defer wait.Done()
			_, fs, err := l.Check(context.Background(), path,
				[]Query{{From: fmt.Sprint(s.Pages[corpusAbsolute]), Quote: "Storage temperature"},
					{From: "1", Quote: s.Device.Title}})
			if err != nil || fs[1].Grade != GradeWords {
				t.Errorf("%v %+v", err, fs)
			}
			if _, err := l.PageText(context.Background(), path, 2); err != nil {
				t.Error(err)
			}
		}()
	}
	wait.Wait()
}

func TestCancelledAndClosed(t *testing.T) {
	l := library(t)
	path := put(t, "l.pdf", labelled())
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := l.Inspect(ctx, path)
	require.ErrorIs(t, err, context.Canceled)
	_, err = l.Inspect(context.Background(), path)
	require.NoError(t, err)
	require.NoError(t, l.Close())
	require.NoError(t, l.Close())
	_, err = l.PageText(context.Background(), path, 1)
	require.ErrorIs(t, err, errClosed)
}

func TestFind(t *testing.T) {
	s := sheetOf(t, corpusDevices()[0], corpusLayouts()[0])
	path := pathOf(t, s)
	page := s.Pages[corpusElectrical]
	for _, c := range []struct {
		words, line string
	}{
		{"0.25 V", "Dropout voltage VDROP IOUT = 150 mA 130 250 mV"},
		{"250 mV dropout", "Dropout voltage VDROP IOUT = 150 mA 130 250 mV"},
		{"quiescent current", "Quiescent current IQ no load 15 25 µA"},
		{"1 kHz", "Power supply rejection ratio PSRR f = 1 kHz, IOUT = 10 mA 62 dB"},
	} {
		hits, err := shared.Find(context.Background(), path, c.words, 5)
		require.NoError(t, err)
		require.NotEmpty(t, hits, c.words)
		require.Equal(t, page, hits[0].Page, c.words)
		require.Equal(t, c.line, hits[0].Line, c.words)
		require.NotEmpty(t, hits[0].Boxes, c.words)
	}
	for _, words := range []string{"999 V", "unicorn", "", "250 A"} {
		hits, err := shared.Find(context.Background(), path, words, 5)
		require.NoError(t, err)
		require.Empty(t, hits, words)
	}
	in, err := shared.Index(context.Background(), path)
	require.NoError(t, err)
	require.Equal(t, in.Pages, in.TextPages)
}
