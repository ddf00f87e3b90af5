package bot

import (
	"context"
	"crypto/sha256"
	"errors"
	"slices"
	"strings"

	"clew/reader"
	"clew/reader/listen"
	"clew/session"
)

// Direct carries out what a host orders. It never fails: what went wrong is a
// sentence in the reply, which never claims more than was saved.
func (b *Bot) Direct(ctx context.Context, o Order) Reply {
	d := &directing{Bot: b, order: o}
	if o.Event != "" {
		d.key = eventKey(o.Member, o.Event)
		d.before, _ = b.recent.get(d.key)
	}
	reply, err := d.direct(ctx)
	switch {
	case err != nil:
		reply = b.failed(err, d.saved, deedFailures, o.Member, d.about.ID, o.Event)
	case d.key != "" && !d.before.answered:
		b.recent.put(d.key, turn{knitalong: d.about.ID, answered: true, saved: d.saved, reply: d.reply})
	}
	reply.Said = strings.TrimSpace(reply.Said)
	reply.Intent = listen.Knitalong
	reply.Knitalong = d.about.ID
	return reply
}

// A directing is one order being carried out.
type directing struct {
	*Bot
	order  Order
	key    string        // what the event is remembered by; "" for none
	before turn          // what it came to when it came before
	about  session.About // the knit-along that it is about
	saved  bool          // something was changed, so that an error from here on keeps back the answer alone
	reply  *Reply        // what the event is to be answered when it comes again; nil where that can be worked out anew
}

var deedFailures = map[Code]string{
	NoKnitalong: "There is no knit-along here. Nothing was changed.",
	Unreachable: "The knit-alongs can't be reached just now. Nothing was changed and nothing is lost. Please ask again in a moment.",
	Uncertain:   "Contact broke off while this was being saved, so it is not known whether it was. What was saved before is not lost. Please ask once more.",
	Internal:    "Something went wrong here. What was saved before is not lost. Please ask again in a moment.",
}

func (d *directing) direct(ctx context.Context) (Reply, error) {
	if d.order.Server == "" {
		return Reply{Said: "A knit-along belongs to a channel of a server, so ask for that there. Nothing was changed."}, nil
	}
	switch do := onKnitalongs[d.order.Deed]; {
	case d.order.Deed == Start:
		return d.start(ctx)
	case d.order.Deed == Check:
		return d.check(ctx)
	case do != nil:
		return d.withKnitalong(ctx, do)
	}
	return Reply{Said: "That can't be ordered here. Nothing was changed."}, nil
}

// A doing carries out a deed on the knit-along that the order is about.
type doing func(*directing, context.Context) (Reply, error)

// onKnitalongs are the deeds that are done to a knit-along that there is.
var onKnitalongs = map[Deed]doing{
	Close: (*directing).close, Reopen: (*directing).reopen, Helper: (*directing).helper,
	Sessions: (*directing).sessions, Open: (*directing).openSession,
	Correct: (*directing).correct, Text: (*directing).text,
	Board: (*directing).board, Stumbles: (*directing).stumbles, Who: (*directing).who, Export: (*directing).export,
}

// withKnitalong carries out a deed on the knit-along that the order is about,
// where that is known and the member has the right.
func (d *directing) withKnitalong(ctx context.Context, do doing) (Reply, error) {
	about, asks, err := d.which(ctx)
	if err != nil || about.ID == "" {
		return asks, err
	}
	if !d.may(about) {
		return Reply{Said: noRight}, nil
	}
	d.about = about
	if d.key != "" && !d.before.answered {
		d.recent.put(d.key, turn{knitalong: about.ID})
	}
	return do(d, ctx)
}

const noRight = "Only a host of this knit-along can do that: whoever may manage events here, whoever started it, and the helpers she named. Nothing was changed."

// may says that the member has a host's right to a knit-along of the server.
func (d *directing) may(about session.About) bool {
	return d.order.Manages || about.Host == d.order.Member || slices.Contains(about.Helpers, d.order.Member)
}

// which finds the knit-along that an order is about: the one that it names, else
// the one of the channel, else the only one of the server. Where that can't be
// told it gives none, and a reply that asks.
func (d *directing) which(ctx context.Context) (session.About, Reply, error) {
	id := d.order.Knitalong
	if id == "" {
		id = d.before.knitalong
	}
	if id != "" {
		about, err := d.store.About(ctx, id)
		if errors.Is(err, session.ErrInvalid) || err == nil && about.Server != d.order.Server {
			err = session.ErrUnknownKnitalong
		}
		return about, Reply{}, err
	}
	found, err := d.around(ctx)
	if err != nil {
		return session.About{}, Reply{}, err
	}
	if named := bare(d.order.Title); named != "" {
		found, _ = apart(found, func(a session.About) bool { return bare(a.Title) == named })
	}
	if here, _ := apart(found, func(a session.About) bool { return a.Channel == d.order.Channel }); len(here) > 0 {
		found = here
	}
	found, closed, err := d.orClosed(ctx, found)
	if err != nil {
		return session.About{}, Reply{}, err
	}
	sortByTitle(found)
	state := map[bool]string{false: "open", true: "closed"}[closed || d.order.Deed == Reopen]
	switch {
	case len(found) == 0 && bare(d.order.Title) != "":
		return session.About{}, Reply{Said: "There is no " + state + " knit-along here called " + nameOf(d.order.Title) + ". Nothing was changed."}, nil
	case len(found) == 0:
		return session.About{}, Reply{Said: "There is no " + state + " knit-along here. Nothing was changed."}, nil
	case len(found) == 1:
		return found[0], Reply{}, nil
	}
	asks := Reply{Said: "There are " + reader.Number(len(found)) + " " + state + " knit-alongs here: " + list(titlesOf(found), "and") + ". Which one do you mean? Nothing was changed."}
	if !d.order.fitsChoice() {
		asks.Said += " Order it again with its name."
		return session.About{}, asks, nil
	}
	for _, about := range found[:min(len(found), choicesMost)] {
		asks.Choices = append(asks.Choices, d.order.choice(about))
	}
	asks.Choices = distinct(asks.Choices)
	return session.About{}, asks, nil
}

// around gives the knit-alongs of the server that an order may be about: those
// that are open, or, to be reopened, those that are closed.
func (d *directing) around(ctx context.Context) ([]session.About, error) {
	if d.order.Deed == Reopen {
		return d.closedIn(ctx)
	}
	_, held, err := d.store.Around(ctx, d.order.Member, d.order.Server)
	if err != nil {
		return nil, err
	}
	abouts, err := d.store.Abouts(ctx, idsOf(held))
	found, _ := apart(abouts, func(a session.About) bool {
		return a.Server == d.order.Server && !a.Closed
	})
	return found, err
}

// closedIn gives the closed knit-alongs of the server.
func (d *directing) closedIn(ctx context.Context) ([]session.About, error) {
	held, err := d.store.Closed(ctx, d.order.Server)
	if err != nil {
		return nil, err
	}
	abouts, err := d.store.Abouts(ctx, idsOf(held))
	found, _ := apart(abouts, func(a session.About) bool { return a.Server == d.order.Server && a.Closed })
	return found, err
}

// orClosed gives the closed knit-alongs that an order may be about which changes
// nothing, where none that is open is meant: those of the name that it names, else
// those of the channel. closed says that it does.
func (d *directing) orClosed(ctx context.Context, open []session.About) (found []session.About, closed bool, err error) {
	named := bare(d.order.Title)
	meant := func(a session.About) bool {
		return a.Channel == d.order.Channel && named == "" || named != "" && bare(a.Title) == named
	}
	if !d.order.changesNothing() || slices.ContainsFunc(open, meant) {
		return open, false, nil
	}
	all, err := d.closedIn(ctx)
	if found, _ = apart(all, meant); err != nil || len(found) == 0 {
		return open, false, err
	}
	return found, true, nil
}

// changesNothing says that an order only asks.
func (o Order) changesNothing() bool {
	switch o.Deed {
	case Who, Export, Text, Stumbles:
		return true
	case Sessions:
		return o.Plan == nil && o.Hold == nil
	}
	return false
}

var reopenChoice = []Choice{{Label: "Open it again", Intent: listen.Knitalong, Value: string(Reopen)}}

// close closes the knit-along, once the member is sure.
func (d *directing) close(ctx context.Context) (Reply, error) {
	title := titleOf(d.about)
	switch {
	case d.order.Sure:
	case d.about.Closed:
		return Reply{Said: capital(title) + " is closed already. Nothing was changed.", Choices: reopenChoice}, nil
	default:
		return Reply{
			Said:    "Do you want to close " + title + "? Nobody can go on in it then. Every place is kept, and you can open it again.",
			Choices: []Choice{{Label: "Close it", Intent: listen.Knitalong, Value: string(Close)}},
		}, nil
	}
	if err := d.once(func() error { return d.store.Close(ctx, d.about.ID) }); err != nil {
		return Reply{}, err
	}
	return Reply{Said: capital(title) + " is closed. Every place in it is kept.", Choices: reopenChoice}, nil
}

// reopen opens it again.
func (d *directing) reopen(ctx context.Context) (Reply, error) {
	err := d.once(func() error { return d.store.Reopen(ctx, d.about.ID) })
	if errors.Is(err, session.ErrCrowded) {
		return Reply{Said: "There are as many open knit-alongs here as there can be. Nothing was changed. Close one of them first."}, nil
	}
	if err != nil {
		return Reply{}, err
	}
	return Reply{Said: capital(titleOf(d.about)) + " is open. Everybody can go on from the place where they were."}, nil
}

// helper names somebody who has a host's rights from then on, or dismisses her.
func (d *directing) helper(ctx context.Context) (Reply, error) {
	o, title := d.order, titleOf(d.about)
	helps := slices.Contains(d.about.Helpers, o.Helper)
	if o.Helper == "" {
		return Reply{Said: "Say who it is. Nothing was changed."}, nil
	}
	who, joined, err := d.called(ctx, o.Helper)
	if err != nil {
		return Reply{}, err
	}
	switch {
	case o.Helper == d.about.Host:
		return Reply{Said: who + " started " + title + ", and needs no naming. Nothing was changed."}, nil
	case d.before.saved, d.before.knitalong != "" && !d.before.answered: // or it may be saved
	case o.Dismiss && !helps:
		return Reply{Said: who + " is not a helper of " + title + ". Nothing was changed."}, nil
	case !o.Dismiss && helps:
		return Reply{Said: who + " is a helper of " + title + " already. Nothing was changed."}, nil
	}
	err = d.once(func() error { return d.store.Help(ctx, d.about.ID, o.Helper, !o.Dismiss) })
	switch {
	case errors.Is(err, session.ErrHelpers):
		return Reply{Said: capital(title) + " has as many helpers as it can have. Nothing was changed. Dismiss one first."}, nil
	case err != nil:
		return Reply{}, err
	case o.Dismiss:
		return Reply{Said: who + " is not a helper any more, and may do with " + title + " what any knitter may."}, nil
	}
	said := who + " is a helper now, and may do with " + title + " all that you may, from opening its sessions to naming helpers."
	if !joined {
		said += " That member has not joined it. If it is the wrong one, dismiss that helper."
	}
	return Reply{Said: said}, nil
}

// called gives what a member is called at the beginning of a sentence, as far as the
// roster tells it, and whether she has joined.
func (d *directing) called(ctx context.Context, member session.Member) (name string, joined bool, err error) {
	roster, err := d.store.Roster(ctx, d.about.ID)
	i := slices.IndexFunc(roster, func(e session.Entrant) bool { return e.Member == member })
	if err != nil || i < 0 {
		return "That member", false, err
	}
	if name = saidName(roster[i].Name, 0); name == capital(somebody) {
		name = "That member"
	}
	return name, true, nil
}

// once makes a change that the event has not made before.
func (d *directing) once(change func() error) error {
	if d.before.saved {
		return nil
	}
	err := change()
	d.saved = err == nil
	return err
}

// knitalongID makes the id of a knit-along out of the event that starts it, so
// that one event starts one.
func knitalongID(member session.Member, event string) string {
	const letters = "abcdefghijklmnopqrstuvwxyz"
	sum := sha256.Sum256([]byte(eventKey(member, event)))
	id := []byte("k")
	for _, b := range sum[:12] {
		id = append(id, letters[int(b)%len(letters)])
	}
	return string(id)
}
