// Package cases loads the table of instructions that the tests of the parser,
// of the printer, of the fabric and of the spoken English share, and that
// seeds their fuzz targets. Only tests import it.
//
// The table is patterns/instruction/testdata/cases.txt. Each case is a few
// lines, the first character of which says what they are:
//
//   - "== name" opens a case; no two have the same name.
//   - "< text" is one way to write the instruction; in Go quotes where a
//     character could not be seen or would end the line.
//   - "> text" is the one canonical text of all of them.
//   - "= uses makes" gives the stitches a row takes off the left needle and
//     the stitches it leaves, where both are fixed.
//   - "! line:col code message" is a problem, in order; the message is given
//     as far as it matters. A case has either ">" or "!".
//   - "sizes 3", "stated 96 108", "nesting 3", "abbr T5R = text" and
//     "across Seed edge; Lantern" (an Across line, and the panels it may name)
//     say what the row stands in.
//   - "#" is a remark.
package cases

import (
	"fmt"
	"os"
	"strconv"
	"strings"
)

// A Case is one entry of the table.
type Case struct {
	Name       string
	Line       int // where it begins in the file, from 1
	Spellings  []string
	Canonical  string
	Problems   []Problem
	Fixed      bool // Uses and Makes are given
	Uses       int  // stitches
	Makes      int  // stitches
	Sizes      int  // how many sizes the pattern has, at least 1
	Stated     []int
	MaxNesting int      // 0: the parser's own limit
	Abbr       []string // "NAME = text"
	Across     bool     // an Across line
	Panels     []string // that an Across line may name
}

// A Problem is what is expected to be told.
type Problem struct {
	Line, Col int
	Code      string
	Message   string // its beginning
}

// Load reads the table at a path. The error says which line is wrong.
func Load(path string) ([]Case, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	var all []Case
	names := map[string]bool{}
	for i, line := range strings.Split(string(data), "\n") {
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		if name, ok := strings.CutPrefix(line, "== "); ok {
			if names[name] {
				return nil, fmt.Errorf("%s:%d: there are two cases called %q", path, i+1, name)
			}
			names[name] = true
			all = append(all, Case{Name: name, Line: i + 1, Sizes: 1})
			continue
		}
		if len(all) == 0 {
			return nil, fmt.Errorf("%s:%d: this line stands before the first case", path, i+1)
		}
		if err := all[len(all)-1].add(line); err != nil {
			return nil, fmt.Errorf("%s:%d: %w", path, i+1, err)
		}
	}
	for _, c := range all {
		if len(c.Spellings) == 0 || (c.Canonical == "") == (len(c.Problems) == 0) {
			return nil, fmt.Errorf("%s:%d: a case needs a spelling, and either a canonical text or problems", path, c.Line)
		}
	}
	return all, nil
}

func (c *Case) add(line string) (err error) {
	key, value, _ := strings.Cut(line, " ")
	switch key {
	case "<":
		if strings.HasPrefix(value, `"`) {
			value, err = strconv.Unquote(value)
		}
		c.Spellings = append(c.Spellings, value)
	case ">":
		c.Canonical = value
	case "=":
		c.Fixed = true
		_, err = fmt.Sscanf(value, "%d %d", &c.Uses, &c.Makes)
	case "!":
		var p Problem
		at, rest, _ := strings.Cut(value, " ")
		p.Code, p.Message, _ = strings.Cut(rest, " ")
		_, err = fmt.Sscanf(at, "%d:%d", &p.Line, &p.Col)
		c.Problems = append(c.Problems, p)
	case "sizes":
		c.Sizes, err = strconv.Atoi(value)
	case "nesting":
		c.MaxNesting, err = strconv.Atoi(value)
	case "stated":
		for _, word := range strings.Fields(value) {
			n, bad := strconv.Atoi(word)
			if bad != nil {
				err = bad
			}
			c.Stated = append(c.Stated, n)
		}
	case "abbr":
		c.Abbr = append(c.Abbr, value)
	case "across":
		c.Across, c.Panels = true, strings.Split(value, "; ")
	default:
		err = fmt.Errorf("%q begins no line of a case", key)
	}
	return err
}
