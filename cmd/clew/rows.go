package main

import (
	"strconv"
	"strings"

	"clew/patterns"
)

// rowSpan reads a range of rows, "5-8" or "5"; nothing is all rows.
func rowSpan(rows string) (from, to int, err error) {
	if rows == "" {
		return 1, patterns.MaxRows, nil
	}
	first, last, several := strings.Cut(rows, "-")
	from, errFrom := strconv.Atoi(strings.TrimSpace(first))
	to, errTo := from, error(nil)
	if several {
		to, errTo = strconv.Atoi(strings.TrimSpace(last))
	}
	if errFrom != nil || errTo != nil || from < 1 || to < from {
		return 0, 0, usage("--rows %q is no range of rows; write --rows 5-8", rows)
	}
	return from, to, nil
}

func inSection(name string) string {
	if name == "" {
		return ""
	}
	return " in its section " + name
}
