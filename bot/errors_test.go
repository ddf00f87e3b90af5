package bot

import (
	"context"
	"errors"
	"fmt"
	"testing"
	"time"

	"github.com/rs/zerolog"

	"clew/session"
)

// Whatever goes wrong is told in a sentence, to a member and to a host, and one
// whose pattern was not ready in time hears that nothing has moved.
func TestFailed(t *testing.T) {
	b := New(nil, time.Now, func() string { return "f1" }, zerolog.Nop())
	notReady := fmt.Errorf("%w: %w", errNotYet, context.DeadlineExceeded)
	for _, c := range []struct {
		err      error
		saved    bool
		code, to Code // for a member, and for a host
	}{
		{notReady, false, Unreachable, Unreachable},
		{notReady, true, Unread, Internal},
		{session.ErrUnreachable, false, Unreachable, Unreachable},
		{session.ErrRefused, false, Unreachable, Unreachable},
		{errors.Join(session.ErrUncertain, session.ErrUnreachable), false, Uncertain, Uncertain},
		{session.ErrUnknownKnitalong, false, NoKnitalong, NoKnitalong},
		{session.ErrNotJoined, false, NotJoined, Internal},
		{context.DeadlineExceeded, false, Internal, Internal},
	} {
		for _, one := range []struct {
			words map[Code]string
			want  Code
		}{{failures, c.code}, {deedFailures, c.to}} {
			r := b.failed(c.err, c.saved, one.words, "terminal:wren", "k", "e")
			if r.Failed == nil || r.Failed.Code != one.want || r.Failed.ID != "f1" || r.Said == "" || r.Said != one.words[one.want] {
				t.Errorf("%v, saved %v: answered %q with %+v, expected %s", c.err, c.saved, r.Said, r.Failed, one.want)
			}
		}
	}
}
