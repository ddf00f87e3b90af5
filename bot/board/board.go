// Package board draws the board of a knit-along: how far each member is.
package board

// A Bar is a member and how far they are.
type Bar struct {
	Name     string  // anything at all; long ones are cut
	Done     float64 // 0 to 1 of the stitches
	Note     string  // where that is: "Round 12, Lanterns"; may be empty
	Finished bool    // all is done, whatever Done says
}

// A Picture is the board, with its bars in the order given.
type Picture struct {
	Title string
	Open  float64 // 0 to 1: how far the pattern is open; 0 says nothing of it
	Bars  []Bar
}

// PNG draws the board, 1,200 pixels wide at scale 1.
func (p Picture) PNG(scale int) ([]byte, error) { return nil, nil }
