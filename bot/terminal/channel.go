package terminal

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"clew/bot"
)

// A Channel is a folder that what is posted for the group is put into: the words
// in one file, the picture beside it. It is a bot.Channels for every group of the
// store, and safe for concurrent use.
type Channel struct {
	Folder string
	Show   func(text string) // is given what was posted, and where; not what was edited
}

// Post puts a post into files. The message is its key, by which they are called.
func (c Channel) Post(_ context.Context, p bot.Post) (message string, err error) {
	if err := c.put(p.Key, p); err != nil {
		return "", err
	}
	text := p.Texts[0] + "\n"
	if len(p.Choices) > 0 {
		text += sayable(p.Choices) + "\n"
	}
	c.Show(text + shown(c.words(p.Key)))
	return p.Key, nil
}

// Edit writes them anew, if they are there still.
func (c Channel) Edit(_ context.Context, message string, p bot.Post) error {
	if _, err := os.Stat(c.words(message)); errors.Is(err, fs.ErrNotExist) {
		return bot.ErrGone
	}
	return c.put(message, p)
}

// Remove deletes them.
func (c Channel) Remove(_ context.Context, _, message string) error {
	for _, name := range []string{c.words(message), c.picture(message)} {
		if err := os.Remove(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("remove what was posted: %w", err)
		}
	}
	return nil
}

func (c Channel) words(message string) string {
	return filepath.Join(c.Folder, safeName(message, ".txt"))
}

func (c Channel) picture(message string) string {
	return filepath.Join(c.Folder, safeName(message, ".png"))
}

func (c Channel) put(message string, p bot.Post) error {
	if p.Picture != nil {
		if err := put(c.picture(message), p.Picture.PNG); err != nil {
			return fmt.Errorf("put what is posted into a file: %w", err)
		}
	}
	if err := put(c.words(message), []byte(p.Texts[0]+"\n")); err != nil {
		return fmt.Errorf("put what is posted into a file: %w", err)
	}
	return nil
}
