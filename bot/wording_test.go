package bot

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

func TestSmallWords(t *testing.T) {
	many := strings.Fields("a b c d e f g h i j k")
	for _, c := range []struct{ what, found, want string }{
		{"no stitch", stitches(0), "zero stitches"},
		{"one stitch", stitches(1), "one stitch"},
		{"two stitches", stitches(2), "two stitches"},
		{"one row", plural("row", 1), "row"},
		{"rows", plural("row", 2), "rows"},
		{"an empty list", list(nil, "and"), ""},
		{"a list of one", list(many[:1], "and"), "a"},
		{"a list of two", list(many[:2], "or"), "a or b"},
		{"a list of three", list(many[:3], "and"), "a, b and c"},
		{"a list as long as can be", list(many[:9], "and"), "a, b, c, d, e, f, g, h and i"},
		{"a list too long to listen to", list(many, "and"), "a, b, c, d, e, f, g, h and three more"},
		{"a capital", capital("über das"), "Über das"},
		{"nothing with a capital", capital(""), ""},
		{"a sentence inside another", small("Knit two."), "knit two"},
		{"a text without its stop", sentence("keep it close"), "keep it close."},
		{"a question", sentence("is it long?"), "is it long?"},
		{"a text that goes on", sentence("as follows:"), "as follows."},
		{"bare words", bare(" I'll knit,  Size\tMEDIUM! "), "i ll knit size medium"},
		{"a moment", ago(59 * time.Second), "just now"},
		{"a clock that was put back", ago(-time.Hour), "just now"},
		{"a minute", ago(time.Minute), "one minute ago"},
		{"hours", ago(23 * time.Hour), "twenty-three hours ago"},
		{"days", ago(6*24*time.Hour + time.Hour), "six days ago"},
		{"weeks", ago(21 * 24 * time.Hour), "three weeks ago"},
	} {
		t.Run(c.what, func(t *testing.T) {
			if c.found != c.want {
				t.Errorf("found %q, expected %q", c.found, c.want)
			}
		})
	}
	if again := fmt.Sprint(many); again != "[a b c d e f g h i j k]" {
		t.Errorf("a list has changed its names: %s", again)
	}
}
