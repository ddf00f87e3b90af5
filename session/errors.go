package session

import (
	"errors"
	"fmt"
	"net"
	"strings"

	"github.com/redis/go-redis/v9"
)

// What a method may refuse. Each is a plain sentence; test for them with errors.Is.
var (
	ErrUnknownKnitalong = errors.New("there is no such knit-along")
	ErrUnknownRevision  = errors.New("the pattern has no such revision")
	ErrStarted          = errors.New("a knit-along of this name has already been started")
	ErrHelpers          = errors.New("the knit-along has as many helpers as it can have")
	ErrCrowded          = errors.New("the server has as many open knit-alongs as it can have")
	ErrUnknownSession   = errors.New("the knit-along has no such session")
	ErrNotJoined        = errors.New("you have not joined this knit-along")
	ErrNothingToUndo    = errors.New("there is no move to take back")
	ErrInvalid          = errors.New("not a value that can be kept")

	// ErrUnreachable: Redis is down, went away, took too long or is not ready.
	// The error wraps the cause. Nothing was changed unless it is also
	// ErrUncertain.
	ErrUnreachable = errors.New("the store of places cannot be reached")
	// ErrUncertain: contact broke after a change was sent, so it may or may
	// not have been made; or a part of one that takes several calls was made,
	// and the rest was not. Asking again with the same event is safe.
	ErrUncertain = errors.New("it is not known whether the change was saved")
	// ErrRefused: Redis answered and would not do it, out of memory or of disk
	// say. The error wraps Redis's own words. Nothing was changed unless it is
	// also ErrUncertain.
	ErrRefused = errors.New("the store of places refused")
)

// Stale is the refusal of a move that was worked out from a place that the
// member is not at, or of taking back a move that is not the newest any more.
// Nothing was changed: work it out again from Now.
type Stale struct {
	Now Place // where the member is
}

// Error says where the member is.
func (s *Stale) Error() string {
	return fmt.Sprintf("the place has changed meanwhile: it is now row %d of %s; nothing was moved", s.Now.Row, s.Now.Section)
}

// storeError is a call that did not come through: one of the kinds above, the
// sentence for it, and the cause for the log.
type storeError struct {
	kinds    []error
	sentence string
	cause    error
}

func (e *storeError) Error() string { return e.sentence + ": " + e.cause.Error() }

func (e *storeError) Unwrap() []error { return append([]error{e.cause}, e.kinds...) }

// notReady are the openings of replies of a Redis that is up and cannot serve
// just now; asking again later may succeed.
var notReady = []string{"LOADING", "CLUSTERDOWN", "MASTERDOWN", "TRYAGAIN", "READONLY", "NOREPLICAS", "ERR max number of clients"}

// failure gives the error for a call that did not come through. With changing,
// the call would have changed something.
func failure(err error, changing bool) error {
	var reply redis.Error
	if errors.As(err, &reply) {
		for _, opening := range notReady {
			if strings.HasPrefix(reply.Error(), opening) {
				return unreachable(err)
			}
		}
		return &storeError{kinds: []error{ErrRefused}, sentence: ErrRefused.Error(), cause: err}
	}
	if !changing || neverSent(err) {
		return unreachable(err)
	}
	return &storeError{
		kinds: []error{ErrUnreachable, ErrUncertain},
		sentence: "the store of places stopped answering, and " + ErrUncertain.Error() +
			"; ask again: the same request is not counted twice",
		cause: err,
	}
}

// half gives the error for a later call of a change that takes several. Where an
// earlier one has changed something, it cannot be said any more that nothing was
// changed, whatever kept the later one.
func half(changed bool, err error) error {
	var failed *storeError
	if !changed || !errors.As(err, &failed) {
		return err
	}
	return &storeError{
		kinds:    append([]error{ErrUncertain}, failed.kinds...),
		sentence: "only a part of the change is known to be saved; ask again, which does the rest",
		cause:    failed.cause,
	}
}

func unreachable(cause error) error {
	return &storeError{
		kinds:    []error{ErrUnreachable},
		sentence: ErrUnreachable.Error() + " just now; nothing was changed, ask again in a while",
		cause:    cause,
	}
}

// neverSent tells whether a call failed before anything was sent: no connection
// was made, or none was free.
func neverSent(err error) bool {
	var op *net.OpError
	if errors.As(err, &op) && op.Op == "dial" {
		return true
	}
	return errors.Is(err, redis.ErrPoolTimeout) || errors.Is(err, redis.ErrPoolExhausted) || errors.Is(err, redis.ErrClosed)
}

func invalid(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrInvalid, fmt.Sprintf(format, args...))
}
