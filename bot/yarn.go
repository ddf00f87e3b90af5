package bot

import (
	"context"
	"strconv"
	"strings"

	"clew/patterns/fit"
	"clew/reader"
	"clew/reader/listen"
)

// settingYarn is what she had of a yarn when she began, with its unit: "100 g".
// It is kept so that she need not say it again.
const settingYarn = "yarn"

var yarnUnits = map[string]fit.YarnUnit{"g": fit.Grams, "oz": fit.Ounces, "m": fit.Metres, "yd": fit.Yards}

const howYarn = "To hear whether yours will do, say what you had and what is left, such as I had one hundred grams, thirty-eight are left."

// yarn says whether the yarn that is left will do.
func (t *talk) yarn(ctx context.Context) (Reply, error) {
	w := t.heard.Yarn
	if w == nil || !w.HasHad && !w.HasLeft {
		return t.say(t.yarnWords() + howYarn), nil
	}
	y := *w
	assumed := ""
	if had, unit, ok := t.yarnHad(); ok && !y.HasHad && (y.Unit == "" || y.Unit == unit) {
		y.Had, y.HasHad, y.Unit = had, true, unit
		assumed = "You told me that you had " + reader.Amount(had, yarnUnits[unit]) + ". "
	}
	unit, known := yarnUnits[y.Unit]
	switch {
	case y.Mixed:
		return t.say("Is that by weight or by length? Nothing was changed. Say both in one unit, such as I had one hundred grams, thirty-eight are left."), nil
	case !known:
		return t.say("Is that in grams or in metres? Nothing was changed. Say it too, such as I had one hundred grams, thirty-eight are left."), nil
	case t.here() < 0:
		return t.yarnBefore(ctx, y, unit)
	case !y.HasHad:
		return t.say("How much did you have when you began? Nothing was changed. Say both, such as I had one hundred grams, thirty-eight are left."), nil
	case !y.HasLeft:
		return t.keepYarn(ctx, y, "I shall remember that you had "+reader.Amount(y.Had, unit)+". When you have weighed it, say what is left, such as thirty-eight grams left. ")
	}
	done := t.here()
	if t.plan.finished(t.at) {
		done = len(t.plan.Rows)
	}
	estimate, err := fit.EstimateYarn(t.plan.Plan, done, fit.Weighed{Had: y.Had, Left: y.Left, Unit: unit, Yarn: y.Yarn})
	if err != nil {
		said, err := refusal(err)
		return t.say(said), err
	}
	return t.keepYarn(ctx, y, assumed+reader.Yarn(estimate, t.plan.Plan))
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
		said, err := refusal(err)
		return t.say(said), err
	}
	return t.keepYarn(ctx, y, reader.PatternNeeds(need))
}

// keepYarn keeps what she had, where that is new, and answers.
func (t *talk) keepYarn(ctx context.Context, y listen.YarnWish, said string) (Reply, error) {
	value := number(y.Had) + " " + y.Unit
	if t.state.Settings[settingYarn] == value {
		return t.say(said), nil
	}
	return t.change(ctx, map[string]string{settingYarn: value}, func() string { return said })
}

// yarnHad is what she had when she began, as she told it before.
func (t *talk) yarnHad() (had float64, unit string, ok bool) {
	amount, unit, _ := strings.Cut(t.state.Settings[settingYarn], " ")
	had, err := strconv.ParseFloat(amount, 64)
	_, known := yarnUnits[unit]
	return had, unit, err == nil && known
}

// yarnWords says what the pattern says about yarn, for her size.
func (t *talk) yarnWords() string {
	said := ""
	for _, y := range t.plan.Pattern.Yarns {
		said += sentence(capital("the pattern asks for "+reader.Plain(t.plan.Pattern.ForSize(y.Text, t.plan.Size)))) + " "
	}
	return said
}
