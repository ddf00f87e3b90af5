package bot

import (
	"cmp"
	"strings"

	"clew/patterns"
	"clew/patterns/problem"
	"clew/reader"
	"clew/session"
)

// planned gives a knit-along with the sessions, the time zone and the holding back
// that an order asks for, checked against a sound pattern, or a reply that says why
// they can't be had. What the order does not name stays as it is; of one that begins,
// and of one without sessions, each section is one.
func (d *directing) planned(about session.About, p *patterns.Pattern) (session.About, *Reply, error) {
	o := d.order
	if len(o.Plan) > scheduleMost {
		return about, &Reply{Said: "That file is too long for sessions: it may have " + reader.Number(scheduleMost>>10) + " kilobytes. Nothing was changed."}, nil
	}
	zone, near := zoneNamed(o.Zone)
	if zone == nil && strings.TrimSpace(o.Zone) != "" {
		said := "There is no time zone called " + nameOf(zoneSaid(o.Zone)) + ". Nothing was changed. "
		if near != "" {
			return about, &Reply{Said: said + "Did you mean " + zoneSaid(near) + "?"}, nil
		}
		return about, &Reply{Said: said + "Name a city in it, such as Amsterdam."}, nil
	}
	rows, err := rowsOf(p)
	if err != nil {
		return about, nil, err
	}
	was := about.Sessions
	if zone != nil {
		about.Zone = zone.String()
	}
	if o.Plan != nil {
		read, problems := readSchedule(o.Plan, scheduleAround{rows, was, zone, zoneOf(about.Zone), d.now()})
		if len(problems) > 0 {
			return about, &Reply{Said: scheduleProblems(problems), Report: scheduleReport(d.planFile(), o.Plan, problems)}, nil
		}
		about.Sessions = read.sessions
		if zone == nil {
			about.Zone = cmp.Or(read.zone, about.Zone)
		}
		if read.hold != nil {
			about.Hold = *read.hold
		}
	} else if len(was) == 0 {
		about.Sessions = d.bySection(rows)
	}
	if o.Hold != nil {
		about.Hold = *o.Hold
	}
	return about, nil, nil
}

// zoneSaid gives the name of a time zone for the ear.
func zoneSaid(name string) string { return strings.NewReplacer("_", " ", "/", " ").Replace(name) }

// planFile is what the text of the sessions is called in a report.
func (d *directing) planFile() string {
	if name := strings.TrimSpace(d.order.PlanFile); name != "" {
		return problem.Show(name)
	}
	return "sessions"
}

// bySection makes one session of each section: the first opens at once, the others
// when a host opens them. Sections past the most that there may be are in the last.
func (d *directing) bySection(rows *rowList) []session.Session {
	var all []session.Session
	for _, section := range rows.sections {
		if len(all) == session.SessionsMost {
			all[len(all)-1].Last = section.last()
			continue
		}
		all = append(all, session.Session{Number: len(all) + 1, Title: section.Name, First: section.first(), Last: section.last()})
	}
	all[0].Opens = d.now()
	return all
}

// unfitTitle says why a title can't be that of a session, or nothing.
func unfitTitle(title string) string {
	switch {
	case len(title) > titleMost:
		return "this title is too long"
	case reader.Name(title) == "":
		return "this title can't be said"
	}
	return ""
}

// scheduleProblems says that sessions were refused. One mistake is said itself.
func scheduleProblems(problems []problem.Problem) string {
	if len(problems) > 1 {
		return "The sessions have " + reader.Number(len(problems)) + " errors. Each stands below with its line. Nothing was changed."
	}
	said := reader.Plain(strings.NewReplacer(`"`, "", "_", " ", "/", " ").Replace(problems[0].Message))
	return sentence(capital(said)) + " Nothing was changed."
}

func scheduleReport(file string, src []byte, problems []problem.Problem) string {
	shown := make([]string, len(problems))
	for i, one := range problems {
		shown[i] = problem.Caret(file, src, one)
	}
	return strings.Join(shown, "\n")
}

// samePlan says that two knit-alongs have the same sessions, as far as hosts choose
// them: one that opened when its knit-along began has no time of its own.
func samePlan(a, b session.About) bool {
	if a.Zone != b.Zone || a.Hold != b.Hold || len(a.Sessions) != len(b.Sessions) {
		return false
	}
	for i, s := range a.Sessions {
		t := b.Sessions[i]
		atOnce := !s.Opens.After(a.Started) && !s.Opens.IsZero() && !t.Opens.After(b.Started) && !t.Opens.IsZero()
		if s.Title != t.Title || s.First != t.First || s.Last != t.Last || !atOnce && !s.Opens.Equal(t.Opens) {
			return false
		}
	}
	return true
}

// orElse gives a reply that may be nil.
func orElse(r *Reply) Reply {
	if r == nil {
		return Reply{}
	}
	return *r
}
