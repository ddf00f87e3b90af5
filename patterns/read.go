package patterns

import (
	"context"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"clew/patterns/instruction"
	"clew/patterns/problem"
	"clew/patterns/stitch"
)

// Read reads a pattern and proves it. It gives every problem in one go, in the
// order of the text; with an error among them the pattern can't be laid out,
// though what could be read of it is still given. It never fails otherwise.
func Read(src []byte) (*Pattern, []problem.Problem) {
	p, problems, _ := ReadWithin(context.Background(), src)
	return p, problems
}

// ReadWithin is Read for a text whose size in rows and stitches nobody vouches
// for: it gives up when ctx ends, with ctx's error and no pattern. It notices
// that within a row's work, which is under ten milliseconds for the widest.
func ReadWithin(ctx context.Context, src []byte) (*Pattern, []problem.Problem, error) {
	src = problem.PlainLines(src)
	r := &reading{src: string(src), pattern: &Pattern{Abbreviations: &instruction.Abbreviations{}, text: slices.Clone(src)}}
	if r.pattern.stopped = !r.readable(); !r.pattern.stopped {
		r.pattern.src = r.src
		r.read()
	}
	if !r.pattern.stopped {
		r.problems = append(r.problems, r.pattern.prove(ctx, HasErrors(r.problems))...)
	}
	if err := ctx.Err(); err != nil {
		return nil, nil, err
	}
	slices.SortStableFunc(r.problems, func(a, b problem.Problem) int { return a.Start - b.Start })
	r.problems = unique(r.problems)
	r.pattern.sound = !HasErrors(r.problems)
	return r.pattern, r.problems, nil
}

// HasErrors says whether any of the problems refuses the pattern.
func HasErrors(problems []problem.Problem) bool {
	return slices.ContainsFunc(problems, func(p problem.Problem) bool { return p.Severity == problem.Error })
}

// unique drops problems that were told already of the same place.
func unique(problems []problem.Problem) []problem.Problem {
	type place struct {
		problem.Span
		code, message string
	}
	seen := map[place]bool{}
	return slices.DeleteFunc(problems, func(p problem.Problem) bool {
		at := place{p.Span, p.Code, p.Message}
		again := seen[at]
		seen[at] = true
		return again
	})
}

// reading is a file being read: the line that has been reached, and the panel
// or section that is open there.
type reading struct {
	src      string
	pattern  *Pattern
	problems []problem.Problem
	panel    *Panel
	section  *Section
	rows     []rowText
	across   []acrossText
	defs     []textLine
	failed   map[string]bool // abbreviations of the pattern's own that can't be read, by their names

	seen, sectionSeen map[string]problem.Span // keys that stand once, of the header and of the open section
}

// A rowText is a row line whose text is still to be parsed: that waits until
// all abbreviations and panels are known.
type rowText struct {
	line  *Line
	value problem.Span
}

type acrossText struct {
	section *Section
	value   problem.Span
}

func (r *reading) fail(at problem.Span, code, format string, args ...any) *problem.Problem {
	r.problems = append(r.problems, *problem.Errorf(at, code, format, args...))
	return &r.problems[len(r.problems)-1]
}

// readable refuses what is no text at all, before anything is made of it.
func (r *reading) readable() bool {
	first := problem.Span{End: min(1, len(r.src))}
	switch {
	case len(r.src) > MaxBytes:
		r.fail(first, "file-size", "the file has more than %d KB; a pattern has at most that much", MaxBytes>>10)
	case strings.TrimSpace(strings.TrimPrefix(r.src, "\ufeff")) == "":
		r.fail(first, "empty-file", "the file is empty").Suggest("begin with a line such as: Pattern: the title")
	default:
		return r.mendBytes()
	}
	return false
}

// badBytes is of how many bytes one may be none of a text before the file is
// taken for something else.
const badBytes = 100

// mendBytes tells of bytes that are none of a text, and reads them as spaces.
// It says false where there are so many that this is no text at all: then the
// first alone is told.
func (r *reading) mendBytes() bool {
	text := []byte(r.src)
	var bad []problem.Span
	count := 0
	for i := 0; i < len(text); {
		c, size := utf8.DecodeRune(text[i:])
		if c == 0 || c == utf8.RuneError && size == 1 {
			if count++; len(bad) == 0 || bad[len(bad)-1].End < i {
				bad = append(bad, problem.Span{Start: i, End: i})
			}
			bad[len(bad)-1].End = i + 1
		}
		i += size
	}
	isText := count*badBytes <= len(text)
	if !isText {
		first := bad[0].Start
		if zero := strings.IndexByte(r.src, 0); zero >= 0 { // two bytes a letter
			first = zero
		}
		bad = []problem.Span{{Start: first, End: first + 1}}
	}
	for _, at := range bad {
		if text[at.Start] == 0 {
			r.fail(at, "not-text", "a zero byte was found, which is part of no text").Suggest("save the pattern as plain text in UTF-8")
		} else {
			r.fail(at, "not-utf8", "a byte that is not UTF-8 was found").Suggest("save the pattern as plain text in UTF-8")
		}
		for i := at.Start; i < at.End; i++ {
			text[i] = ' '
		}
	}
	r.src = string(text)
	return isText
}

func (r *reading) read() {
	lines, problems := split(r.src)
	r.problems = append(r.problems, problems...)
	r.seen, r.sectionSeen, r.failed = map[string]problem.Span{}, map[string]problem.Span{}, map[string]bool{}
	r.sizes(lines)
	r.pattern.Rounds = guessRounds(lines)
	for _, l := range lines {
		r.line(l)
	}
	r.needed()
	r.define()
	r.parseRows()
}

// guessRounds tells from the words of the row lines how a pattern is worked
// that does not say it as it should.
func guessRounds(lines []textLine) bool {
	rounds, rows := 0, 0
	for _, l := range lines {
		switch name := strings.ToLower(l.name); {
		case l.key != "row":
		case strings.HasPrefix(name, "rou"), strings.HasPrefix(name, "rnd"):
			rounds++
		default:
			rows++
		}
	}
	return rounds > rows
}

// line gives a line to what it belongs to.
func (r *reading) line(l textLine) {
	switch l.key {
	case "row":
		r.row(l)
	case "tip":
		r.tip(l)
	case "panel":
		r.openPanel(l)
	case "section":
		r.openSection(l)
	case "across":
		r.acrossLine(l)
	case "worked", "gauge", "cast on":
		if r.section != nil {
			r.sectionKey(l)
			return
		}
		r.header(l)
	default:
		r.header(l)
	}
}

func (r *reading) openPanel(l textLine) {
	r.panel, r.section = &Panel{Span: l.keyAt.To(l.valueAt)}, nil
	value := r.src[l.valueAt.Start:l.valueAt.End]
	comma := strings.IndexByte(value, ',')
	if comma < 0 {
		r.fail(l.valueAt, "panel-width", "the panel's width was expected after its name").Suggest("write: Panel: %s, 3 sts", l.value(r.src))
		comma = len(value)
	} else {
		n, problems := instruction.ParseCount(r.src, problem.Span{Start: l.valueAt.Start + comma + 1, End: l.valueAt.End}, r.pattern.SizeCount())
		r.panel.Width = n
		r.problems = append(r.problems, problems...)
	}
	r.panel.Name = strings.Join(strings.Fields(value[:comma]), " ")
	switch {
	case r.panel.Name == "":
		r.fail(l.keyAt, "panel-name", "the panel has no name").Suggest("write: Panel: Seed edge, 3 sts")
	case slices.ContainsFunc(r.pattern.Panels, func(p *Panel) bool { return strings.EqualFold(p.Name, r.panel.Name) }):
		r.fail(l.valueAt, "twice", "a panel called %q stands above already", r.panel.Name).Suggest("give this one a name of its own")
	}
	r.checkName(l.valueAt, r.panel.Name)
	r.pattern.Panels = append(r.pattern.Panels, r.panel)
	if len(r.pattern.Panels) == MaxPanels+1 {
		r.fail(l.keyAt, "too-many-panels", "a pattern has at most %d panels, and this is one more", MaxPanels).Suggest("write the rows of some panels out where they are worked")
		r.pattern.stopped = true
	}
}

func (r *reading) openSection(l textLine) {
	r.sectionSeen = map[string]problem.Span{}
	r.panel, r.section = nil, &Section{Span: l.keyAt.To(l.valueAt), Name: l.value(r.src), Rounds: r.pattern.Rounds}
	switch {
	case r.section.Name == "":
		r.fail(l.keyAt, "section-name", "the section has no name").Suggest("write: Section: Brim")
	case slices.ContainsFunc(r.pattern.Sections, func(s *Section) bool { return strings.EqualFold(s.Name, r.section.Name) }):
		r.fail(l.valueAt, "twice", "a section called %q stands above already", r.section.Name).
			Suggest("rename one, such as %s two: a knitter's place is told by section and row", r.section.Name)
	}
	r.checkName(l.valueAt, r.section.Name)
	r.pattern.Sections = append(r.pattern.Sections, r.section)
}

// MaxName is the longest name of a pattern, size, panel or section, in bytes.
const MaxName = 256

// checkName refuses a name that can't be kept with a knitter's place, or shown.
func (r *reading) checkName(at problem.Span, name string) {
	switch {
	case len(name) > MaxName:
		r.fail(at, "name", "a name of %d bytes stands here, and one has at most %d", len(name), MaxName).Suggest("shorten it; what is told of it can be a Note")
	case strings.ContainsFunc(name, unicode.IsControl):
		r.fail(at, "name", "the name has a character that can't be shown").Suggest("type it anew")
	}
}

func (r *reading) acrossLine(l textLine) {
	switch {
	case r.section == nil:
		r.fail(l.keyAt, "misplaced", "an Across line belongs under a Section line").Suggest("move it down, under the section whose rows work the panels")
	case r.section.acrossAt.End > 0:
		r.fail(l.keyAt, "twice", "this section has an Across line already").Suggest("begin a new section where the panels change")
	default:
		r.section.acrossAt = l.valueAt
		r.across = append(r.across, acrossText{r.section, l.valueAt})
	}
}

// asideForm is what belongs in front of a row's colon and may stand behind it.
var asideForm = regexp.MustCompile(`(?i)^([(\[]\s*(?:rs|ws|right side|wrong side|optional)\b[^()\[\]]*[)\]])\s*[:.,]?\s*`)

// row opens a row line. Rows before any section make up one of their own,
// called by the pattern's title.
func (r *reading) row(l textLine) {
	if r.panel == nil && r.section == nil {
		r.section = &Section{Span: l.keyAt, Name: r.pattern.Title, Rounds: r.pattern.Rounds}
		r.pattern.Sections = append(r.pattern.Sections, r.section)
	}
	line := &Line{}
	line.Head = instruction.Head{Span: l.keyAt}
	if line.unsure = l.broken; !l.broken {
		head, problems := instruction.ParseHead(r.src, l.keyAt, r.pattern.SizeCount())
		r.problems = append(r.problems, problems...)
		line.unsure = len(problems) > 0
		if !misnumbered(problems) {
			line.Head = head
		}
		if line.Side == instruction.SideUnsaid && !r.inRounds() && (head.Every == instruction.EveryWS || head.Every == instruction.EveryRS) {
			line.Side = sideOf(head.Every) // "Row 1 and all WS rows"
		}
	}
	if m := asideForm.FindStringSubmatchIndex(r.src[l.valueAt.Start:l.valueAt.End]); m != nil {
		at := problem.Span{Start: l.valueAt.Start + m[2], End: l.valueAt.Start + m[3]}
		r.problems = append(r.problems, instruction.ParseAside(r.src, at, r.pattern.SizeCount(), &line.Head)...)
		l.valueAt.Start += m[1]
	}
	line.Instruction = &instruction.Instruction{Span: l.valueAt}
	r.rows = append(r.rows, rowText{line, l.valueAt})
	if r.panel != nil {
		r.panel.Lines = append(r.panel.Lines, line)
	} else {
		r.section.Lines = append(r.section.Lines, line)
	}
}

// inRounds says how the rows of the open panel or section are worked.
func (r *reading) inRounds() bool {
	if r.panel == nil && r.section != nil {
		return r.section.Rounds
	}
	return r.pattern.Rounds
}

// misnumbered says that the numbers of a row's head can't be relied on.
func misnumbered(problems []problem.Problem) bool {
	return slices.ContainsFunc(problems, func(p problem.Problem) bool {
		return p.Code == "size-list" || p.Code == "row-number" || p.Code == "number-large"
	})
}

func (r *reading) tip(l textLine) {
	var lines []*Line
	if r.panel != nil {
		lines = r.panel.Lines
	} else if r.section != nil {
		lines = r.section.Lines
	}
	if len(lines) == 0 {
		r.fail(l.keyAt, "misplaced", "a Tip is said after the row above it, and no row is above this one").Suggest("move it below its row, or make it a Note in the header")
		return
	}
	last := lines[len(lines)-1]
	last.Tips = append(last.Tips, l.value(r.src))
}

func (r *reading) options() instruction.Options {
	return instruction.Options{Sizes: r.pattern.SizeCount(), Abbreviations: r.pattern.Abbreviations}
}

func (r *reading) parseRows() {
	if r.pattern.stopped {
		return
	}
	for _, t := range r.rows {
		in, problems := instruction.Parse(r.src, t.value, r.options())
		t.line.Instruction = in
		if len(problems) > 0 || r.usesFailed(in.Body) {
			t.line.partial, t.line.meant = in.Body, r.meant(t.value, problems)
			t.line.vague = len(problems) == 0 || t.line.meant == nil && vague(in.Body, problems)
			t.line.near = !t.line.vague && slices.ContainsFunc(problems, func(p problem.Problem) bool { return p.Code == "unknown-abbreviation" })
			t.line.Body = nil
		}
		r.problems = append(r.problems, problems...)
	}
	opts := r.options()
	for _, p := range r.pattern.Panels {
		if p.Name != "" {
			opts.Panels = append(opts.Panels, p.Name)
		}
	}
	for _, a := range r.across {
		nodes, problems := instruction.ParseAcross(r.src, a.value, opts)
		if a.section.Across = nodes; len(problems) > 0 {
			a.section.Across = nil
		}
		a.section.panels = panelsIn(a.section.Across)
		r.problems = append(r.problems, problems...)
	}
}

// meant reads an instruction with what is likely to be meant in place of names
// that nothing knows; nil where it still has problems.
func (r *reading) meant(at problem.Span, problems []problem.Problem) []instruction.Node {
	var text strings.Builder
	from := at.Start
	for _, p := range problems {
		if p.Meant == "" {
			return nil
		}
		text.WriteString(r.src[from:p.Start] + p.Meant)
		from = p.End
	}
	text.WriteString(r.src[from:at.End])
	in, problems := instruction.Parse(text.String(), problem.Span{End: text.Len()}, r.options())
	if len(problems) > 0 {
		return nil
	}
	return in.Body
}

// shapes says that nodes may use another number of stitches than they make.
func shapes(nodes []instruction.Node) bool {
	return slices.ContainsFunc(nodes, func(n instruction.Node) bool {
		switch n := n.(type) {
		case *instruction.Work:
			return n.Stitch.Net() != 0 || n.Stitch.Kind == stitch.PassOver || n.Stitch.Kind == stitch.BindOff
		case *instruction.Repeat:
			return shapes(n.Body)
		case *instruction.Cross, *instruction.Marker, *instruction.AsLooks, *instruction.Bead:
			return false
		}
		return true
	})
}

// vague says that an instruction with problems may change the count of stitches
// by any number: there is one inside a group, or with the groups themselves,
// and not all that could be read of it leaves the count alone.
func vague(body []instruction.Node, problems []problem.Problem) bool {
	unknown := slices.ContainsFunc(problems, func(p problem.Problem) bool { return p.Code == "unknown-abbreviation" })
	if len(body) > 0 && !unknown && !shapes(body) {
		return false
	}
	return len(body) == 0 || slices.ContainsFunc(problems, func(p problem.Problem) bool {
		switch p.Code {
		case "unknown-abbreviation", "comma-missing", "not-a-stitch", "character", "count-alone", "count-missing", "two-meanings",
			"cross-unfinished", "cross-width", "cross-nested", "size-list", "stated-place":
		default:
			return true
		}
		return slices.ContainsFunc(body, func(n instruction.Node) bool {
			_, group := n.(*instruction.Repeat)
			return group && within(p.Span, n.Pos())
		})
	})
}
