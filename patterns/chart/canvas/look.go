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

// Plain is the look of charts, fabrics and boards.
var Plain = Look{
	Paper: {0xff, 0xff, 0xff, 0xff},
	Ink:   {0x1c, 0x1b, 0x22, 0xff},
	Faint: {0xb9, 0xb8, 0xbf, 0xff},
	Blank: {0xd9, 0xd8, 0xdd, 0xff},
	Here:  {0xff, 0xf0, 0xb0, 0xff},
	YarnA: {0xf4, 0xef, 0xe4, 0xff},
	YarnB: {0x7d, 0xa6, 0xd8, 0xff},
	YarnC: {0xe8, 0xa9, 0x5c, 0xff},
	YarnD: {0xb9, 0xdc, 0xc4, 0xff},
	YarnE: {0xe3, 0xc3, 0xd9, 0xff},
	YarnF: {0x8f, 0x93, 0x8c, 0xff},
}
