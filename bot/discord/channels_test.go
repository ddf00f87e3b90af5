package discord

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/rs/zerolog"
	"pgregory.net/rapid"

	"clew/bot"
	"clew/bot/discord/discordtest"
	"clew/bot/discord/rest"
	"clew/reader/listen"
)

// A quay is the stand-in, and where knit-alongs are held in it.
type quay struct {
	*discordtest.Server
	channels
	ch *discordtest.Channel
	t  *testing.T
}

func newQuay(t *testing.T) quay {
	srv := discordtest.New(t, discordtest.Options{NoEcho: true})
	client, err := rest.New(rest.Options{Token: srv.Token(), API: srv.URL(), Log: zerolog.New(io.Discard)})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(client.Close)
	return quay{srv, channels{client, zerolog.New(io.Discard)}, srv.Guild("Tibberhythe").Channel("wednesday"), t}
}

// Remove is that of channels, which the stand-in's would hide.
func (q quay) Remove(channel, message string) error {
	return q.channels.Remove(q.t.Context(), channel, message)
}

// board is a post as the bot makes them.
func (q quay) board(key string, texts ...string) bot.Post {
	return bot.Post{
		Knitalong: quayID, Channel: q.ch.ID, Key: key, Texts: texts,
		Picture: &bot.Picture{Name: "board.png", PNG: []byte("\x89PNG"), Alt: "Ana Pell is at round twelve of Lanterns."},
		Choices: []bot.Choice{{Label: "Join", Intent: listen.Join}},
	}
}

func (q quay) post(p bot.Post) string {
	q.t.Helper()
	id, err := q.Post(q.t.Context(), p)
	if err != nil {
		q.t.Fatal(err)
	}
	return id
}

// only gives the one message of the channel.
func (q quay) only() discordtest.Message {
	q.t.Helper()
	all := q.SentIn(q.ch)
	if len(all) != 1 {
		q.t.Fatalf("there are %d messages in the channel, expected one", len(all))
	}
	return all[0]
}

// looks is what of a message is looked at.
type looks struct {
	Content string
	Buttons []string
	Files   []string
}

func lookAt(m discordtest.Message) looks {
	l := looks{Content: m.Content, Buttons: m.Buttons()}
	for _, f := range m.Files {
		l.Files = append(l.Files, fmt.Sprintf("%s, %s, %s: %s", f.Name, f.ContentType, f.Data, f.Description))
	}
	return l
}

const pictured = "board.png, image/png, \x89PNG: Ana Pell is at round twelve of Lanterns."

// TestPost says what stands in the channel: the text with its lines, names in it
// that are nothing but names, the picture with its words, and the buttons. The
// stand-in refuses a message that may ping.
func TestPost(t *testing.T) {
	q := newQuay(t)
	id := q.post(q.board("board-1", "The board.\n*Odo* @everyone <@1> [x](https://x.example): round two.\n\u2068\u05d3\u05e0\u05d9\u05d0\u05dc\u2069: round five."))
	m := q.only()
	want := looks{
		Content: "The board.\n\\*Odo\\* \\@everyone \\<\\@1\\> [x]\\(https\\:\\/\\/x.example): round two.\n\u2068\u05d3\u05e0\u05d9\u05d0\u05dc\u2069: round five.",
		Buttons: []string{"Join"}, Files: []string{pictured},
	}
	if diff := cmp.Diff(want, lookAt(m)); diff != "" || m.ID != id || m.Nonce != "board-1" {
		t.Errorf("%+v (-want +got):\n%s", m, diff)
	}
	if again := q.post(q.board("board-1", "The board.")); again != id {
		t.Errorf("posted again under one key it is %s beside %s", again, id)
	}
	if m := q.only(); lookAt(m).Content != want.Content {
		t.Errorf("it was changed to %q", m.Content)
	}
}

// TestEditInPlace says that all of a message gives way, its picture and its words
// too.
func TestEditInPlace(t *testing.T) {
	q := newQuay(t)
	id := q.post(q.board("board-1", "One."))
	p := q.board("", "Two @everyone.")
	p.Picture, p.Choices = &bot.Picture{Name: "board.png", PNG: []byte("\x89PNG2"), Alt: "Two."}, nil
	if err := q.Edit(t.Context(), id, p); err != nil {
		t.Fatal(err)
	}
	want := looks{Content: `Two \@everyone.`, Files: []string{"board.png, image/png, \x89PNG2: Two."}}
	if m := q.only(); m.ID != id || m.Edits != 1 || !cmp.Equal(want, lookAt(m)) {
		t.Errorf("%+v", m)
	}
}

// TestTextWithRoom says that the longest text is taken that fits as it is sent,
// with what escaping adds to it.
func TestTextWithRoom(t *testing.T) {
	full := strings.Repeat("k", rest.MaxContent)
	marked := strings.Repeat("*", rest.MaxContent/2+1) // too long once it is escaped
	wide := strings.Repeat("\U0001F9F6", rest.MaxContent/2)
	for name, c := range map[string]struct {
		texts []string
		want  string
	}{
		"the first":               {[]string{"One.", "Two."}, "One."},
		"one that just fits":      {[]string{full, "Two."}, full},
		"too long":                {[]string{full + "k", "Two."}, "Two."},
		"too long when escaped":   {[]string{marked, "Two."}, "Two."},
		"wide characters":         {[]string{wide + "k", wide}, wide},
		"the last, and too long":  {[]string{full + "k", "One.\nTwo.\n" + full}, "One.\nTwo."},
		"a line that is too long": {[]string{"yarn " + full}, "yarn"},
		"blank lines within":      {[]string{"One.\n\nTwo.\n"}, "One.\n\nTwo."},
	} {
		t.Run(name, func(t *testing.T) {
			if found := renderPost(bot.Post{Texts: c.texts}).Content; found != c.want {
				t.Errorf("found %d characters, %.60q, expected %d", rest.Characters(found), found, rest.Characters(c.want))
			}
		})
	}
}

// TestRenderPostAnything holds for whatever the bot may post: it is within the
// sizes, and nothing in it is markup.
func TestRenderPostAnything(t *testing.T) {
	name := rapid.OneOf(rapid.String(), rapid.StringMatching("[*_~`|<>@#:/()\\[\\]\\-+. a0-9\u2067\u2068\u2069\u202e\n]{0,40}"))
	rapid.Check(t, func(t *rapid.T) {
		var p bot.Post
		for range rapid.IntRange(1, 3).Draw(t, "texts") {
			var lines []string
			for range rapid.IntRange(0, 40).Draw(t, "lines") {
				lines = append(lines, "\u2068"+name.Draw(t, "name")+"\u2069: round two of Lanterns.")
			}
			p.Texts = append(p.Texts, strings.Join(lines, "\n"))
		}
		m := renderPost(p)
		if n := rest.Characters(m.Content); n > rest.MaxContent {
			t.Fatalf("%d characters", n)
		}
		if read := readMarkdown(m.Content); len(read.markup) > 0 {
			t.Fatalf("%q has markup: %q", m.Content, read.markup)
		}
		for line := range strings.SplitSeq(m.Content, "\n") {
			if strings.ContainsAny(line, "\u2066\u2067\u202a\u202b\u202d\u202e") || rest.Characters(m.Content) < rest.MaxContent && strings.Count(line, "\u2068") != strings.Count(line, "\u2069") {
				t.Fatalf("a line is turned round: %q", line)
			}
		}
	})
}

// TestRefusedPosts says which code of the platform's means what.
func TestRefusedPosts(t *testing.T) {
	posts := map[string]func(quay, string) error{
		"post": func(q quay, _ string) error { _, err := q.Post(q.t.Context(), q.board("k", "One.")); return err },
		"edit": func(q quay, id string) error { return q.Edit(q.t.Context(), id, q.board("k", "One.")) },
	}
	routes := map[string]discordtest.Route{"post": discordtest.Send, "edit": discordtest.Edit}
	for _, c := range []struct {
		does         string
		status, code int
		want         error
	}{
		{"edit", 404, 10008, bot.ErrGone},
		{"edit", 400, 30046, bot.ErrGone},
		{"edit", 403, 50005, bot.ErrGone},
		{"edit", 400, 50083, bot.ErrGone},
		{"edit", 404, 10003, bot.ErrNoChannel},
		{"edit", 403, 50001, bot.ErrNoChannel},
		{"edit", 403, 50013, bot.ErrNoChannel},
		{"post", 404, 10003, bot.ErrNoChannel},
		{"post", 403, 50001, bot.ErrNoChannel},
		{"post", 403, 50013, bot.ErrNoChannel},
		{"post", 400, 50035, nil},
		{"edit", 400, 50035, nil},
	} {
		t.Run(fmt.Sprintf("%s, %d", c.does, c.code), func(t *testing.T) {
			q := newQuay(t)
			id := q.post(q.board("first", "One."))
			q.FailCode(routes[c.does], c.status, c.code, 10)
			err := posts[c.does](q, id)
			if err == nil || c.want != nil && !errors.Is(err, c.want) || c.want == nil && (errors.Is(err, bot.ErrGone) || errors.Is(err, bot.ErrNoChannel)) {
				t.Errorf("%v, expected %v", err, c.want)
			}
			if rest.Code(err) != c.code {
				t.Errorf("%v does not tell the code", err)
			}
		})
	}
}

// TestWithoutPicture says that a post goes without its picture where the bot may
// attach nothing, new or in place of another, and that it is not tried without end.
func TestWithoutPicture(t *testing.T) {
	q := newQuay(t)
	q.Grant(q.ch, discordtest.Usual&^discordtest.AttachFiles)
	id := q.post(q.board("board-1", "One."))
	if m := q.only(); len(m.Files) != 0 || m.Content != "One." || len(m.Buttons()) != 1 {
		t.Errorf("%+v", m)
	}
	if err := q.Edit(t.Context(), id, q.board("", "Two.")); err != nil {
		t.Error(err)
	}
	if m := q.only(); len(m.Files) != 0 || m.Content != "Two." {
		t.Errorf("%+v", m)
	}
	if n, m := q.Count(discordtest.Send), q.Count(discordtest.Edit); n != 2 || m != 2 {
		t.Errorf("%d posts and %d edits were tried, expected two of each", n, m)
	}
	q.Allow(q.ch)
	if err := q.Edit(t.Context(), id, q.board("", "Three.")); err != nil {
		t.Error(err)
	}
	if m := q.only(); len(m.Files) != 1 {
		t.Errorf("%+v", m)
	}
	q.Forbid(q.ch)
	if _, err := q.Post(t.Context(), q.board("board-2", "Four.")); !errors.Is(err, bot.ErrNoChannel) {
		t.Errorf("%v", err)
	}
}

func TestRemovePost(t *testing.T) {
	q := newQuay(t)
	id := q.post(q.board("board-1", "One."))
	for range 2 { // the second finds it gone, which is as it should be
		if err := q.Remove(q.ch.ID, id); err != nil {
			t.Fatal(err)
		}
	}
	if n := len(q.SentIn(q.ch)); n != 0 {
		t.Errorf("%d messages are left", n)
	}
	if err := q.Edit(t.Context(), id, q.board("", "Two.")); !errors.Is(err, bot.ErrGone) {
		t.Errorf("%v", err)
	}
	other := q.post(q.board("board-2", "One."))
	q.Hide(q.ch)
	if err := q.Remove(q.ch.ID, other); !errors.Is(err, bot.ErrNoChannel) {
		t.Errorf("%v", err)
	}
}

// TestPostEndsInTime says that a post whose answer does not come ends with its
// context, and that the next try under its key finds it.
func TestPostEndsInTime(t *testing.T) {
	q := newQuay(t)
	q.Slow(discordtest.Send, time.Minute)
	ctx, cancel := context.WithTimeout(t.Context(), 300*time.Millisecond)
	defer cancel()
	if id, err := q.Post(ctx, q.board("board-1", "One.")); err == nil {
		t.Errorf("%q was posted, though no answer came", id)
	}
	q.Slow(discordtest.Send, 0)
	if id, m := q.post(q.board("board-1", "One.")), q.only(); id != m.ID {
		t.Errorf("it is %s, and %s was given", m.ID, id)
	}
}
