package bot

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"clew/patterns"
	"clew/reader"
	"clew/session"
)

// sessions tells the sessions, or replaces them, or the time zone, or whether rows
// are held back.
func (d *directing) sessions(ctx context.Context) (Reply, error) {
	pattern, err := d.pattern(ctx, revision{d.about.ID, d.about.Revision})
	if err != nil {
		return Reply{}, err
	}
	if o := d.order; o.Plan == nil && strings.TrimSpace(o.Zone) == "" && o.Hold == nil {
		return d.tellSessions(pattern, ""), nil
	}
	if d.before.saved {
		return d.tellSessions(pattern, "The sessions are set. "), nil
	}
	about, refused, err := d.planned(d.about, pattern)
	if err != nil || refused != nil {
		return orElse(refused), err
	}
	if err := d.once(func() error { return d.store.Schedule(ctx, about.ID, about.Sessions, about.Zone, about.Hold) }); err != nil {
		return Reply{}, err
	}
	d.about = about
	return d.tellSessions(pattern, "The sessions are set. "), nil
}

// sessionsSaid is how many sessions are told one by one; of more, those around the
// one that is open.
const sessionsSaid = 8

// tellSessions tells a host the sessions, and gives their text to be changed and sent
// back.
func (d *directing) tellSessions(p *patterns.Pattern, before string) Reply {
	about, now := d.about, d.now()
	all := about.Sessions
	if len(all) == 0 {
		return Reply{Said: before + capital(titleOf(about)) + " has no sessions: all of it is open. To plan some, give a text that has one in each line, such as one, Casting on, colon, and the name of a section."}
	}
	said := before + capital(titleOf(about)) + " has " + reader.Number(len(all)) + " " + plural("session", len(all)) + ". "
	if newest, ok := about.Opened(now); len(all) > sessionsSaid {
		from := 0
		if ok {
			from = newest.Number - 1
		}
		from = min(max(0, from-1), len(all)-sessionsSaid/2)
		all = all[from : from+sessionsSaid/2]
		said += "These are the ones around now; the file has them all. "
	}
	for _, s := range all {
		said += d.sessionWords(p, s, now) + " "
	}
	said += map[bool]string{true: "Nobody is told a row before its session opens.", false: "Rows are told to everybody, whether their session is open or not."}[about.Hold]
	return Reply{Said: said, Files: []File{{Name: "sessions.txt", Text: scheduleText(about, now)}}}
}

// sessionWords tells one session: "Session two, The lanterns, rounds five to sixteen
// of Lanterns, opens on Tuesday the eighth of December at seven in the evening,
// Amsterdam time."
func (d *directing) sessionWords(p *patterns.Pattern, s session.Session, now time.Time) string {
	said := "Session " + reader.Number(s.Number) + ", " + nameOf(s.Title) + ", " + rowsOfSession(p, s) + ", "
	switch d.about.Stage(s.Number, now) {
	case session.Opened:
		return said + "is open."
	case session.Over:
		return said + "is closed."
	}
	return said + "opens " + d.whenOpens(s, now) + "."
}

// rowsOfSession names the rows of a session, as short as may be.
func rowsOfSession(p *patterns.Pattern, s session.Session) string {
	word := func(id session.RowID) string {
		rounds := p.Rounds
		for _, section := range p.Sections {
			if section.Name == id.Section {
				rounds = section.Rounds
			}
		}
		return rowWord(rounds)
	}
	row := func(id session.RowID) string {
		return word(id) + " " + reader.Number(id.Row) + " of " + nameOf(id.Section)
	}
	switch {
	case s.First == s.Last:
		return row(s.First)
	case s.First.Section == s.Last.Section && s.Last.Row == s.First.Row+1:
		return word(s.First) + "s " + reader.Number(s.First.Row) + " and " + reader.Number(s.Last.Row) + " of " + nameOf(s.First.Section)
	case s.First.Section == s.Last.Section:
		return word(s.First) + "s " + reader.Number(s.First.Row) + " to " + reader.Number(s.Last.Row) + " of " + nameOf(s.First.Section)
	}
	return row(s.First) + " to " + row(s.Last)
}

// whenOpensIn says when a session that has not opened does: with the next that has a
// time, at the latest.
func (b *Bot) whenOpensIn(about session.About, s session.Session, now time.Time) string {
	for _, later := range about.Sessions[s.Number-1:] {
		if !later.Opens.IsZero() && (s.Opens.IsZero() || later.Opens.Before(s.Opens)) {
			s.Opens = later.Opens
		}
	}
	if s.Opens.IsZero() {
		return "when a host opens it"
	}
	return reader.Moment(s.Opens, now, zoneOf(about.Zone))
}

func (d *directing) whenOpens(s session.Session, now time.Time) string {
	return d.whenOpensIn(d.about, s, now)
}

// nextOpens says when the next session opens, or nothing where all have opened. It
// names no session that has not opened: with rows held back its title may tell what is
// in it.
func (b *Bot) nextOpens(about session.About) string {
	next, ok := about.NextToOpen(b.now())
	if !ok {
		return ""
	}
	return "Session " + reader.Number(next.Number) + " opens " + b.whenOpensIn(about, next, b.now()) + "."
}

// sessionsTold says in how many sessions a knit-along is knitted, and which open
// first and next, with a space before it: nothing where each section is one and
// nothing is held back, since then nobody need wait.
func (d *directing) sessionsTold(about session.About) string {
	if d.order.Plan == nil && !about.Hold {
		return ""
	}
	said := " It is knitted in " + reader.Number(len(about.Sessions)) + " " + plural("session", len(about.Sessions)) + "."
	if newest, ok := about.Opened(d.now()); ok {
		said += " Session " + reader.Number(newest.Number) + " is open."
	}
	if next := d.nextOpens(about); next != "" {
		said += " " + next
	}
	return said
}

// openSession opens a session now, and with it those before it that have not opened.
func (d *directing) openSession(ctx context.Context) (Reply, error) {
	if d.before.reply != nil {
		return *d.before.reply, nil
	}
	about, now := d.about, d.now()
	number := d.order.Session
	if next, ok := about.NextToOpen(now); number == 0 && ok {
		number = next.Number
	}
	before, _ := about.Opened(now)
	switch {
	case len(about.Sessions) == 0:
		return Reply{Said: capital(titleOf(about)) + " has no sessions: all of it is open. Nothing was changed."}, nil
	case number == 0:
		return Reply{Said: "Every session of " + titleOf(about) + " has opened. Nothing was changed."}, nil
	case number < 1 || number > len(about.Sessions):
		return Reply{Said: "There is no session " + reader.Number(number) + "; the last is session " + reader.Number(len(about.Sessions)) + ". Nothing was changed."}, nil
	case number <= before.Number:
		return Reply{Said: "Session " + reader.Number(number) + " has opened already. Nothing was changed."}, nil
	}
	err := d.once(func() error {
		_, err := d.store.OpenSession(ctx, about.ID, number, now)
		return err
	})
	if errors.Is(err, session.ErrUnknownSession) { // the sessions were replaced meanwhile
		return Reply{Said: "There is no session " + reader.Number(number) + " any more. Nothing was changed."}, nil
	}
	if err != nil {
		return Reply{}, err
	}
	d.tended.wake(about.ID)
	said := "Session " + reader.Number(number) + ", " + nameOf(about.Sessions[number-1].Title) + ", is open now"
	switch earlier := number - before.Number - 1; {
	case earlier == 1:
		said += ", and with it the one before it, which had not opened"
	case earlier > 1:
		said += ", and with it the " + reader.Number(earlier) + " before it, which had not opened"
	}
	d.reply = &Reply{Said: said + "."}
	return *d.reply, nil
}

// scheduleText writes the sessions as a host may give them, one a line.
func scheduleText(about session.About, now time.Time) string {
	var b strings.Builder
	zone := zoneOf(about.Zone)
	fmt.Fprintf(&b, "Zone: %s\nHold: %s\n", zone, map[bool]string{true: "yes", false: "no"}[about.Hold])
	newest, _ := about.Opened(now)
	for _, s := range about.Sessions {
		rows := rowText(s.First) + " to " + rowText(s.Last)
		if s.First.Section == s.Last.Section {
			rows = fmt.Sprintf("%s %d-%d", s.First.Section, s.First.Row, s.Last.Row)
		}
		fmt.Fprintf(&b, "%d. %s: %s", s.Number, strings.NewReplacer(";", ",", "//", "/").Replace(s.Title), rows)
		switch opens := clockAt(s.Opens.In(zone)); {
		case s.Number <= newest.Number && !s.Opens.IsZero():
			fmt.Fprintf(&b, " // opened %s", opens)
		case s.Number <= newest.Number:
			b.WriteString(" // opened")
		case s.Opens.IsZero():
			b.WriteString("; opens by hand")
		default:
			fmt.Fprintf(&b, "; opens %s", opens)
		}
		b.WriteString("\n")
	}
	return b.String()
}
