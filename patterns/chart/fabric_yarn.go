package chart

import (
	"strconv"

	"clew/patterns/chart/canvas"
)

// tints are those of the yarns of a picture in the order in which they come.
// Where there are more, the letter alone tells them apart.
var tints = []canvas.Color{canvas.YarnA, canvas.YarnB, canvas.YarnC, canvas.YarnD, canvas.YarnE, canvas.YarnF}

// yarns are the yarns of a picture.
type yarns struct {
	order []uint8 // as the fabric counts them
	names []string
	place map[uint8]int
}

// yarnsOf gives the yarns that the stitches of a view are in.
func yarnsOf(v View) yarns {
	y := yarns{place: map[uint8]int{}}
	for i := v.From; i <= v.To; i++ {
		r := v.Plan.Rows[i]
		if i == v.From {
			for _, l := range r.Before.Loops() {
				y.add(l.Yarn, r.Before.YarnName(l.Yarn))
			}
		}
		for _, l := range r.After.Loops() {
			y.add(l.Yarn, r.After.YarnName(l.Yarn))
		}
	}
	return y
}

func (y *yarns) add(yarn uint8, name string) {
	if _, known := y.place[yarn]; known {
		return
	}
	if name == "" {
		name = "the yarn cast on with"
	}
	y.place[yarn] = len(y.order)
	y.order, y.names = append(y.order, yarn), append(y.names, name)
}

// letter is what stands for a yarn in the picture.
func (y *yarns) letter(yarn uint8) string {
	n := y.place[yarn]
	if n < 26 {
		return string(rune('A' + n))
	}
	return string(rune('A'+n%26)) + strconv.Itoa(n/26)
}

func (y *yarns) tint(yarn uint8) canvas.Color { return tints[y.place[yarn]%len(tints)] }
