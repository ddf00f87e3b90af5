package bot

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"clew/patterns/problem"
)

// A clock is a day and a time of day, as a calendar and a clock on a wall show them.
type clock struct {
	year         int
	month        time.Month
	day          int
	hour, minute int
}

// String writes it as the text of sessions has it.
func (c clock) String() string {
	return fmt.Sprintf("%04d-%02d-%02d %02d:%02d", c.year, c.month, c.day, c.hour, c.minute)
}

// clockAt is what clocks show at a moment.
func clockAt(at time.Time) clock {
	return clock{at.Year(), at.Month(), at.Day(), at.Hour(), at.Minute()}
}

// utc is the moment at which clocks of universal time show it.
func (c clock) utc() time.Time {
	return time.Date(c.year, c.month, c.day, c.hour, c.minute, 0, 0, time.UTC)
}

// plus is what clocks that are never put forward or back show so much later.
func (c clock) plus(d time.Duration) clock { return clockAt(c.utc().Add(d)) }

// moments gives the moments at which the clocks of a zone show it, in their order:
// most often one; none where they were put forward past it, and two where they were
// put back over it. No zone has changed by more than a day at once.
func (c clock) moments(zone *time.Location) []time.Time {
	var found []time.Time
	for _, around := range []time.Duration{-26 * time.Hour, 0, 26 * time.Hour} {
		_, offset := c.utc().Add(around).In(zone).Zone()
		at := c.utc().Add(-time.Duration(offset) * time.Second)
		if clockAt(at.In(zone)) == c && !slices.ContainsFunc(found, at.Equal) {
			found = append(found, at)
		}
	}
	slices.SortFunc(found, time.Time.Compare)
	return found
}

// plainNear gives the nearest times before and after it that come once, in quarters
// of an hour.
func (c clock) plainNear(zone *time.Location) (before, after clock) {
	const quarter = 15 * time.Minute
	search := func(step time.Duration) clock {
		at := c.plus(step)
		for i := 0; i < 200 && len(at.moments(zone)) != 1; i++ {
			at = at.plus(step)
		}
		return at
	}
	c.minute -= c.minute % 15
	return search(-quarter), search(quarter)
}

// exampleTime is a time in a week, as it can be written.
func exampleTime(now time.Time) string {
	at := now.UTC().AddDate(0, 0, 7)
	return clock{at.Year(), at.Month(), at.Day(), 19, 0}.String()
}

var (
	timeOfDay = regexp.MustCompile(`(?i)(?:\bat\s+)?(?:\b|T)(\d{1,2})(?:[:.](\d{2})(?::00)?\s*([ap]\.?m\b\.?)?|\s*([ap]\.?m\b\.?))`)
	isoDate   = regexp.MustCompile(`^(\d{4})-(\d{1,2})-(\d{1,2})$`)
	dayFirst  = regexp.MustCompile(`(?i)^(\d{1,2})(?:st|nd|rd|th)? (?:of )?([a-z]{3,9})\.? (\d{4})$`)
	dayLast   = regexp.MustCompile(`(?i)^([a-z]{3,9})\.? (\d{1,2})(?:st|nd|rd|th)? (\d{4})$`)
	slashDate = regexp.MustCompile(`^\d{1,2}[/.]\d{1,2}[/.]\d{2,4}$`)
	weekday   = regexp.MustCompile(`(?i)^(?:on )?(mon|tues?|wed(?:nes)?|thu(?:rs)?|fri|sat(?:ur)?|sun)(?:day)?\b,? *`)
	byHand    = regexp.MustCompile(`(?i)^(?:by hand|by (?:the|a) host)$`)
)

// readClock reads a day and a time of day, in digits or with the month's name; or
// says what is wrong.
func readClock(text string) (c clock, wrong string) {
	m := timeOfDay.FindStringSubmatchIndex(" " + text)
	if m == nil {
		return c, "the time of day is missing"
	}
	padded := " " + text
	group := func(i int) string {
		if m[2*i] < 0 {
			return ""
		}
		return padded[m[2*i]:m[2*i+1]]
	}
	c.hour, _ = strconv.Atoi(group(1))
	c.minute, _ = strconv.Atoi(group(2))
	half := strings.ToLower(strings.ReplaceAll(group(3)+group(4), ".", ""))
	if c.hour > 23 || c.minute > 59 || half != "" && (c.hour < 1 || c.hour > 12) {
		return c, "there is no such time of day"
	}
	if half != "" {
		c.hour %= 12
		if half == "pm" {
			c.hour += 12
		}
	}
	day := strings.Join(strings.Fields(strings.ReplaceAll(padded[:m[0]]+" "+padded[m[1]:], ",", " ")), " ")
	on := weekday.FindStringSubmatch(day)
	if on != nil {
		day = strings.TrimSpace(day[len(on[0]):])
	}
	day = strings.TrimPrefix(day, "on ")
	if wrong = c.setDay(day); wrong != "" {
		return c, wrong
	}
	if is := c.utc().Weekday().String(); on != nil && !strings.HasPrefix(strings.ToLower(is), strings.ToLower(on[1])) {
		return c, "that day is a " + is
	}
	return c, ""
}

// setDay reads the day, or says what is wrong with it.
func (c *clock) setDay(day string) string {
	if m := isoDate.FindStringSubmatch(day); m != nil {
		month, _ := strconv.Atoi(m[2])
		c.year, _ = strconv.Atoi(m[1])
		c.month = time.Month(month)
		c.day, _ = strconv.Atoi(m[3])
	} else if m := dayFirst.FindStringSubmatch(day); m != nil {
		c.day, _ = strconv.Atoi(m[1])
		c.month = monthNamed(m[2])
		c.year, _ = strconv.Atoi(m[3])
	} else if m := dayLast.FindStringSubmatch(day); m != nil {
		c.day, _ = strconv.Atoi(m[2])
		c.month = monthNamed(m[1])
		c.year, _ = strconv.Atoi(m[3])
	} else if slashDate.MatchString(day) {
		return "a day in digits alone can be read in two ways"
	} else if day == "" {
		return "the day is missing"
	} else {
		return problem.Quote(day) + " can't be read as a day"
	}
	if c.month == 0 {
		return problem.Quote(day) + " names no month"
	}
	if clockAt(c.utc()) != *c {
		return "there is no such day"
	}
	return ""
}

// monthNamed gives the month of a name, or of its first three letters or more; 0 for
// none.
func monthNamed(name string) time.Month {
	for m := time.January; m <= time.December; m++ {
		if strings.HasPrefix(strings.ToLower(m.String()), strings.ToLower(name)) || strings.EqualFold(name, "sept") && m == time.September {
			return m
		}
	}
	return 0
}

// times settles when each session opens: what is written, in the time zone; without
// that the first opens at once, and one that has opened keeps its time.
func (s *scheduling) times() {
	zone := s.scheduleAround.zone
	switch {
	case zone != nil:
	case s.schedule.zone != "":
		zone = zoneOf(s.schedule.zone)
	default:
		zone = s.other
	}
	for i := range s.lines {
		l := &s.lines[i]
		opened := s.opened(i)
		switch {
		case l.when.text != "" && !byHand.MatchString(l.when.text):
			s.time(l, zone, opened)
		case !opened.IsZero():
			l.Opens, l.timed = opened, true
		case i == 0 && l.when.text == "":
			l.Opens, l.timed = s.now, true
		}
	}
	s.inOrder(zone)
}

// opened is when a session that is replaced has opened; zero for one that has not.
// One without a time has opened with the next that has one.
func (s *scheduling) opened(i int) time.Time {
	for ; i < len(s.was); i++ {
		if opens := s.was[i].Opens; !opens.IsZero() {
			if opens.After(s.now) {
				break
			}
			return opens
		}
	}
	return time.Time{}
}

// time reads the time at which a session opens.
func (s *scheduling) time(l *scheduleLine, zone *time.Location, opened time.Time) {
	c, wrong := readClock(l.when.text)
	if wrong != "" {
		s.wrong(l.when.span(), "sessions-time", "%s", wrong).Suggest("write a day and a time such as %s, or by hand", exampleTime(s.now))
		return
	}
	if s.broken && s.scheduleAround.zone == nil {
		return
	}
	at := c.moments(zone)
	if len(at) != 1 {
		before, after := c.plainNear(zone)
		what := "there is no such time in %s: the clocks are put forward past it"
		if len(at) > 1 {
			what = "that time comes twice in %s: the clocks are put back over it"
		}
		s.wrong(l.when.span(), "sessions-clocks", what, zone).Suggest("write %s or %s", before, after)
		return
	}
	switch minute := at[0]; {
	case !opened.IsZero() && opened.Truncate(time.Minute).Equal(minute):
		l.Opens, l.timed = opened, true
	case !opened.IsZero():
		s.wrong(l.when.span(), "sessions-opened", "session %d has opened already", l.Number).Suggest("write %s, or leave its time out", clockAt(opened.In(zone)))
	case minute.Before(s.now.Truncate(time.Minute)):
		s.wrong(l.when.span(), "sessions-past", "session %d would open in the past", l.Number).Suggest("give a time that is to come, or leave it out to open the session by hand")
	default:
		l.Opens, l.timed = minute, true
	}
}

// inOrder checks that no session opens before one that comes ahead of it.
func (s *scheduling) inOrder(zone *time.Location) {
	var last *scheduleLine
	for i := range s.lines {
		l := &s.lines[i]
		if !l.timed {
			continue
		}
		if last != nil && l.when.text != "" && !l.Opens.After(last.Opens) && s.opened(i).IsZero() {
			s.wrong(l.when.span(), "sessions-time-order", "session %d would not open after session %d", l.Number, last.Number).
				Suggest("give a time after %s", clockAt(last.Opens.In(zone)))
		}
		last = l
	}
}
