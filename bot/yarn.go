package bot

import (
	"cmp"
	"context"
	"errors"
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
	if w == nil || !w.HasHad && !w.HasLeft {
		return t.say(t.yarnWords() + t.howYarn()), nil
	}
	y := *w
	y.Yarn = t.plan.yarnCalled(y.Yarn)
	assumed := ""
	if k, ok := t.yarnHad(); ok && !y.HasHad && k.serves(y) {
		y.Had, y.HasHad, y.Unit, y.Yarn = k.had, true, k.unit, cmp.Or(y.Yarn, k.name)
		assumed = " You told me that you had " + k.words() + "."
	}
	unit, known := yarnUnits[y.Unit]
	switch {
	case y.Mixed:
		return t.say("Is that by weight or by length? Nothing was changed. Say both in one unit, such as I had one hundred grams, thirty-eight are left."), nil
	case !known:
		t.asks = asksAmount
		return t.say("Is that in grams or in metres? Nothing was changed. Say it too, such as I had one hundred grams, thirty-eight are left."), nil
	case t.here() < 0:
		return t.yarnBefore(ctx, y, unit)
	case !y.HasHad:
		t.asks = asksAmount
		return t.say("How much did you have when you began? Nothing was changed. Say both, such as I had one hundred grams, thirty-eight are left."), nil
	case !y.HasLeft:
		return t.keepYarn(ctx, y, "I shall remember that you had "+reader.Amount(y.Had, unit)+". When you have weighed it, say what is left, such as "+leftExamples[unit]+". ")
	}
	done := t.here()
	if t.plan.finished(t.at) {
		done = len(t.plan.Rows)
	}
	estimate, err := fit.EstimateYarn(t.plan.Plan, done, fit.Weighed{Had: y.Had, Left: y.Left, Unit: unit, Yarn: y.Yarn})
	if err != nil {
		return t.refuseYarn(err)
	}
	return t.keepYarn(ctx, y, reader.Yarn(estimate, t.plan.Plan)+assumed)
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
	said, err := refusal(err)
	return t.say(said), err
}

// keepYarn keeps what she had, where that is new, and answers.
func (t *talk) keepYarn(ctx context.Context, y listen.YarnWish, said string) (Reply, error) {
	value := strings.TrimSpace(number(y.Had) + " " + y.Unit + " " + bare(within(y.Yarn)))
	if t.state.Settings[settingYarn] == value {
		return t.say(said), nil
	}
	return t.change(ctx, map[string]string{settingYarn: value}, func() string { return said })
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
