package bot

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"clew/patterns"
	"clew/patterns/problem"
	"clew/patterns/samples"
	"clew/reader"
	"clew/session"
)

// planningDay is when the schedules below are read.
var planningDay = time.Date(2026, 10, 10, 12, 0, 30, 0, time.UTC)

// hatRows lists the rows of a sample: Brim 1-14, Set-up 1, Floats 1-24, Slack water
// 1-6 and Crown 1-22.
func hatRows(t testing.TB) *rowList {
	t.Helper()
	rows, err := rowsOf(hatPattern(t))
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

func hatPattern(t testing.TB) *patterns.Pattern {
	t.Helper()
	sample, ok := samples.Find("float-hat")
	if !ok {
		t.Fatal("the sample is gone")
	}
	pattern, _ := patterns.Read([]byte(sample.Text))
	return pattern
}

func around(rows *rowList) scheduleAround {
	return scheduleAround{rows: rows, other: time.UTC, now: planningDay}
}

func row(section string, n int) session.RowID { return session.RowID{Section: section, Row: n} }

// What is one and the same in several spellings.
func TestReadSchedule(t *testing.T) {
	amsterdam, err := time.LoadLocation("Europe/Amsterdam")
	if err != nil {
		t.Fatal(err)
	}
	rows := hatRows(t)
	opens := time.Date(2026, 12, 1, 19, 0, 0, 0, amsterdam)
	want := []session.Session{
		{Number: 1, Title: "Casting on", First: row("Brim", 1), Last: row("Set-up", 1), Opens: opens.UTC()},
		{Number: 2, Title: "Floats", First: row("Floats", 1), Last: row("Floats", 24)},
		{Number: 3, Title: "Ends: all of them", First: row("Slack water", 1), Last: row("Crown", 22), Opens: opens.AddDate(0, 0, 14).UTC()},
	}
	for name, text := range map[string]string{
		"digits":     "Zone: Europe/Amsterdam\n1. Casting on: Brim 1 to Set-up 1; opens 2026-12-01 19:00\n2. Floats\n3. Ends: all of them: Slack water to Crown; opens 2026-12-15 19:00",
		"words":      "// The plan\n\nzone:  europe/amsterdam \n1) Casting on: Brim - Set-up; opens Tuesday, 1 December 2026 at 7 pm // evening\n2) Floats; opens by hand\n3) Ends: all of them: slack  WATER 1 to crown round 22; opens 15th of December 2026, 19:00",
		"last first": "1. Casting on: Brim 1–Set-up 1; opens Dec 1, 2026 7:00 p.m.\r\n2. Floats; opens by a host\r\n3. Ends: all of them: Slack water rounds 1 to Crown; opens 19.00 on Tue December 15 2026\r\nTime zone: Amsterdam\r\n",
		"T":          "\uFEFFSession 1: Casting on: Brim to Set-up; opens 2026-12-01T19:00:00\nsession 2. Floats 1-24\n3. Ends: all of them: Slack water - Crown; opens 2026-12-15 19:00\nZone: Europe/Amsterdam",
	} {
		s, problems := readSchedule([]byte(text), around(rows))
		if len(problems) > 0 {
			t.Errorf("%s: %s", name, scheduleReport("plan", []byte(text), problems))
			continue
		}
		for i := range s.sessions {
			s.sessions[i].Opens = s.sessions[i].Opens.UTC()
		}
		if name == "T" {
			s.sessions[1].Title = "Floats"
		}
		if diff := cmp.Diff(want, s.sessions, cmp.Comparer(time.Time.Equal)); diff != "" || s.zone != "Europe/Amsterdam" || s.hold != nil {
			t.Errorf("%s, in %s, hold %v (-want +got):\n%s", name, s.zone, s.hold, diff)
		}
	}
}

// Each mistake is told once, where it stands, and can be said.
func TestScheduleMistakes(t *testing.T) {
	rows := hatRows(t)
	for _, c := range []struct{ text, line, said, advice string }{
		{"1. Brim 1-16; opens by hand", `1:11: error: Brim has no round 16; its rounds are 1 to 14`, "Brim has no round sixteen; its rounds are one to fourteen.", "write: Brim 14"},
		{"1. Brim\n2. Set-up to Flots", `2:14: error: there is no section called "Flots"`, "There is no section called Flots.", "did you mean Floats?"},
		{"1. Casting on:", `1:1: error: it is not said which rows session 1 has`, "It is not said which rows session one has.", "write the name of a section behind it, such as Brim"},
		{"1. Brim\n2. Back: Crown to Floats", `2:10: error: session 2 runs backwards: Crown 1 comes after Floats 24`, "Session two runs backwards: Crown one comes after Floats twenty-four.", "write: Floats 24 to Crown 1"},
		{"1. Brim\n2. Brim 14 to Floats", `2:4: error: Brim 14 is in session 1 already`, "Brim fourteen is in session one already.", "begin it with Set-up 1"},
		{"1. Brim to Crown\n2. Crown 22", `2:4: error: Crown 22 is in session 1 already`, "Crown twenty-two is in session one already.", "leave it out: the sessions before it have all rows"},
		{"1. Brim\n2. Floats", `2:4: error: Set-up 1 is in no session`, "Set-up one is in no session.", "begin it with Set-up 1"},
		{"1. Set-up", `1:4: error: the pattern begins with Brim 1, which is in no session`, "The pattern begins with Brim one, which is in no session.", "begin it with Brim 1"},
		{"1. Brim; opens 2026-10-10 11:59", `1:16: error: session 1 would open in the past`, "Session one would open in the past.", "give a time that is to come, or leave it out to open the session by hand"},
		{"1. Brim; opens 2026-11-10 19:00\n2. Set-up; opens 2026-11-10 19:00", `2:18: error: session 2 would not open after session 1`, "Session two would not open after session one.", "give a time after 2026-11-10 19:00"},
		{"1. Brim; opens 2026-11-31 19:00", `1:16: error: there is no such day`, "There is no such day.", "write a day and a time such as 2026-10-17 19:00, or by hand"},
		{"1. Brim; opens Monday 1 December 2026 19:00", `1:16: error: that day is a Tuesday`, "That day is a Tuesday.", "write a day and a time such as 2026-10-17 19:00, or by hand"},
		{"1. Brim; opens 1/12/2026 19:00", `1:16: error: a day in digits alone can be read in two ways`, "A day in digits alone can be read in two ways.", "write a day and a time such as 2026-10-17 19:00, or by hand"},
		{"1. Brim; opens 2026-12-01", `1:16: error: the time of day is missing`, "The time of day is missing.", "write a day and a time such as 2026-10-17 19:00, or by hand"},
		{"1. Brim; opens 2026-12-01 25:00", `1:16: error: there is no such time of day`, "There is no such time of day.", "write a day and a time such as 2026-10-17 19:00, or by hand"},
		{"1. Brim; opens soon 19:00", `1:16: error: "soon" can't be read as a day`, "Soon can't be read as a day.", "write a day and a time such as 2026-10-17 19:00, or by hand"},
		{"1. Brim; 2026-12-01 19:00", `1:10: error: found "2026-12-01 19:00", expected opens and a time`, "", "write: opens 2026-10-17 19:00"},
		{"Zone: Europe/Amsterdam\n1. Brim; opens 2027-03-28 02:30", `2:16: error: there is no such time in Europe/Amsterdam: the clocks are put forward past it`, "There is no such time in Europe Amsterdam: the clocks are put forward past it.", "write 2027-03-28 01:45 or 2027-03-28 03:00"},
		{"Zone: Europe/Amsterdam\n1. Brim; opens 2026-10-25 02:30", `2:16: error: that time comes twice in Europe/Amsterdam: the clocks are put back over it`, "That time comes twice in Europe Amsterdam: the clocks are put back over it.", "write 2026-10-25 01:45 or 2026-10-25 03:00"},
		{"Zone: Amsterdem\n1. Brim", `1:7: error: there is no time zone called "Amsterdem"`, "There is no time zone called Amsterdem.", "write: Europe/Amsterdam"},
		{"Zon: UTC\n1. Brim", `1:1: error: there is no key "zon" here`, "There is no key zon here.", "write: Zone: "},
		{"Hold: maybe\n1. Brim", `1:7: error: found "maybe", expected yes or no`, "Found maybe, expected yes or no.", "write yes to hold rows back until their session opens"},
		{"Hold: yes\nHold: no\n1. Brim", `2:1: error: there is a line with hold already`, "There is a line with hold already.", "keep one of them"},
		{"2. Brim", `1:1: error: found session 2, expected session 1`, "Found session two, expected session one.", "number the sessions from 1 on, in their order"},
		{"Brim", `1:1: error: a session begins with its number, and this line has none`, "A session begins with its number, and this line has none.", "write: 1. Brim"},
		{"1. " + strings.Repeat("long ", 60) + ": Brim", `1:4: error: this title is too long`, "This title is too long.", "give it a title of a few words, or none"},
		{"1. " + strings.Repeat("- ", 600), `1:1: error: this line is too long`, "This line is too long.", "give the session a title of a few words, its rows, and when it opens"},
		{"// nothing", `1:1: error: the text has no session`, "The text has no session.", "write a line such as: 1. Brim"},
	} {
		_, problems := readSchedule([]byte(c.text), around(rows))
		if len(problems) != 1 {
			t.Errorf("%q has %d problems, expected one: %s", c.text, len(problems), scheduleReport("plan", []byte(c.text), problems))
			continue
		}
		if line := problem.Line("plan", []byte(c.text), problems[0]); line != "plan:"+c.line || problems[0].Suggestion != c.advice {
			t.Errorf("%q is told as\n%s, %q, expected\nplan:%s, %q", c.text, line, problems[0].Suggestion, c.line, c.advice)
		}
		if said := scheduleProblems(problems); c.said != "" && said != c.said+" Nothing was changed." {
			t.Errorf("%q is said as %q, expected %q", c.text, said, c.said)
		}
	}
}

// A session that has opened keeps its time, whether that is written or not, and can't
// be given another.
func TestScheduleReplaces(t *testing.T) {
	rows := hatRows(t)
	opened := planningDay.Add(-3*time.Hour + 20*time.Second)
	in := around(rows)
	in.was = []session.Session{{Number: 1, Title: "a", First: row("Brim", 1), Last: row("Brim", 14)}, {Number: 2, Title: "b", First: row("Set-up", 1), Last: row("Set-up", 1), Opens: opened}}
	for text, codes := range map[string]string{
		"1. Brim 1-4\n2. Brim 5-14\n3. Set-up to Crown":                                         "",
		fmt.Sprintf("1. Brim; opens by hand\n2. Set-up; opens %s", clockAt(opened)):             "",
		"1. Brim; opens 2026-12-01 19:00\n2. Set-up":                                            "sessions-opened",
		"1. Brim\n2. Set-up; opens 2026-12-01 19:00":                                            "sessions-opened",
		"1. Brim\n2. Set-up\n3. Floats; opens " + clockAt(planningDay.Add(-time.Hour)).String(): "sessions-past",
		"1. Brim\n2. Set-up\n3. Floats; opens " + clockAt(planningDay).String():                 "",
	} {
		s, problems := readSchedule([]byte(text), in)
		var found []string
		for _, p := range problems {
			found = append(found, p.Code)
		}
		if strings.Join(found, " ") != codes {
			t.Errorf("%q is told %v, expected %q", text, found, codes)
		}
		if codes == "" && (!s.sessions[0].Opens.Equal(opened) || !s.sessions[1].Opens.Equal(opened)) {
			t.Errorf("%q moves what has opened at %s to %s and %s", text, opened, s.sessions[0].Opens, s.sessions[1].Opens)
		}
	}
}

// What a host is given to change says what there was.
func TestScheduleTextReadsBack(t *testing.T) {
	rows := hatRows(t)
	rapid.Check(t, func(rt *rapid.T) {
		about := session.About{Zone: rapid.SampledFrom([]string{"UTC", "Europe/Amsterdam", "America/New_York", "Australia/Lord_Howe", "Asia/Kathmandu"}).Draw(rt, "zone"),
			Hold: rapid.Bool().Draw(rt, "hold")}
		opens := planningDay.Add(-48 * time.Hour).Truncate(time.Minute)
		for begin := 0; begin < len(rows.rows) && len(about.Sessions) < 12; {
			last := min(begin+rapid.IntRange(0, 20).Draw(rt, "rows"), len(rows.rows)-1)
			s := session.Session{Number: len(about.Sessions) + 1, Title: "Part " + reader.Number(len(about.Sessions)+1), First: rows.rows[begin], Last: rows.rows[last]}
			opens = opens.Add(time.Duration(rapid.IntRange(1, 90_000).Draw(rt, "minutes")) * time.Minute)
			if plain := clockAt(opens.In(zoneOf(about.Zone))).moments(zoneOf(about.Zone)); len(plain) == 1 && (len(about.Sessions) == 0 || rapid.Bool().Draw(rt, "timed")) {
				s.Opens = opens
			}
			about.Sessions = append(about.Sessions, s)
			begin = last + 1
		}
		in := around(rows)
		in.was = about.Sessions
		text := scheduleText(about, in.now)
		s, problems := readSchedule([]byte(text), in)
		if len(problems) > 0 {
			rt.Fatal(scheduleReport("plan", []byte(text), problems))
		}
		for i, was := range about.Sessions { // one that opened with a later one has its time from then on
			if was.Opens.IsZero() && about.Stage(i+1, in.now) != session.Planned {
				s.sessions[i].Opens = time.Time{}
			}
		}
		if diff := cmp.Diff(about.Sessions, s.sessions, cmp.Comparer(time.Time.Equal)); diff != "" || s.zone != about.Zone || *s.hold != about.Hold {
			rt.Fatalf("%s\nreads back as (-was +is):\n%s", text, diff)
		}
	})
}

// The name of a section may have in it what parts a line.
func TestScheduleOfOddNames(t *testing.T) {
	opens := planningDay.Truncate(time.Minute).Add(time.Hour)
	for _, name := range []string{"Part: One", "Part: One: a", "Brim; inner", "Half 1 to 2", "Rows 1-4", "x - y", "Hold: yes", "1. Brim", "opens", "12"} {
		p, problems := patterns.Read([]byte("Pattern: Mat\nWorked: in rows\nCast on: 20\nSection: One\nRow 1: knit.\nSection: " + name + "\nRows 1-6: knit.\n"))
		if patterns.HasErrors(problems) {
			t.Fatal(problems)
		}
		rows, err := rowsOf(p)
		if err != nil {
			t.Fatal(err)
		}
		about := session.About{Zone: "UTC", Sessions: []session.Session{
			{Number: 1, Title: "First: a part", First: row("One", 1), Last: row("One", 1)},
			{Number: 2, Title: name, First: row(name, 1), Last: row(name, 6), Opens: opens}}}
		for _, text := range []string{scheduleText(about, planningDay), "1. First: a part: One\n2. " + name + "; opens " + clockAt(opens).String()} {
			read, problems := readSchedule([]byte(text), around(rows))
			if len(problems) > 0 || len(read.sessions) != 2 {
				t.Errorf("%s\n%s", text, scheduleReport("plan", []byte(text), problems))
				continue
			}
			if found, want := read.sessions[1], about.Sessions[1]; found.First != want.First || found.Last != want.Last || !found.Opens.Equal(want.Opens) {
				t.Errorf("%s\nreads back as %+v", text, found)
			}
		}
	}
}

// One that a host opens by hand opens with the next that has a time, at the latest,
// however many come between.
func TestWhenSessionsOpen(t *testing.T) {
	opens := time.Date(2026, 10, 26, 2, 0, 0, 0, time.UTC)
	about := session.About{Zone: "Europe/Amsterdam", Sessions: []session.Session{{Number: 1}, {Number: 2}, {Number: 3, Opens: opens}, {Number: 4}}}
	const timed, byHand = "on Monday the twenty-sixth of October at three in the morning, Amsterdam time", "when a host opens it"
	for i, want := range []string{timed, timed, timed, byHand} {
		if said := (&Bot{}).whenOpensIn(about, about.Sessions[i], planningDay); said != want {
			t.Errorf("session %d opens %s, expected %s", i+1, said, want)
		}
	}
}

// The clocks of the European Union are put forward and back at one in the morning of
// universal time on the last Sundays of March and October: Directive 2000/84/EC,
// articles 2 and 3. Those of New York at two by its own time, on the second Sunday of
// March and the first of November: Energy Policy Act of 2005, section 110. Those of
// Lord Howe by half an hour: IANA Time Zone Database, australasia.
func TestClocks(t *testing.T) {
	for _, c := range []struct {
		zone, clock string
		moments     string // in universal time
	}{
		{"Europe/Amsterdam", "2026-03-29 01:59", "00:59"},
		{"Europe/Amsterdam", "2026-03-29 02:00", ""},
		{"Europe/Amsterdam", "2026-03-29 02:59", ""},
		{"Europe/Amsterdam", "2026-03-29 03:00", "01:00"},
		{"Europe/Amsterdam", "2026-10-25 01:59", "23:59"},
		{"Europe/Amsterdam", "2026-10-25 02:00", "00:00 01:00"},
		{"Europe/Amsterdam", "2026-10-25 02:59", "00:59 01:59"},
		{"Europe/Amsterdam", "2026-10-25 03:00", "02:00"},
		{"America/New_York", "2026-03-08 02:30", ""},
		{"America/New_York", "2026-11-01 01:30", "05:30 06:30"},
		{"America/New_York", "2026-11-01 02:30", "07:30"},
		{"Australia/Lord_Howe", "2026-10-04 02:15", ""},
		{"Australia/Lord_Howe", "2026-04-05 01:45", "14:45 15:15"},
		{"UTC", "2026-10-25 02:30", "02:30"},
	} {
		var at clock
		if _, err := fmt.Sscanf(c.clock, "%d-%d-%d %d:%d", &at.year, &at.month, &at.day, &at.hour, &at.minute); err != nil {
			t.Fatal(err)
		}
		var found []string
		for _, m := range at.moments(zoneOf(c.zone)) {
			found = append(found, m.UTC().Format("15:04"))
		}
		if got := strings.Join(found, " "); got != c.moments {
			t.Errorf("%s in %s is at %q, expected %q", c.clock, c.zone, got, c.moments)
		}
	}
}

func TestZones(t *testing.T) {
	if n := len(Zones()); n < 400 {
		t.Errorf("there are %d time zones, expected four hundred and more", n)
	}
	for _, name := range Zones() {
		if zone, _ := zoneNamed(name); zone == nil || zone.String() != name {
			t.Errorf("%s is no time zone", name)
		}
	}
	for asked, want := range map[string]string{"europe/amsterdam": "Europe/Amsterdam", "new york": "America/New_York", "New_York": "America/New_York", "utc": "UTC", " Kathmandu ": "Asia/Kathmandu"} {
		if zone, near := zoneNamed(asked); zone == nil || zone.String() != want {
			t.Errorf("%q is %v (%s), expected %s", asked, zone, near, want)
		}
	}
	for asked, want := range map[string]string{"Europe/Amsterdm": "Europe/Amsterdam", "amsterdan": "Europe/Amsterdam", "": "", "Tibberhythe": ""} {
		if zone, near := zoneNamed(asked); zone != nil || near != want {
			t.Errorf("near %q is %s, %v, expected %q", asked, near, zone, want)
		}
	}
}

// Whatever is read, what comes of it follows on from the first row, or is told with
// its line.
func FuzzReadSchedule(f *testing.F) {
	for _, text := range []string{"Zone: Europe/Amsterdam\nHold: yes\n1. Casting on: Brim 1 to Set-up 1; opens 2026-12-01 19:00\n2. Floats", "1. Brim 1-16; opens by hand;;\r\n3)", "2: : \u2028: ;opens at 7 pm 1st of Sept 2026",
		"Zone:\n1. Brim - - 3; opens 2026-10-25 02:30", "1. 1 to 4"} {
		f.Add(text)
	}
	rows := hatRows(f)
	f.Fuzz(func(t *testing.T, text string) {
		s, problems := readSchedule([]byte(text), around(rows))
		scheduleReport("plan", []byte(text), problems)
		if len(problems) > 0 {
			return
		}
		next, opens := 0, time.Time{}
		for i, one := range s.sessions {
			first, ok := rows.at[one.First]
			last, ok2 := rows.at[one.Last]
			if !ok || !ok2 || first != next || last < first || one.Number != i+1 || unfitTitle(one.Title) != "" {
				t.Fatalf("%q becomes %+v", text, s.sessions)
			}
			if !one.Opens.IsZero() && !one.Opens.After(opens) || one.Opens.Before(planningDay.Truncate(time.Minute)) && !one.Opens.IsZero() {
				t.Fatalf("%q opens at %v", text, one.Opens)
			}
			if !one.Opens.IsZero() {
				opens = one.Opens
			}
			next = last + 1
		}
		if next == 0 {
			t.Fatalf("%q becomes no session, and nothing is told", text)
		}
	})
}
