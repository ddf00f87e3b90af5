package bot

import (
	"context"
	"errors"
	"slices"
	"strings"
	"unicode"

	"clew/patterns"
	"clew/patterns/problem"
	"clew/patterns/samples"
	"clew/reader"
	"clew/session"
)

// start opens a knit-along of a pattern, once that is proved.
func (d *directing) start(ctx context.Context) (Reply, error) {
	if !d.order.Manages {
		return Reply{Said: "Only those who may manage events here can start a knit-along. Nothing was started."}, nil
	}
	text, said := d.given()
	switch {
	case said != "":
		return Reply{Said: said}, nil
	case text == nil:
		return Reply{Said: "A knit-along needs a pattern. Nothing was started. Give a pattern's file with it, or one of the samples."}, nil
	}
	proved, err := d.prove(ctx, text)
	if err != nil {
		return proofFailed(err)
	}
	if proved.wrong() {
		return Reply{Said: proved.countWords() + " Nothing was started. Mend it, and start it again.", Report: proved.report(d.file())}, nil
	}
	about := session.About{ID: knitalongID(d.order.Member, d.order.Event), Title: proved.Title, Host: d.order.Member,
		Server: d.order.Server, Channel: d.order.Channel, Started: d.now()}
	if d.order.Event == "" {
		about.ID = knitalongID(d.order.Member, d.newID())
	}
	if title := plainTitle(d.order.Title); title != "" {
		about.Title = title
	}
	if said := doubt(about, proved.Pattern); said != "" {
		return Reply{Said: said}, nil
	}
	about, refused, err := d.planned(about, proved.Pattern)
	if err != nil || refused != nil {
		return orElse(refused), err
	}
	if said, err := d.open(ctx, about, string(text)); err != nil || said != "" {
		return Reply{Said: said}, err
	}
	about = d.about
	told := d.sessionsTold(about)
	reply := Reply{Said: capital(titleOf(about)) + " has begun in this channel, and everybody can join." + told}
	if len(proved.problems) > 0 {
		reply.Said += " " + proved.countWords()
		reply.Report = proved.report(d.file())
	}
	reply.Invite = &Invite{Said: inviteWords(about, proved, told), How: howToJoin, Choices: joinAlone}
	return reply, nil
}

// given gives the text of the pattern that came with the order, nil for none;
// or says why it can't be one.
func (d *directing) given() (text []byte, said string) {
	switch o := d.order; {
	case o.Pattern != nil && len(o.Pattern) > patterns.MaxBytes:
		return nil, "That file is too long for a pattern: it may have " + reader.Number(patterns.MaxBytes>>10) + " kilobytes. Nothing was changed."
	case o.Pattern != nil:
		return o.Pattern, ""
	case o.Sample != "":
		sample, ok := samples.Find(o.Sample)
		if !ok {
			return nil, "There is no sample of that name. Nothing was changed."
		}
		return []byte(sample.Text), ""
	}
	return nil, ""
}

// file is what the pattern is called in a report.
func (d *directing) file() string {
	switch o := d.order; {
	case o.Pattern != nil && strings.TrimSpace(o.File) != "":
		return problem.Show(o.File)
	case o.Pattern == nil && o.Sample != "":
		return problem.Show(o.Sample)
	}
	return "pattern"
}

// plainTitle takes the characters out of a title that can't be kept.
func plainTitle(title string) string {
	return strings.Join(strings.FieldsFunc(strings.ToValidUTF8(title, ""), func(r rune) bool {
		return unicode.IsSpace(r) || unicode.IsControl(r)
	}), " ")
}

// titleMost is the longest title that the store keeps, in bytes.
const titleMost = 256

// doubt says why a sound pattern can't be started under its title, or nothing.
func doubt(about session.About, p *patterns.Pattern) string {
	switch {
	case len(about.Title) > titleMost:
		return "That title is too long. Nothing was started. Give it a title of a few words."
	case reader.Name(about.Title) == "":
		return "That title can't be said. Nothing was started. Give it a title with a word in it."
	case hasMuteName(p):
		return "A section or a size of this pattern has a name that can't be said. Nothing was started. Give it a name with a word in it."
	}
	return ""
}

// hasMuteName says that a section or a size has a name that can't be said.
func hasMuteName(p *patterns.Pattern) bool {
	return slices.ContainsFunc(append(sectionsOf(p), p.Sizes...), func(name string) bool { return reader.Name(name) == "" })
}

// open starts the knit-along, or says why not. One of its title may be open in
// the channel already: where the same host has begun it with the same pattern,
// its start was told her as uncertain or told twice, and it is taken for this
// one.
func (d *directing) open(ctx context.Context, about session.About, text string) (said string, err error) {
	_, held, err := d.store.Around(ctx, d.order.Member, d.order.Server)
	if err != nil {
		return "", err
	}
	i := slices.IndexFunc(held, func(h session.Held) bool {
		return h.ID != about.ID && h.Channel == about.Channel && bare(h.Title) == bare(about.Title)
	})
	if i < 0 {
		err := d.store.Start(ctx, about, text)
		if errors.Is(err, session.ErrCrowded) {
			return "There are as many open knit-alongs here as there can be. Nothing was started. Close one of them first.", nil
		}
		if err != nil && !errors.Is(err, session.ErrStarted) {
			return "", err
		}
		d.about, d.saved = about, true
		return "", nil
	}
	open, err := d.store.About(ctx, held[i].ID)
	if err != nil {
		return "", err
	}
	its, err := d.store.Pattern(ctx, open.ID, open.Revision)
	if err != nil {
		return "", err
	}
	if open.Host != about.Host || its != text || !samePlan(open, about) {
		return "A knit-along called " + titleOf(about) + " is open in this channel already. Nothing was started. Give this one another title, or close that one first.", nil
	}
	d.about, d.saved = open, true
	return "", nil
}

const howToJoin = "To knit along, press Join, or use the command join. Then press Next row when you are ready, use the command next, or write the words next row to me in private."

// inviteWords is what everybody in the channel is told of a knit-along.
// With rows held back it names no section: they may not be open yet. What is told of
// the sessions comes with a space before it.
func inviteWords(about session.About, p *proved, sessions string) string {
	return "A knit-along begins in this channel: " + titleOf(about) + ". " + p.patternWords(!about.Hold) + sessions
}

// check proves a pattern that comes with the order, or that of the knit-along,
// and starts nothing.
func (d *directing) check(ctx context.Context) (Reply, error) {
	text, said := d.given()
	if said != "" {
		return Reply{Said: said}, nil
	}
	if text == nil {
		return d.withKnitalong(ctx, func(d *directing, ctx context.Context) (Reply, error) {
			text, err := d.store.Pattern(ctx, d.about.ID, 0)
			if err != nil {
				return Reply{}, err
			}
			return d.checked(ctx, []byte(text))
		})
	}
	if may, err := d.mayCheck(ctx); err != nil || !may {
		return Reply{Said: "Only hosts can have a pattern checked: those who may manage events here, those who started a knit-along, and their helpers. Nothing was changed."}, err
	}
	return d.checked(ctx, text)
}

// mayCheck says that the member is a host of anything in the server.
func (d *directing) mayCheck(ctx context.Context) (bool, error) {
	if d.order.Manages {
		return true, nil
	}
	found, err := d.around(ctx)
	return slices.ContainsFunc(found, d.may), err
}

func (d *directing) checked(ctx context.Context, text []byte) (Reply, error) {
	proved, err := d.prove(ctx, text)
	if err != nil {
		return proofFailed(err)
	}
	if proved.wrong() {
		return Reply{Said: proved.countWords(), Report: proved.report(d.file())}, nil
	}
	said := capital(titleOf(session.About{Title: proved.Title})) + " is sound. " + proved.patternWords(true) + " " + castOnAll(proved.Pattern)
	if len(proved.problems) > 0 {
		said += " " + proved.countWords()
	}
	return Reply{Said: said, Report: proved.report(d.file())}, nil
}
