package reader

import (
	"math"
	"strings"
	"time"
	"unicode"
)

// Moment words a moment as the clocks of a time zone show it, to the minute: "on
// Tuesday the first of December at seven in the evening, Amsterdam time". The year
// is said where that is more than eleven months from now.
func Moment(at, now time.Time, zone *time.Location) string {
	local := at.In(zone)
	said := "on " + local.Weekday().String() + " the " + date(local, now.In(zone)) + " at " + TimeOfDay(local.Hour(), local.Minute())
	if local.Hour() == 0 && local.Minute() == 0 {
		said += ", when that day begins" // midnight alone may as well be its end
	}
	return said + ", " + ZoneTime(at, zone)
}

// Day words the day of a moment as the calendar of a time zone has it, seen from
// now: "yesterday", "today", "tomorrow", "on Friday" where that is the next one,
// "on the third of December". The year is said as Moment says it.
func Day(at, now time.Time, zone *time.Location) string {
	local, today := at.In(zone), now.In(zone)
	switch days := daysBetween(today, local); {
	case days == -1:
		return "yesterday"
	case days == 0:
		return "today"
	case days == 1:
		return "tomorrow"
	case 1 < days && days < 7:
		return "on " + local.Weekday().String()
	}
	return "on the " + date(local, today)
}

// daysBetween counts calendar days, whatever the clocks do in between.
func daysBetween(from, to time.Time) int {
	return int(midnight(to).Sub(midnight(from)) / (24 * time.Hour))
}

// midnight is the beginning of the day of t in a calendar whose days are all of one
// length.
func midnight(t time.Time) time.Time {
	return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC)
}

// date words a day of the year, and its year where that is not plain: a date comes
// once in eleven months.
func date(at, now time.Time) string {
	said := Ordinal(at.Day()) + " of " + at.Month().String()
	near := !midnight(at).After(midnight(now).AddDate(0, 11, 0)) && !midnight(at).Before(midnight(now).AddDate(0, -11, 0))
	if !near {
		said += " " + Year(at.Year())
	}
	return said
}

// Year words a year as years are read: "twenty twenty-seven", "nineteen hundred",
// "nineteen oh five", "two thousand and nine".
func Year(n int) string {
	century, rest := n/100, n%100
	switch {
	case n < 1000 || n > 9999 || century%10 == 0 && rest < 10:
		return Number(n)
	case rest == 0:
		return Number(century) + " hundred"
	case rest < 10:
		return Number(century) + " oh " + Number(rest)
	}
	return Number(century) + " " + Number(rest)
}

// TimeOfDay words an hour, 0 to 23, and a minute, 0 to 59: "seven in the evening",
// "half past seven in the evening", "ten minutes to eight in the evening", "noon",
// "midnight".
func TimeOfDay(hour, minute int) string {
	minutes := func(n int) string { return Number(n) + " " + plural("minute", n) }
	switch {
	case minute == 0:
		return hourOf(hour)
	case minute == 15:
		return "a quarter past " + hourPast(hour)
	case minute == 30:
		return "half past " + hourPast(hour)
	case minute == 45:
		return "a quarter to " + hourOf((hour+1)%24)
	case minute < 30:
		return minutes(minute) + " past " + hourPast(hour)
	}
	return minutes(60-minute) + " to " + hourOf((hour+1)%24)
}

// hourPast words an hour that is past. Nobody says half past noon.
func hourPast(hour int) string {
	if hour == 12 {
		return "twelve in the afternoon"
	}
	return hourOf(hour)
}

// hourOf words a full hour with its part of the day.
func hourOf(hour int) string {
	switch hour {
	case 0:
		return "midnight"
	case 12:
		return "noon"
	}
	name := Number((hour+11)%12 + 1)
	switch {
	case hour < 12:
		return name + " in the morning"
	case hour < 18:
		return name + " in the afternoon"
	case hour < 22:
		return name + " in the evening"
	}
	return name + " at night"
}

// ZoneTime names the time that a zone keeps at a moment, by its place: "Amsterdam
// time". A zone without a place is told by how far it is from universal time.
func ZoneTime(at time.Time, zone *time.Location) string {
	_, offset := at.In(zone).Zone()
	name := zone.String()
	place := strings.ReplaceAll(name[strings.LastIndexByte(name, '/')+1:], "_", " ")
	if rest, ok := strings.CutPrefix(place, "St "); ok {
		place = "Saint " + rest
	}
	isPlace := strings.ContainsFunc(place, unicode.IsLower) && !strings.ContainsFunc(place, unspoken)
	switch {
	case isPlace && place != "Local" && place != "Universal" && place != "Zulu":
		return place + " time"
	case offset == 0:
		return "universal time"
	case offset < 0:
		return exactly(time.Duration(-offset)*time.Second) + " behind universal time"
	}
	return exactly(time.Duration(offset)*time.Second) + " ahead of universal time"
}

func unspoken(r rune) bool { return !unicode.IsLetter(r) && r != ' ' && r != '-' && r != '\'' }

// exactly words hours and minutes as they are.
func exactly(d time.Duration) string {
	hours, minutes := int(d/time.Hour), int(d%time.Hour/time.Minute)
	var parts []string
	if hours > 0 {
		parts = append(parts, Number(hours)+" "+plural("hour", hours))
	}
	if minutes > 0 || hours == 0 {
		parts = append(parts, Number(minutes)+" "+plural("minute", minutes))
	}
	return strings.Join(parts, " and ")
}

// A month and a year are those of the calendar on the average.
const (
	aDay   = 24 * time.Hour
	aWeek  = 7 * aDay
	aYear  = 8766 * time.Hour
	aMonth = aYear / 12
)

// grains says how finely people tell a stretch of time: one that comes to less than
// under, to so much, and in which unit.
var grains = [...]struct {
	under, to, unit time.Duration
	name            string
}{
	{15 * time.Minute, time.Minute, time.Minute, "minute"},
	{time.Hour, 5 * time.Minute, time.Minute, "minute"},
	{3 * time.Hour, 15 * time.Minute, time.Hour, "hour"},
	{10 * time.Hour, 30 * time.Minute, time.Hour, "hour"},
	{36 * time.Hour, time.Hour, time.Hour, "hour"},
	{3 * aDay, 12 * time.Hour, aDay, "day"},
	{2 * aWeek, aDay, aDay, "day"},
	{9 * aWeek, aWeek, aWeek, "week"},
	{23 * aMonth, aMonth, aMonth, "month"},
	{math.MaxInt64, aYear, aYear, "year"},
}

// Span words a stretch of time, rounded as people round: "three minutes", "twenty
// minutes", "an hour and a quarter", "two hours and a half", "three days", "two
// weeks". Less than half a minute is "less than a minute"; below zero its size is
// said. Where it is an estimate, "about" belongs before it.
func Span(d time.Duration) string {
	d = d.Abs()
	if d < 30*time.Second {
		return "less than a minute"
	}
	for _, g := range grains {
		if rounded := d.Round(g.to); rounded < g.under || g.under == math.MaxInt64 {
			return some(int(rounded/g.unit), g.name) + [...]string{"", " and a quarter", " and a half", " and three quarters"}[rounded%g.unit*4/g.unit]
		}
	}
	return "" // the last grain has no bound
}

// some counts units of time: "an hour", "two hours".
func some(n int, unit string) string {
	switch {
	case n != 1:
		return Number(n) + " " + plural(unit, n)
	case unit == "hour":
		return "an hour"
	}
	return "a " + unit
}
