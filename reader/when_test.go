package reader

import (
	"archive/zip"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
	_ "time/tzdata"

	"pgregory.net/rapid"
)

func zone(t testing.TB, name string) *time.Location {
	t.Helper()
	z, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return z
}

// Weekdays are those of a perpetual calendar: the first of December 2026 is a
// Tuesday.
func TestMoment(t *testing.T) {
	amsterdam := zone(t, "Europe/Amsterdam")
	now := time.Date(2026, time.November, 25, 18, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		name string
		at   time.Time
		zone *time.Location
		want string
	}{
		{"an evening", time.Date(2026, 12, 1, 18, 0, 0, 0, time.UTC), amsterdam, "on Tuesday the first of December at seven in the evening, Amsterdam time"},
		{"in summer the clocks are an hour on", time.Date(2027, 7, 1, 17, 0, 0, 0, time.UTC), amsterdam, "on Thursday the first of July at seven in the evening, Amsterdam time"},
		{"elsewhere it is another day", time.Date(2026, 12, 1, 18, 30, 0, 0, time.UTC), zone(t, "Asia/Tokyo"), "on Wednesday the second of December at half past three in the morning, Tokyo time"},
		{"next year, soon", time.Date(2027, 1, 2, 19, 0, 0, 0, time.UTC), time.UTC, "on Saturday the second of January at seven in the evening, universal time"},
		{"far off", time.Date(2027, 12, 1, 18, 0, 0, 0, time.UTC), amsterdam, "on Wednesday the first of December twenty twenty-seven at seven in the evening, Amsterdam time"},
		{"long ago", time.Date(2025, 12, 1, 18, 0, 0, 0, time.UTC), amsterdam, "on Monday the first of December twenty twenty-five at seven in the evening, Amsterdam time"},
		{"midnight", time.Date(2026, 12, 1, 0, 0, 0, 0, time.UTC), time.UTC, "on Tuesday the first of December at midnight, when that day begins, universal time"},
		{"seconds are not told", time.Date(2026, 12, 1, 12, 0, 59, 0, time.UTC), time.UTC, "on Tuesday the first of December at noon, universal time"},
	} {
		if got := Moment(c.at, now, c.zone); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

func TestDay(t *testing.T) {
	amsterdam := zone(t, "Europe/Amsterdam")
	now := time.Date(2026, time.November, 25, 23, 30, 0, 0, time.UTC) // Thursday in Amsterdam, half an hour old
	for days, want := range map[int]string{
		-2: "on the twenty-fourth of November", -1: "yesterday", 0: "today", 1: "tomorrow", 2: "on Saturday", 6: "on Wednesday", 7: "on the third of December",
		400: "on the thirty-first of December twenty twenty-seven", -400: "on the twenty-second of October twenty twenty-five",
	} {
		if got := Day(time.Date(2026, 11, 26+days, 12, 0, 0, 0, amsterdam), now, amsterdam); got != want {
			t.Errorf("in %d days: %q, want %q", days, got, want)
		}
	}
	// The last day of March that has 23 hours is a day like any other.
	if got := Day(time.Date(2026, 3, 30, 0, 0, 0, 0, amsterdam), time.Date(2026, 3, 28, 23, 59, 0, 0, amsterdam), amsterdam); got != "on Monday" {
		t.Errorf("over the change of the clocks: %q, want on Monday", got)
	}
}

// As clocks are read aloud in English: common practice.
func TestTimeOfDay(t *testing.T) {
	for _, c := range []struct {
		hour, minute int
		want         string
	}{
		{19, 0, "seven in the evening"}, {19, 30, "half past seven in the evening"}, {19, 50, "ten minutes to eight in the evening"},
		{0, 0, "midnight"}, {0, 30, "half past midnight"}, {0, 1, "one minute past midnight"}, {0, 45, "a quarter to one in the morning"}, {9, 15, "a quarter past nine in the morning"},
		{11, 59, "one minute to noon"}, {12, 0, "noon"}, {12, 30, "half past twelve in the afternoon"}, {12, 31, "twenty-nine minutes to one in the afternoon"},
		{17, 59, "one minute to six in the evening"}, {21, 29, "twenty-nine minutes past nine in the evening"}, {22, 0, "ten at night"}, {23, 45, "a quarter to midnight"},
	} {
		if got := TimeOfDay(c.hour, c.minute); got != c.want {
			t.Errorf("%02d:%02d: %q, want %q", c.hour, c.minute, got, c.want)
		}
	}
}

// No two minutes of a day are told alike.
func TestTimesOfDayDiffer(t *testing.T) {
	told := map[string]int{}
	for m := range 24 * 60 {
		words := TimeOfDay(m/60, m%60)
		if first, ok := told[words]; ok {
			t.Errorf("%q is minute %d and %d of the day", words, first, m)
		}
		told[words] = m
		checkSpoken(t, words)
	}
}

func TestYear(t *testing.T) {
	for n, want := range map[int]string{2026: "twenty twenty-six", 2009: "two thousand and nine", 2000: "two thousand", 1900: "nineteen hundred", 1905: "nineteen oh five", 1999: "nineteen ninety-nine",
		2100: "twenty-one hundred", 476: "four hundred and seventy-six", 12026: "twelve thousand and twenty-six"} {
		if got := Year(n); got != want {
			t.Errorf("%d: %q, want %q", n, got, want)
		}
	}
}

func TestZoneTime(t *testing.T) {
	winter := time.Date(2026, 12, 1, 12, 0, 0, 0, time.UTC)
	for name, want := range map[string]string{
		"Europe/Amsterdam": "Amsterdam time", "America/New_York": "New York time", "America/Argentina/Buenos_Aires": "Buenos Aires time", "America/St_Johns": "Saint Johns time",
		"America/Port-au-Prince": "Port-au-Prince time", "UTC": "universal time", "Etc/UTC": "universal time", "Etc/Zulu": "universal time", "Etc/GMT+5": "five hours behind universal time",
		"CET": "one hour ahead of universal time", "EST5EDT": "five hours behind universal time",
	} {
		if got := ZoneTime(winter, zone(t, name)); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
	if got := ZoneTime(winter, time.FixedZone("", -(3*3600+1800))); got != "three hours and thirty minutes behind universal time" {
		t.Errorf("a zone without a name: %q", got)
	}
}

// Every time zone that there is can be spoken. The names are those of the IANA
// database, as it comes with Go.
func TestZonesSpoken(t *testing.T) {
	root, err := exec.CommandContext(t.Context(), "go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	all, err := zip.OpenReader(filepath.Join(strings.TrimSpace(string(root)), "lib", "time", "zoneinfo.zip"))
	if err != nil {
		t.Fatal(err)
	}
	defer all.Close()
	tried := 0
	for _, f := range all.File {
		if z, err := time.LoadLocation(f.Name); err == nil && !strings.HasSuffix(f.Name, "/") {
			tried++
			checkSpoken(t, ZoneTime(time.Date(2026, 12, 1, 12, 0, 0, 0, time.UTC), z))
		}
	}
	if tried < 400 {
		t.Errorf("found %d zones, expected four hundred and more", tried)
	}
}

func TestSpan(t *testing.T) {
	const day = 24 * time.Hour
	for _, c := range []struct {
		d    time.Duration
		want string
	}{
		{0, "less than a minute"}, {29 * time.Second, "less than a minute"}, {30 * time.Second, "a minute"}, {100 * time.Second, "two minutes"}, {14*time.Minute + 29*time.Second, "fourteen minutes"},
		{14*time.Minute + 45*time.Second, "fifteen minutes"}, {19 * time.Minute, "twenty minutes"}, {57 * time.Minute, "fifty-five minutes"}, {58 * time.Minute, "an hour"},
		{-20 * time.Minute, "twenty minutes"}, {80 * time.Minute, "an hour and a quarter"}, {146 * time.Minute, "two hours and a half"}, {105 * time.Minute, "an hour and three quarters"}, {175 * time.Minute, "three hours"},
		{4*time.Hour + 20*time.Minute, "four hours and a half"}, {9*time.Hour + 50*time.Minute, "ten hours"}, {35*time.Hour + 20*time.Minute, "thirty-five hours"}, {36 * time.Hour, "a day and a half"}, {43 * time.Hour, "two days"},
		{3*day + 5*time.Hour, "three days"}, {13 * day, "thirteen days"}, {14 * day, "two weeks"}, {62 * day, "two months"}, {365 * day, "twelve months"}, {730 * day, "two years"}, {1 << 62, "one hundred and forty-six years"},
	} {
		if got := Span(c.d); got != c.want {
			t.Errorf("%v: %q, want %q", c.d, got, c.want)
		}
	}
}

// A span that is told is within a fifth of what it is, or half a minute.
func TestSpanIsNear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := time.Duration(rapid.Int64Range(int64(time.Minute), int64(20*aYear)).Draw(t, "d"))
		words := Span(d)
		checkSpoken(t, words)
		if got := heardSpan(t, words); (got - d).Abs() > max(d/5, 30*time.Second) {
			t.Fatalf("%v is told as %q, which is %v", d, words, got)
		}
	})
}

// heardSpan reads a span back.
func heardSpan(t *rapid.T, words string) time.Duration {
	unitOf := map[string]time.Duration{"minute": time.Minute, "hour": time.Hour, "day": aDay, "week": aWeek, "month": aMonth, "year": aYear}
	whole, part, _ := strings.Cut(words, " and ")
	count, unit, _ := strings.Cut(whole, " ")
	quarter, ok := map[string]time.Duration{"": 0, "a quarter": 1, "a half": 2, "three quarters": 3}[part]
	of := unitOf[strings.TrimSuffix(unit, "s")]
	for n := 1; n < 200; n++ {
		if ok && of > 0 && (count == Number(n) || n == 1 && (count == "a" || count == "an")) {
			return time.Duration(n)*of + quarter*of/4
		}
	}
	t.Fatalf("%q is no span", words)
	return 0
}

// checkSpoken holds words against what may be said.
func checkSpoken(t interface{ Errorf(string, ...any) }, words string) {
	if strings.Trim(strings.ToLower(words), "abcdefghijklmnopqrstuvwxyz ,'-") != "" || words == "" || strings.Contains(words, "  ") {
		t.Errorf("%q can't be spoken", words)
	}
}
