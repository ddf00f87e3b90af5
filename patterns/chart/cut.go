package chart

// Limits of a picture.
const (
	MaxStitches = 40_000 // on the needle, over all rows that are drawn
	MaxHeight   = 4_096  // in units; a picture is Width units wide
	Width       = 1_200
)

// cut leaves of a view as many rows as may be drawn: at most so many, with at
// most MaxStitches stitches in all. It keeps the rows around the one that is
// marked, or else the first. It says CutRows where it left any out.
func cut(v View, rows int) (View, string) {
	centre := v.From
	if v.Here >= v.From && v.Here <= v.To {
		centre = v.Here
	}
	left := MaxStitches - stitchesOf(v, centre)
	from, to := centre, centre
	for grew := true; grew && to-from+1 < rows; {
		grew = false
		for _, next := range []int{to + 1, from - 1} {
			if next < v.From || next > v.To || next >= from && next <= to || to-from+1 >= rows {
				continue
			}
			if n := stitchesOf(v, next); n <= left {
				left -= n
				from, to, grew = min(from, next), max(to, next), true
			}
		}
	}
	if from == v.From && to == v.To {
		return v, ""
	}
	v.From, v.To = from, to
	return v, CutRows
}

// stitchesOf is how many stitches a row of the plan has, at its beginning or at
// its end, whichever is more.
func stitchesOf(v View, row int) int {
	r := v.Plan.Rows[row]
	return max(r.Before.Count(), r.After.Count())
}
