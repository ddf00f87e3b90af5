package bot_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"clew/bot"
	"clew/patterns"
	"clew/reader"
	"clew/reader/listen"
	"clew/session"
	"clew/session/redistest"
)

// What the test of killed processes is made of. The members and their names are
// invented.
const (
	crowdPlatform = "quay"
	crowdServer   = "harbour"
	crowdHost     = session.Member(crowdPlatform + ":odo")
	crowdID       = "crowd" // more than are named on a board
	circleID      = "circle"
	crowdSize     = 180
	circleSize    = 20

	workers      = 4
	requestsEach = 20 // moves of a member, once she is at her first row
	perRound     = 80 // answers from one look after the channels to the next; members wait for it
	killsLeast   = 6
	roundsMost   = 60 // at the end, until nothing is due any more
	lastOpens    = 10 * time.Minute
	retryAfter   = 50 * time.Millisecond
	ownLimit     = 2 * time.Minute
)

// TestProcessesKilled lets two hundred members of two knit-alongs ask at once, of
// four processes on one Redis, while processes are killed at random and started
// again. Whatever was answered is there and nothing is there twice; the boards
// are edited now and then, never two times within the spacing, and at last tell what
// the places are; each session is announced once. A platform stands behind it that
// asks again where a process died, as people do.
func TestProcessesKilled(t *testing.T) {
	redis := "redis://" + redistest.Start(t).Addr
	client, err := session.Connect(redis)
	if err != nil {
		t.Fatal(err)
	}
	defer client.Close()
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	ctx, cancel := context.WithTimeout(t.Context(), ownLimit)
	defer cancel()
	n := &night{t: t, store: session.Open(client), hall: &hall{clock: evening, shows: map[string][]time.Time{}}, random: rand.New(rand.NewPCG(seed, 0))}
	n.begin(ctx)
	n.crew = newCrew(t, n.hall, redis, workers, seed)
	defer n.crew.end()
	n.crew.doom("Session one of three of the crowd is open", "Session three of three of the circle is open")

	n.goOn(ctx)
	n.crew.spare()
	n.lastPost(ctx)
	n.settle(ctx)
	n.crew.end()
	if t.Failed() {
		return
	}
	n.checkPlaces(ctx)
	n.checkBoards(ctx)
	n.checkAnnouncements(ctx)
	for _, found := range n.hall.spaced() {
		t.Error(found)
	}
	if n.crew.kills < killsLeast || n.crew.started < workers+killsLeast-1 {
		t.Errorf("%d processes were killed and %d started, expected at least %d to be killed", n.crew.kills, n.crew.started, killsLeast)
	}
	t.Logf("%d processes were killed, %d boards shown, in %s of the evening", n.crew.kills, len(n.hall.shows[crowdID])+len(n.hall.shows[circleID]), n.hall.now().Sub(evening))
}

// A night is the test's evening.
type night struct {
	t        *testing.T
	store    *session.Store
	hall     *hall
	crew     *crew
	random   *rand.Rand
	plans    map[string]*patterns.Plan // by size
	members  []*regular
	deletion []string // channels whose boards are yet to be deleted
}

// A regular is a member, with what she asks and where that has to lead.
type regular struct {
	member session.Member
	nick   string
	group  string
	size   string
	asks   []bot.Ask
	row    int // index in her plan at the end
	moves  int // that her log has to have
}

// begin starts the knit-alongs, and works out who asks what.
func (n *night) begin(ctx context.Context) {
	text := pattern(n.t, "quay-cap")
	read, problems := patterns.Read([]byte(text))
	if patterns.HasErrors(problems) {
		n.t.Fatal(problems)
	}
	n.plans = map[string]*patterns.Plan{}
	for _, size := range read.Sizes {
		plan, err := read.LayOut(patterns.Choice{Size: size})
		if err != nil {
			n.t.Fatal(err)
		}
		n.plans[size] = plan
	}
	after := func(d time.Duration) time.Time { return evening.Add(d) }
	sessions := []session.Session{
		{Number: 1, Title: "Casting on", First: session.RowID{Section: "Brim", Row: 1}, Last: session.RowID{Section: "Set-up", Row: 1}, Opens: after(2 * time.Minute)},
		{Number: 2, Title: "The ropes", First: session.RowID{Section: "Ropes", Row: 1}, Last: session.RowID{Section: "Ropes", Row: 16}, Opens: after(6 * time.Minute)},
		{Number: 3, Title: "The crown", First: session.RowID{Section: "Crown", Row: 1}, Last: session.RowID{Section: "Crown", Row: 6}, Opens: after(lastOpens)},
	}
	for id, size := range map[string]int{crowdID: crowdSize, circleID: circleSize} {
		about := session.About{ID: id, Title: "the " + id, Host: crowdHost, Server: crowdServer, Channel: id, Started: evening, Sessions: sessions}
		if err := n.store.Start(ctx, about, text); err != nil {
			n.t.Fatal(err)
		}
		for i := range size {
			n.members = append(n.members, n.regular(id, i, read.Sizes[i%len(read.Sizes)]))
		}
	}
	n.deletion = []string{crowdID, circleID}
}

// regular makes up a member: she joins, goes to a row, and from there to and fro.
func (n *night) regular(group string, i int, size string) *regular {
	first, last := []string{"Ana", "Odo", "Ottil", "Tamsin", "Wren"}, []string{"Marsh", "Pell", "Quay", "Sarn"}
	r := &regular{member: session.Member(fmt.Sprintf("%s:%s%d", crowdPlatform, group, i)), group: group, size: size,
		nick: first[i%len(first)] + " " + last[i/len(first)%len(last)]}
	rows := n.plans[size].Rows
	r.row, r.moves = n.random.IntN(len(rows)-3), 1
	begin := rows[r.row]
	r.ask(listen.Heard{Intent: listen.Join}, size)
	r.ask(listen.Heard{Intent: listen.At, Number: begin.Number, HasNumber: true, Section: strings.ToLower(begin.Section.Name)}, "")
	var left []int // the rows that undo leads back to
	for range requestsEach {
		switch k := n.random.IntN(10); {
		case (k < 3 || r.row == len(rows)-4) && r.row > 0:
			left = append(left, r.row)
			r.row--
			r.ask(listen.Heard{Intent: listen.Back}, "")
		case k < 5 && len(left) > 0:
			r.row = left[len(left)-1]
			left = left[:len(left)-1]
			r.ask(listen.Heard{Intent: listen.Undo}, "")
		default:
			left = append(left, r.row)
			r.row++
			r.ask(listen.Heard{Intent: listen.Next}, "")
		}
		r.moves++
	}
	return r
}

func (r *regular) ask(heard listen.Heard, name string) {
	heard.Sure = true
	r.asks = append(r.asks, bot.Ask{Member: r.member, Nick: r.nick, Server: crowdServer, Channel: r.group,
		Heard: &heard, Name: name, Event: fmt.Sprintf("e%d", len(r.asks))})
}

// goOn lets all members ask, each one thing after the other, and the processes look
// after the channels after every few answers.
func (n *night) goOn(ctx context.Context) {
	answered := make(chan struct{}, perRound)
	var asking sync.WaitGroup
	for _, r := range n.members {
		twice := n.random.IntN(len(r.asks))
		asking.Go(func() {
			for i, ask := range r.asks {
				if err := n.deliver(ctx, ask, i == twice); err != nil {
					n.t.Errorf("request %d of %s: %v", i, r.member, err)
					return
				}
				answered <- struct{}{}
			}
		})
	}
	go func() {
		asking.Wait()
		close(answered)
	}()
	for count := 1; ; count++ {
		if _, more := <-answered; !more {
			return
		}
		if count%perRound == 0 {
			n.hall.advance(time.Duration(5+n.random.IntN(16)) * time.Second)
			n.crew.tend(ctx)
			n.deleteBoards(ctx, count)
		}
	}
}

// deliver has one request answered, or one that the platform sends to two processes.
func (n *night) deliver(ctx context.Context, ask bot.Ask, twice bool) error {
	var other error
	var sending sync.WaitGroup
	if twice {
		sending.Go(func() { other = n.deliverOnce(ctx, ask) })
	}
	err := n.deliverOnce(ctx, ask)
	sending.Wait()
	if err != nil {
		return err
	}
	return other
}

// deliverOnce has a request answered. Where the store was too slow for it, or a
// pattern was not ready, the same event comes again, as the answer asks for.
func (n *night) deliverOnce(ctx context.Context, ask bot.Ask) error {
	for {
		reply, err := n.crew.deliver(ctx, note{Kind: askNote, Ask: &ask})
		if err != nil {
			return err
		}
		switch bot.Code(reply.Failed) {
		case "", bot.Unread: // with the latter it is saved
			return nil
		case bot.Unreachable, bot.Uncertain:
			time.Sleep(retryAfter)
		default:
			return fmt.Errorf("%q failed: %s %s", ask.Heard.Intent, reply.Failed, reply.Said)
		}
	}
}

// deleteBoards lets somebody delete each board once: that of the crowd a third of the
// way, of which the bot is not told and finds out when it edits it next, and that of
// the circle at two thirds, of which it is told.
func (n *night) deleteBoards(ctx context.Context, answered int) {
	done := 2 - len(n.deletion)
	if len(n.deletion) == 0 || answered < (done+1)*len(n.members)*requestsEach/3 {
		return
	}
	channel := n.deletion[0]
	message := n.hall.deleteBoard(channel)
	if message == "" {
		return // it does not stand there yet
	}
	n.deletion = n.deletion[1:]
	if done == 0 {
		return
	}
	reply, err := n.crew.deliver(ctx, note{Kind: goneNote, Server: crowdServer, Channel: channel, Message: message})
	if err != nil || reply.Failed != "" {
		n.t.Errorf("telling that a board is gone: %v %s", err, reply.Failed)
	}
}

// lastPost lets the one be killed who posts the circle's board anew, once it stands,
// and the circle go on meanwhile: that message shows too little, and whoever finds it
// must not take it for the newest.
func (n *night) lastPost(ctx context.Context) {
	if n.t.Failed() {
		return
	}
	if len(n.deletion) > 0 || n.hall.deleteBoard(circleID) == "" {
		n.t.Errorf("the boards of %v were not deleted", append(n.deletion, circleID))
	}
	n.crew.doom(boardStarts + "the " + circleID)
	for range 2 {
		r := n.members[slices.IndexFunc(n.members, func(r *regular) bool { return r.group == circleID })]
		r.row++
		r.moves++
		r.ask(listen.Heard{Intent: listen.Next}, "")
		if err := n.deliver(ctx, r.asks[len(r.asks)-1], false); err != nil {
			n.t.Error(err)
		}
		n.hall.advance(session.BoardSpacing)
		n.crew.tend(ctx)
	}
}

// settle lets the processes look after the channels until nothing is left to do.
func (n *night) settle(ctx context.Context) {
	for range roundsMost {
		if n.t.Failed() {
			return
		}
		n.hall.advance(session.BoardSpacing)
		n.crew.tend(ctx)
		due, err := n.store.Due(ctx, crowdPlatform, n.hall.now().Add(session.BoardSpacing))
		if err != nil {
			n.t.Fatal(err)
		}
		if len(due) == 0 && n.hall.now().Sub(evening) > lastOpens {
			return
		}
	}
	n.t.Errorf("something is due still after %d looks", roundsMost)
}

// checkPlaces holds the places, logs and rosters to what was answered.
func (n *night) checkPlaces(ctx context.Context) {
	entries := map[session.Member]session.Entrant{}
	for _, id := range []string{crowdID, circleID} {
		roster, err := n.store.Roster(ctx, id)
		if err != nil {
			n.t.Fatal(err)
		}
		for _, e := range roster {
			entries[e.Member] = e
		}
	}
	if len(entries) != len(n.members) {
		n.t.Errorf("%d members are in, expected %d", len(entries), len(n.members))
	}
	for _, r := range n.members {
		state, err := n.store.State(ctx, r.group, r.member)
		if err != nil {
			n.t.Fatal(err)
		}
		row := n.plans[r.size].Rows[r.row]
		want := fmt.Sprint(row.Section.Name, row.Number, row.Worked)
		if found := fmt.Sprint(state.Section, state.Row, state.Done); !state.Joined || found != want {
			n.t.Errorf("%s is at %s, expected %s", r.member, found, want)
		}
		e := entries[r.member]
		if found := fmt.Sprint(e.Section, e.Row, e.Done); found != want || e.Name != r.nick {
			n.t.Errorf("the roster has %s %s, expected %s %s", e.Name, found, r.nick, want)
		}
		log, err := n.store.Log(ctx, r.group, r.member, 0)
		if err != nil {
			n.t.Fatal(err)
		}
		if len(log) != r.moves {
			n.t.Errorf("%s has %d moves in the log, expected %d", r.member, len(log), r.moves)
		}
	}
}

// checkBoards holds the boards that stand to the places: worked out here from the
// rows, in whole percent rounded down.
func (n *night) checkBoards(ctx context.Context) {
	for id, size := range map[string]int{crowdID: crowdSize, circleID: circleSize} {
		about, err := n.store.About(ctx, id)
		if err != nil {
			n.t.Fatal(err)
		}
		boards := n.hall.standingIn(id, true)
		if len(boards) != 1 || boards[0].id != about.Board {
			n.t.Errorf("%d boards stand in %s, expected the one that is kept, %s", len(boards), id, about.Board)
			continue
		}
		var want []string
		in := map[string]int{}
		for _, r := range n.members {
			if r.group != id {
				continue
			}
			plan := n.plans[r.size]
			row := plan.Rows[r.row]
			in[row.Section.Name]++
			if id == circleID {
				percent := max(1, int(100*row.Worked/plan.Stitches()))
				if row.Worked == 0 {
					percent = 0
				}
				want = append(want, fmt.Sprintf("%s: round %s of %s, %s percent.", r.nick, reader.Number(row.Number), row.Section.Name, reader.Number(percent)))
			}
		}
		if id == crowdID {
			for section, m := range in {
				words := " knitters."
				if m == 1 {
					words = " knitter."
				}
				want = append(want, section+": "+reader.Number(m)+words)
			}
		}
		joined := reader.Number(size) + " knitters have joined."
		want = append(want, strings.ToUpper(joined[:1])+joined[1:])
		lines := strings.Split(boards[0].post.Texts[0], "\n")
		for _, line := range want {
			if !slices.Contains(lines, line) {
				n.t.Errorf("the board of %s has not %q:\n%s", id, line, boards[0].post.Texts[0])
			}
		}
		for _, section := range n.plans[n.members[0].size].Pattern.Sections {
			if in[section.Name] == 0 && strings.Contains(boards[0].post.Texts[0], "\n"+section.Name+":") {
				n.t.Errorf("the board of %s has %s, where nobody is", id, section.Name)
			}
		}
	}
}

// checkAnnouncements holds what stands in the channels beside the boards to one
// announcement of each session, which is noted.
func (n *night) checkAnnouncements(ctx context.Context) {
	for _, id := range []string{crowdID, circleID} {
		about, err := n.store.About(ctx, id)
		if err != nil {
			n.t.Fatal(err)
		}
		var want, found []string
		for _, s := range about.Sessions {
			want = append(want, fmt.Sprintf("Session %s of three of the %s is open: %s.", reader.Number(s.Number), id, s.Title))
			if s.Announced.IsZero() {
				n.t.Errorf("session %d of %s is not noted as announced", s.Number, id)
			}
		}
		for _, m := range n.hall.standingIn(id, false) {
			first, _, _ := strings.Cut(m.post.Texts[0], "\n")
			found = append(found, first)
		}
		slices.Sort(found)
		slices.Sort(want)
		if !slices.Equal(found, want) {
			n.t.Errorf("in %s stand %q, expected %q", id, found, want)
		}
	}
}
