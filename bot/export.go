package bot

import (
	"cmp"
	"context"
	"encoding/csv"
	"strconv"
	"strings"
	"time"

	"clew/session"
)

// exportColumns head the table of members.
var exportColumns = []string{"name", "member", "size", "joined", "section", "row", "percent", "stitches a minute", "last seen", "asked for help"}

// export gives the members as a table: a line each, times in RFC 3339, and nothing
// where something is not known.
func (d *directing) export(ctx context.Context) (Reply, error) {
	roster, err := d.store.Roster(ctx, d.about.ID)
	if err != nil {
		return Reply{}, err
	}
	if len(roster) == 0 {
		return Reply{Said: d.nobodyJoined()}, nil
	}
	w, err := d.whereabouts(ctx, d.about)
	if err != nil {
		return Reply{}, err
	}
	inOrder(roster)
	members := make([]session.Member, len(roster))
	for i, e := range roster {
		members[i] = e.Member
	}
	paces, err := d.store.Paces(ctx, d.about.ID, members)
	if err != nil {
		return Reply{}, err
	}
	var text strings.Builder
	table := csv.NewWriter(&text)
	err = table.Write(exportColumns)
	for n, e := range roster {
		p, i, findErr := w.at(ctx, e)
		if findErr != nil {
			return Reply{}, findErr
		}
		section, row := "", ""
		if i >= 0 {
			section, row = p.Rows[i].Section.Name, strconv.Itoa(p.Rows[i].Number)
		}
		line := []string{e.Name, string(e.Member), e.Size, stamp(e.Joined), section, row,
			strconv.Itoa(percentOf(e, p)), paceText(paces[n]), stamp(e.Seen), stamp(e.Stuck)}
		for c := range line {
			line[c] = harmless(line[c])
		}
		err = cmp.Or(err, table.Write(line))
	}
	table.Flush()
	if err = cmp.Or(err, table.Error()); err != nil {
		return Reply{}, err
	}
	lines := "each of its " + knitters(len(roster))
	if len(roster) == 1 {
		lines = "its one knitter"
	}
	return Reply{
		Said:  "Here is the table of " + titleOf(d.about) + ", with a line for " + lines + ". It has names in it, so keep it to yourself.",
		Files: []File{{Name: fileOf(d.about.Title, "members") + ".csv", Text: text.String()}},
	}, nil
}

func paceText(p session.Pace) string {
	if p.Guess() {
		return ""
	}
	return strconv.FormatFloat(p.StitchesAMinute, 'f', 1, 64)
}

// percentOf is how much of her stitches a member has done, 0 to 100, rounded down.
func percentOf(e session.Entrant, p *plan) int {
	all := cmp.Or(e.All, p.Stitches(), 1)
	return int(min(e.Done, all) * 100 / all)
}

func stamp(at time.Time) string {
	if at.IsZero() {
		return ""
	}
	return at.UTC().Format(time.RFC3339)
}

// harmless keeps a program that opens the table from taking a cell for a formula:
// one that begins with = + - @, a tab or a carriage return gets an apostrophe in
// front, as OWASP's page on CSV injection advises (from memory).
func harmless(cell string) string {
	if cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
		return "'" + cell
	}
	return cell
}

// fileOf makes the name of a file out of a title and what the file is, without
// its ending: up to 64 small letters, digits and hyphens.
func fileOf(title, what string) string {
	const most = 40
	var b strings.Builder
	for _, r := range strings.ToLower(title) {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
		if b.Len() >= most {
			break
		}
	}
	return strings.TrimLeft(strings.Trim(b.String(), "-")+"-"+what, "-")
}
