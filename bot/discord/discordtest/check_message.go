package discordtest

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
)

// Flags of a message: documentation, "Message", message flags; from memory but for
// EPHEMERAL, voice and components V2.
const (
	flagSuppressEmbeds = 1 << 2
	flagEphemeral      = 1 << 6
	flagLoading        = 1 << 7
	flagQuiet          = 1 << 12
	flagVoice          = 1 << 13
	flagV2             = 1 << 15
)

const (
	longestContent = 2000 // documentation, "Message", create message
	longestNonce   = 25   // documentation, "Message", create message; from memory
	longestAlt     = 1024 // documentation, "Message", attachment: description
	mostStickers   = 3    // documentation, "Message", create message; from memory
)

// place is what a body of a message is for.
type place int

const (
	forChannel     place = iota // create message
	forChannelEdit              // edit message
	forAnswer                   // an interaction's first answer, 4
	forUpdate                   // the update of the message that a component is on, 7
	forFollowUp                 // a follow-up
	forAnswerEdit               // the edit of an answer or a follow-up
)

func (p place) edits() bool { return p == forChannelEdit || p == forUpdate || p == forAnswerEdit }

// flags are those that may be set: documentation, "Message" (create, edit), and
// "Receiving and Responding" (messages).
func (p place) flags() int64 {
	switch p {
	case forChannel:
		return flagSuppressEmbeds | flagQuiet | flagVoice | flagV2
	case forAnswer, forFollowUp:
		return flagSuppressEmbeds | flagEphemeral | flagQuiet | flagVoice | flagV2
	}
	return flagSuppressEmbeds | flagV2
}

// draft is a body that was read. Fields that were left out stay nil.
type draft struct {
	content    *string
	rows       [][]Component
	components json.RawMessage // nil: left out
	embeds     []Embed
	rawEmbeds  json.RawMessage // nil: left out
	files      []File
	keep       []string // the ids of the attachments that an edit keeps
	keeps      bool     // attachments were given
	flags      int
	nonce      string
	unique     bool // enforce_nonce
	replyTo    string
	lenient    bool // fail_if_not_exists is false
	other      bool // stickers, or a poll
}

// draft checks and reads the body of a message.
func (c *call) draft(data []byte, p place) (*draft, *refusal) {
	o, ok := parse(data)
	if !ok {
		return nil, badJSON()
	}
	var raw struct{ Components, Embeds json.RawMessage }
	if json.Unmarshal(data, &raw) != nil {
		return nil, badJSON()
	}
	d, f := &draft{files: c.files}, &form{}
	if text, is := f.text(o, "", "content", 0, longestContent); is {
		d.content = &text
	} else if v, given := o["content"]; given && v == nil && p.edits() {
		d.content = new(string)
	}
	f.flag(o, "", "tts")
	d.flags = int(f.whole(o, "", "flags", 0, 1<<31, 0))
	if bad := int64(d.flags) &^ p.flags(); bad != 0 {
		f.add("flags", "MESSAGE_FLAGS_INVALID", "%s", flagFault(bad, p))
	}
	d.readNonce(f, o)
	if list := f.list(o, "", "sticker_ids", mostStickers); len(list) > 0 || o["poll"] != nil {
		d.other = true
	}
	d.readReference(f, o)
	d.readAttachments(f, o)
	if given(raw.Embeds) {
		d.rawEmbeds, d.embeds = raw.Embeds, f.readEmbeds(o)
	}
	if given(raw.Components) {
		d.components = raw.Components
		if d.flags&flagV2 != 0 {
			d.rows = f.readV2(o)
		} else {
			d.rows = f.readRows(o)
		}
	}
	c.checkMentions(f, o, d.content)
	d.checkV2(f)
	d.checkVoice(f, o, c.files)
	if no := f.refusal(); no != nil {
		return nil, no
	}
	if !p.edits() && d.empty() {
		return nil, emptyMessage()
	}
	return d, nil
}

// given says whether a list was sent; the platform takes null for one that was left out.
func given(raw json.RawMessage) bool { return len(raw) > 0 && !bytes.Equal(raw, []byte("null")) }

func flagFault(bad int64, p place) string {
	switch {
	case bad&flagEphemeral != 0 && p.edits():
		return "whether a message is ephemeral can't change"
	case bad&flagEphemeral != 0:
		return "only an interaction's answers can be ephemeral"
	}
	return fmt.Sprintf("flags %d can't be set here", bad)
}

// emptyMessage: documentation, "Opcodes and Status Codes", JSON error codes.
func emptyMessage() *refusal {
	return &refusal{status: http.StatusBadRequest, code: 50006, message: "Cannot send an empty message"}
}

// empty says whether a new message would show nothing: documentation, "Message", create
// message: at least one of content, embeds, sticker_ids, components, files or poll.
func (d *draft) empty() bool {
	text := d.content != nil && strings.TrimSpace(*d.content) != ""
	return !text && len(d.embeds) == 0 && len(d.files) == 0 && !full(d.components) && !d.other
}

// full says whether a list that was sent has anything in it.
func full(list json.RawMessage) bool {
	return !bytes.Equal(list, []byte("null")) && len(bytes.Trim(list, " \t\r\n[]")) > 0
}

func (d *draft) readNonce(f *form, o object) {
	switch v := o["nonce"].(type) {
	case nil:
	case json.Number:
		d.nonce = v.String()
	case string:
		d.nonce, _ = f.text(o, "", "nonce", 0, longestNonce)
	default:
		f.add("nonce", "STRING_TYPE_CONVERT", "Could not interpret \"%v\" as string.", v)
	}
	d.unique = f.flag(o, "", "enforce_nonce")
}

// readReference: documentation, "Message", message reference.
func (d *draft) readReference(f *form, o object) {
	ref := f.inner(o, "", "message_reference")
	if ref == nil {
		return
	}
	if d.replyTo = f.id(ref, "message_reference", "message_id"); d.replyTo == "" {
		f.required("message_reference.message_id")
	}
	if f.whole(ref, "message_reference", "type", 0, 1, 0) == 1 {
		d.other = true // a forwarded message has no text of its own
	}
	if _, is := ref["fail_if_not_exists"]; is {
		d.lenient = !f.flag(ref, "message_reference", "fail_if_not_exists")
	}
	f.id(ref, "message_reference", "channel_id")
	f.id(ref, "message_reference", "guild_id")
}

// readAttachments: documentation, "API Reference", editing message attachments: an
// entry names a file that is sent by its number, or one that stays by its id.
func (d *draft) readAttachments(f *form, o object) {
	d.files = slices.Clone(d.files)
	if o["attachments"] == nil {
		return
	}
	d.keeps = true
	for i, one := range f.objects(o, "", "attachments", mostFiles) {
		at := fmt.Sprintf("attachments.%d", i)
		id := ""
		switch v := one["id"].(type) {
		case json.Number:
			id = v.String()
		case string:
			id = v
		}
		alt, _ := f.text(one, at, "description", 0, longestAlt)
		n, err := strconv.Atoi(id)
		switch {
		case err != nil || n < 0:
			f.required(join(at, "id"))
		case n < len(d.files):
			d.files[n].Description = alt
		case snowflake(id):
			d.keep = append(d.keep, id)
		default:
			f.add(join(at, "id"), "ATTACHMENT_NOT_FOUND", "No files[%d] was sent", n)
		}
	}
}

// checkVoice: a voice message has one sound with its length and outline, and no text.
func (d *draft) checkVoice(f *form, o object, files []File) {
	if d.flags&flagVoice == 0 {
		return
	}
	list := f.objects(o, "", "attachments", mostFiles)
	if len(files) != 1 || len(list) != 1 {
		f.add("attachments", "VOICE_MESSAGE", "Voice messages must have a single audio attachment")
		return
	}
	if files[0].ContentType != "audio/ogg" {
		f.add("attachments.0", "VOICE_MESSAGE", "Voice messages must have an audio attachment: its part's type is %q", files[0].ContentType)
	}
	if _, is := list[0]["duration_secs"].(json.Number); !is {
		f.required("attachments.0.duration_secs")
	}
	if _, is := f.text(list[0], "attachments.0", "waveform", 1, 400); !is { // 256 bytes in base64
		f.required("attachments.0.waveform")
	}
	if d.content != nil && *d.content != "" || len(d.embeds) > 0 {
		f.add("content", "VOICE_MESSAGE", "Voice messages do not support content")
	}
}
