package rest

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"mime"
	"mime/multipart"
	"net/http"
	"strconv"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/bwmarrin/discordgo"
	"github.com/google/go-cmp/cmp"
)

var card = Message{
	Content: "Row six, wrong side. @everyone",
	Components: []discordgo.MessageComponent{discordgo.ActionsRow{Components: []discordgo.MessageComponent{
		discordgo.Button{Label: "Next row", Style: discordgo.PrimaryButton, CustomID: "n"},
	}}},
}

// How a card stands in a body, but for its own braces. Left out, or null in
// place of a list, allowed_mentions lets @everyone ping; edits too (Discord's
// developer documentation, Allowed Mentions Object, and tried out).
const cardFields = `"content":"Row six, wrong side. @everyone",
	"components":[{"type":1,"components":[{"type":2,"label":"Next row","style":1,"disabled":false,"custom_id":"n"}]}],
	"allowed_mentions":{"parse":[],"replied_user":false}`

// What each call sends (Discord's developer documentation: Interactions,
// Receiving and Responding; Message; Application Commands; Gateway).
func TestWhatIsSent(t *testing.T) {
	ephemeral := card
	ephemeral.Ephemeral = true
	named := card
	named.Nonce, named.ReplyTo = "event-5", "77"
	tests := []struct {
		name string
		call func(ctx context.Context, c *Client) error
		to   string
		body string
	}{
		{"a reply", func(ctx context.Context, c *Client) error { return c.Answer(ctx, ask, Reply, &card) },
			"POST /api/v9/interactions/7001/" + askToken + "/callback", `{"type":4,"data":{` + cardFields + `}}`},
		{"an ephemeral reply", func(ctx context.Context, c *Client) error { return c.Answer(ctx, ask, Reply, &ephemeral) },
			"POST /api/v9/interactions/7001/" + askToken + "/callback", `{"type":4,"data":{` + cardFields + `,"flags":64}}`},
		{"a deferral", func(ctx context.Context, c *Client) error { return c.Answer(ctx, ask, Defer, nil) },
			"POST /api/v9/interactions/7001/" + askToken + "/callback", `{"type":5}`},
		{"an ephemeral deferral", func(ctx context.Context, c *Client) error {
			return c.Answer(ctx, ask, Defer, &Message{Ephemeral: true})
		},
			"POST /api/v9/interactions/7001/" + askToken + "/callback", `{"type":5,"data":{"flags":64}}`},
		{"suggestions", func(ctx context.Context, c *Client) error {
			return c.Suggest(ctx, ask, []Suggestion{{Name: "knit two together", Value: "k2tog"}})
		},
			"POST /api/v9/interactions/7001/" + askToken + "/callback", `{"type":8,"data":{"choices":[{"name":"knit two together","value":"k2tog"}]}}`},
		{"no suggestions", func(ctx context.Context, c *Client) error { return c.Suggest(ctx, ask, nil) },
			"POST /api/v9/interactions/7001/" + askToken + "/callback", `{"type":8,"data":{"choices":[]}}`},
		{"an edited answer", func(ctx context.Context, c *Client) error { return c.EditAnswer(ctx, ask, ephemeral) },
			"PATCH /api/v9/webhooks/42/" + askToken + "/messages/@original", `{` + cardFields + `,"attachments":[]}`},
		{"an edit to words alone", func(ctx context.Context, c *Client) error {
			return c.EditAnswer(ctx, ask, Message{Content: "Row seven."})
		},
			"PATCH /api/v9/webhooks/42/" + askToken + "/messages/@original",
			`{"content":"Row seven.","components":[],"allowed_mentions":{"parse":[],"replied_user":false},"attachments":[]}`},
		{"a follow-up", func(ctx context.Context, c *Client) error { return c.FollowUp(ctx, ask, card) },
			"POST /api/v9/webhooks/42/" + askToken, `{` + cardFields + `}`},
		{"an ephemeral follow-up", func(ctx context.Context, c *Client) error { return c.FollowUp(ctx, ask, ephemeral) },
			"POST /api/v9/webhooks/42/" + askToken, `{` + cardFields + `,"flags":64}`},
		{"a message", func(ctx context.Context, c *Client) error { _, err := c.Send(ctx, "9", named); return err },
			"POST /api/v9/channels/9/messages",
			`{` + cardFields + `,"nonce":"event-5","enforce_nonce":true,"message_reference":{"message_id":"77","fail_if_not_exists":false}}`},
		{"an edit", func(ctx context.Context, c *Client) error { return c.Edit(ctx, "9", "900", card) },
			"PATCH /api/v9/channels/9/messages/900", `{` + cardFields + `,"attachments":[]}`},
		{"a message that goes", func(ctx context.Context, c *Client) error { return c.Remove(ctx, "9", "900") },
			"DELETE /api/v9/channels/9/messages/900", ``},
		{"a direct message's channel", func(ctx context.Context, c *Client) error { _, err := c.OpenDM(ctx, "5"); return err },
			"POST /api/v9/users/@me/channels", `{"recipient_id":"5"}`},
		{"commands", func(ctx context.Context, c *Client) error { _, err := c.Commands(ctx, "42"); return err },
			"GET /api/v9/applications/42/commands", ``},
		{"new commands", func(ctx context.Context, c *Client) error {
			return c.PutCommands(ctx, "42", []byte(`[{"name":"next"}]`))
		},
			"PUT /api/v9/applications/42/commands", `[{"name":"next"}]`},
		{"the gateway", func(ctx context.Context, c *Client) error { _, err := c.Gateway(ctx); return err },
			"GET /api/v9/gateway/bot", ``},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				s := script(t, io.Discard, sent)
				if err := tt.call(t.Context(), s.client); err != nil {
					t.Fatal(err)
				}
				came := s.arrivals()
				if len(came) != 1 || came[0].call != tt.to {
					t.Fatalf("sent %v, want one %s", came, tt.to)
				}
				if got := came[0].header.Get("Authorization"); got != "Bot "+botToken {
					t.Errorf("Authorization %q", got)
				}
				// "DiscordBot ($url, $versionNumber)": Discord's developer documentation, Reference, User Agent.
				if got := came[0].header.Get("User-Agent"); got != "DiscordBot (https://clew.invalid, 1)" {
					t.Errorf("User-Agent %q", got)
				}
				if tt.body == "" {
					if came[0].body != "" || came[0].header.Get("Content-Type") != "" {
						t.Errorf("a body where none is due: %q", came[0].body)
					}
					return
				}
				if got := came[0].header.Get("Content-Type"); got != "application/json" {
					t.Errorf("Content-Type %q", got)
				}
				if diff := cmp.Diff(decoded(t, tt.body), decoded(t, came[0].body)); diff != "" {
					t.Errorf("body (-want +got):\n%s", diff)
				}
			})
		})
	}
}

func decoded(t *testing.T, text string) any {
	t.Helper()
	var v any
	if err := json.Unmarshal([]byte(text), &v); err != nil {
		t.Fatalf("%v in %s", err, text)
	}
	return v
}

// Files go as the documentation has them (Reference, Uploading Files):
// payload_json, then files[n], and an attachment of the same number.
func TestFiles(t *testing.T) {
	m := card
	m.Files = []File{
		{Name: `the "report".txt`, ContentType: "text/plain; charset=utf-8", Data: []byte("wednesday.clew:7:12: expected forty stitches\n")},
		{Name: "lanterns.png", Data: []byte{0x89, 'P', 'N', 'G'}, Description: "Two strands part."},
	}
	listed := `"attachments":[{"id":0,"filename":"the \"report\".txt"},{"id":1,"filename":"lanterns.png","description":"Two strands part."}]`
	tests := []struct {
		name string
		call func(ctx context.Context, c *Client) error
		body string
	}{
		{"a reply", func(ctx context.Context, c *Client) error { return c.Answer(ctx, ask, Reply, &m) }, `{"type":4,"data":{` + cardFields + `,` + listed + `}}`},
		{"an edited answer", func(ctx context.Context, c *Client) error { return c.EditAnswer(ctx, ask, m) }, `{` + cardFields + `,` + listed + `}`},
		{"a follow-up", func(ctx context.Context, c *Client) error { return c.FollowUp(ctx, ask, m) }, `{` + cardFields + `,` + listed + `}`},
		{"an edit", func(ctx context.Context, c *Client) error { return c.Edit(ctx, "9", "900", m) }, `{` + cardFields + `,` + listed + `}`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				s := script(t, io.Discard, answer(500, ""), sent) // the files go with each attempt
				if err := tt.call(t.Context(), s.client); err != nil {
					t.Fatal(err)
				}
				for _, a := range s.arrivals() {
					checkForm(t, a, tt.body)
				}
			})
		})
	}
}

func checkForm(t *testing.T, a arrival, payload string) {
	t.Helper()
	kind, params, err := mime.ParseMediaType(a.header.Get("Content-Type"))
	if err != nil || kind != "multipart/form-data" {
		t.Fatalf("Content-Type %q: %v", a.header.Get("Content-Type"), err)
	}
	type part struct{ name, file, kind, body string }
	var parts []part
	for r := multipart.NewReader(strings.NewReader(a.body), params["boundary"]); ; {
		p, err := r.NextPart()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		body, err := io.ReadAll(p)
		if err != nil {
			t.Fatal(err)
		}
		parts = append(parts, part{p.FormName(), p.FileName(), p.Header.Get("Content-Type"), string(body)})
	}
	if len(parts) != 3 {
		t.Fatalf("%d parts", len(parts))
	}
	if diff := cmp.Diff(decoded(t, payload), decoded(t, parts[0].body)); diff != "" {
		t.Errorf("payload_json (-want +got):\n%s", diff)
	}
	parts[0].body = ""
	want := []part{
		{"payload_json", "", "application/json", ""},
		{"files[0]", `the "report".txt`, "text/plain; charset=utf-8", "wednesday.clew:7:12: expected forty stitches\n"},
		{"files[1]", "lanterns.png", "application/octet-stream", "\x89PNG"},
	}
	if diff := cmp.Diff(want, parts, cmp.AllowUnexported(part{})); diff != "" {
		t.Errorf("parts (-want +got):\n%s", diff)
	}
}

// What can't be right is refused before anything is sent.
func TestRefusedBeforeSending(t *testing.T) {
	words := Message{Content: "Row six."}
	hidden := Message{Content: "Row six.", Ephemeral: true}
	long := Message{Content: strings.Repeat("k", MaxContent+1)}
	tests := map[string]func(ctx context.Context, c *Client) error{
		"a reply without a message": func(ctx context.Context, c *Client) error { return c.Answer(ctx, ask, Reply, nil) },
		"a deferral with words":     func(ctx context.Context, c *Client) error { return c.Answer(ctx, ask, Defer, &words) },
		"an unknown kind":           func(ctx context.Context, c *Client) error { return c.Answer(ctx, ask, 7, &words) },
		"an answer without id": func(ctx context.Context, c *Client) error {
			return c.Answer(ctx, Interaction{Token: "t"}, Reply, &words)
		},
		"an answer without token":         func(ctx context.Context, c *Client) error { return c.Answer(ctx, Interaction{ID: "1"}, Reply, &words) },
		"a reply too long":                func(ctx context.Context, c *Client) error { return c.Answer(ctx, ask, Reply, &long) },
		"suggestions without id":          func(ctx context.Context, c *Client) error { return c.Suggest(ctx, Interaction{Token: "t"}, nil) },
		"too many suggestions":            func(ctx context.Context, c *Client) error { return c.Suggest(ctx, ask, make([]Suggestion, 26)) },
		"an edited answer without app":    func(ctx context.Context, c *Client) error { return c.EditAnswer(ctx, Interaction{Token: "t"}, words) },
		"an edited answer too long":       func(ctx context.Context, c *Client) error { return c.EditAnswer(ctx, ask, long) },
		"a follow-up without token":       func(ctx context.Context, c *Client) error { return c.FollowUp(ctx, Interaction{App: "4"}, words) },
		"a follow-up too long":            func(ctx context.Context, c *Client) error { return c.FollowUp(ctx, ask, long) },
		"a message to nowhere":            func(ctx context.Context, c *Client) error { _, err := c.Send(ctx, "", words); return err },
		"a message for one, in a channel": func(ctx context.Context, c *Client) error { _, err := c.Send(ctx, "9", hidden); return err },
		"a message too long":              func(ctx context.Context, c *Client) error { _, err := c.Send(ctx, "9", long); return err },
		"an edit of nothing":              func(ctx context.Context, c *Client) error { return c.Edit(ctx, "9", "", words) },
		"an edit for one, in a channel":   func(ctx context.Context, c *Client) error { return c.Edit(ctx, "9", "900", hidden) },
		"an edit too long":                func(ctx context.Context, c *Client) error { return c.Edit(ctx, "9", "900", long) },
		"a removal of nothing":            func(ctx context.Context, c *Client) error { return c.Remove(ctx, "9", "") },
		"a removal from nowhere":          func(ctx context.Context, c *Client) error { return c.Remove(ctx, "", "900") },
		"a direct message to nobody":      func(ctx context.Context, c *Client) error { _, err := c.OpenDM(ctx, ""); return err },
		"commands of nothing":             func(ctx context.Context, c *Client) error { _, err := c.Commands(ctx, ""); return err },
		"new commands of nothing":         func(ctx context.Context, c *Client) error { return c.PutCommands(ctx, "", []byte(`[]`)) },
		"new commands that are no JSON":   func(ctx context.Context, c *Client) error { return c.PutCommands(ctx, "42", []byte(`[`)) },
		"new commands that are no list":   func(ctx context.Context, c *Client) error { return c.PutCommands(ctx, "42", []byte(`{}`)) },
		"new commands that are not there": func(ctx context.Context, c *Client) error { return c.PutCommands(ctx, "42", []byte(`null`)) },
		"a component that can't be worded": func(ctx context.Context, c *Client) error {
			return c.FollowUp(ctx, ask, Message{Components: []discordgo.MessageComponent{nil}})
		},
	}
	for name, call := range tests {
		t.Run(name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				s := script(t, io.Discard)
				err := call(t.Context(), s.client)
				if !errors.Is(err, ErrInvalid) {
					t.Errorf("error %v, want ErrInvalid", err)
				}
				checkError(t, err, &Error{})
			})
		})
	}
}

func TestOpenDMRemembers(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := serve(t, io.Discard, func(_ int, w http.ResponseWriter, r *http.Request) { sent(w, r) })
		for range 3 {
			if channel, err := s.client.OpenDM(t.Context(), "5"); channel != "900" || err != nil {
				t.Errorf("channel %q, %v", channel, err)
			}
		}
		if n := len(s.arrivals()); n != 1 {
			t.Errorf("%d requests for one member", n)
		}
	})
}

func TestDMsAreBounded(t *testing.T) {
	d := newDMs()
	for i := range manyDMs + 500 {
		d.put(strconv.Itoa(i), "c"+strconv.Itoa(i))
	}
	if len(d.channels) != manyDMs {
		t.Errorf("%d channels are remembered, want %d", len(d.channels), manyDMs)
	}
	if channel, known := d.get("10499"); !known || channel != "c10499" {
		t.Errorf("the newest is %q, %v", channel, known)
	}
	d.put("10499", "new")
	if channel, _ := d.get("10499"); channel != "new" || len(d.channels) != manyDMs {
		t.Errorf("put again it is %q, among %d", channel, len(d.channels))
	}
}

func TestGateway(t *testing.T) {
	tests := []struct {
		name, body string
		want       Start
	}{
		// The documentation's own example (Gateway, Get Gateway Bot).
		{"documented", `{"url":"wss://gateway.discord.gg/","shards":9,"session_start_limit":{"total":1000,"remaining":999,"reset_after":14400000,"max_concurrency":1}}`,
			Start{Shards: 9, Total: 1000, Remaining: 999, MaxConcurrency: 1, ResetAfter: 4 * time.Hour}},
		{"none left", `{"url":"x","shards":1,"session_start_limit":{"total":1000,"remaining":0,"reset_after":1500,"max_concurrency":16}}`,
			Start{Shards: 1, Total: 1000, MaxConcurrency: 16, ResetAfter: 1500 * ms}},
		{"nothing told", `{}`, Start{Shards: 1, MaxConcurrency: 1}},
		{"nonsense", `{"shards":-3,"session_start_limit":{"remaining":-1,"reset_after":-5,"max_concurrency":-2}}`, Start{Shards: 1, MaxConcurrency: 1}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				s := script(t, io.Discard, answer(200, tt.body))
				got, err := s.client.Gateway(t.Context())
				if err != nil || got != tt.want {
					t.Errorf("%+v, %v; want %+v", got, err, tt.want)
				}
			})
		})
	}
}

func TestCommands(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		const registered = `[{"id":"1","name":"next", "description":"Hear the next row."}]`
		s := script(t, io.Discard, answer(200, registered), answer(200, registered))
		if got, err := s.client.Commands(t.Context(), "42"); err != nil || string(got) != registered {
			t.Errorf("%s, %v", got, err)
		}
		if err := s.client.PutCommands(t.Context(), "42", []byte(registered)); err != nil {
			t.Error(err)
		}
	})
}
