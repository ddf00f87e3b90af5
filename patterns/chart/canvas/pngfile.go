package canvas

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"hash/crc32"
	"image/color"
	"sync"
)

// writePNG writes a sheet as a PNG of four bits a pixel, none of its rows
// filtered, as the W3C's PNG specification recommends for indexed colour: to
// gives the place in the palette of each shade. The encoder of image/png would
// ask for each pixel by a call, which takes as long as to compress them.
func writePNG(s *sheet, palette []color.RGBA, to *[256]uint8) ([]byte, error) {
	var out bytes.Buffer
	out.WriteString("\x89PNG\r\n\x1a\n")

	const bits, indexed = 4, 3
	var head [13]byte
	binary.BigEndian.PutUint32(head[0:], uint32(s.w))
	binary.BigEndian.PutUint32(head[4:], uint32(s.h))
	head[8], head[9] = bits, indexed
	writeChunk(&out, "IHDR", head[:])

	var colors []byte
	for _, c := range palette {
		colors = append(colors, c.R, c.G, c.B)
	}
	writeChunk(&out, "PLTE", colors)

	pixels, err := s.compress(to)
	if err != nil {
		return nil, err
	}
	writeChunk(&out, "IDAT", pixels)
	writeChunk(&out, "IEND", nil)
	return out.Bytes(), nil
}

// writeChunk writes a chunk: its length, its type, its data, and the checksum of
// both.
func writeChunk(out *bytes.Buffer, kind string, data []byte) {
	var number [4]byte
	binary.BigEndian.PutUint32(number[:], uint32(len(data)))
	out.Write(number[:])
	sum := crc32.NewIEEE()
	for _, part := range [][]byte{[]byte(kind), data} {
		out.Write(part)
		sum.Write(part)
	}
	binary.BigEndian.PutUint32(number[:], sum.Sum32())
	out.Write(number[:])
}

// compressors are kept from one picture to the next: each holds a megabyte.
var compressors = sync.Pool{New: func() any { return zlib.NewWriter(nil) }}

// compress gives the rows of a sheet, two pixels to the byte, each after the
// number of its filter, which is 0 for none.
func (s *sheet) compress(to *[256]uint8) ([]byte, error) {
	z := compressors.Get().(*zlib.Writer)
	defer compressors.Put(z)
	var out bytes.Buffer
	z.Reset(&out)
	packed := make([]byte, 1+(s.w+1)/2)
	for y := range s.h {
		row := s.shade[y*s.w : (y+1)*s.w]
		at := 1
		for ; len(row) >= 2; row = row[2:] {
			packed[at] = to[row[0]]<<4 | to[row[1]]
			at++
		}
		if len(row) > 0 {
			packed[at] = to[row[0]] << 4
		}
		if _, err := z.Write(packed); err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return out.Bytes(), err
}
