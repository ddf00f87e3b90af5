package fit

// longestTexture is after how many rows something is still looked for that
// repeats.
const longestTexture = 64

// A stretch is rows, by their indexes, that repeat every period rows, and stand
// at least twice.
type stretch struct{ from, to, period int }

// stretches finds where rows repeat; equal numbers are rows that say the same.
// Of rows that repeat every two rows it does not say that they repeat every four.
func stretches(rows []int) []stretch {
	var found []stretch
	for period := 1; period <= min(longestTexture, len(rows)/2); period++ {
		from := -1
		for i := 0; i <= len(rows)-period; i++ {
			if i < len(rows)-period && rows[i] == rows[i+period] {
				if from < 0 {
					from = i
				}
				continue
			}
			if from >= 0 && i-from >= period {
				if s := (stretch{from, i + period - 1, period}); !said(found, s) {
					found = append(found, s)
				}
			}
			from = -1
		}
	}
	return found
}

// said says that a stretch is part of one with a shorter period that goes into
// its own.
func said(found []stretch, s stretch) bool {
	for _, f := range found {
		if s.period%f.period == 0 && f.from <= s.from && s.to <= f.to {
			return true
		}
	}
	return false
}

// cuts gives the period of a texture, of two rows or more, that rows cut when
// they are left out or worked again: of the shortest that they stand in, where they are
// whole repeats of none. 0 is none.
func cuts(found []stretch, from, to int) int {
	shortest := 0
	for _, s := range found {
		if s.period < 2 || from < s.from || to > s.to {
			continue
		}
		if (to-from+1)%s.period == 0 {
			return 0
		}
		if shortest == 0 {
			shortest = s.period
		}
	}
	return shortest
}
