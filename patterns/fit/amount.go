package fit

import (
	"regexp"
	"strings"

	"clew/patterns/problem"
)

// An Amount is how much yarn there is, as somebody gives it.
type Amount struct {
	Number float64 // 0 to what a piece of knitting takes at most
	Unit   YarnUnit
	Bare   bool // it was given without a unit, so that Unit tells nothing
}

const amountHelp = "give a number and its unit, such as 100 g or 200 yd"

var amountWord = regexp.MustCompile(`[a-z]+`)

// amountUnits are the units as people write them.
var amountUnits = map[string]YarnUnit{}

func init() {
	for unit, words := range map[YarnUnit]string{
		Grams: "g gr gs gm gms gram grams gramme grammes", Ounces: "oz ozs ounce ounces",
		Metres: "m ms metre metres meter meters", Yards: "y yd yds yard yards",
	} {
		for _, word := range strings.Fields(words) {
			amountUnits[word] = unit
		}
	}
}

// ParseAmount reads how much yarn there is: "100 g", "3.5 oz", "180 metres",
// "200yd", or a number alone. It is taken to a thousandth. Anything else is
// refused by an *Error, as are two units and what is more than a piece takes.
func ParseAmount(text string) (Amount, error) {
	s, said := plain(text), problem.Quote(strings.TrimSpace(text))
	if s == "" {
		return Amount{}, failed(CodeEmpty, "no amount of yarn is given: %s", amountHelp)
	}
	m := lengthForm.FindStringSubmatch(s)
	if m == nil {
		return Amount{}, failed(CodeUnreadable, "%s can't be read as an amount of yarn: %s", said, amountHelp)
	}
	a := Amount{Bare: m[2] == ""}
	var single, known bool
	a.Number, single = number(m[1])
	a.Unit, known = amountUnits[strings.TrimSuffix(m[2], ".")]
	switch {
	case !single:
		return Amount{}, failed(CodeUnreadable, "the number in %s can't be read: give it with a decimal point, such as 37.5 g", said)
	case !known && !a.Bare && amountMixed(m[2]):
		return Amount{}, failed(CodeUnitMixed, "%s has two units: give one of them, such as 100 g or 200 yd", said)
	case !known && !a.Bare:
		return Amount{}, failed(CodeUnitUnknown, "%s is not in grams, ounces, metres or yards: %s", said, amountHelp)
	case a.Number < 0:
		return Amount{}, failed(CodeNegative, "%s is less than nothing: leave out the minus", said)
	case a.Number > yarnMeasures[Yards].most || known && a.Number > yarnMeasures[a.Unit].most:
		return Amount{}, failed(CodeLarge, "%s is more than a piece of knitting takes: check the number and the unit", said)
	}
	return a, nil
}

// amountMixed says that there are two units in what stands behind a number.
func amountMixed(rest string) bool {
	units := map[YarnUnit]bool{}
	for _, word := range amountWord.FindAllString(rest, -1) {
		if unit, ok := amountUnits[word]; ok {
			units[unit] = true
		}
	}
	return len(units) > 1
}
