package discord_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"image"
	"image/png"
	"io"
	"net/http"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"clew/bot/discord/discordtest"
)

// refused fails where an event is not answered by one message of a plain sentence or
// a few, for the one who asked alone, that begins so and ends in what she can do.
// Nothing may have changed by it.
func (h *house) refused(e *discordtest.Event, begins string) {
	h.t.Helper()
	answer := e.Answer()
	text := answer.Said()
	if !strings.HasPrefix(text, begins) {
		h.t.Errorf("answered %q, expected %q", text, begins)
	}
	checkSaid(h.t, text)
	if answer.Guild != "" && !answer.Ephemeral {
		h.t.Errorf("for all to see stands %q", text)
	}
	for _, leak := range []string{"Error", "error:", "panic", "status", "goroutine", "127.0.0.1", "discord:", ".go:"} {
		if own, _, _ := strings.Cut(answer.Content, "```"); strings.Contains(own, leak) { // behind it stands what is wrong with a pattern
			h.t.Errorf("%q gives away %q", own, leak)
		}
	}
}

// unchanged fails where what is done changes what is kept.
func (h *house) unchanged(t *testing.T, do func()) {
	t.Helper()
	before := h.dump()
	do()
	if diff := cmp.Diff(before, h.dump()); diff != "" {
		t.Errorf("what is kept has changed (-before +after):\n%s", diff)
	}
}

// What is sent by those who speak the platform's protocol themselves.
func TestForgedByHand(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	g := h.group(t, "Tibberhythe")
	wren := h.knitter(g, "Wren", 3)
	row := h.Uses(g.channel, wren, "where").Answer()
	long := strings.Repeat("n", 6000)
	text, whole, user, file := 3, 4, 6, 11 // types of options: documentation, "Application Commands"; from memory
	const unmoved, unknown, odd = "Slash ", "I do not know that command", "That button is not one that I know"
	h.unchanged(t, func() {
		for _, one := range []struct {
			command string
			options []discordtest.Opt
			begins  string
		}{
			{"row", nil, unmoved + "row takes the number of a row"},
			{"row", opts("number", discordtest.Forged{Type: whole, Value: -1}), unmoved},
			{"row", opts("number", discordtest.Forged{Type: whole, Value: 1e300}), unmoved},
			{"row", opts("number", discordtest.Forged{Type: text, Value: "twelve"}), unmoved},
			{"at", opts("number", discordtest.Forged{Type: whole, Value: 7.5}), unmoved},
			{"at", opts("number", discordtest.Forged{Type: whole, Value: nil}), unmoved},
			{"count", opts("stitches", discordtest.Forged{Type: whole, Value: []int{1}}), unmoved},
			{"settings", opts("rows", "upside down"), unmoved},
			{"settings", opts("size", long), unmoved},
			{"explain", opts("stitch", long), unmoved},
			{"join", opts("password", "hush"), "Something came with slash join"},
			{"fit", opts("leave", discordtest.Forged{Type: whole, Value: -1}), unmoved},
			{"fit", opts("leave", discordtest.Forged{Type: text, Value: "2"}), unmoved},
			{"fit", opts("body", "tail"), unmoved},
			{"fit", opts("around", long), unmoved},
			{"fit", opts("gauge", discordtest.Forged{Type: whole, Value: 22}), unmoved},
			{"fit", opts("rows", "steps"), "Something came with slash fit"},
			{"yarn", opts("left", long), unmoved},
			{"picture", opts("look", "photo"), unmoved},
			{"picture", opts("number", discordtest.Forged{Type: whole, Value: 0}), unmoved},
			{"next", opts("number", 5), "Something came with slash next"},
			{"crochet", nil, unknown},
			{"knitalong", nil, unknown},
			{"knitalong burn", nil, unknown},
			{"knitalong start", opts("pattern", discordtest.Forged{Type: file, Value: "1"}), unmoved},
			{"knitalong helper", opts("member", discordtest.Forged{Type: user, Value: "everyone"}), unmoved},
			{"knitalong start", nil, "A knit-along needs a pattern"},
		} {
			h.refused(h.Forges(g.channel, wren, one.command, one.options...), one.begins)
		}
		for _, id := range []string{
			"", "x", "next", "ab", "ab/next", "ab/next//", "ab/next/////", "zz/next////", "ab/NEXT////", "ab/drop table////", "ab/next/../../../", "ab/next/\u200b///",
			"ab/at/" + g.id + "//" + strings.Repeat("9", 80), "am/join/" + g.id + "/", strings.Repeat("a/", 500), "ab/unsure////", "ab/knitalong////burn",
		} {
			h.refused(h.ForgesPress(wren, row, id), odd)
		}
		h.refused(h.ForgesChoice(wren, row, "am/join/"+g.id+"/"), odd)
		h.refused(h.ForgesChoice(wren, row, "am/join/"+g.id+"/", "a", "b"), odd)
		h.refused(h.ForgesChoice(wren, row, "ab/next/"+g.id+"//", "a"), odd)
		h.refused(h.ForgesPress(wren, row, "ab/next/k-1//"), "There is no knit-along here")
		h.refused(h.ForgesPress(wren, row, "ab/next/"+strings.Repeat("k", 64)+"//"), "There is no knit-along here")
	})
	// What is known is answered, and kept with the event as any answer is.
	h.refused(h.ForgesPress(wren, row, "ab/at/"+g.id+"//nine"), "Which row?")
	h.refused(h.ForgesPress(wren, row, "ab/at/"+g.id+"//99999999999999999999"), "Which row?")
	h.refused(h.ForgesPress(wren, row, "ab/at/"+g.id+"//4000"), "There is no row four thousand in this pattern. Nothing has moved.")
	h.refused(h.ForgesPress(wren, row, "ab/next/"+g.id+"/0.0.0/"), "That button stood under an earlier row, so nothing has moved.")
	h.refused(h.ForgesPress(wren, row, "ab/fit/"+g.id+"//nosize"), "You knit size medium")
	h.refused(h.ForgesPress(wren, row, "ab/fit/"+g.id+"//out.0-2"), "What that button offered can't be left out")
	h.pictured(h.ForgesPress(wren, row, "ab/picture/"+g.id+"//photo.0.x").Answer())
	h.pictured(h.ForgesPress(wren, row, "ab/picture/"+g.id+"//fabric.p.00000000").Answer())
	h.isAt(g.id, wren, "Wedges", 3)
}

func opts(name string, value any) []discordtest.Opt {
	return []discordtest.Opt{discordtest.With(name, value)}
}

// Files that are no patterns, or are not where patterns come from.
func TestBadAttachments(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	g := h.group(t, "Tibberhythe")
	ana := g.guild.Member("Ana Pell", discordtest.ManageEvents)
	sound := []byte(sample(t, "lee-cap"))
	var served atomic.Int64
	endless := func(w http.ResponseWriter, _ *http.Request) {
		for range 100 {
			n, err := w.Write(bytes.Repeat([]byte("k1, p1; "), 1<<17)) // a MiB
			served.Add(int64(n))
			if err != nil {
				return
			}
		}
	}
	elsewhere := func(url string) *discordtest.Attachment {
		file := h.Attach("lee-cap.txt", sound)
		file.URL = url
		return file
	}
	own := h.Attach("lee-cap.txt", sound)
	unsigned := *own
	unsigned.URL, _, _ = strings.Cut(own.URL, "?")
	const large, nottext, notHere, away = "That file is too large", "That file is not a text", "A pattern is read only from a file that is attached here", "The attached file could not be fetched"
	for _, one := range []struct {
		name   string
		file   *discordtest.Attachment
		begins string
	}{
		{"100 MB", h.AttachServed("cap.txt", "text/plain", 100<<20, endless), large},
		{"100 MB that claim to be little", h.AttachServed("cap.txt", "text/plain", 900, endless), large},
		{"less than nothing", h.AttachServed("cap.txt", "text/plain", -1, endless), large},
		{"an image", h.Attach("cap.png", picture(t)), nottext},
		{"an image with another name", h.Attach("cap.txt", picture(t)), nottext},
		{"a ZIP", h.Attach("cap.zip", archive(t, sound)), nottext},
		{"UTF-16", h.Attach("cap.txt", utf16(sound)), nottext},
		{"another host", elsewhere("https://evil.example/lee-cap.txt"), notHere},
		{"the same host without TLS", elsewhere(strings.Replace(own.URL, "https:", "http:", 1)), notHere},
		{"a name at another host", elsewhere("https://cdn.discordapp.com@evil.example/lee-cap.txt"), notHere},
		{"a host that ends alike", elsewhere("https://evil-cdn.discordapp.com/lee-cap.txt"), notHere},
		{"this machine", elsewhere(h.URL() + "/attachments/1/2/lee-cap.txt"), notHere},
		{"a file of this machine", elsewhere("file:///etc/passwd"), notHere},
		{"no address", elsewhere("%"), notHere},
		{"a redirect", h.AttachServed("cap.txt", "text/plain", 900, func(w http.ResponseWriter, r *http.Request) { http.Redirect(w, r, own.URL, http.StatusFound) }), away},
		{"one that is gone", &unsigned, away},
		{"one that breaks off", h.AttachServed("cap.txt", "text/plain", 900, func(w http.ResponseWriter, _ *http.Request) {
			w.Header().Set("Content-Length", "900")
			_, _ = io.WriteString(w, "Pattern: half")
			panic(http.ErrAbortHandler)
		}), away},
		{"nothing", h.Attach("cap.txt", nil), "The pattern has"},
		{"a text that is no pattern", h.Attach("cap.txt", []byte("Dear Ana, the wool is blue.")), "The pattern has"},
	} {
		t.Run(one.name, func(t *testing.T) {
			h.unchanged(t, func() {
				for _, deed := range []string{"start", "check"} {
					h.refused(h.Uses(g.channel, ana, "knitalong "+deed, discordtest.With("pattern", one.file)), one.begins)
				}
			})
			if n := len(h.SentIn(g.channel)); n != 0 {
				t.Errorf("%d messages stand in the channel, expected none", n)
			}
		})
	}
	if n := served.Load(); n > 2*16<<20 {
		t.Errorf("%d bytes of the endless files were taken, expected no more than are on their way", n)
	}
}

func picture(t *testing.T) []byte {
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 200, 200))); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func archive(t *testing.T, text []byte) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, err := z.Create("lee-cap.txt")
	if err == nil {
		_, err = w.Write(text)
	}
	if err == nil {
		err = z.Close()
	}
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func utf16(text []byte) []byte {
	b := []byte{0xff, 0xfe}
	for _, c := range text {
		b = append(b, c, 0)
	}
	return b
}

// A file that does not come is given up, and others are answered meanwhile.
func TestAttachmentHangs(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	g := h.group(t, "Tibberhythe")
	ana, wren := g.guild.Member("Ana Pell", discordtest.ManageEvents), h.knitter(g, "Wren", 1)
	hang := h.AttachServed("cap.txt", "text/plain", 900, func(w http.ResponseWriter, r *http.Request) {
		_ = http.NewResponseController(w).Flush()
		<-r.Context().Done()
	})
	began := time.Now()
	e := h.Uses(g.channel, ana, "knitalong start", discordtest.With("pattern", hang))
	if kind, after := e.Callback(); kind != 5 || after > firstWithin {
		t.Errorf("the first answer is of kind %d and came after %v, expected a deferral in time", kind, after)
	}
	h.hears(h.Press(wren, "Next row"), "Row two")
	if n := len(e.Answered()); n != 0 {
		t.Error("the host was answered before the other")
	}
	h.refused(e, "The attached file could not be fetched")
	if took := time.Since(began); took > 10*time.Second {
		t.Errorf("the host was answered after %v, expected about five seconds", took)
	}
}

// Who has no right to a knit-along changes nothing in it.
func TestWithoutRights(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	g := h.group(t, "Tibberhythe")
	ana, odo := g.guild.Member("Ana Pell", discordtest.ManageEvents), h.knitter(g, "Odo Marsh", 2)
	tamsin := g.guild.Member("Tamsin Quay")
	file := discordtest.With("pattern", h.Attach("lee-cap.txt", []byte(sample(t, "lee-cap"))))
	asked := h.Uses(g.channel, ana, "knitalong close").Answer()
	const noRight = "Only a host of this knit-along can do that"
	h.unchanged(t, func() {
		h.refused(h.Uses(g.channel, odo, "knitalong start", file), "Only those who may manage events here can start")
		h.refused(h.Uses(g.channel, odo, "knitalong check", file), "Only hosts can have a pattern checked")
		h.refused(h.Uses(g.channel, odo, "knitalong check"), noRight)
		h.refused(h.Uses(g.channel, odo, "knitalong close"), noRight)
		h.refused(h.Uses(g.channel, odo, "knitalong helper", discordtest.With("member", odo)), noRight)
		h.refused(h.ForgesPress(odo, h.Uses(g.channel, odo, "where").Answer(), "ab/knitalong/"+g.id+"//close"), noRight)
		h.refused(h.ForgesPress(odo, h.Uses(h.DM(odo), odo, "where").Answer(), "ab/knitalong/"+g.id+"//close"), "A knit-along")
		h.refused(h.Forges(h.DM(ana), ana, "knitalong close"), "A knit-along")
	})
	h.hears(h.Uses(g.channel, ana, "knitalong helper", discordtest.With("member", tamsin)), " is a helper now")
	g.guild.Admit(ana) // who may manage events no more
	h.unchanged(t, func() {
		h.refused(h.PressOn(ana, asked, "Close it"), noRight)
		h.refused(h.Uses(g.channel, ana, "knitalong close"), noRight)
	})
	h.hears(h.Uses(g.channel, tamsin, "knitalong close"), "Do you want to close Lee Side Cap?")
	h.hears(h.Press(tamsin, "Close it"), "Lee Side Cap is closed.")
	if about, err := h.store.About(t.Context(), g.id); err != nil || !about.Closed {
		t.Errorf("found %+v, %v: expected it to be closed by the helper", about, err)
	}
}

// A knit-along that is closed between a card and a press moves nobody.
func TestClosedMeanwhile(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	g := h.group(t, "Tibberhythe")
	ana := g.guild.Member("Ana Pell", discordtest.ManageEvents)
	wren, odo := h.knitter(g, "Wren", 4), g.guild.Member("Odo Marsh")
	row, sizes := h.Uses(g.channel, wren, "again").Answer(), h.Uses(g.channel, odo, "join").Answer()
	// She is in another one of the server, too, which no request here may be taken for.
	other := h.started(g.guild.Channel("thursday"), "Lee Side Cap", sample(t, "lee-cap"))
	h.joined(other, wren, "Wedges", "small")
	h.Uses(g.channel, ana, "knitalong close").Answer()
	closed := h.hears(h.Press(ana, "Close it"), "Lee Side Cap is closed")
	const told = "Lee Side Cap has been closed by its host. Nothing has moved"
	h.unchanged(t, func() {
		for _, label := range row.Buttons() {
			h.refused(h.PressOn(wren, row, label), told+", and your place is kept.")
		}
		h.refused(h.Uses(g.channel, wren, "next"), told)
		h.refused(h.SaysIn(g.channel, wren, "@clew undo"), told)
		h.refused(h.PressOn(odo, sizes, "large"), told)
	})
	h.isAt(g.id, wren, "Wedges", 4)
	h.isAt(other, wren, "Wedges", 0)
	h.hears(h.PressOn(ana, closed, "Open it again"), "Lee Side Cap is open")
	h.hears(h.PressOn(wren, row, "Next row"), "Row five")
	h.hears(h.PressOn(odo, sizes, "large"), "You have joined Lee Side Cap in size large")
}

// Messages without words, or with words that ask for nothing.
func TestNoWords(t *testing.T) {
	t.Parallel()
	h := openedBesides(t, patient)
	g := h.group(t, "Tibberhythe")
	wren := h.knitter(g, "Wren", 2)
	nobody := h.User("Bram Tolley")
	photo := h.Attach("wip.png", picture(t))
	h.unchanged(t, func() {
		h.refused(h.Says(wren, "", photo), "I understand words alone, not pictures, files or recordings. Nothing has moved.")
		h.refused(h.SaysIn(g.channel, wren, "@clew", photo), "I understand words alone")
		h.refused(h.SaysIn(g.channel, wren, "@clew"), "Say next row to go on")
		h.refused(h.Says(wren, "is this right?", photo), "I did not understand that, and nothing has moved.")
		h.refused(h.Says(wren, strings.Repeat("next row and ", 150)), "I did not understand that")
		h.refused(h.Says(nobody, "next row"), "You have not joined a knit-along. Nothing has moved.")
		h.refused(h.Uses(h.DM(nobody), nobody, "join"), "You have not joined a knit-along")
	})
	h.isAt(g.id, wren, "Wedges", 2)
	empty := h.Guild("Gull Rock")
	ch, ana := empty.Channel("wednesday"), empty.Member("Ana Pell", discordtest.ManageEvents)
	h.unchanged(t, func() {
		for _, command := range []string{"next", "where", "join", "leave", "settings", "explain", "stuck", "board", "changes"} {
			h.refused(h.Uses(ch, ana, command), "There is no open knit-along here. Nothing has moved.")
		}
		h.refused(h.Uses(ch, ana, "forget"), "Nothing is kept of you, so nothing was deleted.")
		h.refused(h.Uses(ch, ana, "knitalong close"), "There is no open knit-along here. Nothing was changed.")
		h.refused(h.SaysIn(ch, ana, fmt.Sprintf("@clew put me at row %d", 1<<40)), "There is no open knit-along here. Nothing has moved.")
	})
}
