package pdf

import (
	"bytes"
	"compress/zlib"
	"encoding/base64"
	"encoding/binary"
	"encoding/gob"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"io"
	"strings"

	"github.com/go-pdf/fpdf"
)

// picture is an embedded image.
type picture struct {
	name string
	w, h int // pixels
}

// Most that a picture of cited lines may hold; larger ones are left out.
const (
	maxPictureBytes  = 8 << 20
	maxPicturePixels = 24 << 20
)

var errPicture = errors.New("not a PNG picture that can be set")

// image embeds the PNG of a data URI once and gives nil where it is none.
func (p *page) image(uri string) *picture {
	if uri == "" {
		return nil
	}
	if q, ok := p.picture[uri]; ok {
		return q
	}
	var q *picture
	if raw, err := rasterOf(uri); err == nil {
		q = p.register(raw)
	}
	p.picture[uri] = q
	return q
}

// raster is a PNG's pixel data as PDF takes it: the same deflated rows.
type raster struct {
	w, h, colours, bits int
	palette             []byte
	data                []byte
}

// register gives the raster to fpdf. fpdf orders images by width alone and
// falls back to map order, and its own PNG reader trusts what it reads. So a
// stand-in of one pixel is registered and then filled with the checked data
// through its gob form, with a width that differs in its fraction for each
// picture; fpdf writes whole pixels.
func (p *page) register(r raster) *picture {
	q := &picture{name: "picture" + itoa(len(p.picture)), w: r.w, h: r.h}
	info := p.f.RegisterImageOptionsReader(q.name, fpdf.ImageOptions{ImageType: "png"}, bytes.NewReader(onePixel()))
	if info == nil || p.f.Err() {
		return nil
	}
	space := map[int]string{1: "DeviceGray", 3: "DeviceRGB"}[r.colours]
	if r.palette != nil {
		space = "Indexed"
	}
	parms := "/Predictor 15 /Colors " + itoa(r.colours) + " /BitsPerComponent " + itoa(r.bits) + " /Columns " + itoa(r.w)
	width := float64(r.w) + float64(len(p.picture)+1)/(1<<20)
	var b bytes.Buffer
	enc := gob.NewEncoder(&b)
	for _, v := range []any{r.data, []byte{}, 0, width, float64(r.h), space, r.palette, r.bits, "FlateDecode", parms, []int{}, 1.0, 72.0} {
		if err := enc.Encode(v); err != nil {
			return nil
		}
	}
	if err := info.GobDecode(b.Bytes()); err != nil {
		p.f.SetError(err)
		return nil
	}
	return q
}

// draw sets the picture's image with its top left at x, y.
func (p *page) drawImage(q *picture, x, y, w, h float64) {
	p.f.ImageOptions(q.name, x, y, w, h, false, fpdf.ImageOptions{ImageType: "png"}, 0, "")
	p.setStroke(0.4, hairline)
	p.f.Rect(x, y, w, h, "D")
}

func onePixel() []byte {
	var b bytes.Buffer
	_ = png.Encode(&b, image.NewGray(image.Rect(0, 0, 1, 1))) // an image in memory encodes
	return b.Bytes()
}

// rasterOf reads a data URI. A PNG with transparency, interlacing or 16 bits
// is flattened onto white; others keep their data.
func rasterOf(uri string) (raster, error) {
	text, ok := strings.CutPrefix(uri, "data:image/png;base64,")
	if !ok || len(text) > maxPictureBytes {
		return raster{}, errPicture
	}
	data, err := base64.StdEncoding.DecodeString(text)
	if err != nil {
		return raster{}, errPicture
	}
	cfg, err := png.DecodeConfig(bytes.NewReader(data))
	if err != nil || cfg.Width <= 0 || cfg.Height <= 0 || cfg.Width > maxPicturePixels/cfg.Height {
		return raster{}, errPicture
	}
	r, plain, err := readPNG(data)
	if err != nil {
		return raster{}, err
	}
	if plain {
		return r, nil
	}
	im, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		return raster{}, errPicture
	}
	if r, plain, err = readPNG(flatten(im)); err != nil || !plain {
		return raster{}, errPicture
	}
	return r, nil
}

// flatten sets im on white and encodes it without transparency.
func flatten(im image.Image) []byte {
	b := im.Bounds()
	out := image.NewRGBA(b)
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			r, g, bl, a := im.At(x, y).RGBA()
			w := 0xffff - a
			out.SetRGBA(x, y, color.RGBA{uint8((r + w) >> 8), uint8((g + w) >> 8), uint8((bl + w) >> 8), 0xff})
		}
	}
	var buf bytes.Buffer
	enc := png.Encoder{CompressionLevel: png.BestSpeed}
	_ = enc.Encode(&buf, out) // an image in memory encodes
	return buf.Bytes()
}

// readPNG walks the chunks, checking their sums and that the deflated rows
// have the length that the header tells. plain is false for kinds that must be
// flattened first.
func readPNG(b []byte) (r raster, plain bool, err error) {
	b = b[8:] // DecodeConfig has seen the signature
	plain = true
	for len(b) >= 12 {
		n := binary.BigEndian.Uint32(b)
		if uint64(n)+12 > uint64(len(b)) || crc32.ChecksumIEEE(b[4:8+n]) != binary.BigEndian.Uint32(b[8+n:]) {
			return r, false, errPicture
		}
		body := b[8 : 8+n]
		switch string(b[4:8]) {
		case "IHDR":
			plain = r.header(body)
		case "PLTE":
			r.palette = body
		case "tRNS":
			plain = false
		case "IDAT":
			r.data = append(r.data, body...)
		case "IEND":
			return r.finish(plain)
		}
		b = b[12+n:]
	}
	return r, false, errPicture
}

func (r *raster) header(b []byte) (plain bool) {
	if len(b) != 13 {
		return false
	}
	r.w, r.h = int(binary.BigEndian.Uint32(b)), int(binary.BigEndian.Uint32(b[4:]))
	r.bits = int(b[8])
	kind, interlaced := b[9], b[12] != 0
	r.colours = 1
	if kind == 2 {
		r.colours = 3
	}
	return kind <= 3 && r.bits <= 8 && !interlaced
}

func (r raster) finish(plain bool) (raster, bool, error) {
	if !plain {
		return r, false, nil
	}
	if r.colours == 3 {
		r.palette = nil // a suggestion only
	}
	z, err := zlib.NewReader(bytes.NewReader(r.data))
	if err != nil {
		return r, false, errPicture
	}
	want := int64(r.h) * int64(1+(r.w*r.colours*r.bits+7)/8)
	n, err := io.Copy(io.Discard, io.LimitReader(z, want+1))
	if err != nil || n != want {
		return r, false, errPicture
	}
	return r, true, nil
}
