package rest

import (
	"errors"
	"fmt"
	"net/http"
	"time"
)

// ErrToken is what every call fails with (errors.Is) once the platform has
// refused the bot's token: nothing will work until the process is started with
// another.
var ErrToken = errors.New("the platform refuses the bot's token")

// codeWebhookToken comes with a 401 that speaks of an interaction's token,
// which is fifteen minutes old or was never issued, and not of the bot's.
const codeWebhookToken = 50027

// Error is a call that the platform refused, or that did not reach it. It
// holds no token: neither the bot's nor an interaction's.
type Error struct {
	Status     int           // HTTP status, 100-599; 0 where no answer came
	Code       int           // the platform's own code, as 50007; 0 where it gave none
	Message    string        // the platform's words, or what went wrong on the way
	Route      string        // "POST channels/{channel}/messages": a template, never an id or a token
	Global     bool          // status 429 only: the limit of the whole bot, not of this route
	RetryAfter time.Duration // status 429 only: how long the platform says to wait
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

// Unwrap gives what failed on the way: context.DeadlineExceeded, a *net.OpError.
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
