package fit_test

import (
	"errors"
	"testing"

	"pgregory.net/rapid"

	"clew/patterns"
	"clew/patterns/fit"
)

// stepped is plain but for a panel of two rounds, with two groups that would
// break its step in ones.
const stepped = `Pattern: Buoy
Worked: in rounds
Cast on: 10
Gauge: 20 sts and 20 rounds = 10 cm
Panel: Edge, 2 sts
Round 1: p1, k1.
Round 2: p2.
Section: Foot
Across: Edge, k8.
Rounds 1-4: work the panels.
Rounds 5-8 (optional in ones): work the panels.
Rounds 9-12: work the panels.
Rounds 13-16 (optional in twos): work the panels.
Rounds 17-20: work the panels.
`

func TestChoose(t *testing.T) {
	p := read(t, stepped)
	foot := func(from, rows int) patterns.LeftOut {
		return patterns.LeftOut{Owner: "Foot", From: from, Rows: rows}
	}
	for _, c := range []struct {
		name   string
		now    []patterns.LeftOut
		worked int
		leave  []patterns.LeftOut
		want   string // as told, or the error
	}{
		{"two groups", nil, 0, []patterns.LeftOut{foot(5, 2), foot(13, 4)}, "Foot 5: 2; Foot 13: 4; 6 rows, -3.00 cm to 7.00"},
		{"other rows instead", []patterns.LeftOut{foot(5, 4)}, 0, []patterns.LeftOut{foot(13, 2)}, "Foot 13: 2; -2 rows, 1.00 cm to 9.00"},
		{"nothing", []patterns.LeftOut{foot(5, 4)}, 0, nil, "; -4 rows, 2.00 cm to 10.00"},
		{"as it is", []patterns.LeftOut{foot(5, 4)}, 12, []patterns.LeftOut{foot(5, 4)}, "Foot 5: 4; 0 rows, 0.00 cm to 8.00"},
		{"ahead of her", nil, 12, []patterns.LeftOut{foot(13, 4)}, "Foot 13: 4; 4 rows, -2.00 cm to 8.00"},
		{"worked", nil, 8, []patterns.LeftOut{foot(5, 2), foot(13, 4)}, "some of those rounds are worked already, or being worked"},
		{"past", []patterns.LeftOut{foot(5, 4)}, 5, nil, "some of those rounds are worked already, or being worked"},
		{"out of step", nil, 0, []patterns.LeftOut{foot(5, 1)}, "leaving out 1 round of Foot: the Edge would repeat a round"},
		{"one of several out of step", nil, 0, []patterns.LeftOut{foot(5, 1), foot(13, 2)}, "these rounds can't be left out together: the Edge would repeat a round"},
		{"another step", nil, 0, []patterns.LeftOut{foot(13, 3)}, "error"},
		{"no such group", nil, 0, []patterns.LeftOut{foot(6, 2)}, "error"},
		{"more than there are", nil, 0, []patterns.LeftOut{foot(5, 400)}, "error"},
		{"fewer than none", nil, 0, []patterns.LeftOut{foot(5, -2)}, "error"},
	} {
		t.Run(c.name, func(t *testing.T) {
			o, err := fit.Choose(p, patterns.Choice{LeftOut: c.now}, c.worked, c.leave, nil)
			found := told(&o)
			if err != nil {
				found = err.Error()
			}
			var known *fit.Error
			var barrier *fit.Barrier
			switch {
			case c.want == "error":
				if !errors.As(err, &known) && !errors.As(err, &barrier) {
					t.Errorf("found %s (%v), expected an error that can be said", found, err)
				}
			case found != c.want:
				t.Errorf("found %s, expected %s", found, c.want)
			}
		})
	}
}

// Whatever Shorter offers, Choose proves as well, and tells the same of it.
func TestChooseWhatIsOffered(t *testing.T) {
	for _, name := range []string{"float-hat", "boathouse-socks", "gull-kerchief", "mender-mittens"} {
		p := sample(t, name)
		rapid.Check(t, func(rt *rapid.T) {
			worked := rapid.IntRange(0, 40).Draw(rt, "worked")
			s, err := fit.Shorter(p, patterns.Choice{}, worked, rapid.Float64Range(0.2, 6).Draw(rt, "by"), nil)
			if err != nil {
				return
			}
			for _, o := range []*fit.Offer{s.Best, s.Less, s.More, s.Most} {
				if o == nil {
					continue
				}
				again, err := fit.Choose(p, patterns.Choice{}, worked, o.LeftOut, nil)
				if err != nil || told(&again) != told(o) {
					rt.Fatalf("%s: offered %s, chosen %s (%v)", name, told(o), told(&again), err)
				}
			}
		})
	}
}
