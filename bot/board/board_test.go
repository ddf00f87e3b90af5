package board

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"math"
	"testing"

	"pgregory.net/rapid"

	"clew/patterns/chart/canvas"
	"clew/patterns/chart/picturetest"
)

// evening is a board of the knit-along at Tibberhythe, while its pattern is
// being opened. The town and all who knit there are invented.
func evening() Picture {
	return Picture{Title: "Harbour lights: a cap with lanterns", Open: 0.62, Bars: []Bar{
		{Name: "Wren", Done: 0.62, Note: "Round 30, Lanterns"},
		{Name: "Ana Pell", Done: 0.615, Note: "Round 30, Lanterns"},
		{Name: "Odo Marsh", Done: 0.58, Note: "Round 27, Lanterns"},
		{Name: "Tamsin Quay", Done: 0.34, Note: "Round 12, Lanterns"},
		{Name: "Wilhelmina Wolstencroft-Westmoreland", Done: 0.2, Note: "Round 4, Lanterns, once more from the top"},
		{Name: "\U0001F9F6 Maud \U0001F411", Done: 0.11, Note: "Round 9, Brim"},
		{Name: "רות", Done: 0.004, Note: "Round 1, Brim"},
		{Name: "Pip"},
	}}
}

// last is the same board when all is open.
func last() Picture {
	p := evening()
	p.Open = 1
	for i := range 3 {
		p.Bars[i].Done, p.Bars[i].Finished, p.Bars[i].Note = 1, true, ""
	}
	return p
}

// crowd is a board of so many bars.
func crowd(n int) Picture {
	first := []string{"Wren", "Ana", "Odo", "Tamsin", "Ebba", "Jory", "Maud", "Silas"}
	last := []string{"Pell", "Marsh", "Quay", "Lund", "Penrose", "Fenn", "Holm"}
	p := Picture{Title: "Harbour lights", Open: 0.7}
	for i := range n {
		done := p.Open * (1 - float64(i)/float64(max(n, 1)))
		p.Bars = append(p.Bars, Bar{
			Name: first[i%len(first)] + " " + last[i%len(last)], Done: done,
			Note: fmt.Sprintf("Round %d, Lanterns", int(done*56)+1),
		})
	}
	return p
}

// counted is a board that tells how many are where.
func counted() Picture {
	return Picture{Title: "Harbour lights: where 500 knitters are", Bars: []Bar{
		{Name: "At the beginning", Done: 0.05, Figure: "25"},
		{Name: "Brim", Done: 0.31, Figure: "155"},
		{Name: "Lanterns", Done: 0.6, Figure: "300"},
		{Name: "Finished", Done: 0.04, Figure: "20"},
	}}
}

func drawn(t testing.TB, p Picture) ([]byte, image.Image) {
	t.Helper()
	out, err := p.PNG(1)
	if err != nil {
		t.Fatal(err)
	}
	decoded, err := png.Decode(bytes.NewReader(out))
	if err != nil {
		t.Fatal(err)
	}
	return out, decoded
}

func TestPictures(t *testing.T) {
	for name, p := range map[string]Picture{
		"evening": evening(),
		"last":    last(),
		"nobody":  {Title: "Harbour lights"},
		"forty":   crowd(40),
		"counted": counted(),
		"unnamed": {Title: "Harbour lights", Open: 0.62, Below: "2 who are not named"},
		"hidden":  {Title: "Harbour lights", Open: 0.62, Bars: evening().Bars[:2], Below: "and 2 more who are not named"},
		"more":    {Title: "A title that is so long that it does not fit on one line of the board, which is cut where the line ends", Bars: crowd(112).Bars},
	} {
		out, _ := drawn(t, p)
		picturetest.Compare(t, out, "testdata/"+name+".png")
	}
}

// TestSize holds a board of forty to what a phone should have to load.
func TestSize(t *testing.T) {
	out, decoded := drawn(t, crowd(40))
	if len(out) > 40<<10 || decoded.Bounds().Dx() != 1200 {
		t.Errorf("forty bars are %d bytes, %d pixels wide; want 40 KB at most, and 1200", len(out), decoded.Bounds().Dx())
	}
}

// TestBarsTellHowMuch measures the bars in the picture: they are as long as what
// is done, in the order given.
func TestBarsTellHowMuch(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var p Picture
		for range rapid.IntRange(1, 6).Draw(r, "bars") {
			p.Bars = append(p.Bars, Bar{Done: rapid.Float64Range(0, 1).Draw(r, "done"), Finished: rapid.Bool().Draw(r, "finished")})
		}
		_, decoded := drawn(t, p)
		for i, b := range p.Bars {
			y := firstRow + i*rowHigh + rowHigh/2
			fill, want := canvas.YarnB, b.Done*barWide
			if b.Finished {
				fill, want = canvas.YarnC, barWide
			}
			last := barLeft - 1
			for x := range 1200 {
				if decoded.At(x, y) == canvas.Plain[fill] {
					last = x
				}
			}
			// The head of a bar is three pixels of ink, and a tick stands in a finished one.
			if got := float64(last + 1 - barLeft); math.Abs(got-want) > 4 {
				r.Errorf("bar %d is %v pixels long, want %.1f", i, got, want)
			}
		}
	})
}

// TestOpenIsMarked finds the mark between two bars, and says that there is none
// where nothing is said of it.
func TestOpenIsMarked(t *testing.T) {
	for _, c := range []struct{ open, want float64 }{{0.5, 0.5}, {1, 1}, {7, 1}, {0.031, 0.031}, {0, -1}, {-2, -1}, {math.NaN(), -1}} {
		_, decoded := drawn(t, Picture{Open: c.open, Bars: make([]Bar, 12)})
		dark := map[int]int{}
		for i := range 11 {
			for x := range width {
				if decoded.At(x, firstRow+(i+1)*rowHigh) == canvas.Plain[canvas.Ink] {
					dark[x]++
				}
			}
		}
		middle, n := 0, 0
		for x, times := range dark {
			middle, n = middle+x*times, n+times
		}
		switch {
		case c.want < 0 && n > 0:
			t.Errorf("open %v: there is a mark", c.open)
		case c.want >= 0 && n < 8:
			t.Errorf("open %v: there is no mark", c.open)
		case c.want >= 0 && math.Abs(float64(middle)/float64(n)-barLeft-c.want*barWide) > 1.5:
			t.Errorf("open %v: the mark is at %d, want %v", c.open, middle/n, barLeft+c.want*barWide)
		}
	}
}

// TestMoreThanColour says that a finished bar differs from one of the same
// length in ink as well.
func TestMoreThanColour(t *testing.T) {
	dark := func(finished bool) (n int) {
		_, decoded := drawn(t, Picture{Bars: []Bar{{Done: 1, Finished: finished}}})
		for y := firstRow + 7; y < firstRow+rowHigh-7; y++ {
			for x := barLeft + barWide - 28; x < barLeft+barWide-4; x++ {
				if decoded.At(x, y) == canvas.Plain[canvas.Ink] {
					n++
				}
			}
		}
		return n
	}
	if finished, not := dark(true), dark(false); finished < 30 || not != 0 {
		t.Errorf("a finished bar has %d dark pixels near its end, another %d", finished, not)
	}
}

func TestPercent(t *testing.T) {
	for _, c := range []struct {
		done float64
		want int
	}{
		{0, 0}, {0.0001, 1}, {0.34, 34}, {0.6299, 62}, {0.9999, 99}, {1, 99}, {-1, 0}, {2, 99}, {math.NaN(), 0},
	} {
		if got := Percent(c.done); got != c.want {
			t.Errorf("%v is %d percent, want %d", c.done, got, c.want)
		}
	}
}

// TestPercentOfWholeParts counts in whole numbers what share of a hundred, of a
// thousand or of any number of stitches is worked.
func TestPercentOfWholeParts(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		all := rapid.Int64Range(2, 500_000).Draw(r, "all")
		done := rapid.Int64Range(1, all-1).Draw(r, "done")
		want := min(max(done*100/all, 1), 99)
		if got := Percent(float64(done) / float64(all)); int64(got) != want {
			r.Errorf("%d of %d stitches are %d percent, want %d", done, all, got, want)
		}
	})
	for whole := 1; whole < 100; whole++ {
		if got := Percent(float64(whole) / 100); got != whole {
			t.Errorf("%d of a hundred is %d percent", whole, got)
		}
	}
}

// TestAnyName says that no name makes a board fail, or runs into the bars.
func TestAnyName(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		name := rapid.String().Draw(r, "name")
		_, decoded := drawn(t, Picture{Title: name, Bars: []Bar{{Name: name, Note: name}}})
		for y := firstRow; y < firstRow+rowHigh; y++ {
			for _, x := range []int{barLeft - 3, shareRight + 6, width - 3} {
				if decoded.At(x, y) != canvas.Plain[canvas.Paper] {
					r.Fatalf("there is something at %d, %d", x, y)
				}
			}
		}
	})
}

func TestRefused(t *testing.T) {
	if _, err := evening().PNG(9); err == nil || err.Error() != "a picture is drawn at a scale of 1 to 4, not 9" {
		t.Errorf("scale 9: %v", err)
	}
}
