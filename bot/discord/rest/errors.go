package rest

import (
	"encoding/json"
	"errors"
	"fmt"
	"net"
	"net/http"
	"slices"
	"strings"
	"time"
)

// ErrToken is what a call fails with (errors.Is) where the platform refuses
// the bot's token: nothing works until the process is started with another.
var ErrToken = errors.New("the platform refuses the bot's token")

// ErrInvalid is what a call fails with (errors.Is) that was not made at all,
// since the platform would not take what was to be sent.
var ErrInvalid = errors.New("not one that the platform takes")

// Codes of the platform's that are acted on here (Discord's developer
// documentation, JSON error codes).
const (
	CodeAnswered     = 40060 // the interaction has had its first answer
	codeWebhookToken = 50027 // with 401: an interaction's token, not the bot's, is past its 15 minutes
)

// Error is a call that the platform refused, or that did not reach it. It
// holds no token: neither the bot's nor an interaction's.
type Error struct {
	Status     int           // HTTP status, 100-599; 0 where no answer came
	Code       int           // the platform's own code, as 50007; 0 where it gave none
	Message    string        // the platform's words, or what went wrong on the way; up to 500 bytes
	Route      string        // "POST channels/{channel}/messages": a template, never an id or a token
	Global     bool          // status 429: the limit of the whole bot, not of this route
	RetryAfter time.Duration // status 429: how long to wait; it is longer than the context lasts
	Cause      error         // what failed where no answer came; nil with a Status
}

// Error says what was called and what came of it.
func (e *Error) Error() string {
	switch {
	case e.Status == 0:
		return fmt.Sprintf("discord: %s: %s", e.Route, e.Message)
	case e.Code == 0:
		return fmt.Sprintf("discord: %s: status %d: %s", e.Route, e.Status, e.Message)
	default:
		return fmt.Sprintf("discord: %s: status %d, code %d: %s", e.Route, e.Status, e.Code, e.Message)
	}
}

// Unwrap gives what failed on the way: ErrInvalid, context.DeadlineExceeded, a *net.OpError.
func (e *Error) Unwrap() error { return e.Cause }

// Is makes a refused bot token ErrToken.
func (e *Error) Is(target error) bool {
	return target == ErrToken && e.Status == http.StatusUnauthorized && e.Code != codeWebhookToken
}

// Code is the platform's own code of an error of this package: 50007 for a
// direct message that is refused, 10008 for a message that is gone. 0 for
// every other error, and for nil.
func Code(err error) int {
	var e *Error
	if errors.As(err, &e) {
		return e.Code
	}
	return 0
}

// temporary says whether the same call may do better later.
func (e *Error) temporary() bool {
	if e.Status == 0 {
		return !errors.Is(e.Cause, errLong)
	}
	return e.Status == http.StatusTooManyRequests || e.Status >= 500
}

// arrived says whether the platform may have done what was asked all the same.
func (e *Error) arrived() bool {
	var broken *net.OpError
	unsent := errors.As(e.Cause, &broken) && broken.Op == "dial"
	return e.Status >= 500 || e.Status == 0 && !unsent
}

// refusal reads what the platform answered in place of success.
func refusal(r *request, status int, header http.Header, body []byte) *Error {
	var told struct {
		Code       int             `json:"code"`
		Message    string          `json:"message"`
		Errors     json.RawMessage `json:"errors"` // which field is wrong, and how
		Global     bool            `json:"global"`
		RetryAfter float64         `json:"retry_after"` // seconds
	}
	_ = json.Unmarshal(body, &told) // a proxy's page, or a body that was cut: the status tells enough
	e := &Error{Status: status, Code: told.Code, Route: r.name}
	e.Message = told.Message
	if e.Message == "" {
		e.Message = strings.ToLower(http.StatusText(status))
	}
	if e.Message == "" {
		e.Message = "no words with it"
	}
	if len(told.Errors) > 0 {
		e.Message += " " + string(told.Errors)
	}
	e.Message = r.clean(e.Message)
	if status == http.StatusTooManyRequests {
		e.Global = told.Global || header.Get("X-RateLimit-Global") == "true"
		e.RetryAfter = seconds(told.RetryAfter)
		if e.RetryAfter <= 0 {
			e.RetryAfter = headerSeconds(header, "Retry-After")
		}
		if e.RetryAfter <= 0 {
			e.RetryAfter = time.Second // it said that it is too much, and not for how long
		}
	}
	return e
}

// broken is an attempt that got no answer, or half of one. Its cause is kept
// for what kind of error it is, unless that one repeats a token.
func broken(r *request, err error) *Error {
	e := &Error{Route: r.name, Message: r.clean(err.Error()), Cause: err}
	if r.tells(err.Error()) {
		e.Cause = errors.New(e.Message)
	}
	return e
}

// invalid is a call that is not made.
func invalid(name, format string, args ...any) *Error {
	return &Error{Route: name, Message: fmt.Sprintf(format, args...), Cause: ErrInvalid}
}

// tells says whether text holds a token of the call.
func (r *request) tells(text string) bool {
	return slices.ContainsFunc(r.secrets, func(secret string) bool { return secret != "" && strings.Contains(text, secret) })
}

// clean is text for an error: short, and without the tokens of the call,
// should whoever answered have repeated them.
func (r *request) clean(text string) string {
	for _, secret := range r.secrets {
		if secret != "" {
			text = strings.ReplaceAll(text, secret, "{token}")
		}
	}
	const most = 500
	if len(text) > most {
		text = text[:most]
	}
	return strings.ToValidUTF8(text, "")
}
