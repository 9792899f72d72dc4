package pdf

import (
	"bytes"
	"compress/zlib"
	"encoding/base64"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"io"
	"testing"

	"github.com/stretchr/testify/require"
)

func uri(b []byte) string { return "data:image/png;base64," + base64.StdEncoding.EncodeToString(b) }

func encoded(t testing.TB, im image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, im))
	return b.Bytes()
}

// chunk builds a PNG chunk with its checksum.
func chunk(kind string, body []byte) []byte {
	b := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
	b = append(append(b, kind...), body...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
}

func TestRasterKinds(t *testing.T) {
	box := image.Rect(0, 0, 7, 5)
	half := image.NewNRGBA(box)
	for i := range half.Pix {
		half.Pix[i] = 0x80
	}
	for name, c := range map[string]struct {
		im   image.Image
		each int // bytes a pixel
	}{
		"grey":         {image.NewGray(box), 3},
		"opaque":       {image.NewRGBA(box), 3}, // all transparent: flattened
		"transparent":  {half, 3},
		"sixteen bits": {image.NewGray16(box), 3},
		"palette":      {image.NewPaletted(box, color.Palette{color.Black, color.White}), 1},
	} {
		r, err := rasterOf(uri(encoded(t, c.im)))
		require.NoError(t, err, name)
		z, err := zlib.NewReader(bytes.NewReader(r.data))
		require.NoError(t, err, name)
		rows, err := io.ReadAll(z)
		require.NoError(t, err, name)
		require.Equal(t, []int{7, 5, c.each * 35}, []int{r.w, r.h, len(rows)}, name)
	}
	require.Equal(t, []byte{0xbf, 0xbf, 0xbf}, flatten(half)[:3], "half grey at half cover on white")
}

func TestBrokenPicturesAreLeftOut(t *testing.T) {
	good := encoded(t, image.NewGray(image.Rect(0, 0, 40, 40)))
	short := append([]byte{}, good[:8]...)
	header := make([]byte, 13)
	binary.BigEndian.PutUint32(header, 4)
	binary.BigEndian.PutUint32(header[4:], 4)
	header[8] = 8
	short = append(short, chunk("IHDR", header)...)
	short = append(short, chunk("IDAT", []byte{0x78, 0x9c, 0x03, 0x00, 0x00, 0x00, 0x00, 0x01})...) // no rows
	short = append(short, chunk("IEND", nil)...)
	flipped := bytes.Clone(good)
	flipped[len(flipped)-20] ^= 1
	huge := append([]byte{}, good[:8]...)
	binary.BigEndian.PutUint32(header, 1<<30)
	huge = append(huge, chunk("IHDR", header)...)
	for name, u := range map[string]string{
		"none": "", "script": "javascript:alert(1)", "html": "data:text/html,<b>", "not base64": "data:image/png;base64,@@@",
		"text": uri([]byte("no picture")), "cut": uri(good[:len(good)-15]), "flipped": uri(flipped), "no rows": uri(short), "huge": uri(huge),
	} {
		p := sheet(t, new([]drawn))
		require.Nil(t, p.image(u), name)
		require.NoError(t, p.f.Error(), name)
	}
}

// Pictures of equal width keep their order: fpdf alone falls back to the order
// of a map.
func TestPicturesOfEqualWidth(t *testing.T) {
	var first []byte
	for i := range 10 {
		p := sheet(t, new([]drawn))
		for n := range 12 {
			im := image.NewGray(image.Rect(0, 0, 30, 10))
			im.Pix[n] = 0xff
			q := p.image(uri(encoded(t, im)))
			require.NotNil(t, q)
			p.drawImage(q, p.x, p.y+float64(n)*12, 30, 10)
		}
		var b bytes.Buffer
		require.NoError(t, p.finish(&b, func(*page, int, int) {}))
		require.Equal(t, 12, bytes.Count(b.Bytes(), []byte("/Width 30\n")))
		if i == 0 {
			first = b.Bytes()
		}
		require.True(t, bytes.Equal(first, b.Bytes()))
	}
}
