package bot

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"clew/reader"
	"clew/session"
)

// stumblesMost is how many rows a host is told of.
const stumblesMost = 10

// A hardRow is a row that members stumble over.
type hardRow struct {
	session.Stumbled
	p       *plan // one that has it
	i       int   // its index there
	reached int   // members who are at it or past it, at least 1
	differs bool  // the sizes that have it read otherwise
}

// stumbles tells which rows the members stumble over, the worst first for each
// member who has reached it, with the row's words: what to show when they meet.
func (d *directing) stumbles(ctx context.Context) (Reply, error) {
	found, err := d.store.Stumbles(ctx, d.about.ID)
	if err != nil {
		return Reply{}, err
	}
	w, err := d.whereabouts(ctx, d.about)
	if err != nil {
		return Reply{}, err
	}
	hard, err := d.hardRows(ctx, w, found)
	if err != nil {
		return Reply{}, err
	}
	if len(hard) == 0 {
		return Reply{Said: "Nobody has stumbled over a row of " + titleOf(d.about) + " yet."}, nil
	}
	var said []string
	for _, h := range hard[:min(len(hard), stumblesMost)] {
		said = append(said, h.words())
	}
	if more := len(hard) - stumblesMost; more > 0 {
		said = append(said, capital(reader.Number(more))+" more "+plural(hard[0].p.word(0), more)+" were stumbled over less.")
	}
	return Reply{Said: strings.Join(said, " ")}, nil
}

// hardRows finds the rows that were stumbled over in the current text, the worst
// first. What was counted of rows that are not in it any more is passed over.
func (d *directing) hardRows(ctx context.Context, w *whereabouts, found []session.Stumbled) ([]hardRow, error) {
	reached, err := d.reached(ctx, w)
	if err != nil {
		return nil, err
	}
	var hard []hardRow
	for _, s := range found {
		h := hardRow{Stumbled: s}
		for i := range w.pattern.SizeCount() {
			size := ""
			if len(w.pattern.Sizes) > 0 {
				size = w.pattern.Sizes[i]
			}
			p, err := w.planFor(ctx, size)
			if err != nil {
				return nil, err
			}
			i, ok := p.Find(s.Section, s.Row)
			switch {
			case ok && h.p == nil:
				h.p, h.i = p, i
			case ok:
				h.differs = h.differs || h.reads() != hardRow{p: p, i: i}.reads()
			}
		}
		if h.p == nil || h.Times() == 0 {
			continue
		}
		h.reached = max(1, reached(session.RowID{Section: s.Section, Row: s.Row}))
		hard = append(hard, h)
	}
	slices.SortStableFunc(hard, func(a, b hardRow) int { // found has those of more stumbles first
		return cmp.Compare(b.Times()*int64(a.reached), a.Times()*int64(b.reached))
	})
	return hard, nil
}

// reached gives what tells how many members are at a row or past it, in the plans
// of their sizes.
func (d *directing) reached(ctx context.Context, w *whereabouts) (func(session.RowID) int, error) {
	roster, err := d.store.Roster(ctx, d.about.ID)
	if err != nil {
		return nil, err
	}
	at := map[*plan][]int{} // how many members of a plan are at each row
	for _, e := range roster {
		p, i, err := w.at(ctx, e)
		if err != nil {
			return nil, err
		}
		if at[p] == nil {
			at[p] = make([]int, len(p.Rows))
		}
		if i >= 0 {
			at[p][i]++
		}
	}
	for _, counts := range at {
		for i := len(counts) - 2; i >= 0; i-- {
			counts[i] += counts[i+1]
		}
	}
	return func(row session.RowID) int {
		n := 0
		for p, counts := range at {
			if i, ok := p.Find(row.Section, row.Row); ok {
				n += counts[i]
			}
		}
		return n
	}, nil
}

// words tells of a row: "Round five of Lanterns, which eight knitters have reached,
// was heard again three times and explained once. Its words: knit two."
func (h hardRow) words() string {
	var kinds []string
	for _, k := range []struct {
		was   string
		times int64
	}{{"heard again", h.Again}, {"explained", h.Explained}, {"gone back from", h.WentBack}, {"counted wrong", h.Miscounted}} {
		if k.times > 0 {
			kinds = append(kinds, k.was+" "+reader.Times(int(k.times)))
		}
	}
	reads := "It reads: "
	if h.differs {
		reads = "In size " + reader.Name(h.p.Pattern.Sizes[h.p.Size]) + " it reads: "
	}
	return capital(h.p.rowName(h.i)) + ", which " + knitters(h.reached) + " " + haveOrHas(h.reached) + " reached, was " +
		list(kinds, "and") + ". " + reads + small(h.reads()) + "."
}

// reads is the row's words.
func (h hardRow) reads() string {
	return strings.Join(RowWords(h.p.Plan, h.i, reader.Form{Heard: h.p.heard[h.i]}).Steps, " ")
}

// stumble notes that row i gave the member pause. It is for the host's eyes alone,
// so a failure is logged and the answer goes out all the same.
func (t *talk) stumble(ctx context.Context, kind session.StumbleKind, i int) {
	if i < 0 || t.before.answered {
		return
	}
	r := t.plan.Rows[i]
	at := session.StumbleAt{Section: r.Section.Name, Row: r.Number, Kind: kind, Event: t.ask.Event}
	if err := t.store.Stumble(ctx, t.ask.Knitalong, t.ask.Member, at); err != nil {
		t.log.Warn().Err(err).Str("member", string(t.ask.Member)).Msg("a stumble was not noted")
	}
}
