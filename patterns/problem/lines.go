package problem

import "bytes"

// PlainLines gives a source whose lines end in line feeds alone, byte for byte
// as long as it was: a carriage return by itself, and the line ends U+0085,
// U+2028 and U+2029, become one. A source that has none comes back as it is.
func PlainLines(src []byte) []byte {
	if bytes.Count(src, []byte("\r")) == bytes.Count(src, []byte("\r\n")) &&
		!bytes.Contains(src, []byte("\u0085")) && !bytes.Contains(src, []byte("\u2028")) && !bytes.Contains(src, []byte("\u2029")) {
		return src
	}
	out := bytes.Clone(src)
	for i, c := range src {
		switch rest := src[i:]; {
		case c == '\r' && !bytes.HasPrefix(rest, []byte("\r\n")):
			out[i] = '\n'
		case bytes.HasPrefix(rest, []byte("\u0085")):
			copy(out[i:], " \n")
		case bytes.HasPrefix(rest, []byte("\u2028")), bytes.HasPrefix(rest, []byte("\u2029")):
			copy(out[i:], "  \n")
		}
	}
	return out
}
