package problem

// Nearest gives the known word that is fewest single-letter edits from word,
// or "" where none is near: more than a third of its letters, and at least
// two, would have to change. Ties go to the earlier known word.
func Nearest(word string, known []string) string {
	w := []rune(word)
	limit := max(1, len(w)/3)
	if len(w) > 3 {
		limit = max(2, limit)
	}
	best, found := limit+1, ""
	for _, k := range known {
		r := []rune(k)
		if len(r)-len(w) > limit || len(w)-len(r) > limit {
			continue
		}
		if d := edits(w, r); d < best && d < max(len(w), len(r)) {
			best, found = d, k
		}
	}
	return found
}

// edits counts the insertions, deletions, replacements and swaps of
// neighbours that turn a into b.
func edits(a, b []rune) int {
	before, above := make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range above {
		above[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row := make([]int, len(b)+1)
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(above[j]+1, row[j-1]+1, above[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, above = above, row
	}
	return above[len(b)]
}
