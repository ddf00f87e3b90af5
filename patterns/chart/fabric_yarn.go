package chart

import (
	"slices"
	"strconv"

	"clew/patterns/chart/canvas"
	"clew/patterns/fabric"
)

// tints are those of the yarns of a picture in the order in which they come.
// Where there are more, the letter alone tells them apart.
var tints = []canvas.Color{canvas.YarnA, canvas.YarnB, canvas.YarnC, canvas.YarnD, canvas.YarnE, canvas.YarnF}

// yarns are the yarns of a picture.
type yarns struct {
	order  []uint8 // as the fabric counts them, which is as they were taken up
	names  []string
	castOn uint8 // what the yarn that was cast on with is; 0 for one of its own
}

// newYarns gives the yarns of a view, of which none has come yet.
func newYarns(v View) yarns { return yarns{castOn: castOnYarn(v)} }

// add notes that a yarn comes in a picture.
func (y *yarns) add(yarn uint8, name string) {
	yarn = y.of(yarn)
	i, known := slices.BinarySearch(y.order, yarn)
	if known {
		return
	}
	if yarn == 0 {
		name = "the yarn cast on with"
	}
	y.order, y.names = slices.Insert(y.order, i, yarn), slices.Insert(y.names, i, name)
}

// yarnsOf gives the yarns that the stitches of a view are in.
func yarnsOf(v View) yarns {
	y := newYarns(v)
	var seen [256]bool
	look := func(f fabric.Fabric) {
		for _, l := range f.Loops() {
			if yarn := y.of(l.Yarn); !seen[yarn] {
				seen[yarn] = true
				y.add(yarn, f.YarnName(yarn))
			}
		}
	}
	for i := v.From; i <= v.To; i++ {
		r := v.Plan.Rows[i]
		if i == v.From && i > 0 { // the first row of all says what was cast on with
			look(r.Before)
		}
		look(r.After)
	}
	return y
}

// castOnYarn is the yarn that was cast on with, though the pattern did not say
// so then: that of the first row, where all of it is named.
func castOnYarn(v View) uint8 {
	loops := v.Plan.Rows[0].After.Loops()
	if len(loops) == 0 || slices.ContainsFunc(loops, func(l fabric.Loop) bool { return l.Yarn == 0 }) {
		return 0
	}
	return loops[0].Yarn
}

// of is a yarn, or the one that it stands for.
func (y *yarns) of(yarn uint8) uint8 {
	if yarn == 0 {
		return y.castOn
	}
	return yarn
}

// place is which yarn of the pattern it is, from 0: the same in all its
// pictures.
func (y *yarns) place(yarn uint8) int {
	n := int(y.of(yarn))
	if y.castOn > 0 {
		n--
	}
	return n
}

// letter is what stands for a yarn in the picture.
func (y *yarns) letter(yarn uint8) string {
	n := y.place(yarn)
	if n < 26 {
		return string(rune('A' + n))
	}
	return string(rune('A'+n%26)) + strconv.Itoa(n/26)
}

func (y *yarns) tint(yarn uint8) canvas.Color { return tints[y.place(yarn)%len(tints)] }
