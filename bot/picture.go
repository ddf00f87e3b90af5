package bot

import (
	"context"
	"errors"
	"slices"
	"strconv"
	"strings"

	"clew/patterns"
	"clew/patterns/chart"
	"clew/reader"
	"clew/reader/listen"
)

// A view names a picture: rows of a plan, the one that is marked, and the look.
type view struct {
	choice
	open           int    // how many rows are open
	panel          string // its rows by themselves, in place of the plan's; "" for none
	from, to, here int    // as in chart.View
	fabric         bool
}

// How many rows a picture shows where none are named.
const (
	sectionShown = 40 // a section of up to so many rows is shown whole
	rowsAround   = 12 // of a longer one so many before and after the member's row
	fabricShown  = 60 // of the work so far the newest rows
)

// picturesMost bounds the pictures that stay in memory, in bytes. One has some
// 10 to 40 thousand.
const picturesMost = 16 << 20

// picture shows rows: those around the member's place, or those that she names.
func (t *talk) picture(ctx context.Context) (Reply, error) {
	if len(t.plan.Rows) == 0 {
		return t.say(t.notOpen()), nil
	}
	v, note, why, err := t.view()
	if err != nil {
		return Reply{}, err
	}
	if why != "" {
		return t.say(why), nil
	}
	drawn, err := t.pictures.get(ctx, v, func(context.Context) (*Picture, error) { return t.draw(v) })
	if errors.Is(err, chart.ErrNoRows) {
		return t.say("There is nothing to draw there."), nil
	}
	if errors.Is(err, errNotYet) { // it goes on being drawn
		return t.say(notDrawn), nil
	}
	if err != nil {
		return Reply{}, err
	}
	return Reply{Said: brief(drawn.Alt) + note, Picture: drawn, Choices: append([]Choice{t.otherLook(v)}, t.usual()...)}, nil
}

const notDrawn = "The picture takes longer to draw than you should have to wait. Nothing has moved. Ask again in a moment, and you will have it."

// draw draws a view, for all who ask for the same.
func (t *talk) draw(v view) (*Picture, error) {
	plan := t.plan.Plan
	if v.panel != "" {
		var err error
		if plan, err = plan.PanelPlan(v.panel); err != nil {
			return nil, err
		}
	}
	picture, err := chart.Draw(chart.View{Plan: plan, From: v.from, To: v.to, Here: v.here, Fabric: v.fabric})
	if err != nil {
		return nil, err
	}
	png, err := picture.PNG(1)
	if err != nil {
		return nil, err
	}
	facts := picture.Facts()
	return &Picture{Name: fileName(facts), PNG: png, Alt: reader.Picture(facts)}, nil
}

// view finds what is to be drawn, and a note on what of it is not there, with a
// space before it. Where nothing can be drawn it says why.
func (t *talk) view() (v view, note, why string, err error) {
	leftOut := t.at.LeftOut
	v = view{choice: choice{revision{t.ask.Knitalong, t.at.Revision}, t.at.Size, leftOut}, open: len(t.plan.Rows), here: -1, fabric: t.heard.Look == listen.LookFabric}
	if panel := t.panelNamed(); panel != "" {
		v.panel, v.leftOut = panel, ""
		note, why, err = t.ofPanel(&v)
		return v, note, why, err
	}
	switch {
	case t.heard.HasNumber:
		i, why := t.named()
		if i < 0 {
			return v, "", why, nil
		}
		v.from, v.to = t.plan.around(i)
		if t.heard.Last > t.heard.Number {
			v.from = i
			_, end := t.plan.sectionAt(i)
			v.to, note = t.rangeTo(t.plan.Rows[i:end+1], nameOf(t.plan.Rows[i].Section.Name), t.plan.Rows[end].Number < t.plan.lastOf(t.plan.Rows[i].Section.Name))
			v.to += i
		}
	case t.heard.Section != "":
		i, why := t.sectionNamed()
		if i < 0 {
			return v, "", why, nil
		}
		v.from, v.to = t.plan.sectionAt(i)
		if here := t.here(); v.from <= here && here <= v.to {
			v.from, v.to = t.plan.around(here)
		}
	case v.fabric && t.here() >= 0:
		v.from, v.to = t.plan.soFar(t.here())
	default:
		v.from, v.to = t.plan.around(max(0, t.here()))
	}
	if here := t.here(); v.from <= here && here <= v.to && !t.plan.finished(t.at) {
		v.here = here
	}
	return v, note, "", nil
}

// ofPanel finds which rows of a panel are to be drawn: all where none are named.
func (t *talk) ofPanel(v *view) (note, why string, err error) {
	plan, err := t.plan.PanelPlan(v.panel)
	if err != nil {
		return "", "", err
	}
	rows := plan.Rows
	v.to = len(rows) - 1
	if !t.heard.HasNumber {
		return "", "", nil
	}
	i := slices.IndexFunc(rows, func(r *patterns.Row) bool { return r.Number == t.heard.Number })
	if i < 0 {
		word := rowWord(rows[0].Rounds)
		if len(rows) < len(plan.Whole().Rows) {
			return "", "No " + word + " " + reader.Number(t.heard.Number) + " of " + nameOf(v.panel) + " is open." + t.opensLater(), nil
		}
		return "", nameOf(v.panel) + " has no " + word + " " + reader.Number(t.heard.Number) + "; its last is " + word + " " + reader.Number(rows[v.to].Number) + ".", nil
	}
	v.from, v.to = i, i
	if t.heard.Last > t.heard.Number {
		v.to, note = t.rangeTo(rows[i:], nameOf(v.panel), len(rows) < len(plan.Whole().Rows))
		v.to += i
	}
	return note, "", nil
}

// rangeTo gives which of some rows is the last of a range, and a note where the
// range goes past them: to where those rows end, or, where more are held back, to
// the last that is open.
func (t *talk) rangeTo(rows []*patterns.Row, of string, more bool) (to int, note string) {
	for to+1 < len(rows) && rows[to+1].Number <= t.heard.Last {
		to++
	}
	if last := rows[to]; to == len(rows)-1 && last.Number < t.heard.Last {
		if more {
			return to, " No more of " + of + " is open, so no more is drawn."
		}
		note = " " + of + " ends with " + rowWord(last.Rounds) + " " + reader.Number(last.Number) + ", so no more is drawn."
	}
	return to, note
}

// panelNamed gives the panel that was named, where it is no section.
func (t *talk) panelNamed() string {
	asked, says := strings.CutSuffix(" "+singular(t.heard.Section), " panel")
	if lead, ok := strings.CutPrefix(asked, " panel "); ok {
		asked, says = lead, true
	}
	asked = strings.TrimSpace(asked)
	says = says || t.plan.panelAlone(bare(t.heard.Section))
	if asked == "" || !says && len(t.plan.sectionsLike(asked)) > 0 {
		return ""
	}
	for _, p := range t.plan.Pattern.Panels {
		if singular(p.Name) == asked && p.Width.At(t.plan.Size) > 0 {
			return p.Name
		}
	}
	return ""
}

// panelAlone says that a panel has a name to the letter, and no section has: the
// panel Float stands beside a section Floats.
func (p *plan) panelAlone(name string) bool {
	return slices.ContainsFunc(p.Pattern.Panels, func(panel *patterns.Panel) bool { return bare(panel.Name) == name }) &&
		!slices.ContainsFunc(p.sectionNames(), func(section string) bool { return bare(section) == name })
}

// sectionNamed gives the first row of the section that was named, or -1 and a
// sentence.
func (t *talk) sectionNamed() (int, string) {
	for _, section := range t.plan.sectionsLike(t.heard.Section) {
		for i, r := range t.plan.Rows {
			if r.Section.Name == section {
				return i, ""
			}
		}
	}
	if name, ok := strings.CutPrefix(t.heard.Section, "panel "); ok {
		return -1, t.plan.noPanel(name)
	}
	return -1, t.plan.noSection(t.heard.Section)
}

// noPanel says that no panel has a name, and offers the nearest.
func (p *plan) noPanel(name string) string {
	names := make([]string, len(p.Pattern.Panels))
	for i, panel := range p.Pattern.Panels {
		names[i] = reader.Name(panel.Name)
	}
	if len(names) == 0 {
		return capital(p.all()) + " has no panels. Its sections are " + list(p.sectionNames(), "and") + "."
	}
	return p.noneCalled("panel", name, names)
}

// sectionAt gives the first and the last row of row i's section.
func (p *plan) sectionAt(i int) (from, to int) {
	for from = i; from > 0 && p.Rows[from-1].Section == p.Rows[i].Section; from-- {
	}
	for to = i; to+1 < len(p.Rows) && p.Rows[to+1].Section == p.Rows[i].Section; to++ {
	}
	return from, to
}

// around gives row i's section where it can be shown whole, and else the rows
// around i.
func (p *plan) around(i int) (from, to int) {
	if from, to = p.sectionAt(i); to-from < sectionShown {
		return from, to
	}
	return max(from, i-rowsAround), min(to, i+rowsAround)
}

// soFar gives the newest rows of the piece that ends with row i.
func (p *plan) soFar(i int) (from, to int) {
	for from = i; from > 0 && i-from+1 < fabricShown && !p.beginsPiece(from); from-- {
	}
	return from, i
}

func (p *plan) beginsPiece(i int) bool {
	return p.Rows[i].First && p.Rows[i].Section.CastOn != nil
}

// otherLook asks for the same rows in the other look.
func (t *talk) otherLook(v view) Choice {
	c := Choice{Label: "Fabric", Intent: listen.Picture, Value: listen.LookFabric}
	if v.fabric {
		c.Label, c.Value = "Chart", listen.LookChart
	}
	rows := "0"
	if t.heard.HasNumber {
		rows = strconv.Itoa(t.heard.Number)
	}
	if t.heard.Last > t.heard.Number {
		rows += "-" + strconv.Itoa(t.heard.Last)
	}
	switch {
	case v.panel != "" && rows == "0":
		c.Value += ".p." + keyOf(v.panel)
	case v.panel != "":
		c.Value += ".p" + rows + "." + keyOf(v.panel)
	case t.heard.HasNumber || t.heard.Section != "":
		c.Value += "." + rows + "." + keyOf(t.plan.Rows[v.from].Section.Name)
	}
	return c
}

// pressedLook gives what a pressed choice of a picture asks for: "fabric",
// "chart.0.0a1b2c3d" for a whole section, "chart.12.0a1b2c3d" for the rows around
// one, "chart.3-5.0a1b2c3d" for several, "chart.p.0a1b2c3d" for a panel and
// "chart.p3-5.0a1b2c3d" for rows of it. What no choice has counts as not said.
func (t *talk) pressedLook(value string) listen.Heard {
	h := listen.Heard{Intent: listen.Picture, Sure: true}
	look, rest, _ := strings.Cut(value, ".")
	if look != listen.LookChart && look != listen.LookFabric {
		return h
	}
	h.Look = look
	rows, key, _ := strings.Cut(rest, ".")
	rows, isPanel := strings.CutPrefix(rows, "p")
	section := t.plan.sectionOfKey(key)
	if isPanel {
		section = ""
		for _, p := range t.plan.Pattern.Panels {
			if keyOf(p.Name) == key {
				section = "panel " + p.Name
			}
		}
	}
	first, last, ok := rowsPressed(rows)
	if rows == "" && isPanel {
		ok = true
	}
	if section != "" && ok {
		h.Section, h.Number, h.HasNumber, h.Last = section, first, first > 0, last
	}
	return h
}

// rowsPressed reads "12" or "3-5"; the last is 0 for one row alone.
func rowsPressed(text string) (first, last int, ok bool) {
	from, to, several := strings.Cut(text, "-")
	first, err := strconv.Atoi(from)
	if several && err == nil {
		if last, err = strconv.Atoi(to); last <= first {
			return 0, 0, false
		}
	}
	return first, last, err == nil && first >= 0 && max(first, last) <= numberMost
}

// saidMost is how much of the words for a picture is said, in bytes: the rest
// is for those who can't see it, and stands beside it.
const saidMost = 320

// brief gives the first sentences of a text, at least one.
func brief(text string) string {
	said, rest, more := strings.Cut(text, ". ")
	for more {
		var next string
		next, rest, more = strings.Cut(rest, ". ")
		if len(said)+len(next) > saidMost {
			break
		}
		said += ". " + next
	}
	return sentence(said)
}

// fileName names the file of a picture: "lanterns-rounds-1-12.png".
func fileName(f chart.Facts) string {
	const nameMost = 30
	name := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		case r == ' ', r == '-':
			return '-'
		}
		return -1
	}, strings.ToLower(f.Name))
	name = strings.Trim(name[:min(len(name), nameMost)], "-")
	if name == "" {
		name = "pattern"
	}
	name += "-" + rowWord(f.Rounds) + "s-" + strconv.Itoa(f.First) + "-" + strconv.Itoa(f.Last)
	if f.Fabric {
		name += "-fabric"
	}
	return name + ".png"
}
