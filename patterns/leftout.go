package patterns

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// FormatLeftOut gives the fixed spelling of rows left out, by which a place
// keeps them: "Lantern 5: 2; Yoke 9: 4", in the order of owner and row.
func FormatLeftOut(leave []LeftOut) string {
	sorted := slices.Clone(leave)
	slices.SortFunc(sorted, func(a, b LeftOut) int {
		if c := strings.Compare(a.Owner, b.Owner); c != 0 {
			return c
		}
		return a.From - b.From
	})
	var parts []string
	for _, l := range sorted {
		if l.Rows > 0 {
			parts = append(parts, fmt.Sprintf("%s %d: %d", l.Owner, l.From, l.Rows))
		}
	}
	return strings.Join(parts, "; ")
}

// ParseLeftOut reads what FormatLeftOut gives; nothing is no rows.
func ParseLeftOut(text string) ([]LeftOut, error) {
	var leave []LeftOut
	for _, part := range strings.Split(text, "; ") {
		if part == "" {
			continue
		}
		head, rows, ok := cutLast(part, ": ")
		owner, from, ok2 := cutLast(head, " ")
		count, err := strconv.Atoi(rows)
		first, err2 := strconv.Atoi(from)
		if !ok || !ok2 || err != nil || err2 != nil {
			return nil, fmt.Errorf("%q does not say which rows are left out", part)
		}
		leave = append(leave, LeftOut{Owner: owner, From: first, Rows: count})
	}
	return leave, nil
}

func cutLast(s, sep string) (before, after string, found bool) {
	if i := strings.LastIndex(s, sep); i >= 0 {
		return s[:i], s[i+len(sep):], true
	}
	return s, "", false
}
