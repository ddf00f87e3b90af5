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

	castOn uint8 // what the yarn that was cast on with is; 0 for a yarn of its own
}

// yarnsOf gives the yarns that the stitches of a view are in.
func yarnsOf(v View) yarns {
	y := yarns{place: map[uint8]int{}, castOn: castOnYarn(v)}
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

// castOnYarn is the yarn that was cast on with, though the pattern did not say
// so then: that of the first row, where all of it is named.
func castOnYarn(v View) uint8 {
	loops := v.Plan.Rows[0].After.Loops()
	if len(loops) == 0 {
		return 0
	}
	for _, l := range loops {
		if l.Yarn == 0 {
			return 0
		}
	}
	return loops[0].Yarn
}

// of is a yarn as the picture counts it.
func (y *yarns) of(yarn uint8) int {
	if yarn == 0 {
		yarn = y.castOn
	}
	return y.place[yarn]
}

func (y *yarns) add(yarn uint8, name string) {
	if yarn == 0 && y.castOn != 0 {
		return
	}
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
	n := y.of(yarn)
	if n < 26 {
		return string(rune('A' + n))
	}
	return string(rune('A'+n%26)) + strconv.Itoa(n/26)
}

func (y *yarns) tint(yarn uint8) canvas.Color { return tints[y.of(yarn)%len(tints)] }
