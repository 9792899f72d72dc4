package pdf

import (
	"bytes"
	"compress/zlib"
	"encoding/base64"
	"encoding/gob"
	"errors"
	"image"
	"image/png"
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

// raster is an image as PDF takes it: deflated rows of 8 bits, of red, green
// and blue or of the numbers of a palette.
type raster struct {
	w, h    int
	palette []byte // nil for red, green and blue
	data    []byte
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
	space := "DeviceRGB"
	if r.palette != nil {
		space = "Indexed"
	}
	width := float64(r.w) + float64(len(p.picture)+1)/(1<<20)
	var b bytes.Buffer
	enc := gob.NewEncoder(&b)
	for _, v := range []any{r.data, []byte{}, 0, width, float64(r.h), space, r.palette, 8, "FlateDecode", "", []int{}, 1.0, 72.0} {
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

// rasterOf reads a data URI. What is not a picture with an opaque palette is
// flattened onto white.
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
	im, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		return raster{}, errPicture
	}
	r := raster{w: cfg.Width, h: cfg.Height}
	rows := flatten(im)
	if p, ok := im.(*image.Paletted); ok && p.Opaque() && p.Stride == r.w {
		rows = p.Pix
		for _, c := range p.Palette {
			red, green, blue, _ := c.RGBA()
			r.palette = append(r.palette, byte(red>>8), byte(green>>8), byte(blue>>8))
		}
	}
	var b bytes.Buffer
	z := zlib.NewWriter(&b)
	_, _ = z.Write(rows) // into memory
	_ = z.Close()
	r.data = b.Bytes()
	return r, nil
}

// flatten is im on white, a row after the other.
func flatten(im image.Image) []byte {
	b := im.Bounds()
	out := make([]byte, 0, 3*b.Dx()*b.Dy())
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			red, green, blue, a := im.At(x, y).RGBA()
			w := 0xffff - a
			out = append(out, byte((red+w)>>8), byte((green+w)>>8), byte((blue+w)>>8))
		}
	}
	return out
}
