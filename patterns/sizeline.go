package patterns

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"clew/patterns/problem"
)

// sizes reads the line that names the sizes, wherever it stands, since numbers
// by size can stand above it.
func (r *reading) sizes(lines []textLine) {
	i := slices.IndexFunc(lines, func(l textLine) bool { return l.key == "sizes" })
	if i < 0 { // a misspelt one is told later, and counts all the same
		i = slices.IndexFunc(lines, func(l textLine) bool { return !known(l.key) && nearestKey(l.name, keys) == "Sizes" })
	}
	if i >= 0 && lines[i].value(r.src) != "" {
		r.sizeNames(lines[i])
	}
	r.sizeLists(lines, i)
	if n := len(r.pattern.Sizes); n > MaxSizes {
		at := problem.Span{}
		if i >= 0 {
			at = lines[i].valueAt
		}
		r.fail(at, "too-many-sizes", "%d sizes stand here; a pattern has at most %d", n, MaxSizes).Suggest("put some of them into a pattern of their own")
		r.pattern.stopped = true
	}
}

// sizeNames reads "small (medium, large)". A size without a name of its own
// counts all the same, so that its numbers are no further mistakes.
func (r *reading) sizeNames(l textLine) {
	first, rest, more := strings.Cut(strings.NewReplacer("[", "(", "{", "(", "]", ")", "}", ")").Replace(l.value(r.src)), "(")
	names := []string{first}
	if more {
		rest, after, closed := strings.Cut(rest, ")")
		if !closed || strings.Trim(after, " .") != "" {
			r.fail(l.valueAt, "sizes", "the sizes after the first stand in one pair of parentheses").Suggest("write: Sizes: small (medium, large)")
		}
		names = append(names, strings.Split(rest, ",")...)
	} else if strings.Contains(first, ",") {
		names = strings.Split(first, ",")
	}
	for _, name := range names {
		name = strings.Join(strings.Fields(name), " ")
		switch {
		case name == "":
			r.fail(l.valueAt, "sizes", "a size has no name").Suggest("write: Sizes: small (medium, large)")
		case slices.ContainsFunc(r.pattern.Sizes, func(s string) bool { return strings.EqualFold(s, name) }):
			r.fail(l.valueAt, "sizes", "the size %s stands twice", problem.Quote(name)).Suggest("give each size a name of its own")
		}
		r.checkName(l.valueAt, name)
		r.pattern.Sizes = append(r.pattern.Sizes, name)
	}
}

var wholeList = regexp.MustCompile(`\d[\s\x{a0}]*\([\s\x{a0}]*\d+(?:[\s\x{a0}]*,[\s\x{a0}]*\d+)*[\s\x{a0}]*\)`)

// sizeLists looks at the lists of numbers in the whole pattern. Where they all
// agree on how many sizes there are and the Sizes line does not, that is one
// mistake and not as many as there are lists.
func (r *reading) sizeLists(lines []textLine, named int) {
	length, first, lists := 0, problem.Span{}, 0
	for _, l := range lines {
		switch l.key {
		case "note", "tip", "by", "pattern", "sizes", "needles":
			continue
		}
		text := r.src[l.valueAt.Start:l.valueAt.End]
		for _, m := range wholeList.FindAllStringIndex(text, -1) {
			n := strings.Count(text[m[0]:m[1]], ",") + 2
			if lists == 0 {
				length, first = n, problem.Span{Start: l.valueAt.Start + m[0], End: l.valueAt.Start + m[1]}
			}
			if n != length {
				return
			}
			lists++
		}
	}
	have := len(r.pattern.Sizes)
	if lists < 2 || length == max(1, have) {
		return
	}
	if named >= 0 {
		r.fail(lines[named].valueAt, "sizes", "%s named here, and every list of numbers in the pattern is for %d", areSizes(have), length).
			Suggest("name a size for each number")
	} else {
		r.fail(first, "missing-key", "numbers for %d sizes stand here, and the header has no Sizes line", length).
			Suggest("write in the header: Sizes: small (medium, large)")
	}
	for i := have; i < length && i <= MaxSizes; i++ {
		r.pattern.Sizes = append(r.pattern.Sizes, fmt.Sprintf("size %d", i+1))
	}
	r.pattern.Sizes = r.pattern.Sizes[:min(length, len(r.pattern.Sizes))]
}

func areSizes(n int) string {
	if n == 1 {
		return "1 size is"
	}
	return fmt.Sprintf("%d sizes are", n)
}
