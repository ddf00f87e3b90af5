package discord

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"image"
	"image/png"
	"io"
	"net/http"
	"strings"
	"testing"

	"github.com/bwmarrin/discordgo"

	"clew/patterns"
	"clew/patterns/samples"
)

// answering is an http transport that answers without a network.
type answering func(*http.Request) (*http.Response, error)

func (a answering) RoundTrip(ask *http.Request) (*http.Response, error) { return a(ask) }

func served(status int, body []byte) answering {
	return func(*http.Request) (*http.Response, error) {
		return &http.Response{StatusCode: status, Status: http.StatusText(status), Body: io.NopCloser(bytes.NewReader(body)), Header: http.Header{}}, nil
	}
}

func aPNG(t *testing.T) []byte {
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 40, 40))); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func aZIP(t *testing.T) []byte {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	f, err := w.Create("hat.txt")
	if err == nil {
		_, err = f.Write([]byte(samples.First().Text))
	}
	if err = errors.Join(err, w.Close()); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestFetchTakesPatternsAlone(t *testing.T) {
	const at = "https://cdn.discordapp.com/attachments/1/2/hat.txt?ex=1"
	text := []byte(samples.First().Text)
	called := func(t *testing.T, host string) answering {
		return func(ask *http.Request) (*http.Response, error) {
			if ask.URL.Host != host {
				t.Errorf("it called %s, expected %s", ask.URL.Host, host)
			}
			return served(200, text)(ask)
		}
	}
	never := answering(func(ask *http.Request) (*http.Response, error) {
		t.Errorf("it called %s, expected no call", ask.URL.Host)
		return nil, errors.New("not to be called")
	})
	for name, c := range map[string]struct {
		url  string
		size int
		from answering
		want error
	}{
		"a pattern":                   {at, len(text), called(t, "cdn.discordapp.com"), nil},
		"from the other host":         {"https://media.discordapp.net/attachments/1/2/hat.txt", len(text), called(t, "media.discordapp.net"), nil},
		"the largest":                 {at, patterns.MaxBytes, served(200, bytes.Repeat([]byte("k"), patterns.MaxBytes)), nil},
		"claimed too large":           {at, patterns.MaxBytes + 1, never, ofPattern.tooLarge},
		"of 100 MB":                   {at, 100 << 20, never, ofPattern.tooLarge},
		"larger than claimed":         {at, 10, served(200, bytes.Repeat([]byte("k"), patterns.MaxBytes+1)), ofPattern.tooLarge},
		"a picture":                   {at, 100, served(200, aPNG(t)), ofPattern.notText},
		"an archive":                  {at, 100, served(200, aZIP(t)), ofPattern.notText},
		"in UTF-16":                   {at, 100, served(200, []byte("k\x00n\x00i\x00t\x00")), ofPattern.notText},
		"not encrypted":               {strings.Replace(at, "https", "http", 1), 10, never, ofPattern.elsewhere},
		"on another host":             {"https://tibberhythe.example/hat.txt", 10, never, ofPattern.elsewhere},
		"on a host that looks like":   {"https://cdn.discordapp.com.tibberhythe.example/hat.txt", 10, never, ofPattern.elsewhere},
		"on the machine itself":       {"https://127.0.0.1/hat.txt", 10, never, ofPattern.elsewhere},
		"on another port":             {"https://cdn.discordapp.com:8443/hat.txt", 10, never, ofPattern.elsewhere},
		"with a user before the host": {"https://wren@cdn.discordapp.com/hat.txt", 10, never, ofPattern.elsewhere},
		"on no host":                  {"hat.txt", 10, never, ofPattern.elsewhere},
		"with no address":             {"\x7f", 10, never, ofPattern.elsewhere},
		"expired":                     {at, 10, served(404, nil), unfetched},
		"cut off": {at, 10, func(*http.Request) (*http.Response, error) {
			return nil, errors.New("connection reset")
		}, unfetched},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := fetch(t.Context(), &http.Client{Transport: c.from}, &discordgo.MessageAttachment{URL: c.url, Size: c.size, Filename: "hat.txt"}, ofPattern)
			if !errors.Is(err, c.want) || (err == nil) != (len(got) > 0) {
				t.Errorf("it gives %d bytes and %q, expected %v", len(got), err, c.want)
			}
		})
	}
}

// TestFetchTakesSessions says that a list of sessions may be smaller than a
// pattern, and is called what it is in each refusal.
func TestFetchTakesSessions(t *testing.T) {
	const at = "https://cdn.discordapp.com/attachments/1/2/sessions.txt"
	for name, c := range map[string]struct {
		url  string
		body []byte
		want error
	}{
		"the largest": {at, bytes.Repeat([]byte("1"), 64<<10), nil},
		"too large":   {at, bytes.Repeat([]byte("1"), 64<<10+1), ofSessions.tooLarge},
		"a picture":   {at, aPNG(t), ofSessions.notText},
		"elsewhere":   {"https://tibberhythe.example/sessions.txt", nil, ofSessions.elsewhere},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := fetch(t.Context(), &http.Client{Transport: served(200, c.body)}, &discordgo.MessageAttachment{URL: c.url, Size: 10}, ofSessions)
			if !errors.Is(err, c.want) || (err == nil) != (len(got) > 0) {
				t.Errorf("it gives %d bytes and %q, expected %v", len(got), err, c.want)
			}
		})
	}
	for _, w := range []wanted{ofPattern, ofSessions} {
		for _, r := range []refusal{w.tooLarge, w.notText, w.elsewhere} {
			if !spokenLine.MatchString(string(r)) {
				t.Errorf("%q can't be read aloud", r)
			}
		}
	}
}

// The address is signed, and whoever reads it in a log could fetch the file.
func TestFetchTellsNoAddress(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, err := fetch(ctx, &http.Client{Transport: answering(func(ask *http.Request) (*http.Response, error) { return nil, ask.Context().Err() })},
		&discordgo.MessageAttachment{URL: "https://cdn.discordapp.com/attachments/1/2/hat.txt?hm=secret", Size: 3}, ofPattern)
	if err == nil || strings.Contains(err.Error(), "secret") {
		t.Errorf("it says %q", err)
	}
	if !errors.Is(err, context.Canceled) {
		t.Errorf("%v does not tell the cause", err)
	}
}
