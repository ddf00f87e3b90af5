package listen

import (
	"slices"
	"strings"
	"time"
)

// mostDays bounds how far ahead a day is told by a number of days.
const mostDays = 999

// nearDays are the days that have a name of their own.
var nearDays = map[string]Day{
	"today": {HasIn: true}, "tonight": {HasIn: true}, "evening": {HasIn: true}, "night": {HasIn: true}, "afternoon": {HasIn: true},
	"tomorrow": {HasIn: true, In: 1}, "tomorrow night": {HasIn: true, In: 1}, "day after tomorrow": {HasIn: true, In: 2},
	"weekend":   {HasWeekday: true, Weekday: time.Saturday},
	"christmas": {Date: 25, Month: time.December}, "christmas day": {Date: 25, Month: time.December}, "christmas eve": {Date: 24, Month: time.December},
	"new year": {Date: 1, Month: time.January}, "new years day": {Date: 1, Month: time.January}, "new years eve": {Date: 31, Month: time.December},
}

// daysOf are the spans that days are counted in. A month is thirty days: who says one means no day of it.
var daysOf = map[string]int{
	"day": 1, "days": 1, "evening": 1, "evenings": 1, "night": 1, "nights": 1, "week": 7, "weeks": 7, "fortnight": 14, "fortnights": 14, "month": 30, "months": 30,
}

// vagueCounts are numbers that are no numerals.
var vagueCounts = map[string]int{"": 1, "a": 1, "an": 1, "the": 1, "one": 1, "couple": 2, "a couple of": 2, "couple of": 2, "a couple": 2}

// namesOf gives the names of weekdays or months, with the ways to shorten them.
func namesOf[T ~int](names string) map[string]T {
	m := map[string]T{}
	for i, ways := range strings.Split(names, ",") {
		for _, w := range strings.Fields(ways) {
			m[w] = T(i)
		}
	}
	return m
}

var (
	weekdays = namesOf[time.Weekday]("sunday sun,monday mon,tuesday tue tues,wednesday wed weds,thursday thu thur thurs,friday fri,saturday sat")
	months   = namesOf[time.Month](",january jan,february feb,march mar,april apr,may,june jun,july jul,august aug,september sep sept,october oct,november nov,december dec")
)

// readDay reads the day that was put into the slots. It is false where there is no such day.
func readDay(picked map[slot][]word) (Day, bool) {
	if near := picked[slotNear]; near != nil {
		d, ok := nearDays[heardAs(near, nearDays)]
		return d, ok
	}
	if of := picked[slotDays]; of != nil {
		n, ok := readCount(picked[slotIn])
		d := Day{HasIn: true, In: n * daysOf[heardAs(of, daysOf)]}
		return d, ok && d.In <= mostDays
	}
	if day := picked[slotWeekday]; day != nil && picked[slotDate] == nil { // with a date, that says all
		d := Day{HasWeekday: true, Weekday: weekdays[heardAs(day, weekdays)]}
		if picked[slotWeek] != nil {
			d.Week = 1
		}
		return d, true
	}
	return readDate(picked)
}

// readDate reads the day of a month, of which the year need not be said.
func readDate(picked map[slot][]word) (Day, bool) {
	d := Day{Date: readOrdinal(picked[slotDate])}
	if month := picked[slotMonth]; month != nil {
		d.Month = months[heardAs(month, months)]
	}
	last := 31
	if year := picked[slotYear]; year != nil {
		if d.Year = readYear(year); d.Year < 2000 || d.Year > maxNumber {
			return d, false
		}
		last = time.Date(d.Year, d.Month+1, 0, 0, 0, 0, 0, time.UTC).Day()
	} else if d.Month > 0 {
		last = time.Date(2000, d.Month+1, 0, 0, 0, 0, 0, time.UTC).Day() // of a year that has a leap day
	}
	return d, d.Date > 0 && d.Date <= last
}

// readCount reads how many of something there are. No words are one.
func readCount(ws []word) (int, bool) {
	if n, ok := vagueCounts[spell(ws)]; ok {
		return n, true
	}
	q, ok := readWhole(ws)
	return int(q.value), ok
}

// readOrdinal reads a number or its ordinal; of other words, 0.
func readOrdinal(ws []word) int {
	ns := make([]numeral, len(ws))
	for i, w := range ws {
		ns[i] = w.num
	}
	r, _ := readNumber(ns)
	return r.value
}

// readYear reads a year: "2027", "two thousand and twenty-seven", "twenty twenty-seven".
func readYear(ws []word) int {
	if n := readOrdinal(ws); n > 0 || len(ws) < 2 {
		return n
	}
	century, rest := readOrdinal(ws[:1]), readOrdinal(ws[1:])
	return century*100 + rest
}

// heardAs gives the name in a table that the words are, or are heard as where one of them was misheard.
func heardAs[T any](ws []word, table map[string]T) string {
	name := spell(ws)
	if _, ok := table[name]; ok {
		return name
	}
	for i, w := range ws {
		for _, form := range w.forms {
			heard := slices.Clone(ws)
			heard[i].text = form
			if as := spell(heard); as != name {
				if _, ok := table[as]; ok {
					return as
				}
			}
		}
	}
	return name
}
