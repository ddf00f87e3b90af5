package rest

import (
	"errors"
	"fmt"
	"strings"
	"unicode"

	"github.com/bwmarrin/discordgo"
)

// What a message may hold (Discord's developer documentation: Create Message,
// Component Reference, Uploading Files, Application Command Option Choice).
const (
	MaxContent     = 2000     // characters of Content, as Characters counts them
	MaxRows        = 5        // rows of components
	MaxButtons     = 5        // buttons in a row
	MaxLabel       = 80       // characters on a button
	MaxCustomID    = 100      // characters of a custom id, 1 at least
	MaxOptions     = 25       // options of a menu, 1 at least
	MaxOption      = 100      // characters of an option's label, value and description, and of a suggestion's name and value
	MaxPlaceholder = 150      // characters of a menu's placeholder
	MaxURL         = 512      // characters of a link button's address
	MaxFiles       = 10       // files
	MaxFile        = 10 << 20 // bytes of one file
	MaxDescription = 1024     // characters of a file's description
	MaxNonce       = 25       // characters of a nonce
	MaxSuggestions = 25       // suggestions for one field
)

// Characters is how long s is at most by the platform's count. Its
// documentation (Create Message: "up to 2000 characters") does not say what a
// character is. UTF-16 units are the most that it may mean: what fits by them
// fits by code points and by letters as read, too.
func Characters(s string) int {
	n := 0
	for _, r := range s {
		n++
		if r > 0xFFFF {
			n++
		}
	}
	return n
}

// check says what of a message the platform would refuse.
func (m *Message) check() error {
	if n := Characters(m.Content); n > MaxContent {
		return fmt.Errorf("the content has %d characters; at most %d are taken", n, MaxContent)
	}
	if strings.TrimSpace(m.Content) == "" && len(m.Components) == 0 && len(m.Files) == 0 {
		return errors.New("there is nothing in it: no content, component or file")
	}
	if n := Characters(m.Nonce); n > MaxNonce {
		return fmt.Errorf("the nonce has %d characters; at most %d are taken", n, MaxNonce)
	}
	if err := checkComponents(m.Components); err != nil {
		return err
	}
	return checkFiles(m.Files)
}

func checkFiles(files []File) error {
	if len(files) > MaxFiles {
		return fmt.Errorf("there are %d files; at most %d are taken", len(files), MaxFiles)
	}
	for i, f := range files {
		switch {
		case f.Name == "" || strings.ContainsFunc(f.Name, unicode.IsControl) || strings.ContainsAny(f.Name, `/\`):
			return fmt.Errorf("file %d: the name must not be empty, nor hold control characters or slashes", i)
		case strings.ContainsFunc(f.ContentType, unicode.IsControl):
			return fmt.Errorf("file %d: the content type must not hold control characters", i)
		case len(f.Data) > MaxFile:
			return fmt.Errorf("file %d: it has %d bytes; at most %d are taken", i, len(f.Data), MaxFile)
		case Characters(f.Description) > MaxDescription:
			return fmt.Errorf("file %d: its description has %d characters; at most %d are taken", i, Characters(f.Description), MaxDescription)
		}
	}
	return nil
}

func checkComponents(rows []discordgo.MessageComponent) error {
	if len(rows) > MaxRows {
		return fmt.Errorf("there are %d rows of components; at most %d are taken", len(rows), MaxRows)
	}
	var ids []string
	for i, component := range rows {
		row, ok := component.(discordgo.ActionsRow)
		if pointer, is := component.(*discordgo.ActionsRow); is && pointer != nil {
			row, ok = *pointer, true
		}
		if !ok {
			return fmt.Errorf("component %d is a %T; only rows may stand there", i, component)
		}
		var err error
		if ids, err = checkRow(row.Components, ids); err != nil {
			return fmt.Errorf("row %d: %w", i, err)
		}
	}
	return nil
}

// checkRow checks one row, whose custom ids must not be among those met before.
func checkRow(row []discordgo.MessageComponent, ids []string) ([]string, error) {
	if len(row) == 0 || len(row) > MaxButtons {
		return nil, fmt.Errorf("it has %d components; from 1 to %d are taken", len(row), MaxButtons)
	}
	for i, component := range row {
		id, err := "", error(nil)
		switch v := component.(type) {
		case discordgo.Button:
			id, err = checkButton(&v)
		case *discordgo.Button:
			id, err = checkButton(v)
		case discordgo.SelectMenu:
			id, err = checkMenu(&v, len(row))
		case *discordgo.SelectMenu:
			id, err = checkMenu(v, len(row))
		default:
			err = fmt.Errorf("it is a %T; only buttons and menus may stand there", component)
		}
		for _, other := range ids {
			if err == nil && id != "" && id == other {
				err = errors.New("its custom id stands in the message already")
			}
		}
		if err != nil {
			return nil, fmt.Errorf("component %d: %w", i, err)
		}
		ids = append(ids, id)
	}
	return ids, nil
}

func checkButton(b *discordgo.Button) (id string, err error) {
	if b == nil {
		return "", errors.New("there is none")
	}
	if n := Characters(b.Label); n > MaxLabel || n == 0 && b.Emoji == nil {
		return "", fmt.Errorf("its label has %d characters; from 1 to %d are taken", n, MaxLabel)
	}
	switch b.Style {
	case discordgo.LinkButton:
		if n := Characters(b.URL); n == 0 || n > MaxURL || b.CustomID != "" {
			return "", fmt.Errorf("a link button has an address of 1 to %d characters and no custom id", MaxURL)
		}
		return "", nil
	case 0, discordgo.PrimaryButton, discordgo.SecondaryButton, discordgo.SuccessButton, discordgo.DangerButton:
		if b.URL != "" || b.SKUID != "" {
			return "", errors.New("only a link button has an address, and only a premium one a product")
		}
		return b.CustomID, checkID(b.CustomID)
	}
	return "", fmt.Errorf("its style, %d, is none that is used", b.Style)
}

func checkMenu(s *discordgo.SelectMenu, among int) (id string, err error) {
	if s == nil {
		return "", errors.New("there is none")
	}
	least := 1
	if s.MinValues != nil {
		least = *s.MinValues
	}
	most := max(s.MaxValues, 1)
	switch {
	case among > 1:
		return "", errors.New("a menu stands alone in its row")
	case s.MenuType != 0 && s.MenuType != discordgo.StringSelectMenu:
		return "", fmt.Errorf("the menu's type, %d, is none that is used", s.MenuType)
	case len(s.Options) == 0 || len(s.Options) > MaxOptions:
		return "", fmt.Errorf("the menu has %d options; from 1 to %d are taken", len(s.Options), MaxOptions)
	case Characters(s.Placeholder) > MaxPlaceholder:
		return "", fmt.Errorf("the menu's placeholder has %d characters; at most %d are taken", Characters(s.Placeholder), MaxPlaceholder)
	case least < 0 || least > len(s.Options) || s.MaxValues < 0 || most > len(s.Options) || least > most:
		return "", fmt.Errorf("from %d to %d are to be chosen of the menu's %d options", least, most, len(s.Options))
	}
	values := map[string]bool{}
	for i, o := range s.Options {
		switch {
		case o.Label == "" || Characters(o.Label) > MaxOption || o.Value == "" || Characters(o.Value) > MaxOption:
			return "", fmt.Errorf("option %d: label and value have from 1 to %d characters", i, MaxOption)
		case Characters(o.Description) > MaxOption:
			return "", fmt.Errorf("option %d: the description has %d characters; at most %d are taken", i, Characters(o.Description), MaxOption)
		case values[o.Value]:
			return "", fmt.Errorf("option %d: its value stands in the menu already", i)
		}
		values[o.Value] = true
	}
	return s.CustomID, checkID(s.CustomID)
}

func checkID(id string) error {
	if n := Characters(id); n == 0 || n > MaxCustomID {
		return fmt.Errorf("its custom id has %d characters; from 1 to %d are taken", n, MaxCustomID)
	}
	return nil
}

func checkSuggestions(choices []Suggestion) error {
	if len(choices) > MaxSuggestions {
		return fmt.Errorf("there are %d suggestions; at most %d are taken", len(choices), MaxSuggestions)
	}
	for i, s := range choices {
		if n, v := Characters(s.Name), Characters(s.Value); n == 0 || n > MaxOption || v == 0 || v > MaxOption {
			return fmt.Errorf("suggestion %d: name and value have from 1 to %d characters", i, MaxOption)
		}
	}
	return nil
}
