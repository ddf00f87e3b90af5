package rest

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"time"
)

const (
	callTime     = time.Minute            // a call with all its attempts, where its context lasts longer
	firstTime    = 3 * time.Second        // the same for a first answer, which the platform takes no later
	firstAttempt = time.Second            // one attempt at a first answer
	usualAttempt = 5 * time.Second        // one attempt at anything else
	mebibyteTime = 2 * time.Second        // added for each MiB to be sent
	firstPause   = 100 * time.Millisecond // before the second attempt; doubled each time, then jittered
	longestPause = 5 * time.Second
	longestBody  = 16 << 20 // bytes of an answer
)

var errLong = errors.New("the answer is longer than 16 MiB")

// request is a call, which may be sent several times.
type request struct {
	route
	contentType string
	body        []byte
}

// do makes a call, again and again while that may help and the context lasts.
// A JSON answer is decoded into into; where that is nil the answer does not
// matter. It gives nil or an *Error; maybe says whether an attempt before the
// last may have done its work though it was not heard of.
func (c *Client) do(ctx context.Context, r *request, into any) (maybe bool, err error) {
	ctx, cancel := context.WithTimeout(ctx, callTime)
	defer cancel()
	r.secrets = append(r.secrets, c.token)
	for n := 0; ; n++ {
		failed := c.once(ctx, r, into)
		if failed == nil {
			return maybe, nil
		}
		wait := c.pause(failed, n)
		if !failed.temporary() || ctx.Err() != nil || !lasts(ctx, wait) {
			return maybe, failed
		}
		maybe = maybe || failed.arrived()
		c.log.Debug().Str("route", r.name).Int("status", failed.Status).Str("told", failed.Message).
			Int("attempt", n+1).Dur("wait", wait).Msg("calling again")
		if ended := sleep(ctx, wait); ended != nil {
			return maybe, &Error{Route: r.name, Message: ended.Error() + ", after " + failed.Error(), Cause: ended}
		}
	}
}

// pause is how long to wait after attempt n, counted from 0. The jitter keeps
// calls that failed together from coming back together.
func (c *Client) pause(failed *Error, n int) time.Duration {
	if failed.Status == http.StatusTooManyRequests {
		spread := failed.RetryAfter/8 + 20*time.Millisecond
		return failed.RetryAfter + time.Duration(c.jitter()*float64(spread))
	}
	pause := min(firstPause<<min(n, 10), longestPause)
	return pause/2 + time.Duration(c.jitter()*float64(pause/2))
}

// once makes one attempt, when the limits let it.
func (c *Client) once(ctx context.Context, r *request, into any) *Error {
	p, held := c.limits.enter(ctx, r)
	if held != nil {
		return held
	}
	header, failed := c.attempt(ctx, r, into)
	c.limits.leave(p, header, failed)
	if failed != nil && failed.Global {
		c.log.Warn().Str("route", r.name).Dur("wait", failed.RetryAfter).Msg("the limit of the whole bot is used up")
	}
	return failed
}

func (c *Client) attempt(ctx context.Context, r *request, into any) (http.Header, *Error) {
	limit := usualAttempt
	if r.attempt > 0 {
		limit = r.attempt
	}
	limit += mebibyteTime * time.Duration(len(r.body)>>20)
	within, cancel := context.WithTimeoutCause(ctx, limit, fmt.Errorf("no answer within %v: %w", limit, context.DeadlineExceeded))
	defer cancel()

	req, err := http.NewRequestWithContext(within, r.method, c.base+r.path, bytes.NewReader(r.body))
	if err != nil {
		return nil, invalid(r.name, "the ids make no address") // err would repeat them
	}
	req.Header.Set("Authorization", "Bot "+c.token)
	req.Header.Set("User-Agent", userAgent)
	if len(r.body) > 0 {
		req.Header.Set("Content-Type", r.contentType)
	}
	resp, err := c.transport.RoundTrip(req) // as an http.Client does, but that follows redirects and tells addresses
	if err != nil {
		return nil, broken(r, ending(ctx, within, err))
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(io.LimitReader(resp.Body, longestBody+1))
	if resp.StatusCode < 200 || resp.StatusCode > 299 {
		return resp.Header, refusal(r, resp.StatusCode, resp.Header, body)
	}
	if into == nil {
		return resp.Header, nil // done, even if not all of the answer came
	}
	switch {
	case err != nil:
		err = ending(ctx, within, err)
	case len(body) > longestBody:
		err = errLong
	default:
		err = json.Unmarshal(body, into)
	}
	if err != nil {
		return resp.Header, broken(r, fmt.Errorf("the answer was broken off: %w", err))
	}
	return resp.Header, nil
}

// ending says what ended an attempt: the caller's context, the time of the
// attempt within it, or else err.
func ending(ctx, within context.Context, err error) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if within.Err() != nil {
		return context.Cause(within)
	}
	return err
}
