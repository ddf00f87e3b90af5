package canvas

import "image/color"

// A Color is one of the colours that a picture is drawn in. What it looks like
// is for the Look to say.
type Color uint8

// Paper to Here are what a chart is made of; the yarns are tints that ink can
// be read on. Whoever draws a yarn's tint puts a letter on it as well.
const (
	Paper Color = iota // the ground of it all
	Ink                // letters, symbols, lines that matter
	Faint              // the lines of the grid
	Blank              // where there is no stitch
	Here               // the tint of the row that a knitter is at
	YarnA              // and so on: tints of yarns
	YarnB
	YarnC
	YarnD
	YarnE
	YarnF
	colors = iota // how many there are
)

// A Look says what each Color looks like: opaque, and legible on dark and light
// ground, since the paper is painted too.
type Look [colors]color.RGBA

// Plain is the look of charts, fabrics and boards. Ink can be read on every
// tint. The yarns are six steps of lightness, so that they stay apart in grey,
// from the lightest to the darkest A, D, C, F, E, B; neighbours in lightness are
// of other hues, and the first two, which most patterns make do with, are the
// ends.
var Plain = Look{
	Paper: {0xff, 0xff, 0xff, 0xff},
	Ink:   {0x17, 0x16, 0x1d, 0xff},
	Faint: {0xbb, 0xbb, 0xc0, 0xff},
	Blank: {0xd4, 0xd4, 0xd8, 0xff},
	Here:  {0xfe, 0xee, 0xad, 0xff},
	YarnA: {0xfb, 0xf4, 0xe7, 0xff},
	YarnB: {0x58, 0x8d, 0xd4, 0xff},
	YarnC: {0xf4, 0xbf, 0x6f, 0xff},
	YarnD: {0xbc, 0xe4, 0xf7, 0xff},
	YarnE: {0xec, 0x84, 0x6e, 0xff},
	YarnF: {0x59, 0xc4, 0xb8, 0xff},
}
