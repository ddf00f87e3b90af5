package bot

import (
	"strings"
	"testing"
	"time"

	"clew/patterns/samples"

	"clew/patterns"
	"clew/session"
)

// plansOf lays a sample out in all its sizes.
func plansOf(t *testing.T, sample string) []*plan {
	t.Helper()
	found, ok := samples.Find(sample)
	if !ok {
		t.Fatalf("there is no sample %q", sample)
	}
	p, problems := patterns.Read([]byte(found.Text))
	if patterns.HasErrors(problems) {
		t.Fatal(problems)
	}
	var plans []*plan
	for _, size := range append([]string(nil), p.Sizes...) {
		laid, err := p.LayOut(patterns.Choice{Size: size})
		if err != nil {
			t.Fatal(err)
		}
		plans = append(plans, &plan{Plan: laid})
	}
	if len(plans) == 0 {
		laid, err := p.LayOut(patterns.Choice{})
		if err != nil {
			t.Fatal(err)
		}
		plans = []*plan{{Plan: laid}}
	}
	return plans
}

// bySection is a plan of sessions with one for each section, up to the last row of
// any size.
func bySection(plans []*plan) []session.Session {
	p := plans[0]
	var sessions []session.Session
	for i, s := range p.Pattern.Sections {
		first := 0
		for _, r := range p.Rows {
			if r.Section == s && first == 0 {
				first = r.Number
			}
		}
		last := 0
		for _, of := range plans {
			last = max(last, of.lastOf(s.Name))
		}
		sessions = append(sessions, session.Session{Number: i + 1, Title: s.Name, First: session.RowID{Section: s.Name, Row: first},
			Last: session.RowID{Section: s.Name, Row: last}, Opens: quayNow.Add(-time.Minute)})
	}
	return sessions
}

// TestAnnouncements words the announcement of each session of each sample, and
// those of the cap of the tests, on time and late.
func TestAnnouncements(t *testing.T) {
	for _, s := range samples.All() {
		plans := plansOf(t, s.Name)
		about := quay
		about.Title, about.Sessions = plans[0].Pattern.Title, bySection(plans)
		var told strings.Builder
		for _, opened := range about.Sessions {
			texts := openingOf(about, opened, plans, quayNow).texts()
			told.WriteString(texts[0] + "\n--\n" + texts[len(texts)-1] + "\n====\n")
		}
		golden(t, "announced-"+s.Name, told.String())
	}
	plans := []*plan{capPlan(t, "small"), capPlan(t, "medium"), capPlan(t, "large")}
	var told strings.Builder
	for _, opened := range quay.Sessions {
		told.WriteString(strings.Join(openingOf(quay, opened, plans, quayNow).texts(), "\n--\n") + "\n====\n")
	}
	golden(t, "announced", told.String())
}

// TestAnnouncementByHand holds the figures of an announcement to those worked out by
// hand from the pattern's own counts.
func TestAnnouncementByHand(t *testing.T) {
	plans := []*plan{capPlan(t, "small"), capPlan(t, "medium"), capPlan(t, "large")}
	for number, wants := range map[int][]string{
		// 7 rounds of 72, 84 or 96 stitches are 504 to 672: at 20 a minute, 25.2 to 33.6
		// minutes, which is told to five minutes.
		1: {"It goes from round one of Brim to round one of Set-up, seven rounds in all.", "You begin and end with seventy-two to ninety-six stitches, by size.",
			"it takes twenty-five to thirty-five minutes, by size.", "This comes late: it was to open on Wednesday the first of October at seven in the evening, Amsterdam time."},
		// 16 rounds are 1,152 to 1,536 stitches, 57.6 to 76.8 minutes.
		2: {"It goes from round one to round sixteen of Ropes, sixteen rounds in all.", "it takes an hour to an hour and a quarter, by size.", "This comes late"},
		// The crown has 276 stitches to work in size small, 333 in medium and 390 in large:
		// 13.8 to 19.5 minutes.
		3: {"It goes from round one to round six of Crown, six rounds in all.", "You begin with seventy-two to ninety-six stitches and end with four to six, by size.",
			"it takes fourteen to twenty minutes, by size.", "Its first unusual round is round one of Crown."},
	} {
		text := openingOf(quay, quay.Sessions[number-1], plans, quayNow).texts()[0]
		for _, want := range wants {
			if !strings.Contains(text, want) {
				t.Errorf("session %d is announced without %q: %s", number, want, text)
			}
		}
	}
}

// TestAnnouncementsFit holds announcements to what is said, and to the platform's
// room.
func TestAnnouncementsFit(t *testing.T) {
	for _, s := range samples.All() {
		plans := plansOf(t, s.Name)
		for _, title := range []string{"", "The ropes", strings.Repeat("1234567 ", 32), "\u202e**", strings.Repeat("W", 256)} {
			about := quay
			about.Title, about.Sessions = title, bySection(plans)
			for _, opened := range about.Sessions {
				opened.Title, opened.Opens = title, quayNow.Add(-time.Hour)
				texts := openingOf(about, opened, plans, quayNow).texts()
				if n := worstEscaped(texts[len(texts)-1]); n > 1900 {
					t.Errorf("%s, session %d: the shortest takes %d characters", s.Name, opened.Number, n)
				}
				for _, text := range texts {
					for line := range strings.Lines(text) {
						if line = strings.TrimSuffix(line, "\n"); !sentences.MatchString(line) {
							t.Errorf("%s, session %d: that can't be said: %q", s.Name, opened.Number, line)
						}
					}
				}
			}
		}
	}
}

// TestAnnouncedWithoutRows announces a session of which a correction has left nothing.
func TestAnnouncedWithoutRows(t *testing.T) {
	opened := quay.Sessions[1]
	opened.First, opened.Last = session.RowID{Section: "Ropes", Row: 17}, session.RowID{Section: "Ropes", Row: 18}
	texts := openingOf(quay, opened, []*plan{capPlan(t, "small"), capPlan(t, "large")}, opened.Opens).texts()
	want := "Session two of three of Harbour Lights is open: The ropes."
	for _, text := range texts {
		if text != want {
			t.Errorf("it is announced so: %s", text)
		}
	}
}

// TestLate tells a session that opened a while ago from one that opened just now,
// or that a host opened without a time.
func TestLate(t *testing.T) {
	for _, c := range []struct {
		opens time.Time
		late  bool
	}{{quayNow, false}, {quayNow.Add(-lateAfter), false}, {quayNow.Add(-lateAfter - time.Second), true}, {quayNow.Add(time.Second), false}, {time.Time{}, false}} {
		opened := quay.Sessions[1]
		opened.Opens = c.opens
		text := openingOf(quay, opened, []*plan{capPlan(t, "small")}, quayNow).texts()[0]
		if strings.Contains(text, "late") != c.late {
			t.Errorf("one that was to open %v ago is announced so: %s", quayNow.Sub(c.opens), text)
		}
	}
}
