package discordtest

import (
	"fmt"
	"net/http"
	"time"
)

// Kinds of an interaction's first answer: documentation, "Receiving and Responding".
const (
	answerReply       = 4
	answerDefer       = 5
	answerDeferUpdate = 6
	answerUpdate      = 7
	answerSuggest     = 8
	answerForm        = 9
)

// answersTo are the kinds that each kind of interaction takes.
var answersTo = map[int][]int{
	kindCommand:      {answerReply, answerDefer, answerForm},
	kindComponent:    {answerReply, answerDefer, answerDeferUpdate, answerUpdate, answerForm},
	kindAutocomplete: {answerSuggest},
	kindForm:         {answerReply, answerDefer, answerDeferUpdate, answerUpdate},
}

// Refusals: documentation, "Opcodes and Status Codes", JSON error codes.
func unknown(code int, what string) *refusal {
	return &refusal{status: http.StatusNotFound, code: code, message: "Unknown " + what}
}

func unknownMessage() *refusal { return unknown(10008, "Message") }

// callback is an interaction's first answer.
func (c *call) callback() (int, any, *refusal) {
	it, s := c.it, c.s
	if it == nil || it.id != c.names[0] {
		return 0, nil, unknown(10062, "interaction")
	}
	o, ok := parse(c.json)
	if !ok {
		return 0, nil, badJSON()
	}
	f := &form{}
	kind := int(f.whole(o, "", "type", 1, 12, 0))
	if !takes(it, kind) {
		f.add("type", "BASE_TYPE_CHOICES", "An interaction of type %d takes an answer of type %v, not %d", it.kind, answersTo[it.kind], kind)
		return 0, nil, f.refusal()
	}
	a, no := c.readAnswer(f, o, kind)
	if no == nil {
		no = f.refusal()
	}
	if no != nil {
		return 0, nil, no
	}
	after, seen, no := c.acknowledge(a)
	if no != nil {
		return 0, nil, no
	}
	s.hit(it, a.kind, after, seen)
	if c.r.URL.Query().Get("with_response") == "true" && seen != nil {
		return http.StatusOK, map[string]any{"interaction": map[string]any{"id": it.id, "type": it.kind},
			"resource": map[string]any{"type": kind, "message": s.wire(seen)}}, nil
	}
	return http.StatusNoContent, nil, nil
}

func takes(it *interaction, kind int) bool {
	if (kind == answerDeferUpdate || kind == answerUpdate) && it.kind == kindForm && !it.fromPress {
		return false
	}
	for _, k := range answersTo[it.kind] {
		if k == kind {
			return true
		}
	}
	return false
}

// firstAnswer is what a callback brings.
type firstAnswer struct {
	kind        int
	draft       *draft
	record      *record // a new message
	ephemeral   bool
	suggestions []Choice
	form        *Form
}

// readAnswer checks and reads the data of an answer.
func (c *call) readAnswer(f *form, o object, kind int) (*firstAnswer, *refusal) {
	a := &firstAnswer{kind: kind}
	data := f.inner(o, "", "data")
	switch kind {
	case answerReply, answerUpdate:
		p := forAnswer
		if kind == answerUpdate {
			p = forUpdate
		}
		if data == nil && kind == answerReply {
			f.required("data")
			return nil, f.refusal()
		}
		outer, no := c.object()
		if no != nil {
			return nil, no
		}
		raw := outer["data"]
		if data == nil {
			raw = []byte("{}")
		}
		if a.draft, no = c.draft(raw, p); no != nil {
			if no.errors != nil {
				no.errors = map[string]any{"data": no.errors}
			}
			return nil, no
		}
		a.ephemeral = a.draft.flags&flagEphemeral != 0
	case answerDefer:
		flags := f.whole(data, "data", "flags", 0, 1<<31, 0)
		if flags&^flagEphemeral != 0 {
			f.add("data.flags", "MESSAGE_FLAGS_INVALID", "a deferral takes the flag EPHEMERAL only, not %d", flags)
		}
		a.ephemeral = flags&flagEphemeral != 0
		c.nothingIn(data)
	case answerDeferUpdate:
		c.nothingIn(data)
	case answerSuggest:
		a.suggestions = f.readSuggestions(data, c.it.focused)
	case answerForm:
		if data == nil {
			f.required("data")
			break
		}
		a.form = f.readForm(data)
	}
	return a, nil
}

// nothingIn records what a deferral would lose: it shows nothing of a message.
func (c *call) nothingIn(data object) {
	for _, key := range []string{"content", "components", "embeds"} {
		switch v := data[key].(type) {
		case nil:
		case string:
			if v != "" {
				c.wrong("data.%s: a deferral shows nothing of it", key)
			}
		case []any:
			if len(v) > 0 {
				c.wrong("data.%s: a deferral shows nothing of it", key)
			}
		}
	}
}

// readSuggestions: documentation, "Receiving and Responding", autocomplete, and
// "Application Commands", option choice.
func (f *form) readSuggestions(data object, focused int) []Choice {
	if _, is := data["choices"].([]any); !is {
		f.required("data.choices")
	}
	all := []Choice{}
	for i, one := range f.objects(data, "data", "choices", mostChoices) {
		at := fmt.Sprintf("data.choices.%d", i)
		all = append(all, Choice{Label: f.must(one, at, "name", 1, longestChoice), Value: f.choiceValue(one, at, focused)})
	}
	return all
}

// acknowledge does what the first answer asks. It gives how long after the dispatch the
// answer came, and the message that is seen now.
func (c *call) acknowledge(a *firstAnswer) (time.Duration, *Message, *refusal) {
	it, s := c.it, c.s
	ch := it.channel
	if a.kind == answerReply || a.kind == answerDefer {
		d := a.draft
		if d == nil {
			d = &draft{}
		}
		a.record = s.newRecord(ch, d)
		a.record.owner, a.record.owned = it, true
		if a.kind == answerDefer {
			a.record.Loading = true
			a.record.Flags |= flagLoading
		}
		if a.ephemeral {
			a.record.Ephemeral, a.record.to = true, it.person
			a.record.Flags |= flagEphemeral
		}
	}
	s.mu.Lock()
	after := time.Since(it.at)
	switch {
	case it.answered != 0:
		s.mu.Unlock()
		return 0, nil, &refusal{status: http.StatusBadRequest, code: 40060, message: "Interaction has already been acknowledged.", meant: it.again.Load()}
	case after > s.opt.AnswerWithin:
		s.mu.Unlock()
		no := unknown(10062, "interaction")
		no.detail = fmt.Sprintf("its first answer came after %v: at most %v", after.Round(time.Millisecond), s.opt.AnswerWithin)
		no.meant = it.again.Load() // one that was made to come late, or comes again
		return 0, nil, no
	}
	if a.kind == answerUpdate && it.source != nil {
		if no := s.change(it.source, a.draft); no != nil {
			s.mu.Unlock()
			return 0, nil, no
		}
	}
	it.answered = a.kind
	seen := c.settle(a, after)
	s.note()
	s.mu.Unlock()
	if seen == nil {
		return after, nil, nil
	}
	s.echo(seen, ch, a.kind == answerUpdate)
	return after, seen, nil
}

// settle enters what a first answer brings, and gives the message that is seen now, as
// it stands. s.mu is held.
func (c *call) settle(a *firstAnswer, after time.Duration) *Message {
	it, s := c.it, c.s
	e := it.event
	if e != nil {
		e.kind, e.after, e.suggestions, e.form = a.kind, after, a.suggestions, a.form
	}
	switch a.kind {
	case answerReply, answerDefer:
		it.original = a.record
		if it.shot == nil {
			s.addRecord(a.record)
		}
		if a.kind == answerReply {
			e.answer(a.record)
		}
		m := a.record.Message
		return &m
	case answerUpdate, answerDeferUpdate:
		it.original = it.source
		if a.kind == answerDeferUpdate || it.source == nil {
			return nil
		}
		e.answer(it.source)
		m := it.source.Message
		return &m
	}
	return nil
}

// echo dispatches the bot's own message to it, as the platform does.
func (s *Server) echo(m *Message, ch *Channel, edit bool) {
	if s.opt.NoEcho || m.Ephemeral {
		return
	}
	kind := "MESSAGE_CREATE"
	if edit {
		kind = "MESSAGE_UPDATE"
	}
	s.deliver(&happening{kind: kind, intent: messageIntent(ch), guild: ch.guildID(), whole: marshal(s.wire(m))})
}

func messageIntent(ch *Channel) int {
	if ch.Guild == nil {
		return intentDirectMessages
	}
	return intentGuildMessages
}
