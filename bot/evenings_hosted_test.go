package bot_test

import (
	"regexp"
	"strconv"
	"strings"
	"time"

	"github.com/muesli/reflow/wordwrap"

	"clew/bot"
	"clew/reader/listen"
	"clew/session"
)

// A seat is where somebody is in an evening that is held in servers, and what
// she was answered last.
type seat struct {
	server, channel string // both empty in private
	manages         map[string]bool
	reply           bot.Reply
}

// shown gives what stands with an answer for the eye: problems, the card for
// everybody, and buttons.
func shown(r bot.Reply) string {
	var b strings.Builder
	for line := range strings.Lines(r.Report) {
		b.WriteString("\n| " + strings.TrimRight(line, "\n"))
	}
	if r.Invite != nil {
		b.WriteString("\n" + wordwrap.String("To everybody: "+r.Invite.Said+" "+r.Invite.How, 100) + buttons(r.Invite.Choices))
	}
	for _, f := range r.Files {
		b.WriteString("\n[" + f.Name + "]")
		for line := range strings.Lines(f.Text) {
			b.WriteString("\n| " + strings.TrimRight(line, "\n"))
		}
	}
	return b.String() + buttons(r.Choices)
}

func buttons(choices []bot.Choice) string {
	if len(choices) == 0 {
		return ""
	}
	var labels []string
	for _, c := range choices {
		labels = append(labels, "<"+c.Label+">")
	}
	return "\n" + strings.Join(labels, " ")
}

// What can happen in such an evening.
var (
	sits     = regexp.MustCompile(`^(\w+) is in (?:private|(\w+), (\w+))$`)
	manages  = regexp.MustCompile(`^(\w+) (may|may not) manage events in (\w+)$`)
	touches  = regexp.MustCompile(`^(\w+) presses (.+)$`)
	joinCard = regexp.MustCompile(`^(\w+) presses Join under the card of (\w+)$`)
	orders   = regexp.MustCompile(`^(\w+) orders (start|check|close|reopen|correct|text|stumbles|who|export|sessions|open)(?: of ([\w-]+))?` +
		`(?:, in the (\w+))?(?:, session (\d+))?(?:, revision (\d+))?(?:, called (.+))?$`)
	clocks = regexp.MustCompile(`^it is (\d{4}-\d\d-\d\d \d\d:\d\d) in (\S+)$`)
	names  = regexp.MustCompile(`^(\w+) (names|dismisses) (\w+)$`)
)

// hosted does what can happen only there, or says that it can't.
func (e *transcript) hosted(what string) bool {
	if m := sits.FindStringSubmatch(what); m != nil {
		s := e.seat(m[1])
		s.server, s.channel = m[2], m[3]
	} else if m := manages.FindStringSubmatch(what); m != nil {
		e.seat(m[1]).manages[m[3]] = m[2] == "may"
	} else if m := orders.FindStringSubmatch(what); m != nil {
		o := bot.Order{Deed: bot.Deed(m[2]), Title: m[7]}
		o.Session, _ = strconv.Atoi(m[5])  // no digits are no session
		o.Revision, _ = strconv.Atoi(m[6]) // nor a revision
		if m[4] != "" {
			o.Plan, o.PlanFile = []byte(e.patterns[m[4]]), m[4]+".txt"
		}
		if m[3] != "" {
			text, own := e.patterns[m[3]]
			if o.Pattern, o.File = []byte(text), m[3]+".txt"; !own {
				o.Pattern = []byte(pattern(e.t, m[3]))
			}
		}
		e.orders(m[1], o)
	} else if m := clocks.FindStringSubmatch(what); m != nil {
		zone, err := time.LoadLocation(m[2])
		if err == nil {
			e.clock, err = time.ParseInLocation("2006-01-02 15:04", m[1], zone)
		}
		if err != nil {
			e.t.Fatal(err)
		}
	} else if m := names.FindStringSubmatch(what); m != nil {
		e.orders(m[1], bot.Order{Deed: bot.Helper, Helper: session.Member("terminal:" + m[3]), Dismiss: m[2] == "dismisses"})
	} else if m := joinCard.FindStringSubmatch(what); m != nil {
		e.press(m[1], bot.Choice{Intent: listen.Join}, e.seat(m[2]).reply.Knitalong, "")
	} else if m := touches.FindStringSubmatch(what); m != nil && e.seats[m[1]] != nil {
		r := e.seats[m[1]].reply
		for _, c := range r.Choices {
			if c.Label == m[2] {
				e.press(m[1], c, r.Knitalong, r.Mark)
				return true
			}
		}
		e.t.Fatalf("%s can't press %s: her last answer has %v", m[1], m[2], buttons(r.Choices))
	} else {
		return false
	}
	return true
}

func (e *transcript) seat(who string) *seat {
	s := e.seats[who]
	if s == nil {
		s = &seat{manages: map[string]bool{}}
		e.seats[who] = s
	}
	return s
}

// nick is what the platform calls somebody.
func nick(who string) string { return strings.ToUpper(who[:1]) + who[1:] }

// press lets somebody press a choice where she is.
func (e *transcript) press(who string, c bot.Choice, knitalong, mark string) {
	c.Label = "" // an adapter does not get it back
	if o, ok := c.Order(); ok {
		if o.Knitalong == "" {
			o.Knitalong = knitalong
		}
		e.orders(who, o)
		return
	}
	s := e.seat(who)
	e.ask(bot.Ask{Member: session.Member("terminal:" + who), Nick: nick(who), Knitalong: knitalong, Server: s.server, Channel: s.channel,
		Pressed: &c, Mark: mark, Event: e.event()})
}

// orders carries out an order where somebody is.
func (e *transcript) orders(who string, o bot.Order) {
	s := e.seat(who)
	o.Member, o.Server, o.Channel, o.Event = session.Member("terminal:"+who), s.server, s.channel, e.event()
	o.Manages = s.manages[s.server]
	e.order(o)
}

func (e *transcript) order(o bot.Order) {
	e.again = func() { e.order(o) }
	reply := e.Direct(e.t.Context(), o)
	checkSaid(e.t, string(o.Deed), reply)
	if reply.Invite != nil {
		checkSaid(e.t, string(o.Deed), bot.Reply{Said: reply.Invite.Said + " " + reply.Invite.How})
	}
	e.tell(o.Member, reply)
}
