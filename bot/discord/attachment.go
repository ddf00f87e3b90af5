package discord

import (
	"context"
	"errors"
	"io"
	"net/http"
	"net/url"
	"slices"
	"time"
	"unicode/utf8"

	"github.com/bwmarrin/discordgo"

	"clew/bot/discord/rest"
	"clew/patterns"
)

// fetchLimit is how long fetching a file may take.
const fetchLimit = 5 * time.Second

// A refusal is one plain sentence for the person who asked, as an error.
type refusal string

func (r refusal) Error() string { return string(r) }

// A wanted is what a file is to be, and what is said of one that is not.
type wanted struct {
	most                         int // bytes
	tooLarge, notText, elsewhere refusal
}

var (
	ofPattern = wanted{
		patterns.MaxBytes,
		"That file is too large for a pattern, which has at most two hundred and fifty-six kilobytes. Nothing was changed. Attach the pattern as a text file.",
		"That file is not a text, so there is no pattern to read in it. Nothing was changed. Attach the pattern as a text file.",
		"A pattern is read only from a file that is attached here. Nothing was changed. Attach the pattern as a text file.",
	}
	ofSessions = wanted{
		64 << 10,
		"That file is too large for a list of sessions, which has at most sixty-four kilobytes. Nothing was changed. Attach the list as a text file.",
		"That file is not a text, so there are no sessions to read in it. Nothing was changed. Attach the list of sessions as a text file.",
		"Sessions are read only from a file that is attached here. Nothing was changed. Attach the list of sessions as a text file.",
	}
)

const unfetched refusal = "The attached file could not be fetched just now. Nothing was changed. Please try again in a moment."

// fetch reads an attached file. Errors are refusals; the cause of one that is
// not the member's doing is joined to it, for the log.
func fetch(ctx context.Context, client *http.Client, a *discordgo.MessageAttachment, w wanted) ([]byte, error) {
	// The address comes out of what somebody sent, so nothing else is called.
	at, err := url.Parse(a.URL)
	if err != nil || at.Scheme != "https" || at.User != nil || !slices.Contains(rest.AttachmentHosts, at.Host) {
		return nil, w.elsewhere
	}
	if a.Size < 0 || a.Size > w.most {
		return nil, w.tooLarge
	}
	ctx, cancel := context.WithTimeout(ctx, fetchLimit)
	defer cancel()
	ask, err := http.NewRequestWithContext(ctx, http.MethodGet, at.String(), nil)
	if err != nil {
		return nil, errors.Join(unfetched, err)
	}
	got, err := client.Do(ask)
	if err != nil {
		return nil, errors.Join(unfetched, causeOf(err))
	}
	defer got.Body.Close()
	if got.StatusCode != http.StatusOK {
		return nil, errors.Join(unfetched, errors.New("the attachment's host answers "+got.Status))
	}
	text, err := io.ReadAll(io.LimitReader(got.Body, int64(w.most)+1))
	switch {
	case err != nil:
		return nil, errors.Join(unfetched, causeOf(err))
	case len(text) > w.most:
		return nil, w.tooLarge
	case !isText(text):
		return nil, w.notText
	}
	return text, nil
}

// causeOf leaves out the address, which is signed: whoever has it can fetch the
// file.
func causeOf(err error) error {
	var at *url.Error
	if errors.As(err, &at) {
		return at.Err
	}
	return err
}

// isText says that a file may be what is wanted, with a wrong byte here and there,
// which its reader points at. Pictures, archives and texts in other
// encodings have many, or noughts.
func isText(file []byte) bool {
	wrong := 0
	for rest := file; len(rest) > 0; {
		r, size := utf8.DecodeRune(rest)
		if r == utf8.RuneError && size == 1 || r == 0 {
			wrong++
		}
		rest = rest[size:]
	}
	return wrong*20 <= len(file)
}
