package bot

import (
	"errors"
	"strings"
	"testing"
	"time"

	"clew/patterns"
	"clew/patterns/fit"
	"clew/session"
)

// What stands against leaving out rows is told where it is open, and else only that
// something does.
func TestBarriersThatAreHeldBack(t *testing.T) {
	plan := hatPlan(t)
	cut := plan.upTo(20) // Floats 5
	at := session.Place{Size: "small"}
	for _, c := range []struct {
		barrier fit.Barrier
		told    bool
	}{
		{fit.Barrier{Why: fit.WhyMarkers, Section: "Floats", Row: 5, Rounds: true}, true},
		{fit.Barrier{Why: fit.WhyMarkers, Section: "Floats", Row: 6, Rounds: true}, false},
		{fit.Barrier{Why: fit.WhyMarkers, Section: "Crown", Row: 1, Rounds: true}, false},
		{fit.Barrier{Why: fit.WhyEnd, Section: "Crown", Missed: 3, Rounds: true}, false},
		{fit.Barrier{Why: fit.WhyFaces, Section: "Floats", Row: 5, Detail: "round 3 of Crown would find a yarn over", Rounds: true}, false},
		{fit.Barrier{Why: fit.WhySkip, Section: "Floats", Row: 5, Panel: "Secret", Rounds: true}, false},
		{fit.Barrier{Why: fit.WhyWork, Detail: "round 3 of Crown has too few stitches", Rounds: true}, false},
	} {
		c.barrier.Group, c.barrier.Rows = patterns.Optional{Owner: "Brim", From: 3}, 2
		for name, err := range map[string]error{"barrier": &c.barrier, "error": &fit.Error{Code: fit.CodeBreaks, Said: c.barrier.Error(), Barrier: &c.barrier}} {
			talk := &talk{Bot: &Bot{now: func() time.Time { return planningDay }}, plan: cut, at: at, about: session.About{Hold: true}}
			said, err := talk.openRefusal(errors.Join(err))
			if err != nil {
				t.Fatal(err)
			}
			if name == "barrier" && strings.Contains(said, "could not be worked") == c.told || !c.told && (strings.Contains(said, "Crown") || strings.Contains(said, "Secret") || strings.Contains(said, "six")) {
				t.Errorf("%s %+v is told as %q", name, c.barrier, said)
			}
			talk.plan = plan
			if whole, err := talk.openRefusal(errors.Join(err)); err != nil && whole != "" {
				t.Error(err)
			}
		}
	}
}

// How many rows are open goes by the newest session that has opened, and fails closed
// where what it names is gone.
func TestOpenRows(t *testing.T) {
	plan := hatPlan(t)
	about := session.About{Hold: true, Sessions: []session.Session{
		{Number: 1, First: row("Brim", 1), Last: row("Brim", 14), Opens: planningDay},
		{Number: 2, First: row("Set-up", 1), Last: row("Floats", 30), Opens: planningDay.Add(time.Hour)}, // more than it has in this size
		{Number: 3, First: row("Slack water", 1), Last: row("Gone", 2), Opens: planningDay.Add(2 * time.Hour)},
		{Number: 4, First: row("Crown", 1), Last: row("Crown", plan.Rows[len(plan.Rows)-2].Number), Opens: planningDay.Add(3 * time.Hour)},
	}}
	for hours, want := range map[int]int{-1: 0, 0: 14, 1: 39, 2: 39, 3: len(plan.Rows) - 1} {
		if is := plan.openRows(about, planningDay.Add(time.Duration(hours)*time.Hour)); is != want {
			t.Errorf("after %d hours %d rows are open, expected %d", hours, is, want)
		}
	}
	about.Hold = false
	if is := plan.openRows(about, planningDay.Add(-time.Hour)); is != len(plan.Rows) {
		t.Errorf("with nothing held back %d rows are open", is)
	}
	if is := plan.openRows(session.About{Hold: true}, planningDay); is != 0 {
		t.Errorf("without sessions %d rows are open", is)
	}
	three := plan.upTo(3)
	if plan.upTo(len(plan.Rows)) != plan || plan.upTo(3) != three || len(three.Rows) != 3 {
		t.Error("a plan is cut anew each time, or not at all")
	}
}

// Where other stitches are cast on, the section that they no longer fit is named where
// it is open.
func TestCastOnsThatAreHeldBack(t *testing.T) {
	plan := hatPlan(t)
	crown := plan.Rows[len(plan.Rows)-1].Section
	for n, later := range map[int]bool{20: true, len(plan.Rows): false} {
		found, is := plan.upTo(n).openCastOns([]fit.CastOn{{Stitches: 100, Rest: crown}, {Stitches: 110, Rest: plan.Rows[0].Section}})
		if is != later || (found[0].Rest == nil) != later || found[1].Rest == nil {
			t.Errorf("with %d rows open, %t: %+v", n, is, found)
		}
	}
}

func hatPlan(t *testing.T) *plan {
	t.Helper()
	laid, err := hatPattern(t).LayOut(patterns.Choice{})
	if err != nil {
		t.Fatal(err)
	}
	return newPlan(laid)
}
