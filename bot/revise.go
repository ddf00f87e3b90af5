package bot

import (
	"context"
	"errors"
	"slices"
	"strconv"
	"strings"

	"clew/patterns"
	"clew/reader"
	"clew/reader/listen"
	"clew/session"
)

// correct replaces the pattern by a corrected text, or by that of an earlier
// revision, once it is proved. Nobody is moved: each finds her row in the new text
// when she next asks.
func (d *directing) correct(ctx context.Context) (Reply, error) {
	if d.before.saved && d.before.reply != nil {
		return *d.before.reply, nil
	}
	text, said, err := d.corrected(ctx)
	if said != "" || err != nil {
		return Reply{Said: said}, err
	}
	proved, err := d.prove(ctx, text)
	if err != nil {
		return proofFailed(err)
	}
	if proved.wrong() {
		return Reply{Said: proved.countWords() + " Nothing was changed. Mend it, and correct it again.", Report: proved.report(d.file())}, nil
	}
	old, err := d.pattern(ctx, revision{d.about.ID, d.about.Revision})
	if err != nil {
		return Reply{}, err
	}
	if said := another(old, proved.Pattern); said != "" {
		return Reply{Said: said}, nil
	}
	c, err := d.correction(ctx, old, proved.Pattern)
	if err != nil {
		return Reply{}, err
	}
	sessions, emptied, err := c.sessions(d.about.Sessions)
	switch {
	case err != nil:
		return Reply{}, err
	case emptied > 0:
		return Reply{Said: "The corrected pattern leaves session " + reader.Number(emptied) + " no rows of its own. Nothing was changed. Give that session other rows first."}, nil
	}
	number, err := d.store.AddRevision(ctx, d.about.ID, string(text), sessions)
	if err != nil {
		return Reply{}, err
	}
	d.saved = true
	reply := Reply{
		Said:    capital(titleOf(d.about)) + " is corrected, and this is revision " + reader.Number(number) + ". " + c.words() + c.sessionWords(d.about.Sessions, sessions),
		Choices: []Choice{backTo(number - 1)},
	}
	if len(c.stretches) > stretchesMost {
		reply.Report = stretchReport(c.stretches)
	}
	if len(proved.problems) > 0 {
		reply.Said = strings.TrimSpace(reply.Said) + " " + proved.countWords()
		reply.Report += proved.report(d.file())
	}
	d.reply = &reply
	return reply, nil
}

// backTo is the choice to go back to an earlier revision.
func backTo(number int) Choice {
	n := strconv.Itoa(number)
	return Choice{Label: "Back to revision " + n, Intent: listen.Knitalong, Value: string(Correct) + "::" + n}
}

// corrected gives the text to correct the pattern by, or says why there is none.
func (d *directing) corrected(ctx context.Context) (text []byte, said string, err error) {
	if text, said = d.given(); said != "" {
		return nil, said, nil
	}
	switch back := d.order.Revision > 0; {
	case back && text != nil:
		return nil, "Give a corrected pattern, or an earlier revision to go back to, and not both. Nothing was changed.", nil
	case back:
		of, said, err := d.revision(ctx)
		if said != "" || err != nil {
			return nil, said, err
		}
		text = []byte(of)
	case text == nil:
		return nil, "A correction needs the corrected pattern's file, or the number of an earlier revision. Nothing was changed.", nil
	}
	now, err := d.store.Pattern(ctx, d.about.ID, 0)
	if err != nil {
		return nil, "", err
	}
	switch same := withEnd(now) == withEnd(string(text)); {
	case same && d.before.knitalong != "" && !d.before.answered: // it was not known whether it was saved
		return nil, capital(titleOf(d.about)) + " has that text now, and this is revision " + reader.Number(d.about.Revision) + ".", nil
	case same:
		return nil, capital(titleOf(d.about)) + " has that very text already. Nothing was changed.", nil
	}
	return text, "", nil
}

// revision gives the text of the revision that was ordered, or says that there is
// none.
func (d *directing) revision(ctx context.Context) (text, said string, err error) {
	text, err = d.store.Pattern(ctx, d.about.ID, d.order.Revision)
	if errors.Is(err, session.ErrUnknownRevision) || errors.Is(err, session.ErrInvalid) {
		return "", "There is no such revision of " + titleOf(d.about) + ": it has " + reader.Number(d.about.Revision) + ". Nothing was changed.", nil
	}
	return text, "", err
}

// another says why a sound text is another pattern and no correction, or nothing.
func another(old, now *patterns.Pattern) string {
	const own = " Nothing was changed. Start such a pattern as a knit-along of its own."
	was, is := slices.Sorted(slices.Values(old.Sizes)), slices.Sorted(slices.Values(now.Sizes))
	switch {
	case len(was) != len(is):
		return "The corrected pattern has " + sizesWords(is) + ", where it had " + sizesWords(was) + "." + own
	case !slices.Equal(was, is):
		return "The corrected pattern names its sizes " + list(namesOf(now.Sizes), "and") + ", where they were " + list(namesOf(old.Sizes), "and") + "." + own
	}
	for i, size := range now.Sizes {
		if said := otherCastOn(old.CastOn.At(slices.Index(old.Sizes, size)), now.CastOn.At(i)); said != "" {
			return "In size " + nameOf(size) + " the corrected pattern " + said + own
		}
	}
	if said := otherCastOn(old.CastOn.At(0), now.CastOn.At(0)); said != "" && len(now.Sizes) == 0 {
		return "The corrected pattern " + said + own
	}
	if hasMuteName(now) {
		return "A section or a size of the corrected pattern has a name that can't be said. Nothing was changed. Give it a name with a word in it."
	}
	return ""
}

func sizesWords(sizes []string) string {
	n := max(1, len(sizes))
	return reader.Number(n) + " " + plural("size", n)
}

func otherCastOn(was, is int) string {
	if was == is {
		return ""
	}
	return "casts on " + stitches(is) + ", where it was " + reader.Number(was) + "."
}

// text gives the text of a revision as a file.
func (d *directing) text(ctx context.Context) (Reply, error) {
	text, said, err := d.revision(ctx)
	if said != "" || err != nil {
		return Reply{Said: said}, err
	}
	number, of := d.order.Revision, d.about.Revision
	if number == 0 {
		number = of
	}
	words := "Here is revision " + reader.Number(number) + " of " + reader.Number(of) + " of " + titleOf(d.about)
	switch {
	case of == 1:
		words = "Here is the text of " + titleOf(d.about) + ", which has not been corrected"
	case number == of:
		words += ", the one that is knitted now"
	}
	reply := Reply{Said: words + ".", Files: []File{{Name: fileOf(d.about.Title, "revision-"+strconv.Itoa(number)) + ".txt", Text: withEnd(text)}}}
	if number < of {
		reply.Choices = []Choice{backTo(number)}
	}
	return reply, nil
}

// withEnd gives a text with an end of line at its end.
func withEnd(text string) string {
	if text == "" || text[len(text)-1] != '\n' {
		return text + "\n"
	}
	return text
}
