package bot

import (
	"context"
	"regexp"
	"strings"

	"clew/reader"
	"clew/reader/listen"
)

// notesSaid is how many notes are said in front of the first row. More of them
// would have to be listened to with the needles waiting.
const notesSaid = 2

// notes is said of the pattern's notes when a knitter begins: the notes, or how
// to hear them where they are many.
func (p *plan) notes() string {
	if n := len(p.Pattern.Notes); n > notesSaid {
		return "The pattern has " + reader.Number(n) + " notes; say notes to hear them. "
	}
	return p.allNotes()
}

func (p *plan) allNotes() string {
	var said strings.Builder
	for _, n := range p.writtenNotes() {
		if words := sentence(reader.Plain(n)); words != "" {
			said.WriteString("Note: " + words + " ")
		}
	}
	return said.String()
}

// writtenNotes gives the notes as written, each in the member's size.
func (p *plan) writtenNotes() []string {
	notes := make([]string, len(p.Pattern.Notes))
	for i, n := range p.Pattern.Notes {
		notes[i] = p.Pattern.ForSize(n, p.Size)
	}
	return notes
}

// notesWords are the ways to ask for the notes. Every word counts, since a note
// may be spoken of in chatter too.
var notesWords = regexp.MustCompile(`^(?:please )?(?:(?:can|could) you |(?:can|could|may) i )?` +
	`(?:(?:read|say|tell|give|show|hear|repeat|what are|what were|are there any)(?: me)?(?: out)? )?` +
	`(?:all )?(?:of )?(?:the |its )?(?:pattern s |pattern )?notes(?: of the pattern| on the pattern)?(?: again| once more)?(?: please)?$`)

// asksNotes gives what reads the notes, where the words ask for them; else nil.
func (t *talk) asksNotes() func(context.Context) (Reply, error) {
	if !notesWords.MatchString(bare(t.ask.Words)) {
		return nil
	}
	t.heard = listen.Heard{Intent: listen.Settings, Sure: true}
	return func(context.Context) (Reply, error) {
		if said := t.plan.allNotes(); said != "" {
			return t.say(said), nil
		}
		return t.say("The pattern has no notes."), nil
	}
}
