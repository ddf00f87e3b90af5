package bot

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"strings"

	"golang.org/x/text/collate"
	"golang.org/x/text/language"

	"clew/patterns"
	"clew/reader"
	"clew/session"
)

// whereabouts finds where a knit-along's members are in the current text of its
// pattern, as far as their entries tell. Each row is looked for once, however many
// are at it.
type whereabouts struct {
	*Bot
	about   session.About
	pattern *patterns.Pattern
	plans   map[string]*plan // of the current text, by size, with no row left out
	rows    map[rowThen]int  // their indexes there
}

// A rowThen is a row of a revision in a size.
type rowThen struct {
	session.RowID
	revision int
	size     string
}

func (b *Bot) whereabouts(ctx context.Context, about session.About) (*whereabouts, error) {
	pattern, err := b.pattern(ctx, revision{about.ID, about.Revision})
	return &whereabouts{b, about, pattern, map[string]*plan{}, map[rowThen]int{}}, err
}

// planFor gives the plan of a size; of the first where the pattern has it no more.
func (w *whereabouts) planFor(ctx context.Context, size string) (*plan, error) {
	if p := w.plans[size]; p != nil {
		return p, nil
	}
	is := size
	if !hasSize(w.pattern, size) {
		if is = ""; len(w.pattern.Sizes) > 0 {
			is = w.pattern.Sizes[0]
		}
	}
	p, err := w.planOf(ctx, w.about.ID, session.Place{Revision: w.about.Revision, Size: is})
	if err == nil {
		w.plans[size] = p
	}
	return p, err
}

// at gives a member's plan and the index of her row in it: -1 before the first.
func (w *whereabouts) at(ctx context.Context, e session.Entrant) (*plan, int, error) {
	p, err := w.planFor(ctx, e.Size)
	if err != nil || e.Row == 0 {
		return p, -1, err
	}
	then := rowThen{e.RowID, e.Revision, e.Size}
	if i, ok := w.rows[then]; ok {
		return p, i, nil
	}
	place := session.Place{Section: e.Section, Row: e.Row, Revision: e.Revision, Size: e.Size}
	if e.Revision != w.about.Revision {
		old, err := w.planOf(ctx, w.about.ID, place)
		if err != nil && !errors.Is(err, errUnfit) {
			return p, 0, err
		}
		place = carryRow(old, p, place)
	}
	i := p.rowAt(place)
	w.rows[then] = i
	return p, i, nil
}

// workedAll says that a member has worked every row. all is how many stitches her
// pattern has, for where her entry does not know it.
func workedAll(e session.Entrant, all int64) bool {
	return e.Done >= cmp.Or(e.All, all) && e.Row > 0
}

// inOrder puts members in the order of their names, as people look those up.
func inOrder(roster []session.Entrant) {
	order := collate.New(language.English)
	slices.SortFunc(roster, func(a, b session.Entrant) int {
		return cmp.Or(order.CompareString(visible(a.Name), visible(b.Name)), cmp.Compare(a.Member, b.Member))
	})
}

// namesUpTo lists names, so many of them and how many more there are.
func namesUpTo(names []string, most int) string {
	if more := len(names) - most; more > 0 {
		names = append(names[:most:most], reader.Number(more)+" more")
	}
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " and " + names[last]
}

func isOrAre(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}
