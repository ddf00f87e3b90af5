package bot

import (
	"cmp"
	"context"
	"errors"
	"math"
	"regexp"
	"strconv"
	"strings"

	"clew/patterns"
	"clew/patterns/fit"
	"clew/reader"
	"clew/reader/listen"
)

// settingYarn is what she had of a yarn when she began, with its unit, and the
// yarn's name where she named it: "100 g", "45 g mc". It is kept so that she need
// not say it again.
const settingYarn = "yarn"

// settingWeighed is what was left of it when she weighed it, with where she was:
// the number of the row and its section, "38 4 Crown". It is kept with settingYarn,
// and where it is more than a guess.
const settingWeighed = "weighed"

// settingMost is how long a setting may be, in bytes.
const settingMost = 256

// A yarnKept is what settingYarn keeps.
type yarnKept struct {
	had  float64
	unit string
	name string
}

var yarnUnits = map[string]fit.YarnUnit{"g": fit.Grams, "oz": fit.Ounces, "m": fit.Metres, "yd": fit.Yards}

var leftExamples = map[fit.YarnUnit]string{fit.Grams: "thirty-eight grams left", fit.Ounces: "one ounce left", fit.Metres: "ninety metres left", fit.Yards: "ninety yards left"}

const howYarn = "To hear whether yours will do, say what you had and what is left, such as I had one hundred grams, thirty-eight are left."

// yarn says whether the yarn that is left will do.
func (t *talk) yarn(ctx context.Context) (Reply, error) {
	w := t.heard.Yarn
	if w == nil || !w.HasHad && !w.HasLeft && !w.HasUsed {
		if said := t.yarnSince(w); said != "" {
			return t.say(said), nil
		}
		return t.say(t.yarnWords() + t.howYarn()), nil
	}
	y := *w
	y.Yarn = t.plan.yarnCalled(y.Yarn)
	assumed := ""
	if k, ok := t.yarnHad(); ok && !y.HasHad && k.serves(y) {
		y.Had, y.HasHad, y.Unit, y.Yarn = k.had, true, k.unit, cmp.Or(y.Yarn, k.name)
		assumed = " You told me that you had " + k.words() + "."
	}
	if y.HasUsed && y.HasHad {
		y.Left, y.HasLeft = y.Had-y.Used, true
	}
	unit, known := yarnUnits[y.Unit]
	switch {
	case y.Mixed:
		return t.say("Is that by weight or by length? Nothing was changed. Say both in one unit, such as I had one hundred grams, thirty-eight are left."), nil
	case y.Unit == "ball":
		return t.say("How much is that in grams or in metres? Balls differ, so I can't reckon in them. Nothing was changed. Say both, such as I had one hundred grams, thirty-eight are left."), nil
	case !known:
		t.asks = asksAmount
		return t.say("Is that in grams or in metres? Nothing was changed. Say it too, such as I had one hundred grams, thirty-eight are left."), nil
	case y.HasUsed && y.HasHad && y.Left < 0:
		return t.say(capital(reader.Amount(y.Used, unit)) + " can't have been used of " + reader.Amount(y.Had, unit) + ": check which number is which. Nothing was changed."), nil
	case w.HasHad && y.HasLeft && y.Left > y.Had:
		return t.say(capital(reader.Amount(y.Left, unit)) + " can't be left of " + reader.Amount(y.Had, unit) + ": check which number is which. Nothing was changed."), nil
	case t.here() < 0 && y.HasLeft && y.Left == 0:
		return t.say(strings.TrimSpace("You have none left. " + t.yarnWords())), nil
	case t.here() < 0 && (y.HasLeft || w.HasHad):
		return t.yarnBefore(ctx, y, unit)
	case !y.HasHad:
		t.asks = asksAmount
		return t.say("How much did you have when you began? Nothing was changed. Say both, such as I had one hundred grams, thirty-eight are left."), nil
	case !y.HasLeft:
		return t.keepYarn(ctx, y, "I shall remember that you had "+reader.Amount(y.Had, unit)+". When you have weighed it, say what is left, such as "+leftExamples[unit]+".")
	}
	done := t.here()
	if t.plan.finished(t.at) {
		done = len(t.plan.Rows)
	}
	estimate, err := fit.EstimateYarn(t.plan.Whole(), done, fit.Weighed{Had: y.Had, Left: y.Left, Unit: unit, Yarn: y.Yarn})
	switch {
	case err != nil:
		return t.refuseYarn(err)
	case t.tooEarly(estimate):
		return t.keepYarn(ctx, y, "It is too early to tell from what has been used. "+t.yarnWords()+"Weigh it again further on.")
	}
	if !estimate.Guess && done < len(t.plan.Rows) {
		if value := number(y.Left) + " " + strconv.Itoa(t.at.Row) + " " + t.at.Section; len(value) <= settingMost {
			t.weighed = value
		}
	}
	return t.keepYarn(ctx, y, reader.Yarn(t.plan.openEstimate(estimate), t.plan.Plan)+assumed)
}

// tooEarly says that a guess is no use: the whole would take more than twice what
// the pattern asks for.
func (t *talk) tooEarly(e fit.Estimate) bool {
	need, err := fit.PatternNeeds(t.plan.Pattern, t.plan.Size, e.Yarn, 1, fit.Grams)
	whole := e.Used + e.Needs
	switch {
	case !e.Guess || err != nil:
		return false
	case e.Unit == fit.Ounces:
		whole *= fit.GramsPerOunce
	}
	return (e.Unit == fit.Grams || e.Unit == fit.Ounces) && whole > 2*need.Grams
}

// yarnSince goes on from what she had and weighed before: what has been worked
// since has used as much a stitch as what was worked until then. It is "" where
// that is not known.
func (t *talk) yarnSince(w *listen.YarnWish) string {
	k, ok := t.yarnHad()
	fields := strings.SplitN(t.state.Settings[settingWeighed], " ", 3)
	if !ok || len(fields) < 3 || t.here() < 0 || w != nil && !k.serves(listen.YarnWish{Unit: w.Unit, Yarn: t.plan.yarnCalled(w.Yarn)}) {
		return ""
	}
	left, err := strconv.ParseFloat(fields[0], 64)
	row, err2 := strconv.Atoi(fields[1])
	then, found := t.plan.Find(fields[2], row)
	if err != nil || err2 != nil || !found || !(left >= 0 && left <= k.had) {
		return ""
	}
	now := t.here()
	if t.plan.finished(t.at) {
		now = len(t.plan.Rows)
	}
	weighed := fit.Weighed{Had: k.had, Left: left, Unit: yarnUnits[k.unit], Yarn: k.name}
	e, err := fit.EstimateYarn(t.plan.Whole(), then, weighed)
	today, err2 := fit.EstimateYarn(t.plan.Whole(), now, weighed)
	if err != nil || err2 != nil || now < then {
		return ""
	}
	since := e.Used * (today.Share/e.Share - 1)
	said := "When you weighed it, at " + t.plan.rowName(then) + ", you had " + leftWords(left, e.Unit) + "."
	switch {
	case now == len(t.plan.Rows):
		return reader.Yarn(today, t.plan.Plan)
	case since >= left && now > then:
		return said + " By what had been used until then, that would be used up by now. Weigh it again, and say what is left, such as " + leftExamples[e.Unit] + "."
	case now > then:
		said += " What you have worked since should have used about " + reader.Amount(since, e.Unit) + "."
	}
	e.Share, e.Left, e.Needs, e.High = today.Share, nearly(left-since, e.Unit), e.Needs-since, e.High-since
	return said + " " + reader.Yarn(t.plan.openEstimate(e), t.plan.Plan)
}

// leftWords says an amount, which may be none.
func leftWords(n float64, unit fit.YarnUnit) string {
	if n == 0 {
		return "none left"
	}
	return reader.Amount(n, unit) + " left"
}

// nearly is an amount that was reckoned, as it is said: to the whole, and ounces
// to the quarter.
func nearly(n float64, unit fit.YarnUnit) float64 {
	if unit == fit.Ounces {
		return math.Round(4*n) / 4
	}
	return math.Round(n)
}

// yarnBefore compares what she has before the first row with what the pattern
// says.
func (t *talk) yarnBefore(ctx context.Context, y listen.YarnWish, unit fit.YarnUnit) (Reply, error) {
	have := y.Had
	if y.HasLeft {
		have = y.Left
	}
	y.Had = have
	need, err := fit.PatternNeeds(t.plan.Pattern, t.plan.Size, y.Yarn, have, unit)
	if err != nil {
		return t.refuseYarn(err)
	}
	return t.keepYarn(ctx, y, reader.PatternNeeds(need))
}

// refuseYarn says why nothing can be told of the yarn, and asks back which one it
// is where that has to be said.
func (t *talk) refuseYarn(err error) (Reply, error) {
	var wrong *fit.Error
	if errors.As(err, &wrong) && wrong.Code == fit.CodeYarnName {
		t.asks = asksName
	}
	said, err := t.openRefusal(err)
	return t.say(said), err
}

// keepYarn keeps what she had, where that is new, and answers.
func (t *talk) keepYarn(ctx context.Context, y listen.YarnWish, said string) (Reply, error) {
	value := strings.TrimSpace(number(y.Had) + " " + y.Unit + " " + bare(within(y.Yarn)))
	if t.state.Settings[settingYarn] == value && t.state.Settings[settingWeighed] == t.weighed {
		return t.say(said), nil
	}
	return t.change(ctx, map[string]string{settingYarn: value, settingWeighed: t.weighed}, func() string { return said })
}

// yarnHad is what she had when she began, as she told it before.
func (t *talk) yarnHad() (k yarnKept, ok bool) {
	amount, rest, _ := strings.Cut(t.state.Settings[settingYarn], " ")
	had, err := strconv.ParseFloat(amount, 64)
	k.had = had
	k.unit, k.name, _ = strings.Cut(rest, " ")
	_, known := yarnUnits[k.unit]
	return k, err == nil && known && had > 0 && had <= numbersMost
}

// yarnCalled gives the name that a Yarn line begins with of the only line that
// has what she calls it: "MC" for main color, or for the stones of "MC (the
// stones), wool, 45 g". What no line has, or several have, is given as it is.
func (p *plan) yarnCalled(name string) string {
	said := strings.NewReplacer("colour", "color", "contrast color", "contrasting color").Replace(bare(within(name)))
	if said == "" {
		return name
	}
	lines, _ := apart(p.Pattern.Yarns, func(y patterns.Yarn) bool {
		return strings.Contains(" "+bare(reader.Plain(y.Text))+" ", " "+said+" ")
	})
	if len(lines) != 1 {
		return name
	}
	text := lines[0].Text
	if i := strings.IndexAny(text, "(,:;"); i >= 0 {
		text = text[:i]
	}
	return strings.TrimSpace(text)
}

// serves says that what is told of yarn may be of the one that is kept.
func (k yarnKept) serves(y listen.YarnWish) bool {
	return (y.Unit == "" || y.Unit == k.unit) && (y.Yarn == "" || k.name == "" || bare(within(y.Yarn)) == k.name)
}

// words says how much it was: "one hundred grams of main color".
func (k yarnKept) words() string {
	said := reader.Amount(k.had, yarnUnits[k.unit])
	if k.name != "" {
		said += " of " + reader.Name(k.name)
	}
	return said
}

// howYarn says how to ask whether yarn will do.
func (t *talk) howYarn() string {
	k, ok := t.yarnHad()
	if !ok || t.here() < 0 {
		return howYarn
	}
	return "You told me that you had " + k.words() + ". To hear whether it will do, say what is left, such as " + leftExamples[yarnUnits[k.unit]] + "."
}

// yarnLeft are words that tell a number that is left.
var yarnLeft = regexp.MustCompile(`^(.+?)( are| is)? left$`)

// listenForYarn takes a number that is left for yarn of which she told what she
// had, where it is no more than that. Of stitches she would say so.
func (t *talk) listenForYarn(l *listen.Listener) {
	k, ok := t.yarnHad()
	m := yarnLeft.FindStringSubmatch(bare(t.ask.Words))
	if !ok || m == nil || t.heard.Intent != listen.Count && t.heard.Intent != listen.None {
		return
	}
	h := l.Hear(m[1] + " " + yarnUnits[k.unit].String() + m[2] + " left")
	if y := h.Yarn; y != nil && y.HasLeft && !y.HasHad && y.Left <= k.had {
		t.heard = h
	}
}

// yarnWords says what the pattern says about yarn, for her size.
func (t *talk) yarnWords() string {
	said := ""
	for _, y := range t.plan.Pattern.Yarns {
		said += sentence(capital("the pattern asks for "+reader.Plain(t.plan.Pattern.ForSize(y.Text, t.plan.Size)))) + " "
	}
	return said
}
