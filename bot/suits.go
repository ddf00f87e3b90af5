package bot

import (
	"errors"
	"strings"

	"clew/patterns/fit"
	"clew/reader"
	"clew/reader/listen"
)

var bodies = map[string]fit.Body{"head": fit.Head, "hand": fit.Hand, "foot": fit.Foot}

// whichSize says which size suits a measure, or somebody of an age.
func (t *talk) whichSize(w listen.FitWish) (Reply, error) {
	body, named := bodies[w.Body]
	if w.Number == 0 && !w.HasNumber && w.Person != "" {
		return t.sizeForPerson(w, body, named)
	}
	switch {
	case w.Number == 0 && !w.HasNumber:
		return t.sayFit(t.sizes()+" To hear which suits, say what you measure around, such as "+t.measureExample(w.Body)+", or for a toddler.", t.fitChoices()...), nil
	case w.Unit == listen.MixedUnits:
		return t.sayFit("Is that centimetres or inches? Nothing was changed. Say it once more in one of them."), nil
	case w.Unit == "":
		return t.sayFit("Is that centimetres or inches? Say it too, such as " + t.measureExample(w.Body) + "."), nil
	}
	around, _, err := fit.ParseLength(number(w.Number) + " " + w.Unit)
	if !named {
		body, named = t.bodyOfPattern()
	}
	if err != nil {
		return t.refuseMeasure(err, body, named)
	}
	var sizing fit.Sizing
	if named {
		sizing, err = fit.ChooseSizeIn(t.plan.Whole().Pattern, body, around, t.unit(), t.ownGauge())
	} else { // what is not worn on a head, a hand or a foot has a finished width
		sizing, err = fit.ChooseWidth(t.plan.Whole().Pattern, around, t.ownGauge())
	}
	if err != nil {
		return t.refuseMeasure(err, body, named)
	}
	reply, err := t.sized(sizing, nil, "")
	if w.Person != "" && named { // it is somebody else's
		reply.Said = strings.ReplaceAll(reply.Said, "your "+body.String(), "the "+body.String())
	}
	return reply, err
}

// refuseMeasure says why a measure won't do. An example of one is told so that it
// can be said as it is.
func (t *talk) refuseMeasure(err error, body fit.Body, named bool) (Reply, error) {
	gauge := errors.Is(err, fit.ErrNoGauge)
	reply, err := t.refuseFit(err)
	if named && !gauge {
		reply.Said = strings.Replace(reply.Said, "such as ", "such as my "+body.String()+" is ", 1)
	}
	return reply, err
}

const whichBody = "Is it for a head, a hand or a foot? Say that too, such as my head is fifty-seven centimetres, or which size for a woman's hand."

// madeFor are words in titles that say what a piece is worn on.
var madeFor = map[string]fit.Body{"hat": fit.Head, "cap": fit.Head, "beanie": fit.Head, "bonnet": fit.Head, "headband": fit.Head,
	"mitten": fit.Hand, "mitt": fit.Hand, "glove": fit.Hand, "sock": fit.Foot, "slipper": fit.Foot}

// bodyOfPattern is what the pattern's piece is worn on, by its title; false where
// that does not say, or says two.
func (t *talk) bodyOfPattern() (body fit.Body, known bool) {
	for _, word := range strings.Fields(singular(t.plan.Pattern.Title)) {
		worn, ok := madeFor[word]
		if ok && known && worn != body {
			return fit.Head, false
		}
		if ok {
			body, known = worn, true
		}
	}
	return body, known
}

// measureExample are words that tell a measure: of the part that was named, else
// of what the piece is worn on.
func (t *talk) measureExample(part string) string {
	body, named := bodies[part]
	if !named {
		body, _ = t.bodyOfPattern()
	}
	examples := map[fit.Body][2]string{
		fit.Head: {"my head is fifty-seven centimetres", "my head is twenty-two inches"},
		fit.Hand: {"my hand is twenty centimetres", "my hand is eight inches"},
		fit.Foot: {"my foot is twenty-three centimetres", "my foot is nine inches"},
	}
	if t.unit() == fit.Inches {
		return examples[body][1]
	}
	return examples[body][0]
}

// sizeForPerson says which size suits somebody by the published measurements.
func (t *talk) sizeForPerson(w listen.FitWish, body fit.Body, named bool) (Reply, error) {
	person, ok := fit.PersonNamed(w.Person)
	if !ok {
		names := make([]string, 0, len(fit.People()))
		for _, p := range fit.People() {
			names = append(names, reader.Name(p.Name))
		}
		return t.sayFit("I have no measurements for " + nameOf(w.Person) + ". I have them for " + list(names, "and") + "; or say what you measure, such as " + t.measureExample(w.Body) + "."), nil
	}
	if !named {
		if body, named = t.bodyOfPattern(); !named {
			return t.sayFit(whichBody), nil
		}
	}
	around := person.Around(body)
	if around == 0 {
		return t.sayFit("I have no such measurement for " + reader.Name(person.Name) + ". Say what you measure, such as " + t.measureExample(w.Body) + "."), nil
	}
	sizing, err := fit.ChooseSizeIn(t.plan.Whole().Pattern, body, around, t.unit(), t.ownGauge())
	return t.sized(sizing, err, person.Name)
}

// sized says which size was found to suit, with a choice for it, or why none was.
func (t *talk) sized(sizing fit.Sizing, err error, who string) (Reply, error) {
	if err != nil {
		return t.refuseFit(err)
	}
	said := reader.Sizing(sizing, t.plan.Pattern, who, t.unit())
	choices := t.fitChoices()
	if sizes := t.plan.Pattern.Sizes; len(sizes) > 1 {
		best := sizing.Sizes[sizing.Best].Size
		said += " You knit size " + nameOf(sizes[t.plan.Size])
		if best == t.plan.Size {
			said += "."
		} else {
			said += "; to change it, say size " + nameOf(sizes[best]) + "."
		}
		suits, others := apart(choices, func(c Choice) bool { return c.Value == keyOf(sizes[best]) })
		choices = append(suits, others...)
	}
	return t.sayFit(said, choices...), nil
}
