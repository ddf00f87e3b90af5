package bot

import (
	"context"
	"errors"
)

// A Post is what stands in a knit-along's channel for everybody.
//
// Its texts are lines of whole sentences, parted by line feeds. Names stand in them
// as the platform shows them, on one line and without what can't be seen, and are
// the adapter's to escape. One that is read from right to left stands between
// U+2068 and U+2069, which the adapter keeps: without them it would turn the words
// beside it round. The last of the texts has at most 1,900 characters (units of
// UTF-16), with a backslash in front of each mark of ASCII in a name.
type Post struct {
	Knitalong string
	Channel   string   // where, as session.About has it
	Key       string   // names it, up to 25 letters, digits and hyphens: posted again under one key within two minutes it stands there once
	Texts     []string // the same in ever fewer words; the first that the platform has room for is shown
	Picture   *Picture // may be nil
	Choices   []Choice // as in Reply
}

// Channels is where a platform's knit-alongs are held. Its calls return before the
// context's deadline, which is sooner than another process may try. It is safe for
// concurrent use.
type Channels interface {
	// Post puts a post into its channel, and gives the message that it is.
	// Errors: ErrNoChannel.
	Post(ctx context.Context, p Post) (message string, err error)
	// Edit replaces a message by a post. Errors: ErrGone, ErrNoChannel.
	Edit(ctx context.Context, message string, p Post) error
	// Remove deletes a message. One that is not there is no error.
	Remove(ctx context.Context, channel, message string) error
}

// What Channels may refuse.
var (
	ErrGone      = errors.New("the message is not there any more, or takes no more edits")
	ErrNoChannel = errors.New("the channel is not there any more, or may not be written to")
)
