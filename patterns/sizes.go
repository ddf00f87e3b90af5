package patterns

import (
	"regexp"
	"strings"
)

var sizeList = regexp.MustCompile(`(\d+(?:\.\d+)?)\s*\(\s*(\d+(?:\.\d+)?(?:\s*,\s*\d+(?:\.\d+)?)*)\s*\)`)

// ForSize gives a note or tip as it reads in one size, counted from 0: where
// it has a number for each size, such as "45 (50, 55) cm", that size's alone.
// A list of another length stays as it is.
func (p *Pattern) ForSize(text string, size int) string {
	return sizeList.ReplaceAllStringFunc(text, func(list string) string {
		m := sizeList.FindStringSubmatch(list)
		numbers := append([]string{m[1]}, strings.Split(m[2], ",")...)
		if len(numbers) != p.SizeCount() || size < 0 || size >= len(numbers) {
			return list
		}
		return strings.TrimSpace(numbers[size])
	})
}
