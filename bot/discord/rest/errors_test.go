package rest

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"testing/synctest"
	"time"
)

// 401 is the bot's token, unless the code says that it is an interaction's
// (Discord's developer documentation, JSON error codes: 50027 Invalid webhook token).
func TestTokenRefused(t *testing.T) {
	unauthorized := answer(401, `{"message":"401: Unauthorized","code":0}`)
	calls := map[string]func(context.Context, *Client) error{
		"Send": sends, "Answer": answers, "FollowUp": followsUp,
		"EditAnswer":  func(ctx context.Context, c *Client) error { return c.EditAnswer(ctx, ask, card) },
		"Suggest":     func(ctx context.Context, c *Client) error { return c.Suggest(ctx, ask, nil) },
		"Edit":        func(ctx context.Context, c *Client) error { return c.Edit(ctx, "9", "900", card) },
		"OpenDM":      func(ctx context.Context, c *Client) error { _, err := c.OpenDM(ctx, "5"); return err },
		"Commands":    func(ctx context.Context, c *Client) error { _, err := c.Commands(ctx, "42"); return err },
		"PutCommands": func(ctx context.Context, c *Client) error { return c.PutCommands(ctx, "42", []byte("[]")) },
		"Gateway":     func(ctx context.Context, c *Client) error { _, err := c.Gateway(ctx); return err },
	}
	for name, call := range calls {
		t.Run(name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				s := script(t, io.Discard, unauthorized)
				if err := call(t.Context(), s.client); !errors.Is(err, ErrToken) {
					t.Errorf("error %v, want ErrToken", err)
				}
			})
		})
	}
	t.Run("an interaction's", func(t *testing.T) {
		synctest.Test(t, func(t *testing.T) {
			s := script(t, io.Discard, answer(401, `{"message":"Invalid Webhook Token","code":50027}`))
			err := followsUp(t.Context(), s.client)
			if errors.Is(err, ErrToken) || Code(err) != 50027 {
				t.Errorf("error %v: an interaction that is too old ends no process", err)
			}
		})
	})
	for _, err := range []error{nil, errors.New("else"), &Error{Status: 403}, &Error{Cause: io.EOF}} {
		if errors.Is(err, ErrToken) {
			t.Errorf("%v is no refused token", err)
		}
	}
}

func TestCode(t *testing.T) {
	for _, tt := range []struct {
		err  error
		want int
	}{{nil, 0}, {io.EOF, 0}, {&Error{Status: 500}, 0}, {&Error{Code: 50007}, 50007}, {fmt.Errorf("telling Ana: %w", &Error{Code: 10008}), 10008}} {
		if got := Code(tt.err); got != tt.want {
			t.Errorf("Code(%v) is %d, want %d", tt.err, got, tt.want)
		}
	}
}

func TestErrorWords(t *testing.T) {
	tests := []struct {
		name string
		step step
		want string
	}{
		// The form of Discord's developer documentation, Reference, Error Messages.
		{"a wrong field", answer(400, `{"code":50035,"errors":{"content":{"_errors":[{"code":"BASE_TYPE_BAD_LENGTH","message":"Must be 2000 or fewer in length."}]}},"message":"Invalid Form Body"}`),
			`discord: POST channels/{channel}/messages: status 400, code 50035: Invalid Form Body {"content":{"_errors":[{"code":"BASE_TYPE_BAD_LENGTH","message":"Must be 2000 or fewer in length."}]}}`},
		{"a page", answer(403, `<html>`), `discord: POST channels/{channel}/messages: status 403: forbidden`},
		{"a status that is none", answer(599, ``), `discord: POST channels/{channel}/messages: status 599: no words with it`},
		{"no end", answer(400, `{"message":"`+strings.Repeat("é", 400)+`"}`), `discord: POST channels/{channel}/messages: status 400: ` + strings.Repeat("é", 250)},
		{"hangs", hang, `discord: POST channels/{channel}/messages: no answer within 5s: context deadline exceeded`},
		{"cut", cut, `discord: POST channels/{channel}/messages: EOF`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				s := script(t, io.Discard, tt.step)
				ctx, cancel := context.WithTimeout(t.Context(), 5050*ms)
				if tt.name == "cut" || tt.name == "a status that is none" {
					cancel()
					ctx, cancel = context.WithTimeout(t.Context(), 50*ms)
				}
				defer cancel()
				err := sends(ctx, s.client)
				if err == nil || err.Error() != tt.want {
					t.Errorf("error %v\nwant  %s", err, tt.want)
				}
			})
		})
	}
}

// Whatever goes wrong, no error and no line of the log holds a token.
func TestNoSecretIsTold(t *testing.T) {
	repeats := answer(400, `{"message":"token `+askToken+` of `+botToken+`","errors":{"t":"`+askToken+`"}}`)
	failures := map[string]step{
		"a refusal that repeats them": repeats,
		"refused":                     answer(401, ``),
		"500 that repeats them":       answer(500, `{"message":"token `+askToken+` of `+botToken+`"}`),
		"a limit":                     slowAll,
		"cut":                         cut,
		"cut within":                  cutWithin(200),
		"hangs":                       hang,
		"a redirect":                  answer(307, "", "Location", "http://discord.test/"+askToken+"?"+botToken),
		"a redirect that is none":     answer(307, "", "Location", "http://[::1:"+askToken+botToken),
		"not HTTP":                    nil,
	}
	calls := map[string]func(context.Context, *Client) error{
		"Answer": answers, "FollowUp": followsUp,
		"EditAnswer": func(ctx context.Context, c *Client) error { return c.EditAnswer(ctx, ask, card) },
		"Send":       sends,
	}
	for name, failure := range failures {
		for call, make := range calls {
			t.Run(name+", "+call, func(t *testing.T) {
				synctest.Test(t, func(t *testing.T) {
					var log bytes.Buffer
					s := serve(t, &log, func(_ int, w http.ResponseWriter, r *http.Request) {
						if failure == nil {
							nonsense(w, r)
							return
						}
						failure(w, r)
					})
					ctx, cancel := context.WithTimeout(t.Context(), 6*time.Second)
					defer cancel()
					err := make(ctx, s.client)
					if err == nil && (name != "cut within" || call == "Send") {
						t.Fatal("no error")
					}
					told := fmt.Sprintf("%v %+v %#v %s", err, err, err, log.String())
					for ; err != nil; err = errors.Unwrap(err) {
						told += fmt.Sprintf("\n%v %+v %#v", err, err, err)
					}
					if strings.Contains(told, botToken) || call != "Send" && strings.Contains(told, askToken) {
						t.Errorf("a token is told:\n%s", told)
					}
				})
			})
		}
	}
}

// nonsense answers with what is no HTTP, and the tokens in it.
func nonsense(w http.ResponseWriter, _ *http.Request) {
	conn, _, err := w.(http.Hijacker).Hijack()
	if err != nil {
		panic(err)
	}
	defer conn.Close()
	_, _ = io.WriteString(conn, "HTTP/1.1 "+askToken+" "+botToken+"\r\n\r\n")
}

// An interaction's token that makes no address is not told either.
func TestStrangeToken(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := serve(t, io.Discard, func(_ int, w http.ResponseWriter, _ *http.Request) { w.WriteHeader(404) })
		for _, token := range []string{"a/../b", "a b\x7f", "a?b=c#d", "%zz", "..", "a\nb"} {
			err := s.client.FollowUp(t.Context(), Interaction{App: "42", Token: token}, card)
			if err == nil || token != ".." && strings.Contains(err.Error(), token) {
				t.Errorf("%q: error %v", token, err)
			}
		}
		for _, a := range s.arrivals() {
			if !strings.HasPrefix(a.call, "POST /api/v9/webhooks/42/") {
				t.Errorf("a token led to %q", a.call)
			}
		}
	})
}

// An address that can't be looked up is told without what was called there.
func TestNoSuchHost(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := script(t, io.Discard)
		s.client.transport.DialContext = func(context.Context, string, string) (net.Conn, error) {
			return nil, &net.OpError{Op: "dial", Net: "tcp", Err: &net.DNSError{Err: "no such host", Name: "discord.test", IsNotFound: true}}
		}
		ctx, cancel := context.WithTimeout(t.Context(), 50*ms)
		defer cancel()
		err := followsUp(ctx, s.client)
		const want = "discord: POST webhooks/{application}/{token}: dial tcp: lookup discord.test: no such host"
		if err == nil || err.Error() != want {
			t.Errorf("error %v, want %s", err, want)
		}
	})
}
