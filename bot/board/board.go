// Package board draws the board of a knit-along: how far each member is.
package board

import (
	"cmp"
	"fmt"
	"math"
	"strconv"

	"clew/patterns/chart/canvas"
)

// A Bar is a member and how far they are, or how many of the members are somewhere.
type Bar struct {
	Name     string  // anything at all; long ones are cut
	Done     float64 // 0 to 1 of the stitches, or of the members; beyond either end is that end
	Figure   string  // stands beside the bar; "" is Done in percent
	Note     string  // where that is: "Round 12, Lanterns"; may be empty
	Finished bool    // all is done, whatever Done says
}

// A Picture is the board, with its bars in the order given.
type Picture struct {
	Title string
	Open  float64 // 0 to 1: how far the pattern is open; 0 says nothing of it
	Bars  []Bar   // more than a hundred are cut, and the picture says how many
	Below string  // stands under the bars; "" says there that nobody has joined where there are none
}

const mostBars = 100

// The board's columns from left to right, and its rows from the top, in pixels.
const (
	width  = 1200
	margin = 24

	nameLeft, nameWide = margin, 306
	barLeft, barWide   = 350, 460
	shareRight         = 930
	noteLeft, noteWide = 950, width - margin - 950

	titleBase, titleSize = 46, 30
	openBase, openSize   = 84, 18
	firstRow             = 96
	rowHigh, barHigh     = 32, 20
	textSize, noteSize   = 21, 18
	below                = 20
)

// PNG draws the board, 1,200 pixels wide at scale 1. The scale is 1 to 4.
func (p Picture) PNG(scale int) ([]byte, error) { return p.draw().PNG(scale) }

func (p Picture) draw() *canvas.Canvas {
	bars := p.Bars[:min(len(p.Bars), mostBars)]
	rows := len(bars)
	closing := p.Below
	switch {
	case rows == 0 && closing == "":
		closing = "Nobody has joined yet."
	case rows < len(p.Bars):
		closing = fmt.Sprintf("and %d more", len(p.Bars)-rows)
	}
	bottom := float64(firstRow + rows*rowHigh)
	high := bottom + below
	if closing != "" {
		high += rowHigh
	}
	c := canvas.New(width, high, canvas.Plain)
	c.Bold(margin, titleBase, titleSize, canvas.Start, canvas.Ink, canvas.CutBold(titleSize, width-2*margin, p.Title))
	open := share(p.Open)
	for i, b := range bars {
		b.draw(c, firstRow+float64(i*rowHigh), open)
	}
	if open > 0 && rows > 0 {
		mark(c, open, bottom)
	}
	if closing != "" {
		c.Text(margin, bottom+textSize+2, textSize, canvas.Start, canvas.Ink, closing)
	}
	return c
}

// share makes a part of the whole lie between none and all of it.
func share(part float64) float64 {
	if math.IsNaN(part) {
		return 0
	}
	return min(max(part, 0), 1)
}

// at is where a part of the whole lies along the bars.
func at(part float64) float64 { return barLeft + math.Round(part*barWide) }

// draw draws one bar in a row that begins at top. What is open of the pattern
// is a filled track, and what is to come is an empty one.
func (b Bar) draw(c *canvas.Canvas, top, open float64) {
	base := top + textSize + 1
	c.Text(nameLeft, base, textSize, canvas.Start, canvas.Ink, canvas.Cut(textSize, nameWide, b.Name))
	c.Text(noteLeft, base-1, noteSize, canvas.Start, canvas.Ink, canvas.Cut(noteSize, noteWide, b.Note))

	y := top + (rowHigh-barHigh)/2
	c.Rect(barLeft, y, barWide, barHigh, canvas.Faint)
	c.Rect(barLeft+1, y+1, barWide-2, barHigh-2, canvas.Paper)
	c.Rect(barLeft, y, at(open)-barLeft, barHigh, canvas.Blank)
	if b.Finished {
		c.Rect(barLeft, y, barWide, barHigh, canvas.YarnC)
		c.Stamp(tick, at(1)-barHigh-4, y, barHigh, barHigh, canvas.YarnC)
		c.Bold(shareRight, base, textSize, canvas.End, canvas.Ink, "finished")
		return
	}
	done := share(b.Done)
	if head := at(done); head > barLeft {
		c.Rect(barLeft, y, head-barLeft, barHigh, canvas.YarnB)
		tip := max(head-3, barLeft)
		c.Rect(tip, y, head-tip, barHigh, canvas.Ink)
	}
	c.Text(shareRight, base, textSize, canvas.End, canvas.Ink, cmp.Or(b.Figure, strconv.Itoa(Percent(done))+" %"))
}

// rounding is more than what a share that is a whole percent loses when it is kept
// in binary: 0.58 times 100 is a little less than 58.
const rounding = 1e-9

// Percent gives a share, 0 to 1, in whole percent, rounded down: never a hundred,
// since this is for what is not finished, and never none of what is begun.
func Percent(done float64) int {
	n := int(share(done)*100 + rounding)
	if done > 0 {
		n = min(max(n, 1), 99)
	}
	return n
}

// tick marks what is finished.
var tick = canvas.NewSymbol("finished", 1, 1, canvas.Stroke{
	Path:  []canvas.Segment{canvas.MoveTo(0.2, 0.55), canvas.LineTo(0.42, 0.78), canvas.LineTo(0.82, 0.24)},
	Width: 0.14, Color: canvas.Ink,
})

// mark draws the line where the open part of the pattern ends, and says so on
// the side where there is room.
func mark(c *canvas.Canvas, open, bottom float64) {
	x := at(open)
	c.Line(x, openBase+6, x, bottom, 2, canvas.Ink, true)
	c.Path(canvas.Stroke{Color: canvas.Ink, Path: []canvas.Segment{
		canvas.MoveTo(x-8, openBase-8), canvas.LineTo(x+8, openBase-8), canvas.LineTo(x, openBase+6), canvas.ClosePath(),
	}})
	anchor, beside := canvas.Start, 14.0
	if open > 0.5 {
		anchor, beside = canvas.End, -14
	}
	c.Text(x+beside, openBase, openSize, anchor, canvas.Ink, "open to here")
}
