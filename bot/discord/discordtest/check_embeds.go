package discordtest

import (
	"fmt"
	"strings"
	"time"
	"unicode/utf8"
)

// Documentation, "Message", embed limits: counted without the white space around a
// text, and added up over all embeds of the message. The author's is from memory.
const (
	mostEmbeds         = 10
	longestTitle       = 256
	longestDescription = 4096
	mostFields         = 25
	longestFieldName   = 256
	longestFieldValue  = 1024
	longestFooter      = 2048
	longestAuthor      = 256
	longestEmbeds      = 6000
	longestEmbedURL    = 2048 // from memory
)

// readEmbeds checks and reads the embeds of a message.
func (f *form) readEmbeds(o object) []Embed {
	var all []Embed
	total := 0
	for i, one := range f.objects(o, "", "embeds", mostEmbeds) {
		at := fmt.Sprintf("embeds.%d", i)
		e := f.readEmbed(one, at)
		n := utf8.RuneCountInString(e.Title + e.Description + e.Footer + e.Author)
		for _, field := range e.Fields {
			n += utf8.RuneCountInString(field.Name + field.Value)
		}
		if n == 0 && one["image"] == nil && one["thumbnail"] == nil {
			f.add(at+".description", "BASE_TYPE_REQUIRED", "This field is required")
		}
		total += n
		all = append(all, e)
	}
	if total > longestEmbeds {
		f.add("embeds", "MAX_EMBED_SIZE_EXCEEDED", "Embed size exceeds maximum size of %d (%d)", longestEmbeds, total)
	}
	return all
}

func (f *form) readEmbed(o object, at string) Embed {
	o = trimmed(o)
	e := Embed{}
	e.Title, _ = f.text(o, at, "title", 0, longestTitle)
	e.Description, _ = f.text(o, at, "description", 0, longestDescription)
	e.URL = f.link(o, at, "url")
	f.whole(o, at, "color", 0, 0xFFFFFF, 0)
	if text, is := f.text(o, at, "timestamp", 0, 100); is && text != "" {
		if _, err := time.Parse(time.RFC3339, text); err != nil {
			f.add(join(at, "timestamp"), "DATE_TIME_TYPE_PARSE", "Could not parse %s. Should be ISO8601.", text)
		}
	}
	if footer := f.inner(o, at, "footer"); footer != nil {
		e.Footer, _ = f.text(trimmed(footer), join(at, "footer"), "text", 0, longestFooter)
		f.link(footer, join(at, "footer"), "icon_url")
	}
	if author := f.inner(o, at, "author"); author != nil {
		e.Author = f.must(trimmed(author), join(at, "author"), "name", 0, longestAuthor)
		f.link(author, join(at, "author"), "icon_url")
	}
	for _, picture := range []string{"image", "thumbnail"} {
		if p := f.inner(o, at, picture); p != nil && f.link(p, join(at, picture), "url") == "" {
			f.required(join(at, picture) + ".url")
		}
	}
	for i, one := range f.objects(o, at, "fields", mostFields) {
		field := fmt.Sprintf("%s.fields.%d", at, i)
		one = trimmed(one)
		e.Fields = append(e.Fields, EmbedField{
			Name:  f.must(one, field, "name", 1, longestFieldName),
			Value: f.must(one, field, "value", 1, longestFieldValue),
		})
		f.flag(one, field, "inline")
	}
	return e
}

// trimmed is the object with its texts as they are counted.
func trimmed(o object) object {
	t := object{}
	for k, v := range o {
		if text, is := v.(string); is {
			v = strings.TrimSpace(text)
		}
		t[k] = v
	}
	return t
}

// link reads an address of http, https or attachment.
func (f *form) link(o object, at, key string) string {
	text, is := f.text(o, at, key, 0, longestEmbedURL)
	if !is || text == "" {
		return ""
	}
	for _, scheme := range []string{"http://", "https://", "attachment://"} {
		if strings.HasPrefix(text, scheme) {
			return text
		}
	}
	f.add(join(at, key), "URL_TYPE_INVALID_SCHEME", "Scheme \"%.20s\" is not supported. Scheme must be one of ('http', 'https', 'attachment').", text)
	return text
}
