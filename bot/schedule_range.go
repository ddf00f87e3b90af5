package bot

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"clew/patterns/problem"
	"clew/session"
)

var (
	rangeParting = regexp.MustCompile(`(?i)\s+to\s+|\s*[-–—]\s*`)
	numberedEnd  = regexp.MustCompile(`(?i)^(.*?)[\s,]*\b(?:(?:rows?|rounds?|rnds?)\s*)?(\d{1,6})$`)
)

// partingsMost is how many of the characters that may part a line are tried, since the
// name of a section may have them in it, too.
const partingsMost = 8

// rowEndMost is how long one end of a range may be, in bytes: a name, and a row's number.
const rowEndMost = titleMost + 32

// A rowEnd is one end of a range of rows: a section, with a row of it or without.
type rowEnd struct {
	section *rowSection
	row     int // 0 for none
	piece
}

// rowRange reads rows: "Brim", "Lanterns 4", "Lanterns 5-16", "Brim 1 to Lanterns 4".
// A section's name goes before what could be a range in it.
func (s *scheduling) rowRange(p piece) (first, last session.RowID, wrong *problem.Problem) {
	if section := s.rows.section(p.text); section != nil {
		return section.first(), section.last(), nil
	}
	for _, m := range rangeParting.FindAllStringIndex(p.text, partingsMost) {
		from, ok := s.rowEnd(p.part(0, m[0]), nil)
		if !ok {
			continue
		}
		if to, ok := s.rowEnd(p.part(m[1], len(p.text)), from.section); ok {
			return s.between(from, to)
		}
	}
	if one, ok := s.rowEnd(p, nil); ok {
		return s.between(one, one)
	}
	return first, last, s.noRows(p)
}

// rowEnd reads one end; a number alone is of the section in which the range begins.
func (s *scheduling) rowEnd(p piece, in *rowSection) (rowEnd, bool) {
	if len(p.text) > rowEndMost {
		return rowEnd{}, false
	}
	if section := s.rows.section(p.text); section != nil {
		return rowEnd{section, 0, p}, true
	}
	m := numberedEnd.FindStringSubmatch(p.text)
	if m == nil {
		return rowEnd{}, false
	}
	section := in
	if strings.TrimSpace(m[1]) != "" {
		section = s.rows.section(m[1])
	}
	row, err := strconv.Atoi(m[2])
	return rowEnd{section, row, p}, section != nil && err == nil
}

// between gives the first and the last row of a range whose ends are known, or what
// is wrong where one is of no row.
func (s *scheduling) between(from, to rowEnd) (first, last session.RowID, wrong *problem.Problem) {
	first, last = from.section.first(), to.section.last()
	for _, end := range []rowEnd{from, to} {
		numbers := end.section.numbers
		if end.text == "" || slices.Contains(numbers, end.row) || from.piece != to.piece && end.row == 0 {
			continue
		}
		least, most := numbers[0], numbers[len(numbers)-1]
		wrong = problem.Errorf(end.span(), "sessions-row", "%s has no %s %d; its %ss are %d to %d", end.section.Name, end.section.word(), end.row, end.section.word(), least, most)
		near := most
		if end.row < least {
			near = least
		}
		return first, last, wrong.Suggest("write: %s", rowText(session.RowID{Section: end.section.Name, Row: near}))
	}
	if from.row > 0 {
		first.Row = from.row
	}
	if to.row > 0 {
		last.Row = to.row
	}
	return first, last, nil
}

var leadingName = regexp.MustCompile(`(?i)^(.*?)[\s,]*(?:(?:rows?|rounds?|rnds?)\s*)?(?:\d+)?$`)

// noRows says that a range names a section that there is none of: its second end
// where the first is known, else its first, where it has two.
func (s *scheduling) noRows(p piece) *problem.Problem {
	named, known := p, false
	for _, m := range rangeParting.FindAllStringIndex(p.text, partingsMost) {
		from, to := p.part(0, m[0]), p.part(m[1], len(p.text))
		if _, ok := s.rowEnd(from, nil); ok {
			named = to
			break
		}
		_, ends := s.rowEnd(to, nil)
		if !known && (ends || strings.TrimSpace(p.text[m[0]:m[1]]) == "to") {
			named, known = from, ends
		}
	}
	if m := leadingName.FindStringSubmatchIndex(named.text); m != nil && m[3] > m[2] {
		named = named.part(m[2], m[3])
	}
	wrong := problem.Errorf(named.span(), "sessions-section", "there is no section called %s", problem.Quote(named.text))
	var names, folded []string
	for _, section := range s.rows.sections {
		names, folded = append(names, section.Name), append(folded, foldName(section.Name))
	}
	if near := problem.Nearest(foldName(named.text), folded); near != "" {
		return wrong.Suggest("did you mean %s?", names[slices.Index(folded, near)])
	}
	return wrong.Suggest("the sections are %s", strings.Join(names, ", "))
}
